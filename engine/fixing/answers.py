"""What the rules say of a joint, looked at before it is used."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from soleplate.engine.building_file import Building, pointer_to
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import FixingRule, Joint, JointFixing, Seat, Tie, picked

WHERE: Final = "fixings"
"""The building file's member in which the rules are picked."""

MOST: Final = 50
"""Fasteners in one group, and rows (a limit on what a rule may ask for)."""


class JointAnswers:
    """Asks the rules, once for every joint that looks alike."""

    def __init__(self, building: Building, registry: Registry) -> None:
        own = picked(FixingRule, building)
        usual = [
            rule.model()
            for rule in registry.of_family(FixingRule.family)
            if not any(field.is_required() for field in rule.model.model_fields.values())
        ]
        self._rules = (*own, *(rule for rule in usual if isinstance(rule, FixingRule)))
        self._asked = Asked(
            WHERE,
            WHERE,
            lambda rule: pointer_to(WHERE, *(i for i, each in enumerate(own) if each is rule)),
            registry,
        )
        self._known: dict[Joint, JointFixing | None] = {}
        self._tied: dict[Seat, Tie | None] = {}

    def to(self, joint: Joint) -> JointFixing | None:
        """What the first rule that answers says."""
        if joint not in self._known:
            self._known[joint] = next(self._answers(joint), None)
        return self._known[joint]

    def tie(self, seat: Seat) -> Tie | None:
        """What ties something down, by the first rule that says so."""
        if seat not in self._tied:
            self._tied[seat] = next(self._ties(seat), None)
        return self._tied[seat]

    def _ties(self, seat: Seat) -> Iterator[Tie]:
        for rule in self._rules:
            answer = self._asked(rule, rule.tie, seat)
            if answer is not None:
                whole = self._asked.whole(rule, answer, Tie)
                if min(whole.width, whole.thickness, whole.length) <= 0.0 or not 1 <= whole.each_end <= MOST:
                    raise self._asked.fault(
                        rule,
                        f"ties by a strap of {whole.width} by {whole.thickness} by {whole.length} mm with"
                        f" {whole.each_end} nails at each end; accepted are sizes over 0, and 1 to {MOST}",
                    )
                yield whole

    def _answers(self, joint: Joint) -> Iterator[JointFixing]:
        for rule in self._rules:
            answer = self._asked(rule, rule.fix, joint)
            if answer is not None:
                whole = self._asked.whole(rule, answer, JointFixing)
                for wrong in _wrong(whole):
                    raise self._asked.fault(rule, wrong)
                yield whole


def _wrong(fixing: JointFixing) -> Iterator[str]:
    """What cannot be in an answer, in the words of an error."""
    for way in fixing.ways:
        size = way.fastener
        if not (size.diameter > 0.0 and size.length > size.diameter):
            yield f"fixes by a {size.kind} of {size.diameter} by {size.length} mm"
        if (way.count is None) == (way.centres is None):
            yield "returned a FixingWay with both or none of count and centres; accepted is one"
        if not 1 <= (way.count or 1) <= MOST or not 1 <= way.rows <= 2 or not (way.centres or 10.0) >= 10.0:
            yield (
                f"returned a FixingWay of {way.count} at {way.centres} mm in {way.rows} rows; accepted are"
                f" 1 to {MOST}, at 10 mm or more, in 1 or 2 rows"
            )
        if way.way == "skew" and way.count is None:
            yield "returned a FixingWay that is skewed at centres; accepted is a count"
