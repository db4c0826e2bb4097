"""The heads of the columns: buttons that sort, by mouse and by keys."""

from functools import partial

from PySide6.QtCore import QRect, QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from planner.window.look import GRID, Type
from planner.window.offers import words
from planner.window.offers.columns import columns_for
from planner.window.offers.figures import Column
from planner.window.widgets import button

_BAND = 6 * GRID
_FALLS, _RISES = " ▾", " ▴"


class SortHeader(QWidget):
    """Which column the offers are sorted by; asked again for the same column it turns round."""

    sorted = Signal(object, bool)
    """Column, and whether the largest comes first."""

    def __init__(self) -> None:
        super().__init__()
        self.buttons: dict[Column, QPushButton] = {}
        self._by, self._falling = Column.COST, False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        for column in Column:
            made = button(column.value, partial(self._pressed, column), role="link")
            made.setProperty("type", Type.SMALL.value)
            made.setToolTip(f"{words.MEANINGS[column.value]}\n{words.SORT_HINTS[column.value]}.")
            made.setParent(self)
            self.buttons[column] = made
        self._name()

    @property
    def by(self) -> Column:
        return self._by

    @property
    def falling(self) -> bool:
        return self._falling

    def _pressed(self, column: Column) -> None:
        self._falling = not self._falling if column is self._by else False
        self._by = column
        self._name()
        self.sorted.emit(self._by, self._falling)

    def _name(self) -> None:
        for column, made in self.buttons.items():
            here = column is self._by
            made.setText(column.value + ((_FALLS if self._falling else _RISES) if here else ""))
            way = (
                (words.LARGEST_FIRST if self._falling else words.SMALLEST_FIRST) if here else words.NOT_SORTED
            )
            made.setAccessibleName(f"{words.SORT_HINTS[column.value]} ({way})")
        self._place()

    def _place(self) -> None:
        columns = columns_for(self.width(), self.font())
        for column, made in self.buttons.items():
            left, width, band = columns.at[column]
            right_aligned = column not in (Column.NAME, Column.ARRIVES)
            needs = made.sizeHint().width()
            x = left + width - needs + GRID + 1 if right_aligned else left - GRID - 1
            made.setGeometry(QRect(round(x), band * _BAND, needs, _BAND))

    def sizeHint(self) -> QSize:
        return QSize(80 * GRID, columns_for(self.width(), self.font()).bands * _BAND)

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place()
        self.updateGeometry()
