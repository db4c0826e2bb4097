"""Sizes that a window remembers from one sitting to the next."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSettings, QSize, Qt
from PySide6.QtWidgets import QMainWindow, QSplitter

if TYPE_CHECKING:
    # Its ground is placed before anything heavy is there.
    from planner.window.findings.panel import FindingsPanel

LEAST_PX = QSize(960, 600)
_FIRST_PX = QSize(1440, 900)
_FRAME_PX = QSize(48, 48)
"""What a system's own frame around the window takes, at most."""
_SIDE_PX, _COSTS_PX = 340, 300
"""Widths that the side panels start with."""


def place(window: QMainWindow, settings: QSettings) -> None:
    """Put a window where the main window was left, or give it a first size that fits the screen."""
    left = _bytes(settings, "window")
    if left is None or not window.restoreGeometry(left):
        room = window.screen().availableSize()
        window.resize(_FIRST_PX.boundedTo(room - _FRAME_PX))
        # Where not even the least size fits, maximizing would cut the window off.
        if window.size() != _FIRST_PX and room.expandedTo(LEAST_PX) == room:
            window.setWindowState(Qt.WindowState.WindowMaximized)


class Remembered:
    """Puts a window's parts back as they were left."""

    def __init__(
        self,
        settings: QSettings,
        window: QMainWindow,
        across: QSplitter,
        centre: QSplitter,
        findings: "FindingsPanel",
    ) -> None:
        self._settings, self._window = settings, window
        self._across, self._centre, self._findings = across, centre, findings

    def restore(self) -> None:
        """As it was left, or a first size that fits the screen."""
        place(self._window, self._settings)
        across, centre = (_bytes(self._settings, key) for key in ("across", "centre"))
        self._findings.fold(self._settings.value("findings folded", "false") == "true")
        if across is None or not self._across.restoreState(across):
            middle = self._window.width() - _SIDE_PX - _COSTS_PX
            self._across.setSizes([_SIDE_PX, middle, _COSTS_PX])
        if centre is not None:
            self._centre.restoreState(centre)

    def keep(self) -> None:
        self._settings.setValue("window", self._window.saveGeometry())
        self._settings.setValue("across", self._across.saveState())
        self._settings.setValue("centre", self._centre.saveState())
        self._settings.setValue("findings folded", "true" if self._findings.is_folded else "false")


def _bytes(settings: QSettings, key: str) -> QByteArray | None:
    """A settings file may hold anything: what is no state is as good as none."""
    value = settings.value(key)
    return value if isinstance(value, QByteArray) else None
