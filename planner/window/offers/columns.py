"""Where the columns of the page stand: side by side where there is room, else in two bands."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QFontMetricsF

from planner.window.look import GRID, Type, type_font
from planner.window.offers.figures import Column

_WIDEST = {
    Column.COST: "12,345.67 USD",
    Column.EACH: "1,234.56 USD",
    Column.SHEETS: "1,234 sheets",
    Column.ARRIVES: "Wed, Mmm 30",
    Column.PRESS: "275 °F, warm peel",
}
_SMALL = frozenset({Column.PRESS})
"""Columns whose widest text is the smaller line below."""
_NAME_AT_LEAST = "Full-colour film rolls"
_NAME_AT_MOST = 2.2
"""Times that: on a wide page figures should not be an arm's length from the name."""
_BANDS = ((Column.NAME, Column.COST, Column.EACH), (Column.SHEETS, Column.ARRIVES, Column.PRESS))
EDGE = 4 * GRID
GUTTER = 3 * GRID
CARET = 4 * GRID


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edge and width of each column, and which band it is in."""

    at: dict[Column, tuple[float, float, int]]
    bands: int

    def box(self, column: Column, top: float, band_height: float, height: float) -> QRectF:
        """The box of a column whose first band starts at `top`."""
        left, width, band = self.at[column]
        return QRectF(left, top + band * band_height, width, height)


def columns_for(width: float, base: QFont) -> Columns:
    """The columns on a page of this width, in the application's font."""
    needs = _needs(base)
    name_least = QFontMetricsF(type_font(base, Type.BODY)).horizontalAdvance(_NAME_AT_LEAST)
    room = width - 2 * EDGE - CARET
    figures = sum(needs.values()) + GUTTER * len(needs)
    if room - figures >= name_least:
        name = min(room - figures, name_least * _NAME_AT_MOST)
        return Columns(_side_by_side({Column.NAME: name, **needs}, 0), bands=1)
    at: dict[Column, tuple[float, float, int]] = {}
    for number, band in enumerate(_BANDS):
        fixed = {column: needs[column] for column in band if column in needs}
        left = room - GUTTER * (len(band) - 1) - sum(fixed.values())
        wide = {Column.NAME: max(0.0, left)} if Column.NAME in band else {}
        at |= _side_by_side({**wide, **fixed}, number)
    return Columns(at, bands=2)


def _needs(base: QFont) -> dict[Column, float]:
    body = QFontMetricsF(type_font(base, Type.BODY, strong=True))
    small = QFontMetricsF(type_font(base, Type.SMALL))
    return {
        column: max((small if column in _SMALL else body).horizontalAdvance(text), _heading(small, column))
        for column, text in _WIDEST.items()
    }


def _heading(small: QFontMetricsF, column: Column) -> float:
    return small.horizontalAdvance(f"{column.value} ") + 4 * GRID


def _side_by_side(widths: dict[Column, float], band: int) -> dict[Column, tuple[float, float, int]]:
    left = float(EDGE + CARET)
    at = {}
    for column, width in widths.items():
        at[column] = (left, width, band)
        left += width + GUTTER
    return at
