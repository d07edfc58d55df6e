"""Level pieces of a slope longer than any on sale, and rafters that are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from soleplate.engine.building_file import Mm, MmList
from soleplate.engine.framing import Layer, choose_joints, cut_at, stretch_of
from soleplate.engine.roofs.cutting import RafterCut
from soleplate.engine.roofs.findings import PIECE_JOINT, PIECE_TOO_LONG, RAFTER_TOO_LONG
from soleplate.engine.roofs.setting_out import SlopeTask
from soleplate.engine.rules import Finding
from soleplate.engine.shapes import TOUCH, Member, shape


def jointed_pieces(
    pieces: Iterable[Member], cut: Sequence[RafterCut], task: SlopeTask, name: str
) -> tuple[list[Member], list[Finding]]:
    """Level pieces cut to lengths that are on sale, with joints over rafters; and what was found."""
    slope = task.slope
    parts: list[Member] = []
    findings: list[Finding] = []
    across = slope.view("slope")
    for piece in pieces:
        view = slope.view(piece.view)
        along = sum(a * b for a, b in zip(across.right, view.right, strict=True))
        centres = sorted(
            sum(
                (p - o) * r
                for p, o, r in zip(
                    across.point((c.seen.left + c.seen.right) / 2, 0.0), view.origin, view.right, strict=True
                )
            )
            for c in cut
            if c.is_whole
        )
        material = piece.material or task.timber.name
        longest = task.building.stock.longest_of(piece.section, material)
        stretch = stretch_of(piece, centres if abs(along) > 0.5 else (), longest)
        (joints,) = choose_joints([Layer((stretch,) if stretch is not None else (), is_sole=True)], 0.0)
        parts += cut_at(piece, joints)
        if stretch is None:
            findings.append(
                PIECE_TOO_LONG.of(
                    part=name, value=round(shape(piece).length, 3), limit=longest.alone,
                    role=piece.role, longest=Mm(longest.alone, ".0f"),
                )
            )  # fmt: skip
        elif joints:
            findings.append(
                PIECE_JOINT.of(part=name, limit=longest.alone, role=piece.role, where=MmList(tuple(joints)))
            )
    return parts, list(dict.fromkeys(findings))


def too_long_rafters(rafters: Sequence[Member], task: SlopeTask, name: str) -> Iterator[Finding]:
    """That rafters are longer than any length on sale."""
    lengths = [shape(m).length for m in rafters]
    longest = task.longest
    if lengths and max(lengths) > longest.alone + TOUCH:
        yield RAFTER_TOO_LONG.of(
            part=name, value=round(max(lengths), 3), limit=longest.alone,
            length=Mm(max(lengths), ".0f"), longest=Mm(longest.alone, ".0f"),
        )  # fmt: skip
