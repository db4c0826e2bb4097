"""The order of Tab follows the layout: rows and fields that come later stand where they are seen."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Protocol, runtime_checkable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QGridLayout,
    QLayout,
    QLineEdit,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QWidget,
)


@runtime_checkable
class ReadOtherwise(Protocol):
    """Parts that are laid out in columns and read in rows, or the like."""

    def read_in_order(self) -> Sequence[QWidget]: ...


_LEAVES = (QAbstractButton, QAbstractItemView, QComboBox, QLineEdit)


def in_reading_order(root: QWidget | None) -> None:
    """Chain everything in `root` that Tab stops at in the order in which it is read."""
    if root is None:
        return
    for one, other in pairwise(tab_stops(root)):
        QWidget.setTabOrder(one, other)


def tab_stops(widget: QWidget) -> Iterator[QWidget]:
    """What Tab stops at, as laid out; hidden ones hold their place."""
    if widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
        yield widget
    if not isinstance(widget, _LEAVES):
        for part in _parts(widget):
            yield from tab_stops(part)


def _parts(widget: QWidget) -> Sequence[QWidget]:
    if isinstance(widget, ReadOtherwise):
        return widget.read_in_order()
    if isinstance(widget, QScrollArea):
        return [inner] if (inner := widget.widget()) else []
    if isinstance(widget, QTabWidget):
        return [widget.tabBar(), *_numbered(widget)]
    if isinstance(widget, QSplitter):
        return _numbered(widget)
    layout = widget.layout()
    laid = list(_in_layout(layout, widget)) if layout is not None else []
    # What lies freely is read by where it lies.
    free = [child for child in _children(widget) if child not in laid]
    return [*laid, *sorted(free, key=lambda child: (child.y(), child.x()))]


def _numbered(holder: QTabWidget | QSplitter) -> list[QWidget]:
    return [part for at in range(holder.count()) if (part := holder.widget(at)) is not None]


def _children(widget: QWidget) -> Iterator[QWidget]:
    for child in widget.children():
        if isinstance(child, QWidget) and not child.isWindow():
            yield child


def _in_layout(layout: QLayout, inside: QWidget) -> Iterator[QWidget]:
    """The widgets of a layout, those of the layouts in it where these stand.

    Widgets and layouts are asked for their place, never the layout for its items: Python keeps what it was
    given of an item after Qt has ended it, and takes the next thing made at that address for it.
    """
    places = {}
    for part in (*_children(inside), *layout.children()):
        if isinstance(part, QWidget | QLayout) and (at := layout.indexOf(part)) >= 0:
            places[at] = part
    order = sorted(places)
    if isinstance(layout, QGridLayout):
        order.sort(key=lambda at: layout.getItemPosition(at)[:2])  # type: ignore[index]
    for at in order:
        part = places[at]
        if isinstance(part, QWidget):
            yield part
        else:
            yield from _in_layout(part, inside)
