"""What is found while walls are framed: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

NOGGIN_LEFT_OUT: Final = FindingKind(
    "noggin-left-out",
    "note",
    PRACTICE,
    "{number} {rule} noggins have no room, under the slope or against an opening's timbers, in"
    " the bays from {where}: they are left out",
)

NOGGIN_CLOSE: Final = FindingKind(
    "noggin-close",
    "note",
    PRACTICE,
    "{number} {rule} noggins would lie too near to a timber of an opening or another noggin to be nailed, in"
    " the bays from {where}: they are left out, for that holds the bay there already; where a sheet's edge is"
    " to land there, pack behind it",
)

MERGED_STUD: Final = FindingKind(
    "merged-stud",
    "note",
    PRACTICE,
    "the {what} at {place} would stand {gap} from the opening's {upright}, too close to nail;"
    " the opening's {upright} serves for both",
)

CRIPPLE_LEFT_OUT: Final = FindingKind(
    "cripple-left-out",
    "note",
    PRACTICE,
    "a {what} at {left} would be {height} long, and under {least} it splits: pack the gap there",
)

STANDS_ON_OPENING: Final = FindingKind(
    "stands-on-opening",
    "note",
    PRACTICE,
    "studs beside it stand on the {beam} over {lower}, {length} long: size that for what they bring down",
)

PACKED_BETWEEN: Final = FindingKind(
    "packed-between-openings",
    "note",
    PRACTICE,
    "pack the {room} between the {bed} of an opening and the {lid} of the one above it, from {place}; it is"
    " too low for cripples",
)

PLATE_TOO_LONG: Final = FindingKind(
    "plate-too-long",
    "stop",
    PRACTICE,
    "the {role} from {reach} is longer than any length on sale ({longest}), and no {upright}"
    " stands where it could be jointed",
)

PLATE_JOINT: Final = FindingKind(
    "plate-joint", "note", PRACTICE, "the {role} is jointed over the {upright}s at {where}"
)

PLATE_JOINTS_CLOSE: Final = FindingKind(
    "plate-joints-close",
    "warn",
    "IBC 2308.5.3.2, as restated by others: 48 in between the end joints of a double top plate",
    "joints of the {lower} and the {upper} over it come within {apart} of each other, at {place}; {wanted}"
    " keeps the wall from hinging there: longer lengths, or studs elsewhere, would allow it",
)

SOLE_JOINT_CLOSE: Final = FindingKind(
    "sole-joint-close",
    "note",
    PRACTICE,
    "the sole plate's joint at {place} is {apart} along from the nearest one above; {wanted} would be stiffer"
    " while the wall is raised",
)

KINDS: Final = (
    NOGGIN_LEFT_OUT,
    NOGGIN_CLOSE,
    MERGED_STUD,
    CRIPPLE_LEFT_OUT,
    STANDS_ON_OPENING,
    PACKED_BETWEEN,
    PLATE_TOO_LONG,
    PLATE_JOINT,
    PLATE_JOINTS_CLOSE,
    SOLE_JOINT_CLOSE,
)
