"""Words of the sheets page, ready for translation."""

from planner.measures.figures import short, whole
from planner.sheets.nudge import Feature

# Commands.
TURN = "Turn"
TURN_HINT = "Turn a quarter clockwise"
DUPLICATE = "Duplicate"
DUPLICATE_HINT = "One more copy, beside this one"
REMOVE = "Remove"
REMOVE_HINT = "Take off the sheet"
PIN = "Pin"
PIN_HINT = "Hold it here when the rest is arranged again"
SPACE_ACROSS = "Equal space across"
SPACE_ACROSS_HINT = "Equal space from left to right"
SPACE_DOWN = "Equal space down"
SPACE_DOWN_HINT = "Equal space from top to bottom"
SETTLE = "Move to the nearest good spot"
SETTLE_HINT = "Where nothing is in its way"
SETTLE_ON_NEW = "Move to a new sheet"
ALL = "Select all on this sheet"
ALL_HINT = "All pieces of this sheet"
SAME = "Select all copies of this print"
SAME_HINT = "On all sheets of the offer"
NEXT_TOO = "Also select the next piece"
NEXT_TOO_HINT = "The next piece in reading order"
FIT = "Fit all sheets"
FIT_HINT = "All sheets in view"
FIT_CHOSEN = "Fit selection"
FIT_CHOSEN_HINT = "The chosen pieces, or the sheet, in view"
REAL_SIZE = "Real size"
REAL_SIZE_HINT = "A printed inch is an inch on this screen"
MEASURE = "Measure this screen…"
MEASURE_HINT = "So that real size is real on this screen"
CUTS = "Show cut list"
CUTS_HINT = "Numbered cuts for sheets that are cut straight"
NO_CUTS_HINT = "This sheet is not cut straight: there are no cuts to list"
LARGER = "Larger"
LARGER_HINT = "Zoom in"
SMALLER = "Smaller"
SMALLER_HINT = "Zoom out"
CLOTH = "Show garment colours"
CLOTH_HINT = "Each print on the colour it will be pressed on"
MAY_NOT_TURN = "This print must not lie turned: its own setting"
UNPIN = "Unpin"
UNPIN_HINT = "Let Arrange move it again"

# Menus.
NEW_SHEET = "New sheet"
TO_SHEET = "To sheet"
ALIGN = "Align"

# Panel.
SEARCHING = "Searching"
TO_SHEET_HINT = "Move the chosen pieces to another sheet"
ALIGN_HINT = "Bring pieces in line or space them equally"
ZOOM_HINT = "How large the sheets are drawn"

# Rows above and below the canvas.
ARRANGE = "Arrange"
ARRANGE_HINT = "Put all pieces on as few sheets as can be found; pinned pieces stay where they are"
TAKE_BEST = "Take the best so far"
TAKE_BEST_HINT = "Stop searching and take the sheets as they are now; undo brings yours back"
KEEP_MINE = "Keep mine"
KEEP_MINE_HINT = "Stop searching and leave the sheets as they were"
FROM_THE_LEFT = "From the left"
FROM_THE_TOP = "From the top"
TURNED = "Turned"
TURNED_HINT = "Degrees clockwise from upright"
TURNED_BESIDE = "turned"
SHOW = "Show"
ADD_MISSING = "Add what is missing"
ADD_MISSING_HINT = "Where there is room"

# Canvas.
SHEETS = "Sheets"

# Sheets on the canvas.
BEST_SO_FAR = "best so far"

# No sheets yet.
NO_SHEETS_YET = "No sheets yet"

