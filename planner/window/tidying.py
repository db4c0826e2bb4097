"""Has Python's cycle collector run between events only, in the thread of the window.

Widgets and what they call form cycles. Left to itself the collector starts in whatever thread happens to
allocate, workers too, and at any moment, even while Qt walks through the very widgets that it ends.
"""

import gc

from PySide6.QtCore import QObject, QTimer

EVERY_MS = 300


class Tidying(QObject):
    """Collects for as long as it is started, by Python's own thresholds."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(tidy)

    def start(self) -> None:
        # What the start brought stays till the end: looking through it even once would take frames.
        gc.freeze()
        gc.disable()
        self._timer.start()

    def stop(self) -> None:
        """Leave collecting to Python again."""
        self._timer.stop()
        gc.unfreeze()
        gc.enable()


def tidy() -> None:
    """Collect the oldest generation that is due."""
    for generation, (made, most) in reversed(
        tuple(enumerate(zip(gc.get_count(), gc.get_threshold(), strict=True)))
    ):
        if made > most:
            gc.collect(generation)
            return
