"""Words of the garments page."""

from collections.abc import Iterable

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
