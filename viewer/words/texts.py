"""Every text of the page and the drawings, so that another language is one more set of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from soleplate.viewer.words.covering import CoveringTexts
from soleplate.viewer.words.floors import FloorSheetTexts, FloorTexts
from soleplate.viewer.words.names import EXPORT_NAMES, OPENING_KINDS, ROLE_NAMES
from soleplate.viewer.words.partitions import PartitionSheetTexts, PartitionTexts, with_faces
from soleplate.viewer.words.pictures import PictureTexts
from soleplate.viewer.words.raising import RaisingTexts
from soleplate.viewer.words.script import SCRIPT_TEXTS
from soleplate.viewer.words.sections import SectionTexts
from soleplate.viewer.words.sheets import SheetTexts
from soleplate.viewer.words.slopes import SlopeSheetTexts, SlopeTexts


@dataclass(frozen=True)
class Texts:
    """A language's texts; the English ones are the defaults. Names in braces are filled in."""

    language: str = "en"
    """As HTML's `lang` takes it."""

    # drawings
    seen_outside: str = "{wall}: seen from outside"
    seen_inside: str = "{wall}: seen from inside"
    tape: str = "Tape on the sole plate, from the wall's left end"
    tape_inside: str = "Tape on the sole plate, from the wall's left end seen from outside, here on the right"
    sill_height: str = "sill {height}"
    size: str = "{width} × {height}"
    opening_title: str = "{name}: {kind}, {width} × {height}"
    piece_title: str = "{mark}, {role}, {length}"
    board_title: str = "{mark}, {role}, {length}, course {course}"
    hidden_mark: str = "({mark})"
    """On the tag of a piece that stands behind another one of the same outline."""
    storey_rod: str = "Storey rod of {name}"
    rod_of_lining: str = "lining of {walls}"
    rod_course: str = "{bottom} ({seen} seen)"
    rod_notch: str = "{wall}, {opening}, {edge}: {over} over the course's lower edge"
    plan: str = "Plan of {name}; the front is at the bottom"
    go_to_wall: str = "Show wall {wall}"

    # the page's frame
    title: str = "{name} · Soleplate"
    skip: str = "Skip to the walls"
    api: str = "For other programs: the HTTP API"
    walls: str = "Walls"
    pieces: str = "Pieces"
    weight: str = "Timber"
    units: str = "Lengths"
    unit_names: Mapping[str, str] = field(
        default_factory=lambda: {"mm": "millimetres", "in": "feet and inches"}
    )
    way_round: str = "The building in plan"
    all_walls: str = "All walls"
    go_to_floor: str = "Show the {floor}"
    pads: str = "Pads"
    pads_at: str = "Centres, from the front left corner of the frame"
    pad_along: str = "From the left"
    pad_across: str = "From the front"
    pad_size: str = "Each {size} square. The frame is square when both its diagonals are {diagonal}."
    besides_timber: str = "Besides timber"
    goods: str = "What"
    goods_for: str = "for {parts}"
    goods_names: Mapping[str, str] = field(default_factory=dict)
    """By their usual names, in another language."""
    rafter_card: str = "Rafter card"
    card_figures: str = "Figure"
    card_value: str = "Measure"
    card_of: Mapping[str, str] = field(
        default_factory=lambda: {
            "blank": "Blank, long point to long point; crown up",
            "plumb_cut": "Plumb cut, along it",
            "pitch": "Plumb cut, off square",
            "rise": "Pitch, as a rise in 12",
            "hap": "Over the heel, plumb (HAP)",
            "seat": "Seat, level",
            "heel": "Heel, plumb",
        }
    )
    card_marks: str = "Marks along the upper edge, from the low plumb cut"
    card_mark_names: tuple[str, str, str] = (
        "Low plumb cut",
        "Heel {number}: {hap} left over its seat, seat {seat}",
        "Upper plumb cut",
    )
    card_steps: tuple[str, ...] = (
        "Cut the blank, its crown up, and mark everything along its upper edge from the low end.",
        "Mark the low plumb cut at {pitch} off square.",
        "At each heel draw a plumb line; measure down it from the upper edge what is left over the seat, and"
        " draw the seat level, uphill from there.",
        "Mark the upper plumb cut.",
        "Cut one, try it in its place, and use it as the pattern of the others.",
        "Fly rafters are cut as this one, with no birdsmouths unless their own pieces say so.",
    )
    card_sub: str = (
        "{slope}: marks {first} to {last}. Figures run along the upper edge from the low plumb cut."
    )
    card_heel: Mapping[str, str] = field(
        default_factory=lambda: {"hap": "{figure} plumb", "seat": "seat {figure}", "heel": "heel {figure}"}
    )
    card_heel_alt: str = (
        "The first birdsmouth of a rafter of {slope} at {scale}: {hap} over its heel, {seat}, {heel}"
    )
    card_alt: str = (
        "A rafter of {slope} at {scale}, {length} long, its upper edge level and its low end on the left"
    )
    areas: str = "In square metres"
    deck_area: str = "Deck, {area} m²"
    insulation_area: str = "Insulation {thickness} thick, {area} m² between the timbers"
    vapour_area: str = "Vapour control layer inside, {area} m²"
    bracing: str = "Bracing"
    brace_kinds: Mapping[str, str] = field(
        default_factory=lambda: {"cut in": "cut-in pieces", "let in": "let-in brace", "strap": "strap"}
    )
    brace_said: str = (
        "{what}: rises to the {way} at {angle}°, its centre line from {foot} to {head} along the wall;"
        " {length} over the long points"
    )
    brace_strap: str = "; {size} on the {face}, drawn tight, and {wrap} more round each plate"
    brace_nails: str = "; {ends} nails at each end, {crossings} at each upright crossed ({crosses})"
    held_down: str = "Held down, from the wall's left end"
    layers: str = "On the drawing"
    layer_names: Mapping[str, str] = field(
        default_factory=lambda: {
            "frame": "Frame",
            "openings": "Openings",
            "marks": "Marks",
            "dimensions": "Sizes",
            "behind": "Battens and under-boards",
            "cladding": "Cladding",
            "lining": "Lining",
            "fixings": "Fixings",
            "findings": "Findings",
        }
    )
    contents: str = "Lists"

    role_names: Mapping[str, str] = field(default_factory=lambda: ROLE_NAMES)
    opening_kinds: Mapping[str, str] = field(default_factory=lambda: OPENING_KINDS)
    export_names: Mapping[str, str] = field(default_factory=lambda: EXPORT_NAMES)

    # the tools
    product: str = "Soleplate"
    tools: str = "The building"
    undo: str = "Undo"
    redo: str = "Redo"
    new: str = "New"
    open_file: str = "Open"
    save_file: str = "Save a file"
    keep: str = "Keep"
    kept: str = "Kept designs"
    save_sheets: str = "Sheets"
    bench: str = "Bench"
    entries: str = "What is to be built"
    seen_from: str = "Seen from"
    seen_from_side: str = "See it from {side}"
    side_names: Mapping[str, str] = field(default_factory=lambda: {"outside": "outside", "inside": "inside"})
    nearness: str = "How near"
    nearer: str = "Nearer"
    further: str = "Further off"
    fit: str = "Fit"

    # the start
    start: str = "Begin a building"
    start_notes: Mapping[str, str] = field(
        default_factory=lambda: {
            "mm": "Lengths are in millimetres, or carry their unit: 2.4 m, 8 ft, 7 ft 6 in.",
            "in": "Lengths are in inches, or carry their unit: 8 ft, 7 ft 6 in, 2.4 m.",
        }
    )
    start_in: Mapping[str, str] = field(
        default_factory=lambda: {"mm": "Ask in millimetres", "in": "Ask in feet and inches"}
    )
    start_from: str = "Or begin with one that is drawn already"
    draw_it: str = "Draw it"
    questions: Mapping[str, str] = field(
        default_factory=lambda: {
            "name": "What is it called?",
            "length": "How long, along the front?",
            "width": "How deep, front to back?",
            "roof": "What roof?",
            "low_height": "How high are the walls, at the lowest?",
            "pitch": "How steep is the roof, in degrees?",
            "section": "What timber, breadth by depth?",
            "centres": "How far apart may studs stand, centre to centre?",
            "door": "Where is the door?",
            "cladding": "What is it clad in?",
        }
    )
    answers: Mapping[str, str] = field(
        default_factory=lambda: {
            "mono-pitch": "one slope, high at the front", "duo-pitch": "two slopes, ridge from left to right",
            "level": "level walls, no slope", "none": "none",
        }
    )  # fmt: skip

    # the bench
    back_to_board: str = "Back to the board"
    done_so_far: str = "Done so far"
    before: str = "Before"
    after: str = "Next"
    done: str = "Cut"

    # a wall
    wall_facts: str = "{length} long, {pieces} pieces, {weight}"
    keys: str = "Arrow keys go from piece to piece, Enter opens a piece's cut card."
    running_marks: str = "Running marks"
    plate_marks: str = "{plate}, from its left end"
    length_marks: str = "{plate} {mark}, {start} along, from its own left end"
    plate_over: str = "{plate} over {opening}"
    mark_at: str = "Near face at"
    piece: str = "Piece"
    spacers: str = "Spacers and the closing bay"
    run: str = "Run"
    run_of: str = "{left} to {right}"
    bays: str = "Bays"
    exact_bay: str = "Exact bay"
    spacer: str = "Spacer to cut"
    closing_bay: str = "Closing bay"
    off_size: str = "Off size, EN 336 {grade}"
    drift: str = "at worst {short} short, {long} long; likely {likely_short}, {likely_long}"
    openings: str = "Openings"
    opening: str = "Opening"
    kind: str = "Kind"
    clear_size: str = "Width × height"
    left_clear: str = "Clear of its linings"
    left_edge: str = "Left edge at"
    sill: str = "Sill at"
    framing: str = "Framed by"
    courses: str = "Courses"
    lining_courses: str = "Courses of the lining"
    course: str = "Course"
    boarded: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Cladding, in the order in which it goes up",
            "inside": "Lining, in the order in which it goes up, seen from inside",
        }
    )
    tier: str = "{role}, layer {number} of {count} from the frame"
    left_edge_from: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Left edge, from the wall's left end",
            "inside": "Left edge, from the wall's left end seen from inside",
        }
    )
    lower_edge_from: str = "Lower edge, from the sole plate's underside"
    length: str = "Length"
    lower_edge: str = "Lower edge at"
    ripped_to: str = "Ripped to"
    boards: str = "Boards, left to right"
    boards_inside: str = "Boards, left to right seen from inside"
    board_of: str = "{mark} {length}"
    rod: str = "Storey rod"
    changes: str = "Changed by what was measured"
    wall_findings: str = "To look at"
    flag: str = "{level}, finding {number}"

    # lists
    cutting_list: str = "Cutting list"
    cut_to: str = "Cut to"
    short_side: str = "Short side"
    section: str = "Section"
    material: str = "Material"
    timber: str = "{material}, {grade}"
    grades: Mapping[str, str] = field(
        default_factory=lambda: {"straight": "straight", "short": "from bent lengths too"}
    )
    role: str = "Role"
    ends: str = "Ends"
    count: str = "Count"
    gangs: str = "Clamp and cut"
    marks: str = "Marks"
    panels: str = "Panels"
    panel: str = "panel {number}"
    in_panel: str = "{place}, in panel {number}"
    panel_head: str = "Panel"
    panel_from: str = "From"
    panel_length: str = "Long"
    panel_weight: str = "Weight of its frame"
    panel_marks: str = "{plate} {mark} of panel {panel}, {start} along, from its own left end"
    trim: str = "{length} of it to trim in place"
    turned: Mapping[str, str] = field(
        default_factory=lambda: {
            "over": "cut like the others and turned over: {marks}",
            "end for end": "cut like the others and turned end for end: {marks}",
        }
    )
    """Of mirror twins."""
    turned_name: str = "Mirror twins"
    buying_list: str = "Buying list"
    run_total: str = "Run, end to end"
    longest: str = "Longest piece"
    volume: str = "Volume"
    findings: str = "Findings"
    findings_note: str = "Advice, never an approval."
    no_findings: str = "Nothing was found. That is no approval."
    levels: Mapping[str, str] = field(
        default_factory=lambda: {"stop": "Stop", "warn": "Think again", "note": "Note"}
    )
    basis: str = "Basis: {basis}"
    cautions: str = "Before you cut"
    all_cautions: str = "All cautions"

    # saw plan
    saw_plan: str = "Saw plan"
    set_ups_from: str = "Saw plan, set-ups {first} to {last}"
    lengths_alike: str = "{count} × {length}"
    set_up: str = "set-up {number}"
    each: str = "{price} each"
    on_hand: str = "on hand"
    bent: str = "bent"
    cut_title: str = "{marks}: {length}, {start} to {end}"
    alike: str = "{mark} +{others}"
    offcut: str = "Offcut"
    offcut_title: str = "Offcut: {length}"
    trimmed_off: str = "Trimmed off: {length}"
    factory_end: str = "{mark} keeps its factory end here"
    saw_key: Mapping[str, str] = field(
        default_factory=lambda: {
            "bought": "bought", "on-hand": "on hand", "offcut": "offcut", "kerf": "saw cut",
            "factory": "factory end kept",
        }
    )  # fmt: skip
    saw_note: str = (
        "Running positions are from the start of the length, saw cuts counted: saw beyond the line, on the"
        " side of what is left."
    )
    far_end_note: str = (
        "A piece from the far end is measured from there, whatever the length comes to, so that it keeps its"
        " factory end."
    )
    cost: str = "Cost"
    total: str = "{what}: {amount}"
    cost_of_priced: str = "Cost of what has a price"
    how_good: str = "How good"
    no_better: Mapping[str, str] = field(
        default_factory=lambda: {
            "cost": "Proven: no plan is cheaper.",
            "waste": "Proven: no plan leaves less over.",
            "lengths": "Proven: no plan takes fewer bought lengths.",
        }
    )
    within: Mapping[str, str] = field(
        default_factory=lambda: {
            "cost": "Within {gap} % of the best: no plan can cost less than {bound}.",
            "waste": "Within {gap} % of the timber of the best: no plan can leave less than {bound} over.",
            "lengths": "Within {gap} % of the best: no plan can take fewer than {bound} bought lengths.",
        }
    )
    lengths: str = "Lengths"
    lengths_bought: str = "{bought} to buy"
    lengths_both: str = "{bought} to buy, {on_hand} on hand"
    waste: str = "Waste"
    waste_of: str = "{waste}, {share} % of the timber"
    set_ups: str = "Set-ups"
    cuts_in_order: str = "Cuts in order, and where each ends"
    cut_to_here: str = "{marks}: {length}, to {end}"
    cut_from_far_end: str = "{marks}: {length}, from the far end"
    factory_ends: str = "Factory ends"
    brush: str = "Fresh ends to brush, if the timber is treated, with preservative: {count}."
    kept_foot: str = "Factory end at the foot: {marks}."
    fresh_foot: str = "Both ends fresh, so brush the foot well: {marks}."
    to_buy: str = "To buy"
    from_on_hand: str = "From what is on hand"
    price: str = "Price"
    spare: str = (
        "{timber}: order {ordered} lengths in all, {spare} of them spare, of the longest, {length}, which"
        " serves for any, so that with a chance of at least {chance} % enough are straight. The spare"
        " ones are in neither the plan nor the cost."
    )
    spare_unpriced: str = (
        "{timber}: order {ordered} lengths in all, {spare} of them spare, of the longest, {length}, which"
        " serves for any, so that with a chance of at least {chance} % enough are straight. The spare"
        " ones are not in the plan."
    )
    run_of_timber: str = "The run of timber"
    run_note: str = "The run is without saw cuts and offcuts."
    run_in_all: str = "run of {length}"
    uncounted: str = "lengths not counted; longest piece {longest}"
    strip_of_sheet: str = "strip of sheet"
    boxes_of: str = "{count} boxes of {box}"
    box_of: str = "a box of {box}"
    strips_to_saw: str = "sawn from a sheet this thick; longest strip {longest}"
    uncounted_note: str = (
        "Where lengths are not counted, the run is told, without saw cuts and offcuts, and more than that is"
        " needed. Give the lengths on sale, and a saw plan counts how many of each to buy."
    )

    # ends of a piece
    square: str = "square"
    bevel: str = "{angle}° bevel, long point {side}"
    cuts: Mapping[str, str] = field(
        default_factory=lambda: {
            "double bevel": "double bevel {angles}",
            "shaped": "shaped, see the drawing",
            "point": "to a point",
        }
    )  # fmt: skip
    faces_meet: str = ", meeting {place} from {edge}"
    from_edges: tuple[str, str] = ("the left", "below")
    """Of an upright, and of anything else."""
    sides: Mapping[str, str] = field(
        default_factory=lambda: {
            "left": "left", "right": "right", "top": "on top", "bottom": "below", "middle": "in the middle",
        }
    )  # fmt: skip
    both_ends: str = "both {end}"
    two_ends: str = "{first_name} {first}; {second_name} {second}"
    upright_ends: tuple[str, str] = ("foot", "head")
    level_ends: tuple[str, str] = ("left", "right")
    housed: str = (
        "; {face} housed {deep} deep for what is {width} wide and rises {way}, {angle}° off its length,"
        " {start} to {end} from the {from_end}"
    )
    notched: str = "; notched"
    notched_along: str = "; {edge} notched {deep} deep, {places} from its {from_end}"
    notched_from_to: str = "{start} to {end}"
    notched_edges: Mapping[str, tuple[str, str]] = field(
        default_factory=lambda: {
            "left": ("left edge", "foot"), "right": ("right edge", "foot"),
            "top": ("upper edge", "left end"), "bottom": ("lower edge", "left end"),
            "": ("one edge", "foot or left end"),
        }
    )  # fmt: skip
    """Each with where it is told from; of pieces that have notches on either side one of them."""
    birdsmouth: str = (
        "; {count} × birdsmouth, heel at {places} along the upper edge from the low end, seat {seat}, heel"
        " {heel}, {hap} plumb over the heel (HAP)"
    )
    width_ripped_to: str = "; ripped to {width}"
    ripped_along: str = "; top ripped, told from the left: {rips}"
    each_rip: str = "{start_width} wide at {start} to {end_width} at {end}, {angle}°"
    next_rip: str = ", and "
    told_from_back: str = "; lining, so seen from its back"
    factory_down: str = "; any factory end down"
    factory_up: str = "; any factory end up"

    # the cut card
    card: str = "Cut card"
    close: str = "Close"
    in_row: str = "See it in the cutting list"
    from_length: str = "From"
    sits: str = "Sits"
    sits_at: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "{x} from the left, seen from outside, {z} up",
            "inside": "{x} from the left, seen from inside, {z} up",
        }
    )
    """Of lining as it is seen from inside; of all else from outside, whichever side is drawn."""

    script: Mapping[str, str] = field(default_factory=lambda: SCRIPT_TEXTS)
    """What the script says, by the names that it knows."""

    schema: Mapping[str, str] = field(default_factory=dict)
    """What the published schema says, a rule's plugin included, by its own words: its names with spaces
    between, and its descriptions whole; and the sentences of exporters. What is not in here is shown as it
    is said there."""

    sentences: Mapping[str, str] = field(default_factory=dict)
    """Of findings, which `engine/FINDINGS.md` lists, and of faults, by the English ones; for `lay_out` and
    `Fault.told`."""

    sheets: SheetTexts = field(default_factory=SheetTexts)
    """Of what goes on paper."""

    raising: RaisingTexts = field(default_factory=RaisingTexts)
    """Of the order of work and of joints, on the page and on paper."""
    covering: CoveringTexts = field(default_factory=CoveringTexts)
    """Of what covers a slope."""
    sections: SectionTexts = field(default_factory=SectionTexts)
    """Of sections through the building."""
    pictures: PictureTexts = field(default_factory=PictureTexts)
    """Of the building as a whole, in a picture."""

    of_floor: FloorTexts = field(default_factory=FloorTexts)
    """Of a floor, in place of what is said of a wall."""
    sheets_of_floor: FloorSheetTexts = field(default_factory=FloorSheetTexts)
    """The same of what goes on paper."""

    of_slope: SlopeTexts = field(default_factory=SlopeTexts)
    """Of a slope of a roof, in place of what is said of a wall."""
    sheets_of_slope: SlopeSheetTexts = field(default_factory=SlopeSheetTexts)
    """The same of what goes on paper."""

    def told_of_slope(self) -> Texts:
        """The texts by which a slope of a roof is told like a wall."""
        return replace(self, **vars(self.of_slope), sheets=replace(self.sheets, **vars(self.sheets_of_slope)))

    of_partition: PartitionTexts = field(default_factory=PartitionTexts)
    """Of a partition, in place of what is said of an outer wall."""
    sheets_of_partition: PartitionSheetTexts = field(default_factory=PartitionSheetTexts)
    """The same of what goes on paper."""

    def told_of_partition(self, outer: str, inner: str) -> Texts:
        """The texts by which a partition is told whose outer and inner face look at these walls."""
        own = with_faces(self.of_partition, outer, inner)
        sheets = with_faces(self.sheets_of_partition, outer, inner)
        return replace(self, **own, sheets=replace(self.sheets, **sheets))

    def told_of_floor(self, runs: str) -> Texts:
        """The texts by which a floor, whose joists run so, is told like a wall."""
        own, sheets = dict(vars(self.of_floor)), dict(vars(self.sheets_of_floor))
        above, below = own.pop("fronts")[runs]
        own["seen_outside"] = own["seen_outside"].replace("{front}", above)
        own["seen_inside"] = own["seen_inside"].replace("{front}", below)
        for name in ("seen", "seen_outside"):
            sheets[name] = sheets[name].replace("{front}", above)
        return replace(self, **own, sheets=replace(self.sheets, **sheets))


ENGLISH: Final = Texts()
