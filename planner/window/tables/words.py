"""Words of the import of tables."""

from planner.measures.figures import whole
from planner.shop.garments import MOST_SIZE_LETTERS

LEAVE_OUT = "leave out"
SAY_WHAT_EACH_COLUMN_IS = "Say what each column is"
NAME_SIZE = f"A size needs a name of at most {MOST_SIZE_LETTERS} letters, such as XL."


def import_of(name: str) -> str:
    return f"Import {name}"


def complaint(sentence: str, row: int | None, more: int) -> str:
    """What cannot be taken: its row, counted from 1, where one is to blame, and how many are beside."""
    where = "" if row is None else f"Row {row}: "
    beside = {0: "", 1: " One more cell cannot be read."}.get(more, f" {more} more cells cannot be read.")
    return f"{where}{sentence}{beside}"


def column_twice(name: str) -> str:
    return f"Two columns are “{name}”. Leave one out."


def size_too_long(name: str) -> str:
    return f"“{name}” is too long for a size: {MOST_SIZE_LETTERS} letters at most."


# Files that are no such table; `what` they should be: "price list".


def too_large(name: str, what: str) -> str:
    return f"“{name}” is too large for a {what}."


def too_many_rows(name: str, rows: int, most: int) -> str:
    return f"“{name}” has {whole(rows)} rows; {whole(most)} can be taken at once. Split it in parts."


def quotation_open(name: str, what: str) -> str:
    return f"“{name}” is no {what}: a quotation mark in it is never closed."


def empty(name: str) -> str:
    return f"“{name}” is empty."


def no_text(name: str, what: str) -> str:
    return f"“{name}” is no text. Save the {what} as CSV and try again."
