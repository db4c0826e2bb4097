"""Counts from CSV files: a row for each size, a column for each size, or a column for each garment.

No Qt here.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from planner.job.document import Job
from planner.plan import wording as sentences
from planner.shop.book import Shop
from planner.shop.garments import MOST_SIZE_LETTERS
from planner.shop.swatches import UNKNOWN_HEX, swatch_named
from planner.window.garments import words
from planner.window.garments.counted import Ordered, line_for, with_counts
from planner.window.garments.sizes import KNOWN, usual_size
from planner.window.names import line_name
from planner.window.readings import read_count
from planner.window.tables import words as table_words
from planner.window.tables.rows import LEAVE_OUT, Read, Rows, Trouble, is_figure

STYLE, COLOUR = words.STYLE_COLUMN, words.COLOUR_COLUMN
SIZE, COUNT = words.SIZE_COLUMN, words.COUNT_COLUMN
_NAMED = {
    STYLE: re.compile(r"^(style|garment|item|product|article|blank)", re.I),
    COLOUR: re.compile(r"^colou?r", re.I),
    SIZE: re.compile(r"^sizes?$", re.I),
    COUNT: re.compile(r"^(count|qty|quantity|pieces|pcs|number|how many|ordered)", re.I),
    LEAVE_OUT: re.compile(r"^(total|sum|together|note|remark|price|cost)", re.I),
}
_HEAD = re.compile(r"\s*[,/]\s*")


class CountTable:
    """Matches a table of counts to a job; what it reads is a tuple of `Ordered`."""

    title = table_words.SAY_WHAT_EACH_COLUMN_IS
    hint = words.COUNTS_HINT
    take = words.TAKE_THESE_COUNTS
    leave = words.LEAVE_COUNTS_AS_THEY_ARE
    what = words.COUNTS_WHAT
    roles = (LEAVE_OUT, STYLE, COLOUR, SIZE, COUNT)
    own_roles = True

    def __init__(self, job: Job, shop: Shop) -> None:
        self._job, self._shop = job, shop
        ordered = (size.size for line in job.lines for size in line.sizes)
        sold = (size.size for blank in shop.blanks for size in blank.sizes)
        # Every cell of a table is held against them.
        self._sizes = frozenset(map(usual_size, (*KNOWN, *ordered, *sold)))

    def has_names(self, rows: Rows) -> bool:
        named = [cell for cell in rows[0] if any(word.match(cell) for word in _NAMED.values())]
        return bool(named) or sum(self._is_size(cell) for cell in rows[0]) > 1

    def guess(self, rows: Rows) -> list[str]:
        if self.has_names(rows):
            return self._by_names(rows)
        found: list[str] = []
        others = iter((STYLE, COLOUR))
        for at in range(len(rows[0])):
            cells = [row[at] for row in rows if row[at]]
            if 2 * sum(self._is_size(cell) for cell in cells) > len(cells):
                found.append(SIZE)
            elif 2 * sum(map(is_figure, cells)) > len(cells):
                found.append(COUNT)
            else:
                found.append(next(others, LEAVE_OUT) if cells else LEAVE_OUT)
        return found

    def read(self, rows: Rows, roles: Sequence[str]) -> Read:
        columns = _Columns.of(roles)
        if (trouble := columns.trouble) is not None:
            return Read(troubles=(trouble,))
        reading = _Reading(self._job, self._shop, rows, columns, self.has_names(rows))
        if reading.troubles:
            return Read(troubles=tuple(reading.troubles))
        if not any(one.count for one in reading.ordered):
            return Read(troubles=(Trouble(words.NO_COUNTS_IN_COLUMNS),))
        return Read(tuple(reading.ordered), self._told(reading.ordered))

    def _by_names(self, rows: Rows) -> list[str]:
        found: list[str] = []
        by_garment = any(_NAMED[SIZE].match(name) for name in rows[0])
        for at, name in enumerate(rows[0]):
            role = next((role for role, words in _NAMED.items() if words.match(name)), None)
            if role is None and self._is_size(name):
                role = name
            if role is None:
                cells = [row[at] for row in rows[1:] if row[at]]
                role = COUNT if by_garment and cells and all(map(is_figure, cells)) else LEAVE_OUT
            found.append(LEAVE_OUT if role in (STYLE, COLOUR, SIZE) and role in found else role)
        return found

    def _is_size(self, cell: str) -> bool:
        return usual_size(cell) in self._sizes

    def _told(self, ordered: Sequence[Ordered]) -> str:
        after = with_counts(self._job, self._shop, ordered)
        before = {line.key: line for line in self._job.lines}
        told, grey = [], []
        for line in after.lines:
            if before.get(line.key) != line:
                new = line.key not in before
                told.append(words.line_counted(line_name(after, line), line.count, new=new))
                if new and line.colour.hex == UNKNOWN_HEX:
                    grey.append(line.colour.name)
        if not told:
            return words.SAME_COUNTS
        garments = sentences.count(sum(one.count for one in ordered), "garment")
        read = words.counts_read(garments, told)
        return f"{read} {words.shown_grey(grey)}" if grey else read


@dataclass(frozen=True, slots=True)
class _Columns:
    """Which column is what."""

    style: int | None
    colour: int | None
    size: int | None
    counts: tuple[int, ...]
    sizes: tuple[tuple[int, str], ...]
    """Columns of one size each, and that size."""
    twice: str = ""

    @classmethod
    def of(cls, roles: Sequence[str]) -> "_Columns":
        at = {role: roles.index(role) for role in (STYLE, COLOUR, SIZE) if role in roles}
        own = tuple(
            (column, role)
            for column, role in enumerate(roles)
            if role and role not in (LEAVE_OUT, STYLE, COLOUR, SIZE, COUNT)
        )
        names = [usual_size(name) for _, name in own]
        once = [role for role in roles if role in (STYLE, COLOUR, SIZE)]
        twice = next((role for role in once if once.count(role) > 1), "") or next(
            (name for name in names if names.count(name) > 1), ""
        )
        counts = tuple(column for column, role in enumerate(roles) if role == COUNT)
        return cls(at.get(STYLE), at.get(COLOUR), at.get(SIZE), counts, own, twice)

    @property
    def trouble(self) -> Trouble | None:
        if self.twice:
            return Trouble(table_words.column_twice(self.twice))
        if long := next((name for _, name in self.sizes if len(name) > MOST_SIZE_LETTERS), None):
            return Trouble(table_words.size_too_long(long))
        if self.sizes and (self.size is not None or self.counts):
            return Trouble(words.SIZES_ONE_WAY)
        if not self.sizes and (self.size is None or not self.counts):
            return Trouble(words.CHOOSE_SIZES_AND_COUNTS)
        return None


class _Reading:
    """What the rows order, and every cell that cannot be read."""

    def __init__(self, job: Job, shop: Shop, rows: Rows, columns: _Columns, names: bool) -> None:
        self._job, self._shop, self._rows, self._columns = job, shop, rows, columns
        self.ordered: list[Ordered] = []
        self.troubles: list[Trouble] = []
        heads = [self._head(rows[0][at] if names else "") for at in columns.counts]
        for at in range(1 if names else 0, len(rows)):
            style, colour = self._word(at, columns.style), self._word(at, columns.colour)
            if columns.sizes:
                for column, size in columns.sizes:
                    self._add(at, column, style, colour, size)
            elif any(rows[at][column] for column in columns.counts):
                self._add_row(at, style, colour, heads)

    def _add_row(self, at: int, style: str, colour: str, heads: list[tuple[str, str]]) -> None:
        assert self._columns.size is not None
        size = self._word(at, self._columns.size)
        if not size or len(size) > MOST_SIZE_LETTERS:
            self.troubles.append(Trouble(table_words.NAME_SIZE, at, self._columns.size))
            return
        several = len(heads) > 1
        for column, head in zip(self._columns.counts, heads, strict=True):
            own_style, own_colour = head if several else ("", "")
            self._add(at, column, own_style or style, own_colour or colour, size)

    def _add(self, row: int, column: int, style: str, colour: str, size: str) -> None:
        try:
            count = read_count(self._rows[row][column])
        except ValueError as error:
            self.troubles.append(Trouble(str(error), row, column))
            return
        self.ordered.append(Ordered(style, colour, size, count))

    def _word(self, row: int, column: int | None) -> str:
        return "" if column is None else self._rows[row][column]

    def _head(self, name: str) -> tuple[str, str]:
        """Style and colour of the garment that a column of counts is headed by."""
        for line in self._job.lines:
            said = (line_name(self._job, line), f"{line.style} {line.colour.name}")
            if name.casefold() in (words.casefold() for words in said):
                return line.style, line.colour.name
        style, _, colour = _HEAD.sub("\n", name, count=1).partition("\n")
        is_colour = swatch_named(style, (c for blank in self._shop.blanks for c in blank.colours)) is not None
        if not colour and (is_colour or line_for(self._job, "", style)):
            return "", style
        return style, colour
