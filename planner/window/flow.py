"""A layout that sets fields side by side and breaks into another row where the width ends."""

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget, QWidgetItem

from planner.window.look import APART, RELATED


class Flow(QLayout):
    """Widgets at their own size, level at the bottom; those that may grow share what a row has left."""

    def __init__(self, *, across: int = APART, down: int = RELATED) -> None:
        super().__init__()
        self._items: list[QLayoutItem] = []
        self._across, self._down = across, down
        self._heights: dict[int, int] = {}
        """By width, until something in it changes: Qt asks many times for the same."""
        self.setContentsMargins(0, 0, 0, 0)

    def addWidget(self, widget: QWidget) -> None:
        # An item made here tells Python of its end; of one that Qt makes, Python would keep an address only.
        self.addChildWidget(widget)
        self.addItem(QWidgetItem(widget))

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation.Horizontal

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        if width not in self._heights:
            self._heights[width] = self._place(QRect(0, 0, width, 0), apply=False)
        return self._heights[width]

    def invalidate(self) -> None:
        self._heights.clear()
        super().invalidate()

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, apply=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _rows(self, width: int) -> list[list[QLayoutItem]]:
        rows: list[list[QLayoutItem]] = [[]]
        used = 0
        for item in self._items:
            if item.isEmpty():
                continue
            needs = item.sizeHint().width()
            if rows[-1] and used + self._across + needs > width:
                rows.append([])
            used = needs if not rows[-1] else used + self._across + needs
            rows[-1].append(item)
        return [row for row in rows if row]

    def _place(self, rect: QRect, *, apply: bool) -> int:
        """Height used; items are moved only with `apply`."""
        top = rect.y()
        for row in self._rows(rect.width()):
            height = max(item.sizeHint().height() for item in row)
            widths = self._widths(row, rect.width())
            left = rect.x()
            for item, width in zip(row, widths, strict=True):
                own = item.sizeHint().height()
                if apply:
                    item.setGeometry(QRect(QPoint(left, top + height - own), QSize(width, own)))
                left += width + self._across
            top += height + self._down
        return max(0, top - rect.y() - self._down)

    def _widths(self, row: list[QLayoutItem], width: int) -> list[int]:
        widths = [min(item.sizeHint().width(), width) for item in row]
        growing = [at for at, item in enumerate(row) if _grows(item.widget())]
        left = width - sum(widths) - self._across * (len(row) - 1)
        for number, at in enumerate(growing):
            share = left // (len(growing) - number)
            more = min(share, max(0, row[at].maximumSize().width() - widths[at]))
            widths[at] += more
            left -= more
        return widths


def _grows(widget: QWidget | None) -> bool:
    return widget is not None and widget.sizePolicy().horizontalPolicy() is QSizePolicy.Policy.Expanding