# What is missing, and pieces.
NO_LONGER_NEEDED = "no longer needed"
NOTHING_TO_GANG = "No sheets to make up"
NOTHING_TO_GANG_WHY = (
    "This offer prints every piece singly, so there is nothing to arrange. Choose an offer by the "
    "sheet or by the roll to gang the pieces."
)
NOTHING_FITS = "Nothing here fits this offer"
NOT_ARRANGED = "Nothing arranged yet"
NOT_ARRANGED_WHY = (
    "Arrange puts every piece on sheets, with the gap and margin that the offer asks for. Then drag "
    "what you want elsewhere."
)
ADD_GARMENTS = "Add a garment line first: sheets are filled with the prints that garments need."
ADD_ARTWORK = "Add the customer's artwork first: drop the files anywhere on this window."
ADD_PRINTS = "Say where the artwork goes and how wide it prints. Its pieces then lie here on sheets."
TYPE_COUNTS = "Type how many garments of each size are ordered. That many copies then lie here."
CHOOSE_OFFER = "Choose an offer for the transfers. It decides the size of the sheets, gap and margin."

# What a dragged piece catches on.
GUIDES = {
    Feature.MARGIN: "margin",
    Feature.GAP: "gap",
    Feature.EDGE: "edges",
    Feature.CENTRE: "centres",
    Feature.SHEET_CENTRE: "middle of the sheet",
}

# Faults.
NO_STRAIGHT_CUT = "no straight cut"

# Cut list.
CUT_LIST = "Cut list"
LEFT_EDGE, TOP_EDGE = "left", "top"
AS_IT_IS_SET = "as it is"

# Measuring the screen.
BAR_TO_MEASURE = "Bar to measure"
BAR_ON_SCREEN = "Length of the bar on the screen"
BAR_BY_RULER = "Length of the bar by the ruler"
MEASURE_THIS_SCREEN = "Measure this screen"
THE_BAR_MEASURES = "The bar measures"
KEEP_MEASURE = "Use this"
KEEP_MEASURE_HINT = "Kept for this screen"
FORGET_MEASURE = "Go by the screen"
FORGET_MEASURE_HINT = "Forget what was measured and believe what the screen says"

# Rulers.
RULER_HINT = "Turn the wheel here to scroll along the ruler"

# Strip of sheets.
RUNS_HINT = "How many times this sheet is printed"


def new_sheet(size: str) -> str:
    return f"{NEW_SHEET}, {size}"


def align(side: str) -> str:
    return f"Align {side}"


def align_hint(side: str) -> str:
    return f"Bring {side} in line"


def sheet(number: int) -> str:
    return f"Sheet {number}"


def sheet_fill(number: int, percent: float) -> str:
    return f"Sheet {number}, {percent:.0f} % full"


def sheet_spoken(number: int, percent: float) -> str:
    return f"Sheet {number}, {percent:.0f} percent full"


def fill(percent: float) -> str:
    return f"{percent:.0f} % full"


def runs_of(number: int) -> str:
    return f"Runs of sheet {number}"


def no_runs(typed: str) -> str:
    return (
        f"“{typed}” is no number of runs. Type a whole number such as 3; "
        "to drop the sheet, remove its pieces."
    )


def no_angle(typed: str) -> str:
    return f"“{typed}” is no angle. Type degrees clockwise from upright, such as 30."


def searching(sheets: str, yours: int) -> str:
    """What was found; held against the sheets accepted before, if there are any."""
    return f"{SEARCHING}: {sheets} so far{f', yours are {whole(yours)}' if yours else ''}"


# What an undo step did.


def turned(pieces: str) -> str:
    return f"Turn {pieces}"


def turned_to(turned_deg: float) -> str:
    return f"Turn to {short(turned_deg)}°"


def duplicated(pieces: str) -> str:
    return f"Duplicate {pieces}"


def removed(pieces: str) -> str:
    return f"Remove {pieces}"


def pinned(pieces: str, *, pin: bool) -> str:
    return f"{PIN if pin else UNPIN} {pieces}"


def spaced(pieces: str) -> str:
    return f"Space {pieces} equally"


def moved(pieces: str) -> str:
    return f"Move {pieces}"


def moved_to(pieces: str, sheet: int | None) -> str:
    """To a sheet by its number; None: a new one."""
    return f"Move {pieces} to {'a new sheet' if sheet is None else f'sheet {sheet}'}"


def aligned(pieces: str) -> str:
    return f"Align {pieces}"


