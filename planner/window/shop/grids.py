"""Price tables and sizes as grids of words, as a spreadsheet would hold them, and back. No Qt here.

A price grid's first row names its columns (sizes of sheet, or of piece and colours), its first column the
counts from which a row's prices hold. A price may be missing where a size has no break there.
"""

import itertools
import re
from collections.abc import Sequence
from decimal import Decimal

from pydantic import ValidationError

from planner.measures.figures import current
from planner.measures.geometry import Size
from planner.measures.lengths import LengthUnit, format_length, parse_length
from planner.plan.kind_words import kind_name
from planner.shop.document import changed
from planner.shop.garments import MOST_SIZE_LETTERS, BlankSize, SizeGroup
from planner.shop.prices import (
    Break,
    Breaks,
    ByArea,
    ByLength,
    ByPiece,
    BySheet,
    PieceRow,
    PriceTable,
    SheetPrice,
)
from planner.window.shop import words
from planner.window.shop.readings import range_of, read_decimal, read_size, say_decimal, say_price, say_size
from planner.window.shop.sentences import why_not
from planner.window.tables import words as table_words

Grid = list[list[str]]
_COLOURS = re.compile(
    r"^(?P<size>.*?)\s*(?P<comma>,\s*)(?P<count>\d{1,3})\s*(?P<word>colou?rs?)?$", re.IGNORECASE
)


class GridError(ValueError):
    """A cell cannot be read; the message says why, `row` and `column` where."""

    def __init__(self, row: int, column: int, sentence: str) -> None:
        super().__init__(sentence)
        self.row, self.column = row, column


def grid_of(price: PriceTable, unit: LengthUnit) -> Grid:
    """A price table in words."""
    if isinstance(price, BySheet):
        columns = [(say_size(sheet.size, unit), sheet.breaks) for sheet in price.sheets]
    elif isinstance(price, ByPiece):
        columns = [
            (
                f"{say_size(line.largest, unit)}, {line.most_colours} colour{'s'[: line.most_colours - 1]}",
                line.breaks,
            )
            for line in price.rows
        ]
    else:
        name = "each step" if isinstance(price, ByLength) else f"each {kind_name(price.unit)}"
        columns = [(name, price.breaks)]
    counts = sorted({step.from_count for _, breaks in columns for step in breaks.steps})
    known = [{step.from_count: step.each for step in breaks.steps} for _, breaks in columns]
    return [
        [first_column(price), *(name for name, _ in columns)],
        *(
            [say_decimal(count), *(say_price(at[count]) if count in at else "" for at in known)]
            for count in counts
        ),
    ]


def first_column(price: PriceTable) -> str:
    """What the counts of a table count."""
    if isinstance(price, ByArea):
        return f"from {kind_name(price.unit)}"
    return {BySheet: "from sheets", ByLength: "from steps", ByPiece: "from pieces"}[type(price)]


def may_grow(price: PriceTable) -> bool:
    """Whether a table has a column for every size."""
    return isinstance(price, BySheet | ByPiece)


def price_from(grid: Sequence[Sequence[str]], price: PriceTable, unit: LengthUnit) -> PriceTable:
    """The price table with what a grid says; empty rows and columns are left out.

    Raises:
        GridError: a cell cannot be read, or the whole makes no price table.
    """
    rows = [at for at in range(1, len(grid)) if any(cell.strip() for cell in grid[at])]
    width = max((len(row) for row in grid), default=0)
    columns = [at for at in range(1, width) if any(_cell(grid, row, at) for row in (0, *rows))]
    if not may_grow(price):
        columns = columns[:1]
    if not rows or not columns:
        raise GridError(1, 0, words.NO_PRICES)
    _check_ranges(grid, rows)
    known = {say_size(size, unit): size for size in _sizes_in(price)}
    try:
        if isinstance(price, BySheet):
            # Names are read first: a column is named before its prices are typed.
            sizes = [_size(grid, column, known, unit) for column in columns]
            sheets = (
                SheetPrice(size=size, breaks=_column_breaks(grid, rows, column))
                for column, size in zip(columns, sizes, strict=True)
            )
            return changed(price, sheets=tuple(sheets))
        if isinstance(price, ByPiece):
            names = [_piece_name(grid, column, known, unit) for column in columns]
            pieces = (
                PieceRow(largest=size, most_colours=most, breaks=_column_breaks(grid, rows, column))
                for column, (size, most) in zip(columns, names, strict=True)
            )
            return changed(price, rows=tuple(pieces))
        return changed(price, breaks=_column_breaks(grid, rows, columns[0]))
    except ValidationError as error:
        raise GridError(0, columns[0], why_not(error)) from None


def _cell(grid: Sequence[Sequence[str]], row: int, column: int) -> str:
    return grid[row][column].strip() if column < len(grid[row]) else ""


