"""Level pieces and strips of a slope longer than any on sale, and rafters that are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from soleplate.engine.building_file import Mm, MmList
from soleplate.engine.framing import Layer, choose_joints, cut_at, stretch_of
from soleplate.engine.roofs.cutting import RafterCut
from soleplate.engine.roofs.findings import PIECE_JOINT, PIECE_TOO_LONG, RAFTER_TOO_LONG
from soleplate.engine.roofs.setting_out import SlopeTask
from soleplate.engine.rules import Finding, said
from soleplate.engine.shapes import ALONG, TOUCH, UPRIGHT, Member, rectangle, shape


def jointed_pieces(
    pieces: Iterable[Member], cut: Sequence[RafterCut], task: SlopeTask, name: str
) -> tuple[list[Member], list[Finding]]:
    """Pieces cut to lengths that are on sale, jointed over rafters, or over rungs; and what was found.

    Of those that run up the slope, boxes in its plane are jointed.
    """
    parts: list[Member] = []
    findings: list[Finding] = []
    known: dict[object, tuple[bool, tuple[float, ...]]] = {}
    for piece in pieces:
        # Hundreds of battens may be alike, and where one is jointed among hundreds of rafters takes long.
        alike = _alike(piece)
        longest = task.building.stock.longest_of(piece.section, piece.material or task.timber.name)
        runs_up = piece.grain == UPRIGHT
        lying = _turned(piece) if runs_up else piece
        if alike not in known:
            supports = _rungs(task) if runs_up else _supports(piece.view, cut, task)
            found = stretch_of(lying, supports, longest)
            (chosen,) = choose_joints([Layer((found,) if found is not None else (), is_sole=True)], 0.0)
            known[alike] = found is None, chosen
        is_too_long, joints = known[alike]
        parts += [_turned(part) if runs_up else part for part in cut_at(lying, joints)]
        if is_too_long:
            findings.append(
                PIECE_TOO_LONG.of(
                    part=name, value=round(shape(piece).length, 3), limit=longest.alone,
                    role=piece.role, longest=Mm(longest.alone, ".0f"),
                )
            )  # fmt: skip
        elif joints:
            findings.append(
                PIECE_JOINT.of(
                    part=name, limit=longest.alone, role=piece.role, where=MmList(tuple(joints)),
                    over=said("rungs" if runs_up else "rafters"),
                )
            )  # fmt: skip
    return parts, list(dict.fromkeys(findings))


def _alike(piece: Member) -> object:
    """The same for pieces that differ only in how high they lie."""
    outline = tuple((x, round(y - piece.bottom, 6)) for x, y in piece.outline)
    return piece.view, piece.section, piece.material, piece.grain, outline


def _turned(piece: Member) -> Member:
    """A box that runs up the slope as one along it, and back."""
    grain = ALONG if piece.grain == UPRIGHT else UPRIGHT
    return replace(piece, outline=rectangle(piece.bottom, piece.top, piece.left, piece.right), grain=grain)


def _rungs(task: SlopeTask) -> Sequence[float]:
    """The middles of rungs up the slope, mm from its origin."""
    return sorted(
        {
            round((rung.bottom + rung.top) / 2 if rung.view == "slope" else sum(rung.depth) / 2, 6)
            for rung in task.slope.others
            if rung.role == "rung"
        }
    )


def _supports(view_name: str, cut: Sequence[RafterCut], task: SlopeTask) -> Sequence[float]:
    """Where rafters cross what lies in a view, mm along it from its origin; none of what runs with them."""
    across, view = task.slope.view("slope"), task.slope.view(view_name)
    if abs(sum(a * b for a, b in zip(across.right, view.right, strict=True))) <= 0.5:
        return ()
    middles = (across.point((c.seen.left + c.seen.right) / 2, 0.0) for c in cut if c.is_whole)
    return sorted(
        sum((p - o) * r for p, o, r in zip(point, view.origin, view.right, strict=True)) for point in middles
    )


def too_long_rafters(rafters: Sequence[Member], task: SlopeTask, name: str) -> Iterator[Finding]:
    """That rafters are longer than any length on sale."""
    lengths = [shape(m).length for m in rafters]
    longest = task.longest
    if lengths and max(lengths) > longest.alone + TOUCH:
        yield RAFTER_TOO_LONG.of(
            part=name, value=round(max(lengths), 3), limit=longest.alone,
            length=Mm(max(lengths), ".0f"), longest=Mm(longest.alone, ".0f"),
        )  # fmt: skip
