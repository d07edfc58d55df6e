"""The job book as PDF and its sheets as SVG, offered through the same hook as anybody's exports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from soleplate.engine.layout import Layout
from soleplate.engine.rules import Exporter, ExportOptions, hookimpl
from soleplate.viewer.paper import SheetOptions
from soleplate.viewer.sheets import LACKING, is_installed

# What draws and typesets is imported when a sheet is asked for: loading plugins needs neither.


class _Sheets(Exporter):
    options = SheetOptions

    def wants(self) -> str | None:
        """The typesetter comes with an extra."""
        return None if is_installed() else LACKING

    def export(self, layout: Layout) -> bytes:
        """Return the file on the paper usual for the building's units, the title block left blank."""
        return self.export_with(layout, SheetOptions())


class JobBookExport(_Sheets):
    """Every sheet in one PDF: plan and cautions, walls, lists, saw plan, templates."""

    name = "job-book"
    media_type = "application/pdf"
    suffix = ".pdf"

    def export_with(self, layout: Layout, options: ExportOptions) -> bytes:
        """Return a PDF, its drawings as vectors."""
        from soleplate.viewer.sheets import job_book, pdf

        return pdf(job_book(layout, _sheet_options(options)))


class SheetDrawingsExport(_Sheets):
    """Each sheet of the job book as SVG, together in a zip archive."""

    name = "sheets"
    media_type = "application/zip"
    suffix = ".zip"

    def export_with(self, layout: Layout, options: ExportOptions) -> bytes:
        """Return a zip of `sheet-01.svg` and so on."""
        from soleplate.viewer.sheets import zipped

        return zipped(self.files(layout, options))

    def files(self, layout: Layout, options: ExportOptions) -> Mapping[str, bytes]:
        """Return the sheets by file name."""
        from soleplate.viewer.sheets import job_book, svgs

        sheets = svgs(job_book(layout, _sheet_options(options)))
        digits = max(2, len(f"{len(sheets)}"))
        return {f"sheet-{number:0{digits}}.svg": sheet for number, sheet in enumerate(sheets, 1)}


def _sheet_options(options: ExportOptions) -> SheetOptions:
    return options if isinstance(options, SheetOptions) else SheetOptions()


@hookimpl
def register_exporters() -> Iterable[type[Exporter]]:
    """Offer the job book, and its sheets one by one."""
    return (JobBookExport, SheetDrawingsExport)
