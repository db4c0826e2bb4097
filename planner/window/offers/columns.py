"""Where the columns of the page stand: side by side where there is room, else in bands."""

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QFont, QFontMetricsF

from planner.window.look import GRID, Type, type_font
from planner.window.offers.figures import Column

# Each column's widest figure, and the widest smaller line below it.
_WIDEST = {
    Column.COST: ("12,345.67 USD", ""),
    Column.EACH: ("1,234.56 USD", ""),
    Column.SHEETS: ("1,234 sheets", "123 copies over"),
    Column.ARRIVES: ("Wed, Mmm 30", "10 days, 10 to spare"),
    Column.PRESS: ("1,234 min", "375 °F, warm peel"),
}
_NAME_AT_LEAST = "Full-colour sheets"
_NAME_AT_MOST = 2.6
"""Times that: on a wide page figures should not be an arm's length from the name."""
_NAME_LEAST = 20 * GRID
_BANDS: tuple[tuple[tuple[Column, ...], ...], ...] = (
    ((Column.NAME, Column.COST, Column.EACH), (Column.SHEETS, Column.ARRIVES, Column.PRESS)),
    ((Column.NAME, Column.COST), (Column.EACH, Column.SHEETS), (Column.ARRIVES, Column.PRESS)),
)
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
    # Two bands, or three where even those are too wide, as with large type in a small window.
    bands = next((each for each in _BANDS if _fits(each, needs, room)), _BANDS[-1])
    at: dict[Column, tuple[float, float, int]] = {}
    for number, band in enumerate(bands):
        fixed = {column: needs[column] for column in band if column in needs}
        left = room - GUTTER * (len(band) - 1) - sum(fixed.values())
        wide = {Column.NAME: max(0.0, left)} if Column.NAME in band else {}
        at |= _side_by_side({**wide, **fixed}, number)
    return Columns(at, bands=len(bands))


def _fits(bands: tuple[tuple[Column, ...], ...], needs: dict[Column, float], room: float) -> bool:
    return all(
        sum(needs.get(column, _NAME_LEAST) for column in band) + GUTTER * (len(band) - 1) <= room
        for band in bands
    )


def _needs(base: QFont) -> dict[Column, float]:
    body = QFontMetricsF(type_font(base, Type.BODY, strong=True))
    small = QFontMetricsF(type_font(base, Type.SMALL))
    return {
        column: max(body.horizontalAdvance(figure), small.horizontalAdvance(below), _heading(small, column))
        for column, (figure, below) in _WIDEST.items()
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
