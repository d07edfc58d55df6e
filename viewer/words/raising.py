"""What is said of the order of work, on the page and on paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class RaisingTexts:
    """A language's texts; the English ones are the defaults. Names in braces are filled in.

    Sentences of steps and reasons come with the order of work, in the language that it is made in.
    """

    title: str = "Order of work"
    place: str = "Raising"
    lead: str = (
        "Hatched: stays. Solid: stands. Colour: now; it lies in the dashes. Braces end in squares. In"
        " the picture: what stands after it, the rest pale."
    )
    lead_none: str = "Hatched: in the way. Solid: can stand. In colour: what is blocked, and by what."
    kinds: Mapping[str, str] = field(
        default_factory=lambda: {
            "base": "base", "frame": "frame", "square": "square", "clad": "clad", "raise": "raise",
            "fix": "fix", "plates": "plates", "roof": "roof", "openings": "doors and windows", "line": "line",
        }
    )  # fmt: skip
    whole: Mapping[str, str] = field(
        default_factory=lambda: {
            "frame": "cutting", "square": "square the plan", "fix": "sole plates and corners",
            "plates": "plates over corners", "line": "lining",
        }
    )  # fmt: skip
    """Of the whole building, where something else is said than of a wall."""
    step_of: str = "{kind} {wall}"
    framed: str = "frame {wall} standing"
    weight: str = "{weight}, {peak} of it to lift at once"
    people: str = "{count} people"
    person: str = "1 person"
    hours: str = "{hours} h"
    during: str = "dry hours: {during}"
    dry: str = "in dry weather"
    under_cover: str = "under cover"
    wind: str = (
        "Wind up to Beaufort {beaufort}: a gust pushes as hard as {weight} weigh ({newtons} N). Never leave"
        " hold before it is held."
    )
    stop_yes: str = "It may be broken off."
    stop_no: str = "Finish it in one go."
    where: Mapping[str, str] = field(
        default_factory=lambda: {"ends": "beside its ends", "outside": "outside", "inside": "inside"}
    )
    brace: str = "Braces of {wall}: {where}, off after step {step}."
    braces_off: str = "Then the braces of {walls} may come off."
    alt: str = "Step {number}: {sentence} Standing: {walls}."
    seen: str = "What stands after step {number}, {name}: this step's in its tone, all else pale."
    nothing: str = "nothing yet"

    # no order
    none: str = "No order of work"
    none_told: str = "As it is, the walls cannot all be raised. At the most there stand: {walls}."
    unknown: str = "It was not found out whether there is an order of work."
    change: str = "There is an order with {names} {changes}."
    without: str = "There is an order without {names}."
    raised: str = "raised by {length}"
    lowered: str = "cut down by {length}"
    pushed: str = "pushed back by {length} at the dashed line"
    alternatively: str = ", or "
    together: str = " and "
    something: str = "What has to change"
    blocked: str = "{wall}, {way}"
    too_near: str = "{name} is {length} too near"
    walls_in_it: str = "standing in it: {names}"
    no_brace: str = "no room for braces of {name}"
    no_way: str = "no way through broader than {length}"
    may_help: str = "May help"

    # dry hours
    dry_hours: str = "Dry hours"
    dry_lead: str = "The hours are a guess of ours, to be set right by your own work; no forecast."
    dry_told: str = "{dry} h have to be dry; {cover} h can be done under cover."
    roof_on: str = "The roof is on after {after}."
    roof_short: str = "{hours} dry hours short of a roof."
    before: str = "Before, under cover: {steps}."
    later: str = "The roof does not wait for: {steps}."
    stops: str = (
        "Where one may stop: after any step, since all that stands is braced or closed at a corner; within"
        " one, but for those in one go: {steps}."
    )
    step: str = "Step"
    what: str = "What"
    time: str = "Hours"
    when: str = "When"
    one_go: str = "in one go"

    # the page
    ask: str = "Find the order of work"
    about: str = "How the walls go up, step by step, past what stands round them."
    without_script: str = "It takes a script to ask for it here; the job book has it in any case."
    site: str = "What stands round it"
    draw: str = "Draw an obstacle"
    add: str = "Put one beside the building"
    alone: str = "Walls on their own have no order of work."
    step_name: str = "{number} of {count}: {name}"
    tick: str = "Done"

    # joints
    joints: str = "Joints"
    joints_sub: str = "One of each kind, at its true places."
    uplift: str = (
        "Nails into end grain keep pieces in their places and hold no uplift: straps or sheathing do that."
    )
    joint_seen: Mapping[str, str] = field(
        default_factory=lambda: {"front": "from outside", "side": "from the side", "above": "from above"}
    )
    joint_of: str = "{through} to {into}"
    joint_count: str = "{count} × {kind}, {way}; {joints} such joints."
    pilot: str = "Drill {size} first."
    driven: str = "Only {when}."
    lacks: str = "Lacks {what}: {needs} is asked for, {has} is there."
    joint_alt: str = "{name} at {scale}, from two sides: {marks}"
    ways: Mapping[str, str] = field(
        default_factory=lambda: {
            "through": "straight into the end", "skew": "skewed", "face": "straight into the side",
        }
    )  # fmt: skip
    shanks: Mapping[str, str] = field(
        default_factory=lambda: {"smooth": "smooth", "ring": "ringed", "thread": "threaded"}
    )
    fixings: str = "Fixings"
    fixings_lead: str = "As placed, and what to buy with a fifth over for what bends and drops."
    fixing: str = "Fixing"
    as_placed: str = "As placed"
    boxes: str = "Boxes"
    to_buy: str = "To buy"
