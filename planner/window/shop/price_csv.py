"""Price lists from CSV files: which column is what, and the grid that follows. No Qt here."""

import csv
import io
import re
from collections.abc import Sequence
from pathlib import Path

from planner.measures.lengths import LengthUnit
from planner.shop.prices import PriceTable
from planner.window.readings import Unreadable
from planner.window.shop.grids import Grid, first_column, may_grow
from planner.window.shop.readings import read_decimal, read_size

LARGEST_BYTES = 2_000_000
MOST_ROWS = 500
LEAVE_OUT, COUNT, PRICE = "leave out", "from how many", "price"
_COUNT_WORDS = re.compile(r"^(from|qty|quantity|count|number|sheets?|pieces?|min|at least|steps?|area)", re.I)


def read_rows(path: Path) -> Grid:
    """The file's rows as words, empty ones left out; comma, semicolon or tab between cells.

    Raises:
        Unreadable: it is no text, is empty, or is far too large for a price list.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise Unreadable(f"“{path.name}” is too large for a price list.")
        data = path.read_bytes()
    except OSError as error:
        raise Unreadable(f"“{path.name}” could not be read: {error.strerror or error}.") from None
    text = _decoded(data, path.name)
    sample = text[:4000]
    delimiter = max(";\t,", key=lambda sign: (sample.count(sign), sign == ","))
    # A semicolon file writes decimals with commas: its commas are many, but it has semicolons in every line.
    lines = [line for line in sample.splitlines() if line.strip()]
    for sign in ";\t":
        if lines and all(sign in line for line in lines):
            delimiter = sign
    try:
        rows = [[cell.strip() for cell in row] for row in csv.reader(io.StringIO(text), delimiter=delimiter)]
    except csv.Error:  # A cell of more than 131,072 letters, most likely a quotation mark never closed.
        raise Unreadable(f"“{path.name}” is no price list: a quotation mark in it is never closed.") from None
    rows = [row for row in rows if any(row)][:MOST_ROWS]
    if not rows:
        raise Unreadable(f"“{path.name}” is empty.")
    wide = max(len(row) for row in rows)
    return [[*row, *[""] * (wide - len(row))] for row in rows]


def _decoded(data: bytes, name: str) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data:
        raise Unreadable(f"“{name}” is no text. Save the price list as CSV and try again.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def has_names(rows: Sequence[Sequence[str]]) -> bool:
    """Whether the first row names the columns: it holds a word where figures would stand."""
    return any(not _is_figure(cell) for cell in rows[0] if cell)


def guess(rows: Sequence[Sequence[str]], price: PriceTable, unit: LengthUnit) -> list[str]:
    """What each column probably is: LEAVE_OUT, COUNT, or the name of the size its prices are for."""
    names = list(rows[0]) if has_names(rows) else [""] * len(rows[0])
    body = rows[1:] if has_names(rows) else rows
    figures = [
        sum(_is_figure(row[at]) for row in body) * 2 > sum(bool(row[at]) for row in body)
        for at in range(len(rows[0]))
    ]
    named = [at for at, name in enumerate(names) if _COUNT_WORDS.match(name) and figures[at]]
    first = next((at for at, is_figures in enumerate(figures) if is_figures), None)
    count = named[0] if named else first
    found = []
    for at, name in enumerate(names):
        if at == count:
            found.append(COUNT)
        elif may_grow(price):
            # A column named by a size holds prices even where some cannot be read: those are shown.
            found.append(name or PRICE if figures[at] or _says_size(name, unit) else LEAVE_OUT)
        else:
            found.append(PRICE if figures[at] and PRICE not in found else LEAVE_OUT)
    return found


def _says_size(name: str, unit: LengthUnit) -> bool:
    """Whether a column is named by a size, with or without colours behind it."""
    for words in (name, name.rpartition(",")[0]):
        try:
            read_size(words, unit)
        except ValueError:
            continue
        return True
    return False


def grid_from(rows: Sequence[Sequence[str]], roles: Sequence[str], price: PriceTable) -> Grid:
    """The price grid of the chosen columns.

    Raises:
        Unreadable: no column says from how many the prices hold, two do, or none holds prices.
    """
    counts = [at for at, role in enumerate(roles) if role == COUNT]
    if len(counts) != 1:
        raise Unreadable("Choose one column that says from how many a price holds.")
    prices = [at for at, role in enumerate(roles) if role not in (COUNT, LEAVE_OUT)]
    if not prices:
        raise Unreadable("Choose the column that holds the prices.")
    body = rows[1:] if has_names(rows) else rows
    return [
        [first_column(price), *(roles[at] for at in prices)],
        *([_start(row[counts[0]]), *(row[at] for at in prices)] for row in body),
    ]


def _start(cell: str) -> str:
    """The lower end of "12-23", "12–23", "12 to 23" or "12+"."""
    match = re.match(r"^\s*(\d+(?:[.,]\d+)?)\s*(?:[-–+]|to\b|and\b)", cell)
    return match[1] if match else cell


def _is_figure(cell: str) -> bool:
    if not re.search(r"\d", cell) or re.search(r"[a-zA-Z]{3,}|[x×]", _start(cell)):
        return False
    try:
        read_decimal(_start(cell))
    except ValueError:
        return False
    return True
