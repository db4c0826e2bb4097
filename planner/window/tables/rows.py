"""Tables from CSV files as rows of words, and what a matcher makes of their columns. No Qt here."""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Protocol

from planner.measures import figures
from planner.measures.figures import Region
from planner.window import wording
from planner.window.readings import Unreadable
from planner.window.shop.readings import range_start, read_decimal
from planner.window.tables import words

Rows = list[list[str]]
LARGEST_BYTES = 2_000_000
MOST_ROWS = 5000
LEAVE_OUT = words.LEAVE_OUT
_SIGNED = re.compile(r"[\d.,]*[.,]\d+", re.ASCII)
_ONLY_FIGURES = re.compile(r"(?:[\d.,\s–—]|[A-Z]{3}|[^\w]|from|to|mm|cm|in)+", re.ASCII)


@dataclass(frozen=True, slots=True)
class Trouble:
    """What cannot be taken, and where: row and column of the file from 0; None where no cell is to blame."""

    sentence: str
    row: int | None = None
    column: int | None = None


@dataclass(frozen=True, slots=True)
class Read:
    """What a table would bring: a value to take and a sentence that tells it, or what stands against it."""

    value: object = None
    told: str = ""
    troubles: tuple[Trouble, ...] = ()


class Matcher(Protocol):
    """Knows what the columns of one kind of table can be, and reads them."""

    title: str
    hint: str
    take: str
    """The button that takes what was read."""
    leave: str
    """The button that takes nothing."""
    what: str
    """What such a file is called: "price list"."""

    @property
    def roles(self) -> tuple[str, ...]:
        """What a column can be, `LEAVE_OUT` among them."""

    @property
    def own_roles(self) -> bool:
        """Whether a role of one's own may be typed, such as a size."""

    def has_names(self, rows: Rows) -> bool:
        """Whether the first row names the columns."""

    def guess(self, rows: Rows) -> list[str]:
        """What each column probably is."""

    def read(self, rows: Rows, roles: Sequence[str]) -> Read:
        """What the table brings with the columns taken so."""


def read_rows(path: Path, what: str) -> Rows:
    """The file's rows as words, empty ones left out; comma, semicolon or tab between cells.

    A file may come from another region: where its figures show which sign sets their decimals apart, those
    that would be read as others here are written as the region in force does.

    Raises:
        Unreadable: it is no text, is empty, or is far too large for such a table.
    """
    try:
        if path.stat().st_size > LARGEST_BYTES:
            raise Unreadable(words.too_large(path.name, what))
        data = path.read_bytes()
    except OSError as error:
        raise Unreadable(wording.unreadable_file(path.name, error)) from None
    text = _decoded(data, path.name, what)
    try:
        cells = csv.reader(io.StringIO(text), delimiter=_delimiter(text[:4000]))
        rows = [row for row in ([cell.strip() for cell in line] for line in cells) if any(row)]
    except csv.Error:  # A cell of more than 131,072 letters, most likely a quotation mark never closed.
        raise Unreadable(words.quotation_open(path.name, what)) from None
    if not rows:
        raise Unreadable(words.empty(path.name))
    if len(rows) > MOST_ROWS:
        raise Unreadable(words.too_many_rows(path.name, len(rows), MOST_ROWS))
    wide = max(len(row) for row in rows)
    return _as_written_here([[*row, *[""] * (wide - len(row))] for row in rows])


def _as_written_here(rows: Rows) -> Rows:
    told = [cell for row in rows for cell in row if _ONLY_FIGURES.fullmatch(cell)]
    sign = figures.decimal_sign_in(figure for cell in told for figure in _SIGNED.findall(cell))
    if not sign:
        return rows
    there = Region("", decimal=sign, group="," if sign == "." else ".")
    here = {cell: _SIGNED.sub(lambda match: _reread(match[0], there), cell) for cell in told}
    return [[here.get(cell, cell) for cell in row] for row in rows]


def _reread(figure: str, there: Region) -> str:
    """A figure as it is to be typed here; itself where it means the same, or nothing."""
    here = figures.current()
    value = _value(figure, there)
    return figure if value in (None, _value(figure, here)) else here.written(f"{value:f}")


def _value(figure: str, region: Region) -> Decimal | None:
    """What a figure is in a region; None where it is none, or can be two."""
    try:
        return region.read(figure)
    except ValueError:
        return None


def _delimiter(sample: str) -> str:
    # A semicolon file writes decimals with commas: its commas are many, but it has semicolons in every line.
    lines = [line for line in sample.splitlines() if line.strip()]
    for sign in "\t;":
        if lines and all(sign in line for line in lines):
            return sign
    return max(";\t,", key=lambda sign: (sample.count(sign), sign == ","))


def _decoded(data: bytes, name: str, what: str) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    if b"\0" in data:
        raise Unreadable(words.no_text(name, what))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def has_names(rows: Sequence[Sequence[str]]) -> bool:
    """Whether the first row names the columns: it holds a word where figures would stand."""
    return any(not is_figure(cell) for cell in rows[0] if cell)


def is_figure(cell: str) -> bool:
    """Whether a cell holds a count, a price or a range of counts."""
    if not re.search(r"\d", cell) or re.search(r"[a-zA-Z]{3,}|[x×]", range_start(cell)):
        return False
    try:
        read_decimal(range_start(cell))
    except ValueError:
        return False
    return True
