"""Every text that only paper has: the job book's sheets and their title block."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class SheetTexts:
    """A language's texts; the English ones are the defaults. Names in braces are filled in."""

    job_book: str = "Job book"

    # the title block, by the fields of ISO 7200
    owner: str = "Legal owner"
    title: str = "Title"
    document_type: str = "Document type"
    identification: str = "Identification"
    creator: str = "Created by"
    approval: str = "Approved by"
    revision: str = "Rev."
    date: str = "Date of issue"
    scale: str = "Scale"
    sheet: str = "Sheet"
    sheet_of: str = "{number} / {count}"
    no_scale: str = "–"
    continued: str = "{title}, continued"
    lacking: str = (
        "Some characters of the names are in no font of this machine, and a box stands for each: make the"
        " book on a machine that has one."
    )
    caution: str = (
        "Setting out, not approval: local codes, and a licensed professional where one is needed, decide."
        " Saw, lifting, height, unbraced frames: the cautions on sheet 1 hold here too."
    )

    # kinds of sheet
    cover: str = "Plan and cautions"
    elevation: str = "Elevation"
    bench: str = "Marks and cuts"
    cuts: str = "Cuts"
    findings: str = "Findings"
    cutting: str = "Cutting list"
    sawing: str = "Saw plan"
    buying: str = "Buying list"
    templates: str = "Templates"

    # the cover
    cover_lead: str = "Setting out for the bench, sheet by sheet."
    contents: str = "Sheets"
    plan_alt: str = "Plan of {name} at {scale}: walls {walls}"
    facts: str = "In figures"
    walls: str = "Walls"
    pieces: str = "Pieces"
    timber: str = "Weight of timber"
    lengths: str = "Lengths to buy"
    cost: str = "Their cost"
    cost_of_priced: str = "Cost of those with a price"
    outer_diagonals: str = "Diagonals, outside"
    paper: str = "Paper"
    on_paper: str = "On paper"
    usual_paper: str = "usual for the units"

    # a wall
    wall: str = "{wall}"
    seen: str = "Seen from outside. {length} long, {pieces} pieces, {weight}."
    bench_sub: str = "From the left end, seen from outside. A factory end, where a stud has one, goes down."
    elevation_alt: str = "{seen}, drawn at {scale}: {length} long, of {pieces} pieces"
    part_of_wall: str = "{seen} Here: {left} to {right}."
    match_line: str = "match line {letter}"
    wall_part: str = "{wall}, part {number} of {count}"
    look: str = "Look at this first"
    look_more: str = "Told on the next sheet: {counts}."
    look_count: str = "{count} × {level}"
    marks_of: str = "Running marks on the {plate}, from its left end to the near face"
    held_down: str = "Held down: {kind}, along the wall from its left end"
    marks_of_length: str = "Running marks on {plate} {mark}, {start} along, from its own left end"
    marks_of_panel: str = (
        "Running marks on {plate} {mark} of panel {panel}, {start} along, from its own left end"
    )
    bays: str = "Bays, clear between uprights on the sole plate, counted from the left"
    noggins: str = "Noggins, from the underside of the sole plate to their lower edge"
    square: str = "Lay the frame flat: it is square when both diagonals, corner to corner, are {rising}."
    square_raked: str = (
        "Lay the frame flat: it is square when it is {rising} from the lower left corner to the upper right,"
        " and {falling} from the lower right to the upper left."
    )
    square_panel: str = "Panel {number}: {square}"
    spacers: str = "Spacers"
    spacer: str = (
        "From {left} to {right}, {bays} bays: cut a spacer of {spacer}. Stepped along, it leaves {closing}"
        " for the last bay; set the studs by the running marks."
    )
    crowns: str = "Crown, bow and datum"
    crown: str = (
        "Sight along each stud and pencil an arrow to its crown, the edge that bows out: in the wall all"
        " arrows point to the outer face."
    )
    crown_to_sheets: str = (
        "Sight along each stud and pencil an arrow to its crown, the edge that bows out: in the wall all"
        " arrows point to the inner face, so that the sheets that line it bear on every stud and bridge no"
        " hollow one."
    )
    bow: str = (
        "Take the straightest lengths for plates. One that bows on the flat lies hump up, so that weight and"
        " fixings press it down; one that bows sideways is pulled to a string as it is fixed."
    )
    datum: str = (
        "The outer face is the datum: all pieces lie flush there, and what differs in depth shows inside."
    )
    crooked: str = (
        "Short pieces come from the lengths that are too crooked for the long ones: half as long, a piece has"
        " a quarter of the bow."
    )
    openings: str = "Openings"
    cut_for: str = "To cut for {wall}"
    changes: str = "As measured"

    # cladding
    cladding: str = "Cladding"
    lining: str = "Lining"
    seen_outside: str = "Seen from outside."
    seen_inside: str = "Seen from inside: right on the elevation is left here."
    by_rod: str = "Courses from the lowest up, by the storey rod."
    by_heights: str = "Courses from the lowest up."
    boarded_alt: str = "{wall}: {kind}, drawn at {scale}"
    courses_of: str = "Courses of {wall}"
    lining_courses_of: str = (
        "Courses of the lining of {wall}, seen from inside, from the underside of the sole plate"
    )
    places_of: str = "Edges of the cladding of {wall}, from the frame's left end and underside"
    lining_places_of: str = (
        "Edges of the lining of {wall}, from the frame's left end, seen from inside, and underside"
    )
    layer: str = "Layer"
    layer_of: str = "{number}: {role}"
    left_edges: str = "Left edges"
    course: str = "Course"
    lower_edge: str = "Lower edge"
    ripped_to: str = "Ripped to"
    boards: str = "Boards, left to right"
    rod: str = "Storey rod"
    rod_sub: str = (
        "From the underside of the sole plate. Mark it on a batten once, and hold it to every wall."
    )
    rod_course: str = "{number}: {bottom}, seen {seen}"
    notches: str = "Notched for openings, dashed on the rod"
    rod_alt: str = "Storey rod of {walls}: the lower edges of {courses} courses, as told beside it"

    # leaves of doors and shutters
    leaves: str = "Leaves"
    leaves_sub: str = (
        "Seen from behind, where ledges and braces go on. Heights of ledges are to their lower edges, from"
        " the foot. Measure the opening between its linings before cutting."
    )
    leaves_alt: str = "Leaves of {opening} in wall {wall}, seen from behind"
    leaf_on_left: str = "{size}, hung on the left as seen from outside"
    leaf_on_right: str = "{size}, hung on the right as seen from outside"

    # a floor
    pads: str = "Pads"
    pads_sub: str = (
        "Centres of the pads from the front left corner of the frame, which is {length} along the front and"
        " {width} from front to back."
    )
    pads_square: str = (
        "Set the corners out: they are square when both diagonals, corner to corner, are {diagonal}."
    )
    pads_size: str = "Each pad is {size} square, its middle under the middle of a bearer."
    pads_level: str = (
        "The tops of all pads lie in one level, {down} below the underside of the walls' sole plates."
    )
    pads_row: str = "Row"
    pads_from_front: str = "From the front"
    pads_from_left: str = "From the left"
    pads_alt: str = "Pads of {name} at {scale}: {count} pads in {rows} rows"

    # the cutting list
    done: str = "Done"
    count: str = "No."
    cut_to: str = "Cut to"
    section: str = "Section"
    piece: str = "Piece"
    ends: str = "Ends"
    marks: str = "Marks"
    short_side: str = "short side {length}"
    short: str = "Short side"
    trim: str = "{length} of it to trim in place"
    gangs: str = "clamp {gangs}"
    bevel_template: str = "Template"
    sorting: str = (
        "Sort the timber first: the straightest lengths for plates, the straight ones for studs, joists and"
        " rafters, the crooked ones for what may come from bent lengths. {basis}"
    )
    long_points: str = "Lengths are over the long points. Try the first piece of each setting in its place."

    # the saw plan
    cuts_in_order: str = "Saw plan, cut by cut"
    set_up: str = "Set-up"
    ends_at: str = "Ends at"
    far_end: str = "far end"

    # bevels
    bevels: str = "Bevels, full size"
    bevels_use: str = (
        "Check both bars first: each is 100 mm. If one is not, print again at 100 %, not fitted to the page."
        " Then cut a template out, fold it on the dashed lines round the timber, with the edge on the long"
        " point, and pencil along the cut line all round; or set a sliding bevel to it. For the other hand"
        " fold it the other way. Mark one piece, cut it, and try it before the rest."
    )
    bevel: str = "Template {name}: {angles}"
    bevel_fall: str = "{fall} over {across}"
    bevel_for: str = "{section}: {marks}"
    bar: str = "100 mm"
    long_point: str = "long point"
    short_point: str = "short point"
    face: str = "face {breadth}"
    edge: str = "edge {depth}"
    waste: str = "waste"
    bevels_alt: str = "Templates at full size: {names}, with two bars of 100 mm to check the print against"
    bevels_lead: str = "Each bevel once, to wrap round the timber."
    too_large: str = "Too large for this paper: set a sliding bevel."

    # buying
    buying_lead: str = "Prices and lengths are those of the building file: ask again before you order."
    to_buy: str = "To buy"
    on_hand: str = "From what is on hand"
    run: str = "The run of timber"
