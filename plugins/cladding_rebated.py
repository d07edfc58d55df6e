"""Rebated cladding: boards whose profile fixes how much of each is seen."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal, Self

from pydantic import model_validator

from soleplate.engine.rules import (
    NARROWEST_RIP,
    PRACTICE,
    AnyLength,
    Battens,
    CannotFrame,
    Clad,
    CladdingRule,
    CladdingThickness,
    CladdingWidth,
    Course,
    Gap,
    Limits,
    Mm,
    Section,
    Surface,
    Units,
    at_least,
    at_most,
    framing_battens,
    hookimpl,
    level_strips,
    level_tops,
    narrow_at_openings,
    opening_edges,
    unbuildable,
)

MOST_COURSES: Final = 400
NOTHING: Final = 1e-6

Drop = Annotated[AnyLength, Limits(0.0, 500.0)]


class FixedCover(CladdingRule):
    """Base of level boards of fixed cover; see its rules."""

    thickness: CladdingThickness = 25.0
    """Of the boards."""
    width: CladdingWidth = 145.0
    """Of the boards, over the rebate or tongue."""
    cover: CladdingWidth
    """What is seen of a board's width, by its profile."""
    gap: Gap = 0.0
    """Left between boards for them to swell; added to the cover."""
    least_drop: Drop = 20.0
    """How far the first course reaches below the underside of the sole plate, at the least."""
    most_drop: Drop = 60.0
    """The same at the most. Within the two it is chosen so that no ripped course is too narrow; where none
    does, the first course is ripped too, by up to half of cover and gap."""
    narrowest_rip: Annotated[AnyLength, Limits(0.0, 500.0)] | None = None
    """The narrowest that a course may be ripped to under a level top, or left over or under an opening: at
    the most half of cover and gap; else 40 mm, or that half where it is less."""
    battens: Battens | None = None
    """Battens on the studs, behind the boards; none without it."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.cover > self.width:
            raise unbuildable(
                "cover is {cover}; accepted is up to the width, {width}",
                cover=Mm(self.cover),
                width=at_most(self.width),
            )
        if self.cover + self.gap > self.width:
            raise unbuildable(
                "cover and gap are {pitch} together; accepted is up to the width, {width}, so that"
                " boards meet",
                pitch=Mm(self.pitch),
                width=at_most(self.width),
            )
        if self.pitch < self.width / 2:
            raise unbuildable(
                "cover and gap are {pitch} together; accepted is {half} and more, half the width,"
                " since a board laps over the one below and no other",
                pitch=Mm(self.pitch),
                half=at_least(self.width / 2),
            )
        if self.least_drop > self.most_drop:
            raise unbuildable(
                "least_drop is {least_drop}; accepted is up to most_drop, {most_drop}",
                least_drop=Mm(self.least_drop),
                most_drop=at_most(self.most_drop),
            )
        if self.narrowest_rip is not None and self.narrowest_rip > self.pitch / 2:
            raise unbuildable(
                "narrowest_rip is {narrowest_rip}; accepted is up to {half}, half of cover and gap,"
                " since no drop does more for every height",
                narrowest_rip=Mm(self.narrowest_rip),
                half=at_most(self.pitch / 2),
            )
        return self

    @property
    def least_rip(self) -> float:
        """The narrowest that a course is left, if it can be, mm."""
        return min(NARROWEST_RIP, self.pitch / 2) if self.narrowest_rip is None else self.narrowest_rip

    @property
    def pitch(self) -> float:
        """From one course to the next, mm."""
        return self.cover + self.gap

    @property
    def swelling_gap(self) -> float | None:
        """The gap between boards, mm."""
        return self.gap

    @property
    def cavity(self) -> float:
        """The battens' thickness, mm."""
        return self.battens.section[0] if self.battens else 0.0

    @property
    def build_out(self) -> float:
        """Battens and boards, mm."""
        return self.cavity + self.thickness

    def choose_courses(self, faces: Sequence[Surface]) -> Sequence[Course]:
        """Return courses of one cover, the first perhaps ripped at its lower edge; see `CladdingRule`.

        Raises:
            CannotFrame: they would be too many.
        """
        highest = max(face.highest for face in faces)
        sills, heads = opening_edges(faces)
        # The point of a slope is a strip too, but one that trim may cover: it counts as a sill does.
        points = {round(face.highest, 6) for face in faces if face.level_top is None}
        drop, ripped = self.choose_first(
            level_tops(faces), [*sills, *points], heads, bounded=all(face.bounded for face in faces)
        )
        start = drop + ripped
        count = int((highest + start - 1e-6) // self.pitch) + 1
        if count > MOST_COURSES:
            raise CannotFrame(f"{count} courses; accepted are up to {MOST_COURSES}: use wider boards")
        return [
            Course(
                number=index + 1,
                bottom=index * self.pitch - start if index else -drop,
                top=(index + 1) * self.pitch - start,
                board_top=index * self.pitch - start + self.width,
            )
            for index in range(count)
        ]

    def choose_first(
        self, tops: Sequence[float], sills: Sequence[float], heads: Sequence[float], *, bounded: bool
    ) -> tuple[float, float]:
        """How far the first course drops, and how much is ripped off its lower edge, mm.

        `tops`, `sills` and `heads` are heights, mm. It is ripped only where no drop leaves the courses under
        all tops wide enough, and keeps half of cover and gap; where that would not leave them wider, it is
        whole. What is `bounded` below does not drop.
        """
        least, most = (0.0, 0.0) if bounded else (self.least_drop, self.most_drop)
        drop = self.choose_start(tops, sills, heads, least, most)
        if self._narrowest(drop, tops) >= self.least_rip - NOTHING:
            return drop, 0.0
        start = self.choose_start(tops, sills, heads, most, most + self.pitch / 2)
        is_wider = self._narrowest(start, tops) > self._narrowest(drop, tops) + NOTHING
        return (most, start - most) if is_wider else (drop, 0.0)

    def choose_start(
        self,
        tops: Sequence[float],
        sills: Sequence[float],
        heads: Sequence[float],
        least: float,
        most: float,
    ) -> float:
        """How far below the face the courses start, of the range from `least` to `most` mm.

        It is the least that leaves the fewest narrow strips at openings, and none at tops. Where level tops
        cannot be served, it is that whose narrowest rip is widest. What is left of a course grows or shrinks
        as the start goes down, and jumps where a course ends there: hence the least start that serves as many
        is that of the range, or makes some strip nothing or just wide enough.
        """
        wanted = self.least_rip
        levels = [*tops, *sills, *heads]
        starts = {(rip - level) % self.pitch for level in levels for rip in (0.0, wanted)}
        turns = range(int(most // self.pitch) + 1)
        tries = sorted(
            drop
            for drop in {
                least,
                most,
                *(start + turn * self.pitch for start in starts for turn in turns),
            }
            if least <= drop <= most
        )

        # What is left of a course at each height, were there no drop: a house may have hundreds of openings.
        below = sorted(level % self.pitch for level in sills)
        above = sorted(-level % self.pitch for level in heads)

        def narrow(drop: float) -> int:
            return self._narrow_among(below, drop) + self._narrow_among(above, -drop)

        serving = [drop for drop in tries if self._narrowest(drop, tops) >= wanted - NOTHING]
        if serving:
            return min(serving, key=lambda drop: (narrow(drop), drop))
        return max(tries, key=lambda drop: (round(self._narrowest(drop, tops), 6), -drop))

    def _narrow_among(self, rests: Sequence[float], grown: float) -> int:
        """How many of some rests, which rise, are narrow strips once each has grown so much, mm.

        They grow from no height to that of a whole course, and then from none again.
        """
        narrowest, wanted = NOTHING, min(self.least_rip, self.pitch) - NOTHING
        if wanted <= narrowest:
            return 0
        first, last = (narrowest - grown) % self.pitch, (wanted - grown) % self.pitch
        between = bisect_left(rests, last) - bisect_right(rests, first)
        return between if first <= last else between + len(rests)

    def _narrowest(self, drop: float, tops: Sequence[float]) -> float:
        """The narrowest of what is left of courses under level tops, mm."""
        return min(self._strips(drop, tops, ()), default=self.pitch)

    def _strips(self, drop: float, below: Sequence[float], above: Sequence[float]) -> list[float]:
        """What is left of courses below and above some heights that cut them, mm."""
        pitch = self.pitch
        rests = [(level + drop) % pitch for level in below]
        rests += [-(level + drop) % pitch for level in above]
        return [rest for rest in rests if NOTHING < rest < pitch - NOTHING]

    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return a strip for each course, and battens where they are wanted; see `CladdingRule`."""
        section = Section(self.thickness, self.width)
        depth = (-self.build_out, -self.cavity)
        boards = level_strips(
            face,
            courses,
            section,
            self.material,
            depth,
            on_battens=self.battens is not None,
            # Boards that go into each other lie as one even layer: cover by thickness is all that each has.
            solid=self.cover / self.width,
        )
        battens = (
            framing_battens(face, self.battens, courses[0].bottom, self.over_plate) if self.battens else ()
        )
        return Clad(tuple(boards), tuple(battens), tuple(narrow_at_openings(face, courses, self.least_rip)))


class Rebated(FixedCover):
    """Level boards with a rebate (shiplap): each lower edge laps over the board below.

    The profile fixes the cover, so courses are set by how far the first one drops below the sole plate. The
    last course under a level top is ripped. The lap is what the cover leaves of the width, 15 mm and more
    (TRADA, as restated by suppliers).
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "rebated", "width": 145, "cover": 130},
        {
            "rule": "rebated",
            "width": 150,
            "cover": 134,
            "battens": {"section": [25, 50]},
            "lengths": [3600, 4800],
        },
    )

    weather_lap: ClassVar[tuple[float, str] | None] = (
        15.0,
        "TRADA, as restated by suppliers (15 mm for rebated boards)",
    )
    begun_sizes: ClassVar[Mapping[Units, Mapping[str, Any]]] = {
        "mm": {"width": 145, "cover": 127, "gap": 3},
        "in": {"width": "5 1/2 in", "cover": "4 3/4 in", "gap": "1/8 in"},
    }

    rule: Literal["rebated"] = "rebated"


class TongueAndGroove(FixedCover):
    """Level boards, tongue up and groove down, set in courses as rebated ones are.

    A board that moves moderately is at most 125 mm wide with a tongue of 15 mm and a gap of 4 mm (BS
    8605-1:2014, as restated by trade bodies); give the gap as `gap`.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "tongue-and-groove", "width": 125, "cover": 110, "gap": 4},
    )

    weather_lap: ClassVar[tuple[float, str] | None] = (
        7.0, f"{PRACTICE} (a tongue of 7 mm and more goes into its groove)",
    )  # fmt: skip
    widest_board: ClassVar[float] = 125.0

    decks: ClassVar[bool] = True

    rule: Literal["tongue-and-groove"] = "tongue-and-groove"


@hookimpl
def register_rules() -> list[type[CladdingRule]]:
    """Offer the rules of this module."""
    return [Rebated, TongueAndGroove]
