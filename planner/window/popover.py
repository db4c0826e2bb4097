"""A frame that opens over the window beside what it belongs to; Escape or a look elsewhere closes it."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import QApplication, QFrame, QWidget
from shiboken6 import isValid

from planner.window.look import GRID


class Popover(QFrame):
    """Part of its window: no second window to lose, nothing that blocks."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._over = window
        self._cursor_was: QWidget | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setFrameShape(QFrame.Shape.Box)
        self.setProperty("role", "popover")
        self.setAutoFillBackground(True)
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._focus_changed)

    def open_at(self, corner: QPoint, first: QWidget) -> None:
        """Show it with its corner there, as far as the window has room; the cursor goes to `first`."""
        self.adjustSize()
        most_x = self._over.width() - self.width() - 2 * GRID
        most_y = self._over.height() - self.height() - 2 * GRID
        self.move(max(0, min(corner.x(), most_x)), max(0, min(corner.y(), most_y)))
        self._cursor_was = QApplication.focusWidget()
        self.raise_()
        self.show()
        first.setFocus()

    def open_below(self, opener: QWidget, first: QWidget) -> None:
        """Show it under what opened it."""
        self.open_at(opener.mapTo(self._over, QPoint(0, opener.height() + GRID)), first)

    def _focus_changed(self, old: QWidget | None, new: QWidget | None) -> None:
        # A menu or another program may take the cursor for a while; only a look elsewhere closes.
        inside = new is None or self.isAncestorOf(new) or new.window() is not self._over
        if self.isVisible() and not inside:
            self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        # Back to where somebody was typing; Qt would go to the window's first field.
        focused, before = QApplication.focusWidget(), self._cursor_was
        if focused is not None and self.isAncestorOf(focused) and before is not None and isValid(before):
            before.setFocus(Qt.FocusReason.PopupFocusReason)
        super().closeEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.close()
            return
        super().keyPressEvent(event)
