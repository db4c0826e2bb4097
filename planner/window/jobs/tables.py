"""Rows of a name, figures and a field, in columns that line up."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from planner.window.look import APART, GRID, TARGET, Type, type_font
from planner.window.widgets import ElidedLabel, emptied, label

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_FIGURE_PX = 18 * GRID


class Rows(QWidget):
    """A small table that is typed into: the first column takes the room, the others are figures."""

    def __init__(self, headings: Sequence[str]) -> None:
        super().__init__()
        self._headings = headings
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(APART)
        self._grid.setVerticalSpacing(GRID)
        self._grid.setColumnStretch(0, 1)
        self._count = 0
        self.clear()

    def clear(self) -> None:
        """Only the headings."""
        emptied(self._grid)
        for at, heading in enumerate(self._headings):
            said = label(heading, Type.SMALL, quiet=True)
            self._grid.addWidget(said, 0, at, _RIGHT if at else Qt.AlignmentFlag.AlignLeft)
            if at:
                self._grid.setColumnMinimumWidth(at, _FIGURE_PX)
        self._count = 0

    def add(self, name: str, cells: Sequence[QWidget], hint: str = "") -> None:
        """One more row."""
        self._count += 1
        first = ElidedLabel(name)
        first.setToolTip(hint or name)
        first.setMinimumHeight(TARGET)
        self._grid.addWidget(first, self._count, 0)
        for at, cell in enumerate(cells, start=1):
            if hint and not cell.toolTip():
                cell.setToolTip(hint)
            self._grid.addWidget(cell, self._count, at, _RIGHT)


def figure(text: str = "", *, quiet: bool = False) -> QLabel:
    """A figure in a column: digits of equal width."""
    made = label(text, quiet=quiet)
    made.setFont(type_font(made.font(), Type.BODY))
    return made
