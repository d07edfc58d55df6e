"""The lists as tables for a spreadsheet, offered through the same hook as anybody's exports."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from soleplate.engine.layout import Layout
from soleplate.engine.rules import Exporter, hookimpl

# The tables are imported when one is asked for: loading plugins needs no drawing library.


class _Table(Exporter):
    media_type: ClassVar[str] = "text/csv"
    suffix: ClassVar[str] = ".csv"


class CuttingListExport(_Table):
    """The cutting list, one row for each setting of the saw."""

    name = "cutting-list"

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8)."""
        from soleplate.viewer.lists import cutting_list_csv

        return cutting_list_csv(layout)


class BuyingListExport(_Table):
    """What to buy, and the run of timber of each section."""

    name = "buying-list"

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8)."""
        from soleplate.viewer.lists import buying_list_csv

        return buying_list_csv(layout)


class RunningMarksExport(_Table):
    """The running marks of every plate."""

    name = "running-marks"

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8)."""
        from soleplate.viewer.lists import running_marks_csv

        return running_marks_csv(layout)


class CoursesExport(_Table):
    """The courses of cladding and lining with their heights, as on the storey rod, and those of decks."""

    name = "courses"

    def lacking(self, layout: Layout) -> str | None:
        """A building without level boards has no courses."""
        lined = any(wall.lining_courses for wall in layout.walls)
        if not lined and not any(part.courses for part in layout.parts):
            return "nothing is clad, lined or decked in courses"
        return None

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8)."""
        from soleplate.viewer.lists import courses_csv

        return courses_csv(layout)


class FixingsExport(_Table):
    """The fixings of all joints, by kind and size."""

    name = "fixings"

    def lacking(self, layout: Layout) -> str | None:
        """A building tells its fixings where its file asks for them."""
        if not layout.fixings:
            return "the building's fixings are not told: ask for them by `fixings`"
        return None

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8)."""
        from soleplate.viewer.lists import fixings_csv

        return fixings_csv(layout)


class SawPlanExport(_Table):
    """The saw plan, one row for each cut."""

    name = "saw-plan"

    def lacking(self, layout: Layout) -> str | None:
        """A building that tells no stock has no saw plan."""
        if layout.saw_plan is None:
            return "the building has no saw plan: list what timber can be had, under `stock`"
        return None

    def export(self, layout: Layout) -> bytes:
        """Return CSV (RFC 4180, UTF-8).

        Raises:
            ValueError: the layout has no saw plan.
        """
        from soleplate.viewer.lists import saw_plan_csv

        if layout.saw_plan is None:
            raise ValueError(self.lacking(layout))
        return saw_plan_csv(layout.saw_plan, layout.factory_ends)


@hookimpl
def register_exporters() -> Iterable[type[Exporter]]:
    """Offer the lists as CSV."""
    return (
        BuyingListExport, CoursesExport, CuttingListExport, FixingsExport, RunningMarksExport, SawPlanExport,
    )  # fmt: skip
