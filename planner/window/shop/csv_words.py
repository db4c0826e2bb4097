"""Words of price lists and of blanks that are read from CSV files."""

from collections.abc import Iterable

# Price lists.
FROM_HOW_MANY = "from how many"
CHOOSE_COUNTS = "Choose one column that says from how many a price holds."
CHOOSE_PRICES = "Choose the column that holds the prices."
TAKE_THESE_PRICES = "Take these prices"
LEAVE_PRICES_AS_THEY_ARE = "Leave prices as they are"
PRICE_LIST_HINT = "One column says from how many a price holds."
PIECE_EXAMPLE = "4 × 4 in, 2 colours"
SIZE_EXAMPLE = "11.5 × 18 in"


def name_sizes(example: str) -> str:
    return f"For each column of prices type the size it is for, such as {example}."


# Blanks.
GROUP_OF_SIZES = "group of sizes"
BLANKS_HINT = (
    "One row for each style, or for each of its colours and sizes; several colours or sizes in a cell "
    "are parted by commas. Cells can be put right here."
)
TAKE_THESE_BLANKS = "Take these blanks"
LEAVE_BLANKS_AS_THEY_ARE = "Leave blanks as they are"
BLANKS_WHAT = "list of blanks"
CHOOSE_STYLES = "Choose the column that names the styles."
NAME_STYLE = "A style needs a name of at most 80 letters."
NO_STYLES = "There is no row with a style."


def no_garment_length(typed: str) -> str:
    return f"“{typed}” is no length of a garment."


def no_kind(typed: str, known: Iterable[str]) -> str:
    return f"“{typed}” is no kind of garment. There are {', '.join(known)}."


def no_dots(typed: str) -> str:
    return f"“{typed}” is no number of dots: 0 (do not iron) to 3."


def blanks_read(styles: str, new: int, changed: int) -> str:
    return f"{styles}: {new} new, {changed} of the book changed."


def shown_grey(colours: str) -> str:
    return f"How {colours} look is not known: shown grey until you say."
