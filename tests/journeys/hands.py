"""Two hands for the journeys: one that only presses keys, one that only points, each as the system would.

Keys go to whatever has the cursor, presses go to whatever lies there: a field that is covered, switched off
or out of sight cannot be reached, just as for a person.
"""

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAction, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QMenu, QScrollArea, QWidget

_FARTHEST = 120
"""More stops of Tab than any page has."""
NO_KEY = Qt.KeyboardModifier.NoModifier
CTRL = Qt.KeyboardModifier.ControlModifier


def cursor() -> QWidget:
    """What has the cursor: an open menu or list, else the focused part of the window."""
    popup = QApplication.activePopupWidget()
    widget = _held_by(popup) if popup is not None else QApplication.focusWidget()
    assert widget is not None, "nothing has the cursor"
    return widget


def _held_by(popup: QWidget) -> QWidget:
    """The frame of a list hands all keys to the list."""
    opener = popup.parentWidget()
    return opener.view() if isinstance(opener, QComboBox) else popup


class Keys:
    """Presses keys, and nothing else."""

    def press(self, key: Qt.Key, with_: Qt.KeyboardModifier = NO_KEY, *, times: int = 1) -> None:
        for _ in range(times):
            QTest.keyClick(cursor(), key, with_)
            QApplication.processEvents()

    def type(self, text: str) -> None:
        """Type over what is selected."""
        QTest.keyClicks(cursor(), text)
        QApplication.processEvents()

    def tab_to(self, name: str) -> None:
        """Tab until the part with this accessible name has the cursor; it must be ahead."""
        for _ in range(_FARTHEST):
            self.press(Qt.Key.Key_Tab)
            if cursor().accessibleName() == name:
                return
        raise AssertionError(f"Tab never comes to {name!r}")

    def choose(self, name: str) -> None:
        """Choose from the open menu or list with the arrows."""
        popup = cursor()
        for _ in range(_FARTHEST):
            if _marked(popup) == name:
                self.press(Qt.Key.Key_Return)
                return
            self.press(Qt.Key.Key_Down)
        raise AssertionError(f"the arrows never come to {name!r}")


class Mouse:
    """Points, presses and turns the wheel; letters and figures are typed, as nothing else gives a name."""

    def click(self, widget: QWidget, at: QPoint | None = None, *, right: bool = False) -> None:
        """Press where a widget is seen, after turning the wheel until it is."""
        # What was just made gets its place by the next events.
        QApplication.processEvents()
        _bring_into_view(widget)
        self._click_at(widget, at or widget.rect().center(), right=right)

    def type(self, field: QWidget, text: str) -> None:
        """Double-click a field, so that a word in it is selected, and type over it."""
        _bring_into_view(field)
        top = field.window().windowHandle()
        where = field.mapTo(field.window(), field.rect().center())
        QTest.mouseClick(top, Qt.MouseButton.LeftButton, pos=where)
        QTest.mouseDClick(top, Qt.MouseButton.LeftButton, pos=where)
        QTest.keyClicks(cursor(), text)
        QApplication.processEvents()

    def choose(self, name: str) -> None:
        """Press an entry of the open menu."""
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu), "no menu is open"
        action = _entry(menu, name)
        assert action.isEnabled(), f"{name!r} cannot be chosen"
        inner = action.menu()
        self._click_at(menu, menu.actionGeometry(action).center())
        if isinstance(inner, QMenu):
            assert inner.isVisible()

    def pick(self, combo: QComboBox, name: str) -> None:
        """Open a list and press an entry."""
        self.click(combo)
        at = combo.findText(name)
        assert at >= 0, f"{name!r} is not in the list"
        view = combo.view()
        view.scrollTo(view.model().index(at, 0))
        QApplication.processEvents()
        self._click_at(view.viewport(), view.visualRect(view.model().index(at, 0)).center())

    def _click_at(self, widget: QWidget, at: QPoint, *, right: bool = False) -> None:
        button = Qt.MouseButton.RightButton if right else Qt.MouseButton.LeftButton
        top = widget.window()
        QTest.mouseClick(top.windowHandle(), button, pos=widget.mapTo(top, at))
        QApplication.processEvents()


def _marked(popup: QWidget) -> str:
    if isinstance(popup, QMenu):
        action: QAction | None = popup.activeAction()
        return action.text().replace("&", "") if action else ""
    assert isinstance(popup, QAbstractItemView), f"{popup} is neither a menu nor a list"
    return str(popup.currentIndex().data() or "")


def _entry(menu: QMenu, name: str) -> QAction:
    texts = [action.text().replace("&", "") for action in menu.actions()]
    assert name in texts, f"{name!r} is none of {texts}"
    return menu.actions()[texts.index(name)]


def _bring_into_view(widget: QWidget) -> None:
    """Turn the wheel over the area a widget lies in, until its middle is seen."""
    area = widget.parentWidget()
    while area is not None and not isinstance(area, QScrollArea):
        area = area.parentWidget()
    if area is None:
        return
    view = area.viewport()
    for _ in range(_FARTHEST):
        middle = widget.mapTo(view, widget.rect().center()).y()
        if 0 <= middle < view.height():
            return
        _turn_wheel(view, -120 if middle > 0 else 120)
    raise AssertionError(f"{widget} cannot be brought into view")


def _turn_wheel(view: QWidget, by: int) -> None:
    at = QPointF(4, 4)
    event = QWheelEvent(
        at,
        QPointF(view.mapToGlobal(QPoint(4, 4))),
        QPoint(),
        QPoint(0, by),
        Qt.MouseButton.NoButton,
        NO_KEY,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(view, event)
    QApplication.processEvents()
