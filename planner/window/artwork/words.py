"""Words of the artworks' panel, of the page that shows one large, and of what opens there."""

from collections.abc import Iterable, Sequence

from planner.artwork.colour_names import colour_name
from planner.artwork.facts import Style
from planner.artwork.source import SourceNote
from planner.job.findings import Seriousness
from planner.job.fixes import (
    FixStep,
    Halftone,
    HardenEdges,
    KnockOut,
    OutlineInk,
    QuarterTurn,
    Recolour,
    RemoveSpecks,
    Thicken,
)
from planner.measures.figures import plain, short, whole
from planner.measures.lengths import MM_PER_INCH
from planner.plan.kind_words import FIX_STEPS, kind_name
from planner.plan.wording import count as count_of
from planner.shop.garments import Location, SizeGroup
from planner.window.wording import FINDINGS

# The panel.
ARTWORK = "Artwork"
PASTE = "Paste"
DROP_HERE = "Drop the customer's files here"
DROP_WHY = (
    "PNG, JPEG, HEIC, TIFF, WebP, GIF, BMP, SVG or PDF, also several files or a folder at once. "
    "The originals are kept in the job file and never changed. You can also choose files or paste a picture."
)


def dismiss_all(count: int) -> str:
    """The link under sentences on files that could not be taken."""
    return f"Dismiss all {count}"


# One artwork.
PICTURE = "Picture on the garment's colour"
PICTURE_HINT = "Look closer: at print size, with what was found on it; or drag it onto a garment line"
ARTWORK_MORE = "Replace, turn, flip or remove this artwork"
PUT_ON = "Put on a garment"
PUT_ON_HINT = "Add a print: this artwork on a garment line"
ON_NEW_LINE = "On a new garment line"
TAKE_BACK_FIX = "Take back the last fix"
ADD_EXTRA = "Add as an extra to fill sheets"
REMOVE_ARTWORK = "Remove artwork"
MEASURING = "Measuring…"
VECTOR = "vector"


_FORMATS = {
    "image/png": "PNG",
    "image/jpeg": "JPEG",
    "image/tiff": "TIFF",
    "image/webp": "WebP",
    "image/gif": "GIF",
    "image/bmp": "BMP",
    "image/heic": "HEIC",
    "image/avif": "AVIF",
    "application/pdf": "PDF",
    "image/svg+xml": "SVG",
}
_FILE_NOTES = {
    SourceNote.MISLABELLED: "its name says another format",
    SourceNote.FIRST_FRAME: "several pictures: the first is printed",
    SourceNote.TURNED: "turned upright by its tag",
    SourceNote.CMYK_WITHOUT_PROFILE: "CMYK without a profile: colours are a guess",
    SourceNote.FROM_CMYK: "from CMYK",
    SourceNote.FROM_LAB: "from CIELAB",
    SourceNote.FROM_PROFILE: "from its colour profile",
    SourceNote.UNUSABLE_PROFILE: "its profile cannot be used: colours are a guess",
    SourceNote.DEPTH_REDUCED: "more than 8 bits a channel, printed with 8",
}


def media(media_type: str) -> str:
    """A format by the name that customers know."""
    return _FORMATS.get(media_type, "")


def file_notes(notes: Iterable[SourceNote]) -> tuple[str, ...]:
    """What a person should know of the file; the rest are findings, or shown otherwise."""
    known = set(notes)
    if SourceNote.CMYK_WITHOUT_PROFILE in known:
        known.discard(SourceNote.FROM_CMYK)
    return tuple(said for note, said in _FILE_NOTES.items() if note in known)


def colours(flat: int | None, style: Style) -> str:
    """How many colours a printer who prints each by itself would need; else what kind of picture it is."""
    return count_of(flat, "flat colour") if flat is not None else kind_name(style)


def pixels(width: int, height: int) -> str:
    return f"{whole(width)} × {whole(height)} px"


def mended_by(steps: Sequence[str]) -> str:
    return f"mended: {', '.join(steps)}"


# Another file behind an artwork.
REPLACED = "File"
PIXELS = "Pixels"
OTHER_SHAPE = "Its shape is another one: prints keep their widths, their heights change."


def was_to(name: str, before: str, after: str) -> str:
    return f"{name}: {before} → {after}"


def findings_gone_and_new(gone: tuple[str, ...], new: tuple[str, ...]) -> str:
    """Findings of a replaced file by their kinds."""
    told = [f"{word}: {', '.join(kinds)}" for word, kinds in (("gone", gone), ("new", new)) if kinds]
    return f"{FINDINGS} {' · '.join(told)}" if told else f"{FINDINGS}: the same as before"