def _check_ranges(grid: Sequence[Sequence[str]], rows: Sequence[int]) -> None:
    """Where a range tells its last count the next one begins right behind it.

    Raises:
        GridError: two ranges overlap, or leave counts between them without a price, or one has no end.
    """
    starts = sorted((_figure(grid, row, 0), row) for row in rows)
    for (_, row), (following, at) in itertools.pairwise(starts):
        cell = _cell(grid, row, 0)
        last = range_of(cell)[1]
        if last is None:
            continue
        try:
            end = read_decimal(last)
        except ValueError as error:
            raise GridError(row, 0, str(error)) from None
        # By area the next begins where this one ends; counts are whole.
        if not end <= following <= end + 1:
            raise GridError(at, 0, words.ranges_do_not_meet(cell, say_decimal(following)))


def _column_breaks(grid: Sequence[Sequence[str]], rows: Sequence[int], column: int) -> Breaks:
    steps: list[Break] = []
    for row in sorted(rows, key=lambda row: _figure(grid, row, 0)):
        if not _cell(grid, row, column):
            continue
        count = _figure(grid, row, 0)
        if steps and steps[-1].from_count == count:
            raise GridError(row, 0, words.start_twice(say_decimal(count)))
        steps.append(Break(from_count=count, each=_figure(grid, row, column)))
    if not steps:
        raise GridError(0, column, words.no_price(_cell(grid, 0, column)))
    return Breaks(steps=tuple(steps))


def _figure(grid: Sequence[Sequence[str]], row: int, column: int) -> Decimal:
    cell = _cell(grid, row, column)
    try:
        return read_decimal(range_of(cell)[0] if column == 0 else cell)
    except ValueError as error:
        if column == 0 and not cell:
            raise GridError(row, column, words.NO_COUNT) from None
        raise GridError(row, column, str(error)) from None


def _sizes_in(price: PriceTable) -> tuple[Size, ...]:
    if isinstance(price, BySheet):
        return tuple(sheet.size for sheet in price.sheets)
    return tuple(row.largest for row in price.rows) if isinstance(price, ByPiece) else ()


def _size(
    grid: Sequence[Sequence[str]], column: int, known: dict[str, Size], unit: LengthUnit, word: str = ""
) -> Size:
    """The size a column is for. What is shown is rounded: a size left as it was keeps its exact figures."""
    word = word or _cell(grid, 0, column)
    if not word:
        raise GridError(0, column, words.name_sheet())
    try:
        return known.get(word) or read_size(word, unit)
    except ValueError as error:
        raise GridError(0, column, str(error)) from None


def _piece_name(
    grid: Sequence[Sequence[str]], column: int, known: dict[str, Size], unit: LengthUnit
) -> tuple[Size, int]:
    """The largest size that a column is for, and the most colours."""
    match = _COLOURS.match(_cell(grid, 0, column))
    # Where commas set decimals apart, "9,5 × 3,5" tells no colours.
    is_open = match is not None and current().decimal == match["comma"] and not match["word"]
    if match is None or is_open or int(match["count"]) < 1:
        raise GridError(0, column, words.NAME_PIECE)
    return _size(grid, column, known, unit, match["size"]), int(match["count"])


SIZE_COLUMNS = ("size", "group", "width flat", "length flat", "surcharge")


def size_grid(sizes: tuple[BlankSize, ...], unit: LengthUnit) -> Grid:
    """A blank's sizes in words."""
    return [
        list(SIZE_COLUMNS),
        *(
            [
                size.size,
                kind_name(size.group),
                format_length(size.body_width_mm, unit) if size.body_width_mm else "",
                format_length(size.body_length_mm, unit) if size.body_length_mm else "",
                say_price(size.surcharge) if size.surcharge else "",
            ]
            for size in sizes
        ),
    ]


def sizes_from(grid: Sequence[Sequence[str]], unit: LengthUnit) -> tuple[BlankSize, ...]:
    """A blank's sizes from a grid; empty rows are left out.

    Raises:
        GridError: a cell cannot be read, or a size stands twice.
    """
    sizes: list[BlankSize] = []
    for row in range(1, len(grid)):
        if not any(cell.strip() for cell in grid[row]):
            continue
        name = _cell(grid, row, 0)
        if not name or len(name) > MOST_SIZE_LETTERS:
            raise GridError(row, 0, table_words.NAME_SIZE)
        if any(size.size == name for size in sizes):
            raise GridError(row, 0, words.stands_twice(name))
        sizes.append(
            BlankSize(
                size=name,
                group=_group(grid, row),
                body_width_mm=_length(grid, row, 2, unit),
                body_length_mm=_length(grid, row, 3, unit),
                surcharge=_figure(grid, row, 4) if _cell(grid, row, 4) else Decimal(0),
            )
        )
    return tuple(sizes)


def _group(grid: Sequence[Sequence[str]], row: int) -> SizeGroup:
    word = _cell(grid, row, 1).lower() or kind_name(SizeGroup.ADULT)
    found = [group for group in SizeGroup if kind_name(group).startswith(word)]
    if not found:
        raise GridError(row, 1, words.no_group(word, (kind_name(group) for group in SizeGroup)))
    return found[0]


def _length(grid: Sequence[Sequence[str]], row: int, column: int, unit: LengthUnit) -> float | None:
    word = _cell(grid, row, column)
    try:
        return parse_length(word, unit) if word else None
    except ValueError as error:
        raise GridError(row, column, str(error)) from None
