"""Why a wall is raised now, and why so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from soleplate.engine.building_file import Said, Site, said
from soleplate.engine.raising.question import RaisingQuestion, RaisingWay
from soleplate.engine.raising.search import Step
from soleplate.engine.rules import team_lift


def reasons_of(
    question: RaisingQuestion, place: int, steps: Sequence[Step], blocked: int, site: Site
) -> Iterator[Said]:
    """The reasons of one step of an order."""
    step = steps[place]
    way, panel = step.way, question.panels[step.way.panel]
    alive = [each for each in question.ways[way.panel] if not each.bit & blocked]
    for later in steps[place + 1 :]:
        bit = 1 << later.way.panel
        if all(_meets(each, bit, blocked) for each in alive):
            name = question.panels[later.way.panel].name
            yield said(
                "before {wall}: once that stands, {own} can no longer be raised", wall=name, own=panel.name
            )
    hosts = question.names(question.after[way.panel])
    if hosts:
        yield said("after {walls}, which it meets", walls=", ".join(hosts))
    if panel.panel.clad_first and way.movement.clad:
        yield said("clad before it is raised: there is no room outside to do it later")
    limit = team_lift(site.people, site.lift_each)
    if way.movement.share == 0.0:
        heavy = [each for each in alive if each.movement.share > 0.0 and each.peak_kg > limit]
        if heavy:
            yield said(
                "framed standing: raising it would lift {peak:.0f} kg at once, over {limit:.0f} kg",
                peak=min(each.peak_kg for each in heavy),
                limit=limit,
            )
    cheaper = [each for each in question.ways[way.panel] if each.cost < way.cost]
    for rule in dict.fromkeys(each.rule for each in cheaper if each.rule != way.rule):
        inside = {
            name
            for each in cheaper
            if each.rule == rule
            for name in question.names(each.stands & step.standing)
        }
        if inside:
            yield said("not by {rule}: {walls} in the way", rule=rule, walls=", ".join(sorted(inside)))


def _meets(way: RaisingWay, bit: int, blocked: int) -> bool:
    """Whether a way is none any more once a panel stands."""
    spots = [stands for held, stands in way.spots if not held & blocked]
    return bool(way.stands & bit) or (bool(way.spots) and all(stands & bit for stands in spots))
