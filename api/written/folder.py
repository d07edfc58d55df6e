"""A layout as a folder of files that open from disk: the page, the drawings, the lists."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Mapping
from errno import EEXIST
from pathlib import Path
from typing import Any, Final

from soleplate.api.calls import static_files
from soleplate.api.work import draw, export_files, options_for, plain
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.viewer.drawings import SHOWN, covering_svg, drawn_parts, plan_svg, saw_plan_svg, storey_rod_svg
from soleplate.viewer.page import READ_WITH, PageView, page_html

PAGE: Final = "page.html"
LAYOUT: Final = "layout.json"
"""By this file a folder is known to be a layout's."""

STOREY_ROD: Final = "storey-rod.svg"
"""Of a layout with cladding in courses only."""

SAW_PLAN: Final = "saw-plan.svg"
"""Of a layout with a saw plan only."""

_EARLIER: Final = re.compile(
    "|".join(
        (
            r"(wall|inside)-[0-9]+-[a-z0-9-]+\.svg",
            r"covering-[a-z0-9-]+\.svg",
            r"sheet-[0-9]+\.svg",
            r"storey-rod\.svg",
            r"saw-plan\.(csv|svg)",
            r"(courses|fixings)\.csv",
            r"job-book\.pdf",
            r"ifc\.ifc",
        )
    )
)
"""What another layout's folder may have had besides."""

_ACCEPTED: Final = "accepted is a new or empty folder, or that of an earlier layout"


def folder_files(
    layout: Layout, registry: Registry, asked: Mapping[str, Any] | None = None
) -> dict[str, bytes]:
    """What the folder holds, by file name.

    `asked` are options of exporters, by name; each exporter takes those that it has.

    Raises:
        RuleError: a plugin's layer or export failed.
    """
    names = {
        part.name: f"{number}-{plain(part.name)}.svg" for number, part in enumerate(drawn_parts(layout), 1)
    }
    insides = {wall: f"inside-{name}" for wall, name in names.items()}
    files = {
        PAGE: page_html(layout, files="", view=PageView(beside=insides)).encode(),
        **{name: content for name, content in static_files().items() if name in READ_WITH},
        "plan.svg": plan_svg(layout).encode(),
        **{f"wall-{name}": draw(layout, wall, registry).encode() for wall, name in names.items()},
        **{name: _inside(layout, wall, registry) for wall, name in insides.items()},
    }
    for slope in layout.roofs:
        if slope.covering is not None:
            files[f"covering-{plain(slope.name)}.svg"] = covering_svg(layout, slope).encode()
    if layout.storey_rod or layout.lining_rod:
        files[STOREY_ROD] = storey_rod_svg(layout).encode()
    if layout.saw_plan is not None:
        drawn = saw_plan_svg(layout.saw_plan, layout.units, ends=layout.factory_ends)
        files[SAW_PLAN] = drawn.encode()
    for plugin, exporter in registry.exporters:
        if exporter.lacking(layout) is None:
            options = options_for(exporter, asked or {})
            files |= export_files(registry, plugin, exporter, layout, options)
    return files | {LAYOUT: layout_json(layout)}


def _inside(layout: Layout, wall: str, registry: Registry) -> bytes:
    """A wall as it is seen from inside, its lining too."""
    layers = (*SHOWN, "lining", *(layer.name for _, layer in registry.drawing_layers))
    return draw(layout, wall, registry, layers=layers, side="inside").encode()


def write_folder(files: Mapping[str, bytes], folder: Path) -> None:
    """Write all files or none: they are written elsewhere first, and then moved.

    A folder that holds an earlier layout and nothing else is replaced whole.

    Raises:
        FileExistsError: something else is there, which is left alone.
        OSError: it cannot be written.
    """
    require_folder(folder)
    if folder.exists():
        _require_replaceable(folder, files)
    folder.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=f".{folder.name}-", dir=folder.parent) as scratch:
        made, earlier = Path(scratch, "made"), Path(scratch, "earlier")
        made.mkdir()
        for name, content in files.items():
            (made / name).write_bytes(content)
        if folder.exists():
            folder.rename(earlier)
        made.rename(folder)


def require_folder(folder: Path) -> None:
    """Let pass what is a folder or can become one, before any work is done for it.

    Raises:
        FileExistsError: something else is there, or in the place of a folder that it is to lie in.
    """
    for place in (folder, *folder.parents):
        if place.is_symlink() or place.exists():
            if not place.is_dir() or (place == folder and place.is_symlink()):
                raise FileExistsError(EEXIST, f"is there and is no folder; {_ACCEPTED}", str(place))
            return


def _require_replaceable(folder: Path, files: Mapping[str, bytes]) -> None:
    """Let pass an empty folder, and one in which every file is such as a layout's folder has."""
    names = sorted(entry.name for entry in folder.iterdir())
    strange = [name for name in names if name not in files and not _EARLIER.fullmatch(name)]
    if names and LAYOUT not in names:
        strange = strange or names
    if strange:
        raise FileExistsError(EEXIST, f"holds {strange[0]}, which is left alone; {_ACCEPTED}", str(folder))