# The pages of a document.
PAGES = "Pages of the document"
CHOOSE_PAGE = "Choose the page…"
CHOOSE_PAGE_HINT = "The document has several pages: choose the one that is printed"
COUNTING_PAGES = "Looking through the document…"


def pages_of(name: str, count: int) -> str:
    return f"{name}: {count} pages" if count > 1 else f"{name}: one page"


def page(number: int) -> str:
    return f"page {number}"


# A print.
GARMENT = "Garment line"
LOCATION = "Location"
PLACE_NAME = "Name of the place"
PRINT_WIDTH = "Print width"
PRINT_MORE = "More for this print"
PRINT_OFFER = "Transfers for this print from"
AS_THE_JOB = "as the job"
TURNING = "On the sheet it may be turned"
TURN_NONE = "Not at all"
TURN_QUARTER = "By quarter turns"
TURN_ANY = "To any angle, where cut by outline"
ONE_SHEET = "All on one sheet, with others marked so"
ONE_SHEET_BY_PIECE = "All on one sheet: not at an offer by the piece"
SET_APART = "Mend apart from its other prints"
REMOVE_PRINT = "Remove print"


def group_width(group: SizeGroup) -> str:
    return f"Own width for {kind_name(group)} sizes"


# How sharp it prints.
SHARP_AT_ANY = "sharp at any size"


def meter_word(serious: Seriousness | None) -> str:
    """What an effective resolution means, in a word or two."""
    if serious is Seriousness.STOP:
        return "too coarse"
    return "coarse" if serious is Seriousness.LOOK else "sharp"


def meter_spoken(ppi: float, word: str) -> str:
    return f"{ppi:.0f} ppi, {word}"


def offers_need(need: float) -> str:
    return f"The mark is the offer's need, {short(need)} ppi."


def usual_need(need: float) -> str:
    """Before an offer is chosen."""
    return f"The mark is what transfers usually need, {short(need)} ppi: no offer is chosen yet."


def meter_how(size_px: tuple[int, int], size: str, ppi: float, need: str, eye: float) -> str:
    return (
        f"{pixels(*size_px)} printed {size}: {ppi:.0f} ppi across and down.\n"
        f"{need}\n"
        f"From where it is usually looked at, the eye resolves {eye:.0f} ppi (one arc-minute, ISO 8596)."
    )


# An extra.
EXTRA = "Extra: fills room that is left on a sheet"
EXTRA_HINT = "A piece no garment needs; it is only placed where the sheet is paid for anyway"
EXTRA_WIDTH = "Width of the extra"
EXTRA_MOST = "How many extras at most"
EXTRA_NONE = "Type how many at most, such as 12. ⋯ takes the extra away."
AT_MOST = "at most"
EXTRA_MORE = "More for this extra"
REMOVE_EXTRA = "Remove extra"

# The page that shows an artwork large.
CLOSER_WHICH = "Which print is shown"
CLOSER_CANVAS = "Artwork at print size"
CLOSER_EMPTY = "Add artwork to look at it closely: at print size, on its garment, with what was found on it."
WORKING_OUT = "Working it out…"
BEFORE_FIXES = "as it came"
AFTER_FIXES = "as printed"
COMPARE_FIXES = "How much is shown as it came"
ZOOM_HINTS = {"−": "Smaller", "+": "Larger"}
FIT = "Fit"
REAL_SIZE = "Print size"
SCALE_HINT = "How large it is shown; at 100 % as large as printed"
HIDE_MARKS = "Hide marks"
SHOW_MARKS = "Show marks"


def real_size_hint(screen_ppi: float) -> str:
    return (
        f"As large as it is printed, on a screen of {screen_ppi:.0f} ppi. "
        "Where that is not so, measure the screen on the sheets page."
    )


FINDING_BEFORE = "Finding before"
FINDING_AFTER = "Next finding"


def one_of(number: int, count: int) -> str:
    return f"{number} of {count}"


def of_print_size(share: float) -> str:
    """How large it is drawn, by what the screen says of itself; it stands beside `REAL_SIZE`."""
    return f"{share * 100:.0f} %"


