"""Pieces held over the strip: the card of the sheet they would go to; the row moves along at its ends."""

from PySide6.QtCore import QObject, QPoint, QTimer

from planner.window.look import GRID
from planner.window.sheet.drag import Drag
from planner.window.sheet.places import Spot
from planner.window.sheet.strip import Strip

_END_PX = 10 * GRID
"""So near to an end of the strip the row moves along."""
_STEP_PX, _STEP_MS = 3 * GRID, 16


class OverStrip(QObject):
    """Follows the hand while it drags; `target` is the sheet under it, if it is over the strip."""

    def __init__(self, strip: Strip) -> None:
        super().__init__(strip)
        self._strip = strip
        self._at: QPoint | None = None
        self._offer = ""
        self._along = QTimer(self)
        self._along.setInterval(_STEP_MS)
        self._along.timeout.connect(self._push)

    @property
    def is_held(self) -> bool:
        """Whether the hand is over the strip."""
        return self._at is not None

    @property
    def target(self) -> Spot | None:
        return self._strip.target

    def hold(self, at: QPoint, offer: str) -> None:
        """The hand is at a point in global coordinates, with pieces of an offer."""
        inside = self._strip.mapFromGlobal(at)
        self._at = inside if self._strip.rect().contains(inside) else None
        self._offer = offer
        self._strip.aim(self._at, offer)
        if self._way():
            self._along.start()
        else:
            self._along.stop()

    def refuses(self, drag: Drag) -> bool:
        """Whether the hand is over a sheet that a piece is not bought on."""
        return self.target is not None and not drag.is_from(self.target.offer)

    def let_go(self) -> None:
        """Nothing is held any more."""
        self._at = None
        self._along.stop()
        self._strip.aim(None)

    def _way(self) -> int:
        if self._at is None:
            return 0
        wide = self._strip.viewport().width()
        return -1 if self._at.x() < _END_PX else 1 if self._at.x() > wide - _END_PX else 0

    def _push(self) -> None:
        bar = self._strip.horizontalScrollBar()
        bar.setValue(bar.value() + self._way() * _STEP_PX)
        self._strip.aim(self._at, self._offer)
