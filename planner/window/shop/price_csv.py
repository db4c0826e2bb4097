"""Price lists from CSV files: which column is what, and the grid that follows. No Qt here."""

import re
from collections.abc import Sequence

from planner.measures.lengths import LengthUnit
from planner.shop.prices import ByPiece, PriceTable
from planner.window.readings import Unreadable
from planner.window.shop import csv_words
from planner.window.shop.grids import Grid, GridError, first_column, may_grow, price_from
from planner.window.shop.readings import read_size
from planner.window.tables import words as table_words
from planner.window.tables.rows import LEAVE_OUT, Read, Rows, Trouble, has_names, is_figure

COUNT, PRICE = csv_words.FROM_HOW_MANY, "price"
_COUNT_WORDS = re.compile(r"^(from|qty|quantity|count|number|sheets?|pieces?|min|at least|steps?|area)", re.I)


def guess(rows: Sequence[Sequence[str]], price: PriceTable, unit: LengthUnit) -> list[str]:
    """What each column probably is: LEAVE_OUT, COUNT, or the name of the size its prices are for."""
    names = list(rows[0]) if has_names(rows) else [""] * len(rows[0])
    body = rows[1:] if has_names(rows) else rows
    figures = [
        sum(is_figure(row[at]) for row in body) * 2 > sum(bool(row[at]) for row in body)
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
    for said in (name, name.rpartition(",")[0]):
        try:
            read_size(said, unit)
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
        raise Unreadable(csv_words.CHOOSE_COUNTS)
    prices = [at for at, role in enumerate(roles) if role not in (COUNT, LEAVE_OUT)]
    if not prices:
        raise Unreadable(csv_words.CHOOSE_PRICES)
    body = rows[1:] if has_names(rows) else rows
    return [
        [first_column(price), *(roles[at] for at in prices)],
        *([row[counts[0]], *(row[at] for at in prices)] for row in body),
    ]


class PriceList:
    """Matches a price list to one offer's price table; what it reads is a price grid."""

    title = table_words.SAY_WHAT_EACH_COLUMN_IS
    take = csv_words.TAKE_THESE_PRICES
    leave = csv_words.LEAVE_PRICES_AS_THEY_ARE
    what = "price list"

    def __init__(self, price: PriceTable, unit: LengthUnit) -> None:
        self._price, self._unit = price, unit
        self.hint = csv_words.PRICE_LIST_HINT
        if may_grow(price):
            size = csv_words.PIECE_EXAMPLE if isinstance(price, ByPiece) else csv_words.SIZE_EXAMPLE
            self.hint = f"{self.hint} {csv_words.name_sizes(size)}"

    @property
    def roles(self) -> tuple[str, ...]:
        return (LEAVE_OUT, COUNT) if self.own_roles else (LEAVE_OUT, COUNT, PRICE)

    @property
    def own_roles(self) -> bool:
        return may_grow(self._price)

    def has_names(self, rows: Rows) -> bool:
        return has_names(rows)

    def guess(self, rows: Rows) -> list[str]:
        return guess(rows, self._price, self._unit)

    def read(self, rows: Rows, roles: Sequence[str]) -> Read:
        try:
            grid = grid_from(rows, roles, self._price)
            price_from(grid, self._price, self._unit)
        except GridError as error:
            return Read(troubles=(self._trouble(error, rows, roles),))
        except ValueError as error:
            return Read(troubles=(Trouble(str(error)),))
        return Read(grid)

    def _trouble(self, error: GridError, rows: Rows, roles: Sequence[str]) -> Trouble:
        """Where in the file a cell of the grid stands; a column's name is typed above, not in the file."""
        if error.row == 0:
            return Trouble(str(error))
        prices = [at for at, role in enumerate(roles) if role not in (COUNT, LEAVE_OUT)]
        column = [list(roles).index(COUNT), *prices][error.column]
        return Trouble(str(error), error.row if has_names(rows) else error.row - 1, column)
