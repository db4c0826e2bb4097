"""What a person who uses a screen reader, keys only, or large type meets: gathered from shown windows."""

from collections.abc import Iterator
from itertools import pairwise

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenuBar,
    QPushButton,
    QTabBar,
    QWidget,
)

from planner.window.widgets import ElidedLabel


def described(widget: QWidget) -> str:
    """A widget as a person who has to mend it finds it."""
    text = getattr(widget, "text", None)
    words = text() if callable(text) else ""
    way = []
    above: QWidget | None = widget.parentWidget()
    while above is not None:
        way.append(type(above).__name__)
        above = above.parentWidget()
    named = [name for name in way if not name.startswith("Q")]
    return f"{type(widget).__name__} “{words or widget.accessibleName()}” in {'/'.join(named)}"


def focusable(root: QWidget) -> list[QWidget]:
    """Visible widgets that take the cursor by Tab or click, in the order of the focus chain."""
    found = []
    at: QWidget = root
    while True:
        at = at.nextInFocusChain()
        if at is root:
            return found
        takes = at.focusPolicy() is not Qt.FocusPolicy.NoFocus and at.focusProxy() is None
        if takes and at.isVisibleTo(root) and root.isAncestorOf(at) and at.isEnabled():
            found.append(at)


def nameless(root: QWidget) -> list[str]:
    """Everything that takes the cursor but has no name to be read out."""
    return [
        described(widget)
        for widget in focusable(root)
        if not any(letter.isalnum() for letter in _spoken(widget))
    ]


def _spoken(widget: QWidget) -> str:
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name)


def by_tab(root: QWidget) -> list[QWidget]:
    return [widget for widget in focusable(root) if widget.focusPolicy() & Qt.FocusPolicy.TabFocus]


def place(widget: QWidget, root: QWidget) -> QRect:
    return QRect(widget.mapTo(root, QPoint(0, 0)), widget.size())


def jumps_back(panel: QWidget, first: QWidget) -> list[str]:
    """Steps by Tab against the reading order: to the left in a row, or up without starting a new column.

    `first` is where the window's round of Tab begins.
    """
    found = []
    root = panel.window()
    chain = by_tab(root)
    at = chain.index(first)
    chain = [widget for widget in chain[at:] + chain[:at] if widget is panel or panel.isAncestorOf(widget)]
    for one, other in pairwise(chain):
        if one.isAncestorOf(other):
            continue
        here, there = place(one, root), place(other, root)
        shared = min(here.bottom(), there.bottom()) - max(here.top(), there.top())
        level = shared > min(here.height(), there.height()) / 2
        leftwards = level and there.right() <= here.left()
        upwards = there.bottom() <= here.top() and there.left() < here.right()
        if leftwards or upwards:
            found.append(f"{described(one)} → {described(other)}")
    return found


def small_targets(root: QWidget, least: int = 24) -> list[str]:
    """What can be pressed or typed into and is smaller than WCAG 2.2, 2.5.8 asks for."""
    return [
        f"{described(widget)} is {widget.width()} × {widget.height()}"
        for widget in root.findChildren(QWidget)
        if isinstance(widget, QAbstractButton | QComboBox | QLineEdit)
        and widget.isVisibleTo(root)
        and not isinstance(widget.parentWidget(), QTabBar | QMenuBar | QComboBox | QAbstractScrollArea)
        and min(widget.width(), widget.height()) < least
    ]


def cut_texts(root: QWidget) -> list[str]:
    """Labels and buttons that have less room than their words need."""
    return [described(widget) for widget in _texts(root) if _is_cut(widget)]


def _texts(root: QWidget) -> Iterator[QLabel | QPushButton]:
    for kind in (QLabel, QPushButton):
        for widget in root.findChildren(kind):
            if widget.isVisibleTo(root) and widget.text() and not isinstance(widget, ElidedLabel):
                yield widget


def _is_cut(widget: QLabel | QPushButton) -> bool:
    if isinstance(widget, QLabel) and widget.wordWrap():
        return widget.height() < widget.heightForWidth(widget.width())
    metrics = widget.fontMetrics()
    lines = widget.text().split("\n")
    wide = max(metrics.horizontalAdvance(line.replace("&", "")) for line in lines)
    return widget.contentsRect().width() < wide - 1 or widget.height() < metrics.height() - 1
