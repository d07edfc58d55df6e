"""What a frame may not be: each fault made from a sound frame by one change, the least that counts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from soleplate.engine.framing.soundness import Envelope, unsound
from soleplate.engine.rules import Member, Wall, level
from soleplate.engine.shapes import ROLES, upright
from tests.plugins.walls import line, plated

WALL = plated(2400.0, 2355.0)
SLOPED = plated(2400.0, 1955.0, 2355.0)
THROUGH = (0.0, 70.0)


def frame_of(wall: Wall) -> dict[str, Member]:
    """Sole, head, and three studs of which the middle one is to be changed."""
    studs = {
        name: upright("stud", wall.section, left, 45.0, wall.underside)
        for name, left in (("first", 0.0), ("stud", 1200.0), ("last", 2355.0))
    }
    sole = level("sole plate", wall.section, (0.0, 2400.0, 0.0, 45.0), THROUGH)
    (low, high) = wall.underside.at(0.0), wall.underside.at(2400.0)
    head = replace(
        sole,
        role="head plate" if low == high else "raked plate",
        outline=((0.0, low), (2400.0, high), (2400.0, high + 45.0), (0.0, low + 45.0)),
    )
    return {"sole": sole, "head": head} | {name: stud for name, stud in studs.items() if stud}


def judged(wall: Wall, change: Callable[[Member], Member] = lambda stud: stud, **more: Member) -> str | None:
    """What is wrong once the middle stud is changed, and others are added; a few words of it."""
    frame = frame_of(wall) | more
    frame["stud"] = change(frame["stud"])
    top = line(2400.0, *(z + 45.0 for _, z in wall.underside.points))
    found = unsound(tuple(frame.values()), Envelope(2400.0, 70.0, top, (0.0, 0.0)), ROLES)
    return None if found is None else f"{found.fault}: {found.message}"


def higher(foot: float, top: float) -> Callable[[Member], Member]:
    """The stud with its foot and its top moved, mm upwards."""
    return lambda stud: stud.moved(
        tuple((x, z + (foot if z < 500.0 else top)) for x, z in stud.outline)
    )  # fmt: skip


@pytest.mark.parametrize("wall", [WALL, SLOPED])
def test_a_plain_frame_is_sound(wall: Wall) -> None:
    assert judged(wall) is None


@pytest.mark.parametrize("wall", [WALL, SLOPED])
@pytest.mark.parametrize(
    ("foot", "top", "words"),
    [
        (0.0, -1.0, "the top of a stud at 1200.0 mm meets nothing"),
        (0.0, -400.0, "the top of a stud at 1200.0 mm meets nothing"),
        (1.0, 0.0, "the foot of a stud at 1200.0 mm stands on nothing"),
        (30.0, 0.0, "the foot of a stud at 1200.0 mm stands on nothing"),
        (0.2, -0.2, None),
    ],
)
def test_an_upright_bears_at_both_ends(wall: Wall, foot: float, top: float, words: str | None) -> None:
    """A gap of a millimetre is one; a fifth of one is closed by the nails."""
    assert judged(wall, higher(foot, top)) == (words and f"unsupported end: {words}")


def test_a_top_that_another_upright_alone_touches_bears_on_nothing() -> None:
    """Nor does one under an upright block, whose role carries where it lies level."""
    frame = frame_of(WALL)
    short = higher(0.0, -400.0)
    over = frame["stud"].moved(((1200.0, 1955.0), (1245.0, 1955.0), (1245.0, 2355.0), (1200.0, 2355.0)))
    for above in (over, replace(over, role="packer")):
        assert str(judged(WALL, short, over=above)).startswith("unsupported end: the top of a stud")
    held = level("packer", WALL.section, (1000.0, 1400.0, 1955.0, 2000.0), THROUGH)
    assert judged(WALL, short, held=held) is None


def test_a_stud_half_beside_its_plate_still_bears() -> None:
    """Half a foot on a plate that ends under it is enough, as at a door; none is not."""
    for end, words in ((1222.6, "None"), (1209.5, "None"), (1199.0, "unsupported end: the foot")):
        cut = level("sole plate", WALL.section, (0.0, end, 0.0, 45.0), THROUGH)
        rest = level("sole plate", WALL.section, (1300.0, 2400.0, 0.0, 45.0), THROUGH)
        assert str(judged(WALL, sole=cut, rest=rest)).startswith(words), end


def test_two_pieces_in_one_place_overlap() -> None:
    """By more than a hair, in the wall's face and through the wall."""
    for left, near, overlaps in ((1244.9, 0.0, True), (1245.0, 0.0, False), (1220.0, 35.0, True)):
        other = upright("stud", WALL.section, left, 45.0, WALL.underside)
        assert other is not None
        other = replace(other, depth=(near, 70.0))
        assert str(judged(WALL, other=other)).startswith("overlap: " if overlaps else "None")
    halves = replace(frame_of(WALL)["stud"], depth=(35.0, 70.0))
    assert judged(WALL, lambda stud: replace(stud, depth=(0.0, 35.0)), other=halves) is None


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda stud: stud.moved(stud.outline[::-1]), "misshapen"),
        (lambda stud: replace(stud, depth=(35.0, 35.0)), "misshapen"),
        (lambda stud: replace(stud, grain=float("nan")), "misshapen"),
        (lambda stud: replace(stud, depth=(-1.0, 69.0)), "outside the wall"),
        (lambda stud: replace(stud, depth=(1.0, 71.0)), "outside the wall"),
        (higher(-46.0, 0.0), "outside the wall"),
        (higher(0.0, 46.0), "outside the wall"),
        (lambda stud: stud.moved(tuple((x + 1156.0, z) for x, z in stud.outline)), "outside the wall"),
        (lambda stud: stud.moved(tuple((x - 1201.0, z) for x, z in stud.outline)), "outside the wall"),
    ],
)
def test_what_is_misshapen_or_leaves_the_wall_is_told(change: Callable[[Member], Member], words: str) -> None:
    assert str(judged(WALL, change)).startswith(f"{words}: a stud ")