def step_told(step: FixStep, px_per_mm: float) -> str:
    """A fix with its figures, at print size."""
    match step:
        case KnockOut():
            reach = MEND_FROM_EDGES if step.from_edges else MEND_EVERYWHERE
            return f"knock out {colour_name(step.colour)} {reach}"
        case RemoveSpecks():
            return f"remove specks under {plain(step.smaller_than_px / px_per_mm, 2)} mm"
        case HardenEdges():
            return f"harden edges from {step.threshold / 255 * 100:.0f} %"
        case Halftone():
            return f"halftone at {px_per_mm * MM_PER_INCH / step.cell_px:.0f} lines per inch"
        case Thicken():
            return f"thicken by {plain(step.by_px / px_per_mm, 2)} mm"
        case OutlineInk():
            return f"outline {plain(step.by_px / px_per_mm, 2)} mm, {colour_name(step.colour)}"
        case Recolour():
            return f"{colour_name(step.colour)} becomes {colour_name(step.to)}"
        case QuarterTurn():
            return f"turn by {90 * step.quarters}°"
        case _:
            return FIX_STEPS[step.step]


def fixes_made(names: Sequence[str]) -> str:
    """The steps in their order."""
    return "Mended: " + ", then ".join(names) if names else ""


def trying(step: str) -> str:
    """A fix that is shown while it is still being chosen."""
    return f"Tried, not mended yet: {step}"


# Mending by hand.
MEND = "Mend"
MEND_MENU = "Mend…"
MEND_HINT = "Knock out, exchange a colour, thicken, outline, halftone and more; the file stays as it is"
MEND_VECTOR_HINT = (
    "Trimmed, turned or flipped it stays vector; for other fixes it is drawn in pixels, fine enough for its "
    "largest print. The file stays as it is"
)
MEND_IN_PIXELS = "This draws the vector artwork in pixels, fine enough for its largest print."
MEND_WAY = "What to mend"
MEND_COLOUR = "Colour"
MEND_REACH = "Where"
MEND_FROM_EDGES = "from the edges inwards"
MEND_EVERYWHERE = "everywhere"
MEND_TOLERANCE = "Tolerance, ΔE"
MEND_TO = "New colour"
MEND_AMOUNT = "At print size"
MEND_THRESHOLD = "Solid from, %"
MEND_LINES = "Lines per inch"
MEND_SCOPE = "For"
MEND_ONE_PRINT = "this print only"
KNOCK_OUT = "Knock out a colour"
KNOCK_OUT_ABOUT = "Makes a colour clear; edges that were mixed with it are cleaned."
RECOLOUR = "Exchange a colour"
RECOLOUR_ABOUT = "Prints one flat colour as another."
REMOVE_SPECKS = "Remove specks"
REMOVE_SPECKS_ABOUT = "Takes away loose bits of ink smaller than this."
HARDEN = "Harden soft edges"
HARDEN_ABOUT = "Ink above this share becomes solid, all else clear."
HALFTONE = "Halftone the fades"
HALFTONE_ABOUT = "Turns what is half clear into solid dots, so that adhesive holds each of them."
THICKEN = "Thicken strokes"
THICKEN_ABOUT = "Grows the ink outwards on every side by this much, in its own colour."
OUTLINE = "Outline"
OUTLINE_ABOUT = "Puts a line of this width around the ink, so that it stands out from the cloth."
TRIM = "Trim"
TRIM_ABOUT = "Cuts off what is empty around the ink."
FLIP = "Flip left to right"
FLIP_ABOUT = "Mirrors the artwork."
TURN = "Turn by 90°"
TURN_ABOUT = "Turns the artwork clockwise."


def mend_all_prints(count: int) -> str:
    return "both prints of it" if count == 2 else f"all {count} prints of it"


def colour_share(name: str, hex_colour: str, share: float) -> str:
    """A colour of the artwork and how much of its ink is in it."""
    return f"{name} {hex_colour}, {share * 100:.0f} %"


def not_a_number_within(least: int, most: int) -> str:
    return f"Type a whole number from {least} to {most}."


def not_a_length_within(least: str, most: str) -> str:
    return f"Type a length from {least} to {most}."


# What a file's name tells.
PLACES_IN_NAMES = {
    Location.NAPE: frozenset(("nape", "neck", "collar", "yoke")),
    Location.LEFT_SLEEVE: frozenset(("sleeve", "arm", "cuff")),
    Location.LEFT_CHEST: frozenset(("chest", "breast", "pocket")),
    Location.CAP_FRONT: frozenset(("cap", "hat")),
    Location.LEG: frozenset(("leg", "thigh")),
    Location.TOTE_FRONT: frozenset(("tote", "bag")),
    Location.FULL_BACK: frozenset(("back", "rear")),
    Location.FULL_FRONT: frozenset(("front",)),
}
"""Words in a file's name that tell where it goes, the narrower place first: "back-neck" is the nape."""
RIGHT_IN_NAMES = frozenset(("right", "r"))
