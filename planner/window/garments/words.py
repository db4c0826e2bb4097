"""Words of the garments page."""

from collections.abc import Iterable

from planner.plan.kind_words import kind_name
from planner.shop.garments import HardPart, SizeGroup

# No lines yet.
NO_LINES = "No garments yet"
NO_LINES_WHY = "A garment line is one style in one colour, with how many of each size. Add the first."
OPEN_DEMO_LINK = "Look at a finished example job"
OPEN_JOBS_LINK = "Open one of your jobs"

# A garment line.
STYLE = "Style"
STYLE_HINT = "Style or catalogue number"
KIND = "Kind"
COLOUR = "Colour"
COLOUR_NAME = "Colour name"
COLOUR_CODE = "Colour on screen"
PICK_COLOUR = "Pick a colour"
FIBRES = "Fibre mix"
BLANK_COST = "Blank cost"
EACH = "each"
FIXED_PRICE = "Fixed price"
FIXED_PRICE_HINT = "Leave empty for the price from the shop's margin"
IRON = "Iron on the care label"
COATED = "Coated or waterproof"
COATED_SHORT = "coated"
HARD_PARTS = "Hard parts"
PRINTS = "Prints"
NO_PRINTS = "none yet: drop artwork here, or put one on from the artwork panel"
MORE = "More"
DUPLICATE_LINE = "Duplicate line"
REMOVE_LINE = "Remove line"


def iron(dots: int | None) -> str:
    """ISO 3758: what the dots of a care label's iron allow."""
    if dots is None:
        return "not known"
    return ("do not iron", "one dot, 110 °C", "two dots, 150 °C", "three dots, 200 °C")[dots]


def hard_part(part: HardPart) -> str:
    return kind_name(part)


# Its sizes.
ADD_SIZE = "Add size"
OTHER_SIZE = "Another size"
SURCHARGE = "Surcharge"
SURCHARGES = "Show surcharges"
REMOVE_SIZE = "Remove size"
TOGETHER = "in all"


def size_group(group: SizeGroup) -> str:
    """What stands at the head of a group of sizes."""
    return kind_name(group).capitalize()


MORE_HINT = "Duplicate, remove, hard parts, coating"
BY_MARGIN = "by margin"
COLOUR_CODE_HINT = "How the colour looks on screen, as six hexadecimal digits"
ONE_SIZE = "One size"


def count_of(size: str) -> str:
    return f"Count {size}"


# Counts from CSV files.
STYLE_COLUMN, COLOUR_COLUMN, SIZE_COLUMN, COUNT_COLUMN = "style", "colour", "size", "count"
COUNTS_HINT = (
    "Either a row for each size with its count, or a column for each size (type the size above it), or "
    "a column of counts for each garment beside a column of sizes. Cells can be put right here."
)
TAKE_THESE_COUNTS = "Take these counts"
LEAVE_COUNTS_AS_THEY_ARE = "Leave counts as they are"
COUNTS_WHAT = "list of counts"
NO_COUNTS_IN_COLUMNS = "There is no count in these columns."
SAME_COUNTS = "The job has these counts already."
SIZES_ONE_WAY = "Choose either a column for each size, or a column of sizes and one of counts."
CHOOSE_SIZES_AND_COUNTS = "Choose the column of sizes and the column of counts, or type a size above each."


def line_counted(name: str, pieces: int, *, new: bool) -> str:
    return f"{name} {pieces}{' (new line)' if new else ''}"


def counts_read(garments: str, lines: Iterable[str]) -> str:
    return f"{garments}: {', '.join(lines)}. Sizes of these lines that the file does not name become 0."


def shown_grey(colours: Iterable[str]) -> str:
    return f"How {', '.join(colours)} looks is not known: shown grey until you say."
