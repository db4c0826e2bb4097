"""Where the bar over the canvas stands: at its foot, or at its head where it would cover what it tells of."""

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtWidgets import QGridLayout

from planner.window.look import APART
from planner.window.sheet.canvas import Canvas
from planner.window.sheet.rows import FaultBar
from planner.window.widgets import column


class BarPlace:
    """Lays the bar over the canvas in a cell of a grid, and keeps it out of the way."""

    def __init__(self, bar: FaultBar, canvas: Canvas, grid: QGridLayout, at: tuple[int, int]) -> None:
        self._bar, self._canvas, self._grid = bar, canvas, grid
        self._over = column(edge=APART)
        self._over.addWidget(bar)
        grid.addLayout(self._over, *at, Qt.AlignmentFlag.AlignBottom)

    def keep_clear(self, scene_box: QRectF) -> None:
        """Stand at the foot; at the head where that covers less of what lies in a box of the scene."""
        if self._bar.isHidden():
            return
        seen = self._canvas.mapFromScene(scene_box).boundingRect()
        room = self._canvas.viewport().rect()
        high = max(self._over.sizeHint().height(), self._over.heightForWidth(room.width()))
        foot = QRect(0, room.height() - high, room.width(), high)
        head = QRect(0, 0, room.width(), high)
        at_head = _covered(head, seen) < _covered(foot, seen)
        side = Qt.AlignmentFlag.AlignTop if at_head else Qt.AlignmentFlag.AlignBottom
        self._grid.setAlignment(self._over, side)


def _covered(bar: QRect, seen: QRect) -> int:
    return max(0, bar.intersected(seen).height())
