"""Words of the papers, and phrases that several of them share."""

from collections.abc import Iterable

from planner.job.document import GarmentLine, Job
from planner.job.pieces import group_of_piece, print_of_piece
from planner.measures import figures
from planner.paper.print_sheet import artwork_of_piece
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.shop.garments import SizeGroup

# Papers of more than two words, as they are asked for.
CHECK_IN_LIST, ORDER_OF_WORK = "check-in list", "order of work"

PACKET = "Packet"


def size_counts(sizes: Iterable[tuple[str, int]]) -> str:
    """ "S × 4 · M × 12"; a size never parts from its count at a line's end."""
    return ", ".join(f"{size}\u00a0×\u00a0{figures.whole(count)}" for size, count in sizes)


def line_name(line: GarmentLine) -> str:
    """How a garment line is called: "Everyday tee, ash grey"."""
    return f"{line.style or kind_name(line.kind)}, {line.colour.name}"


def piece_name(job: Job, piece_key: str) -> str:
    """What a piece is: artwork, garment and place, and the group of sizes where it has a width of its own."""
    artwork = artwork_of_piece(job, piece_key)
    if any(extra.key == piece_key for extra in job.extras):
        return f"{artwork.name}, extra"
    print_, group = job.print_of(print_of_piece(piece_key)), group_of_piece(piece_key)
    line = job.line(print_.line)
    place = wording.place(print_.location, print_.place_name)
    sizes = kind_name(group) if group else ""
    parts = [artwork.name, f"{line.style or kind_name(line.kind)} {place}", sizes]
    return ", ".join(part for part in parts if part)


# The proof.
PROOF = "Proof"
NO_PRINTS = "No prints to approve yet."
TRUE_SIZE = "True size"
PLEASE_NOTE = "Please note"
APPROVED = (
    "Approved as shown: artwork, spelling, size, place and garment colour. I have the right to use this "
    "artwork. Colours on paper differ a little from the printed transfer."
)
NAME, SIGNATURE, DATE = "Name", "Signature", "Date"


def proof(label: str) -> str:
    return f"{PROOF} {label}"


def proof_of(label: str, artwork: str) -> str:
    return f"{proof(label)}: {artwork}"


def other_sizes(group: SizeGroup, size: str) -> str:
    """Follows the printed size where a group of sizes has its own."""
    return f"; {kind_name(group)} sizes {size}"


def shown_at(scale: float) -> str:
    return f"Shown at {100 * scale:.0f} % of its true size"


def size_on_cloth(shown_as: str, size: str, colour: str) -> str:
    return f"{shown_as}; {size} on {colour}"


def to_note(sentence: str, reason: str) -> str:
    """What the customer accepts, and why the shop decided so where it did."""
    return f"• {sentence} Decided: {reason}" if reason else f"• {sentence}"


# Press cards.
PRESS_CARD = "Press card"
PRESS_CARDS = "Press cards"
NOTHING_TO_PRESS = "Nothing to press yet: a print needs a garment line with counts, and an offer."
PRESS = "press"
PRESSURE = "pressure"
PEEL = "peel"
STEPS = "Steps"
SIZES = "Sizes"
TICK_EACH = "tick each garment"
BOX_OF_TEN = "a box is ten garments"
WHO_WINS = "The transfer printer’s sheet and the garment’s label win over this card."


def card_of(number: int, cards: int) -> str:
    return f"Card {number} of {cards}"


def card_for(number: int, style: str, place: str) -> str:
    return f"{PRESS_CARD} {number}: {style}, {place}"


def more_sizes(card: str) -> str:
    return f"{card}, more sizes"


def temperature(other_scale: str) -> str:
    """Below the figure: the same in the other scale."""
    return f"temperature · {other_scale}"


def press_times(pressings: int, *, at_most: bool) -> str:
    return f"press, {'up to ' if at_most else ''}{pressings} times"


def from_the_mark(length: str) -> str:
    return f"{length} from the mark"


# Layouts and their cuts.
LAYOUT = "Layout"
LAYOUTS = "Layouts"
NO_LAYOUTS = "No sheets to cut: nothing is arranged, or the transfers are bought singly."
LEGEND_HEADS = ("", "Piece", "Size", "A sheet", "All runs")
CUT_LOOSE = "cut along each box by hand"
CUT_STRAIGHT = "every cut runs edge to edge: trimmer, or ruler and knife"
CUT_OUTLINE = "cut along each outline with scissors"
CUT_HEADS = ("", "Cut", "Set the stop to", "How", "Part to cut")
CUT_DOWN = "down, this far from the left edge of the part"
CUT_ACROSS = "across, this far from the top edge of the part"
STOP_AS_IT_IS = "as it is"


def layout_of(number: int, layouts: int) -> str:
    return f"{LAYOUT} {number} of {layouts}"


def drawn_at(ratio: float, width: str, height: str, *, stretches: int) -> str:
    """A sheet's scale and size, and into how many stretches a long one is divided."""
    scale = f"Scale 1 : {figures.short(ratio)} · {width} wide, {height} high"
    return f"{scale}, drawn in {stretches} stretches from left to right" if stretches > 1 else scale


def pieces_a_sheet(pieces: int) -> str:
    return f"{wording.count(pieces, 'piece')} a sheet"


def filled(share: float) -> str:
    return f"{figures.plain(100 * share, 1)} % filled"


def cuts_counted(cuts: int, settings: int) -> str:
    return f"{wording.count(cuts, 'cut')}, {wording.count(settings, 'setting')} of the stop"


# Care cards.
CARE_CARD = "Care card"
NOTHING_TO_CARE_FOR = "No printed garments yet."
HOW_TO_CARE = "How to care for the print"
