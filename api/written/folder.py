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
from soleplate.viewer.drawings import (
    BOARDED,
    SHOWN,
    Side,
    covering_svg,
    drawn_parts,
    plan_svg,
    saw_plan_svg,
    storey_rod_svg,
)
from soleplate.viewer.page import READ_WITH, PageView, page_html
from soleplate.viewer.pictures import FOUR_SIDES, MOST_PICTURED, picture_svg, sections_of

PAGE: Final = "page.html"
LAYOUT: Final = "layout.json"
"""By this file a folder is known to be a layout's."""

STOREY_ROD: Final = "storey-rod.svg"
"""Of a layout with cladding in courses only."""

WHOLE: Final = {side: "whole.svg" if side == "front" else f"whole-{side}.svg" for side in FOUR_SIDES}
"""The building as a whole, by the side from which most is seen; the sections are beside them."""

SAW_PLAN: Final = "saw-plan.svg"
"""Of a layout with a saw plan only."""

_EARLIER: Final = re.compile(
    "|".join(
        (
            r"(wall|inside|outside)-[0-9]+-[a-z0-9-]+\.svg",
            r"whole(-[a-z]+)?\.svg",
            r"section-[a-z-]+\.svg",
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
    pictures = _pictures(layout)
    sides = {side: WHOLE[side] for side in WHOLE if WHOLE[side] in pictures}
    files = {
        PAGE: page_html(layout, files="", view=PageView(beside=insides, pictures=sides)).encode(),
        **{name: content for name, content in static_files().items() if name in READ_WITH},
        **pictures,
        "plan.svg": plan_svg(layout).encode(),
        **{f"wall-{name}": draw(layout, wall, registry).encode() for wall, name in names.items()},
        **{name: _boarded(layout, wall, registry, "inside") for wall, name in insides.items()},
        **{
            f"outside-{names[part.name]}": _boarded(layout, part.name, registry, "outside")
            for part in drawn_parts(layout)
            if part.cladding is not None
        },
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


def _pictures(layout: Layout) -> dict[str, bytes]:
    """The whole from four sides, and cut; nothing where it has more pieces than a picture may have."""
    if len(layout.pieces) > MOST_PICTURED:
        return {}
    looks = {WHOLE[side]: look for side, look in FOUR_SIDES.items()}
    looks |= {f"section-{way}.svg": look for way, look in sections_of(layout).items()}
    return {name: picture_svg(layout, look).encode() for name, look in looks.items()}


def _boarded(layout: Layout, part: str, registry: Registry, side: Side) -> bytes:
    """A wall, floor or slope as it is seen from one side, with what lies on that face of it."""
    near = (layer for layer, face in BOARDED.items() if face == side)
    layers = (*SHOWN, *near, *(layer.name for _, layer in registry.drawing_layers))
    return draw(layout, part, registry, layers=layers, side=side).encode()


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
