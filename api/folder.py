"""A layout as a folder of files that open from disk: the page, the drawings, the lists."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Mapping
from errno import EEXIST
from pathlib import Path
from typing import Final

from soleplate.api.calls import static_files
from soleplate.api.drawing import draw
from soleplate.api.exports import exported, plain
from soleplate.api.tables import cutting_list_csv, saw_plan_csv
from soleplate.engine.lay_out import layout_json
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.viewer.page import page_html
from soleplate.viewer.plan import plan_svg
from soleplate.viewer.saw_bars import saw_plan_svg
from soleplate.viewer.storey_rod import storey_rod_svg

PAGE: Final = "page.html"
LAYOUT: Final = "layout.json"
"""By this file a folder is known to be a layout's."""

STOREY_ROD: Final = "storey-rod.svg"
"""Of a layout with cladding in courses only."""

SAW_PLAN: Final = ("saw-plan.svg", "saw-plan.csv")
"""Of a layout with a saw plan only."""

_WALL: Final = re.compile(r"wall-[0-9]+-[a-z0-9-]+\.svg")


def folder_files(layout: Layout, registry: Registry) -> dict[str, bytes]:
    """What the folder holds, by file name.

    Raises:
        RuleError: a plugin's layer or export failed.
    """
    files = {
        PAGE: page_html(layout, files="").encode(),
        **static_files(),
        "plan.svg": plan_svg(layout).encode(),
        **{
            f"wall-{number}-{plain(wall.name)}.svg": draw(layout, wall.name, registry).encode()
            for number, wall in enumerate(layout.walls, 1)
        },
        "cutting-list.csv": cutting_list_csv(layout),
    }
    if layout.storey_rod:
        files[STOREY_ROD] = storey_rod_svg(layout).encode()
    if layout.saw_plan is not None:
        drawn = saw_plan_svg(layout.saw_plan, layout.units, ends=layout.factory_ends)
        table = saw_plan_csv(layout.saw_plan, layout.factory_ends)
        files |= dict(zip(SAW_PLAN, (drawn.encode(), table), strict=True))
    for plugin, exporter in registry.exporters:
        files[f"{exporter.name}{exporter.suffix}"] = exported(registry, plugin, exporter, layout)
    return files | {LAYOUT: layout_json(layout)}


def write_folder(files: Mapping[str, bytes], folder: Path) -> None:
    """Write all files or none: they are written elsewhere first, and then moved.

    A folder that holds an earlier layout and nothing else is replaced whole.

    Raises:
        FileExistsError: something else is there, which is left alone.
        OSError: it cannot be written.
    """
    if folder.is_symlink() or folder.exists():
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


def _require_replaceable(folder: Path, files: Mapping[str, bytes]) -> None:
    """Let pass an empty folder, and one in which every file is such as a layout's folder has."""
    accepted = "accepted is a new or empty folder, or that of an earlier layout"
    if folder.is_symlink() or not folder.is_dir():
        raise FileExistsError(EEXIST, f"is there and is no folder; {accepted}", str(folder))
    names = sorted(entry.name for entry in folder.iterdir())
    strange = [
        name for name in names if name not in (*files, *SAW_PLAN, STOREY_ROD) and not _WALL.fullmatch(name)
    ]
    if names and LAYOUT not in names:
        strange = strange or names
    if strange:
        raise FileExistsError(EEXIST, f"holds {strange[0]}, which is left alone; {accepted}", str(folder))