def printed(sheet: int, times: str) -> str:
    return f"Print sheet {sheet} {times}"


def added(pieces: str) -> str:
    return f"Add {pieces}"


# Faults.


def least(unit: str) -> str:
    return f"less than 0.01 {unit}"


def overlap(by: str) -> str:
    return f"overlap {by}"


def too_close(by: str) -> str:
    return f"{by} too close"


def off_sheet(by: str) -> str:
    return f"{by} off the sheet"


def in_margin(by: str) -> str:
    return f"{by} into the margin"


def _two(one: str, other: str) -> str:
    return f"Two copies of {one}" if one == other else f"{one} and {other}"


def overlaps(one: str, other: str, by: str, gap: str, aside: str) -> str:
    """`aside` is what frees them: as far as they overlap, and the gap; `gap` is empty where none is asked."""
    needed = f"This offer needs a gap of {gap}: move" if gap else "Move"
    return f"{_two(one, other)} overlap by {by}. {needed} one of them {aside} aside."


def lie_too_close(one: str, other: str, by: str, gap: str) -> str:
    return f"{_two(one, other)} lie {by} too close: this offer needs a gap of {gap}."


def reaches_off(name: str, by: str, margin: str) -> str:
    """`margin` is empty where the offer prints up to the edge."""
    needed = f"This offer keeps {margin} clear inside it: move" if margin else "Move"
    return f"{name} reaches {by} over the sheet's edge and would be cut off. {needed} it in."


def reaches_in(name: str, by: str, margin: str) -> str:
    return f"{name} reaches {by} into the margin: this offer keeps {margin} clear."


def not_separable(pieces: int, by: str) -> str:
    return (
        f"No straight cut from edge to edge frees these {pieces} pieces. "
        f"Move one {by} aside, or cut this job loose."
    )


def no_other_room(pieces: int) -> str:
    return f"There is no room for {_them(pieces)} elsewhere on this sheet."


def no_room(pieces: int) -> str:
    """Where not even an empty sheet holds them as they lie."""
    if pieces > 1:
        return "No sheet has room for them as they lie together. Move them one by one."
    return "It is larger than a sheet inside its margin. Print it smaller, turn it, or choose another offer."


def _them(pieces: int) -> str:
    return "it" if pieces == 1 else "them"


def settle_on(sheet: int) -> str:
    return f"Move to sheet {sheet}"


def too_large(name: str, size: str, most: str, copies: str, *, would_fit_turned: bool) -> str:
    """Of pieces that an offer cannot print: one, its size, and the room that it misses by least."""
    turn = "let it be turned, " if would_fit_turned else ""
    return (
        f"“{name}” measures {size}, and this offer prints {most} at most: {copies} not bought. "
        f"Print it smaller, {turn}or choose another offer."
    )


def too_colourful(name: str, colours: int, most: int, copies: str) -> str:
    return (
        f"“{name}” has {colours} colours, and this offer prints {most} at most at that size: {copies} not "
        "bought. Choose another offer for it, or bring it down to fewer colours."
    )


def and_more(prints: str) -> str:
    return f"The same goes for {prints}."


def on_sheet(number: int, sentence: str) -> str:
    return f"Sheet {number}: {sentence}"


# Cuts.


def cut(step: int, direction: str, measure: str, edge: str, part: str) -> str:
    return f"Cut {step}: {direction}, {measure} from the {edge} edge of the part {part}"


def cut_from(measure: str, edge: str) -> str:
    return f"{measure} from the {edge}"


def cuts_in_all(cuts: str, times: str) -> str:
    return f"{cuts}, stop set {times}"


# Measuring the screen.


def hold_a_card(size: str) -> str:
    return (
        f"Hold a bank card against the bar and pull the slider until it is as wide ({size}). "
        "Or hold a ruler against it and type what it shows from mark to mark."
    )


def unlikely(length: str) -> str:
    return f"On no screen is this bar {length} long. Type what the ruler shows between the two marks."
