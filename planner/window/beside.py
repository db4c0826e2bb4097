"""Windows beside the job's: once one is closed, the window from which it was opened has the cursor again."""

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget

from planner.window.widgets import is_seen


def come_up(window: QWidget) -> None:
    """Show a window and make it the active one; closed, it makes the one before active again.

    There the cursor is where it was. Not every window system sees to that by itself.
    """
    back = window.findChild(_Back) or _Back(window)
    back.remember()
    window.show()
    window.activateWindow()


class _Back(QObject):
    """Knows which window was active when another one came up."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._before: QWidget | None = window.parentWidget()
        self._closes = False
        window.installEventFilter(self)

    def remember(self) -> None:
        active = QApplication.activeWindow()
        if active not in (None, self._window):
            self._before = active

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # Hidden only after it agreed to close; what is hidden otherwise was not left by anybody.
        if watched is self._window and event.type() is QEvent.Type.Close:
            self._closes = True
        elif watched is self._window and event.type() is QEvent.Type.Hide and self._closes:
            self._closes = False
            self._hand_back()
        return False

    def _hand_back(self) -> None:
        if QApplication.activeWindow() not in (None, self._window):
            # Closed from elsewhere: the cursor is not in it.
            return
        for to in (self._before, self._window.parentWidget()):
            if is_seen(to):
                to.activateWindow()
                return
