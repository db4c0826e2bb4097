"""The pages in the middle: only the one in front follows every edit, and tabs tell what changed behind it."""

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QTabBar, QTabWidget, QWidget

from planner.window import wording
from planner.window.changes import Change
from planner.window.look import APART, GRID, TARGET, Type, tokens_of
from planner.window.widgets import ElidedLabel

_MOST_PX = 120 * GRID


class Pages(QTabWidget):
    """Tabs; what changed on the page shown stands at the end of the tabs' row, where nothing can jump."""

    left = Signal(QWidget)
    """The page that was shown until now."""

    def __init__(self) -> None:
        super().__init__()
        self._bar = _Tabs()
        self._waiting: dict[QWidget, Callable[[], object]] = {}
        # Before the tab widget's own slot: a page catches up first and is seen then.
        self._bar.currentChanged.connect(self._catch_up)
        self.setTabBar(self._bar)
        self.setDocumentMode(True)
        # The bevel that Fusion draws under such tabs has steps and no use.
        self._bar.setDrawBase(False)
        self._changes: dict[QWidget, tuple[Change, ...]] = {}
        self._shown: QWidget | None = None
        self.changed = _Told()
        self.setCornerWidget(self.changed, Qt.Corner.TopRightCorner)
        self.currentChanged.connect(self._page_changed)

    def go_to(self, at: int) -> None:
        """Turn to a page by its place, the cursor on its tab: one step before whatever it shows."""
        self.setCurrentIndex(at)
        self._bar.setFocus()

    def show_in(self, page: QWidget, show: Callable[[], object]) -> None:
        """Have a page show something: at once if it is in front, else once somebody turns to it.

        Of what a page waits with, the newest stands for all before it.
        """
        self._waiting[page] = show
        self._catch_up(self._bar.currentIndex())

    def show_changes(self, changes: Mapping[QWidget, Sequence[Change]]) -> None:
        """Mark these pages' tabs; a page without changes has no mark."""
        self._changes = {page: tuple(of_page) for page, of_page in changes.items() if of_page}
        for at in range(self.count()):
            told = self._told(self.widget(at))
            self.setTabToolTip(at, told)
            name = self.tabText(at)
            self._bar.setAccessibleTabName(at, f"{name}, {told}" if told else name)
        self._mark()

    def _catch_up(self, at: int) -> None:
        page = self.widget(at)
        if page is not None and (show := self._waiting.pop(page, None)) is not None:
            show()

    def _told(self, page: QWidget | None) -> str:
        of_page = self._changes.get(page, ()) if page else ()
        lines = (wording.SINCE_YOU_LOOKED, *(change.words for change in of_page))
        return "\n".join(lines) if of_page else ""

    def _mark(self) -> None:
        page = self.currentWidget()
        others = (at for at in range(self.count()) if self.widget(at) is not page)
        self._bar.show_marks({at for at in others if self.widget(at) in self._changes})
        self.changed.setText("  ·  ".join(change.words for change in self._changes.get(page, ())))
        self.changed.setToolTip(self._told(page))
        self._give_room()

    def _page_changed(self) -> None:
        before, self._shown = self._shown, self.currentWidget()
        self._mark()
        if before is not None:
            self.left.emit(before)

    def _give_room(self) -> None:
        room = min(_MOST_PX, self.width() - self._bar.sizeHint().width() - APART)
        self.changed.take_room(max(0, room))

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._give_room()
        super().resizeEvent(event)


class _Told(ElidedLabel):
    """As wide as the tabs leave room for."""

    def __init__(self) -> None:
        super().__init__()
        self._room_px = 0
        self.setProperty("type", Type.SMALL.value)
        self.setMinimumWidth(0)
        # As high as the tabs, so that it stands on their line.
        self.setMinimumHeight(TARGET + GRID)

    def take_room(self, room_px: int) -> None:
        """Be so wide."""
        if room_px != self._room_px:
            self._room_px = room_px
            self.updateGeometry()

    def sizeHint(self) -> QSize:
        return QSize(self._room_px, super().sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())


class _Tabs(QTabBar):
    """Draws a small ring in the margin of a marked tab, so that marking moves nothing."""

    def __init__(self) -> None:
        super().__init__()
        self._marked: set[int] = set()

    def show_marks(self, marked: set[int]) -> None:
        if marked != self._marked:
            self._marked = marked
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(tokens_of(self).note), 1.75))
        for at in self._marked:
            tab: QRect = self.tabRect(at)
            painter.drawEllipse(QPointF(tab.right() - 1.75 * GRID, tab.center().y() - GRID), 2.5, 2.5)
        painter.end()
