"""The pages of a paper one below the other, drawn as they come into view."""

from collections.abc import Mapping

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractScrollArea

from planner.window.look import APART, GRID, tokens_of
from planner.window.preview import words
from planner.window.preview.stack import Fit, Stack
from planner.window.sheet.zoom import stepped

_LEAST, _MOST = 0.1, 4.0
_EQUAL = 0.002
"""A picture drawn at another size than this share off the one shown looks soft."""


class PageView(QAbstractScrollArea):
    """Shows pages at a zoom; 1 is true size as far as the screen knows its own."""

    pages_wanted = Signal(object, float)
    """Numbers of the pages in view from 0, and pixels to the point that they are wanted at."""
    page_changed = Signal(int)
    """The page in view, from 0."""
    zoom_changed = Signal(float)

    def __init__(self, points_px: float) -> None:
        super().__init__()
        self._points_px = points_px
        self._stack = Stack((), 1.0, 0.0)
        self._pictures: dict[int, QImage] = {}
        self._sharp: dict[int, float] = {}
        self._zoom, self._fit = 1.0, Fit.WIDTH
        self._page = 0
        self.setFrameShape(QAbstractScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(words.PAGES)
        # Always there: pages fitted to the width must not jump when there come to be two.
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.verticalScrollBar().valueChanged.connect(lambda at: self._moved())

    @property
    def zoom(self) -> float:
        return self._zoom

    @property
    def fit(self) -> Fit:
        return self._fit

    @property
    def page(self) -> int:
        """The page in view, from 0."""
        return self._page

    def show_pages(self, sizes: tuple[tuple[float, float], ...], *, keep_place: bool) -> None:
        """Lay out pages of these sizes in points, from the top or where the view was."""
        was = self.verticalScrollBar().value() if keep_place else 0
        if not keep_place:
            self._pictures = {}
        self._pictures = {at: image for at, image in self._pictures.items() if at < len(sizes)}
        self._sharp = {}
        self._stack = Stack(sizes, 1.0, 0.0)
        self._lay()
        self.verticalScrollBar().setValue(was)
        self._moved()

    def show_picture(self, page: int, image: QImage, px_per_point: float) -> None:
        """A page's picture; a small one, told by 0 pixels to the point, stands in while there is no other."""
        if px_per_point or page not in self._pictures:
            self._pictures[page], self._sharp[page] = image, px_per_point
            self._forget_far_pages()
            self.viewport().update()

    def picture(self, page: int) -> QImage | None:
        return self._pictures.get(page)

    def sharpness(self) -> Mapping[int, float]:
        """Pixels to the point that each page is drawn at."""
        return self._sharp

    def go_to(self, page: int) -> None:
        """Bring a page to the top."""
        if 0 <= page < len(self._stack.sizes):
            self.verticalScrollBar().setValue(round(self._stack.tops[page]) - APART // 2)

    def set_zoom(self, zoom: float, at: QPointF | None = None) -> None:
        """Zoom, holding what lies under a place of the view (default: its middle)."""
        self._fit = Fit.NONE
        self._zoom_to(min(_MOST, max(_LEAST, zoom)), at)

    def step_zoom(self, steps: float, at: QPointF | None = None) -> None:
        self.set_zoom(stepped(self._zoom, steps), at)

    def set_fit(self, fit: Fit) -> None:
        """Keep the width, or a whole page, in view."""
        self._fit = fit
        page = self._page
        self._lay()
        if fit is Fit.WHOLE:
            self.go_to(page)
        self._moved()

    def page_box(self, page: int) -> QRect:
        """Where a page is drawn in the viewport."""
        return self._box(page).toAlignedRect()

    def _zoom_to(self, zoom: float, at: QPointF | None) -> None:
        held = at or QPointF(self.viewport().rect().center())
        if not self._stack.sizes:
            self._zoom = zoom
            return
        # Held by the page under the pointer: gaps between pages do not grow with them.
        page = self._stack.at(self.verticalScrollBar().value() + held.y())
        before = self._box(page)
        down, across = (held - before.topLeft()).y(), (held - before.topLeft()).x()
        by = zoom / self._zoom
        self._zoom = zoom
        self._lay()
        away = self._box(page).topLeft() + QPointF(across * by, down * by) - held
        self.verticalScrollBar().setValue(self.verticalScrollBar().value() + round(away.y()))
        self.horizontalScrollBar().setValue(self.horizontalScrollBar().value() + round(away.x()))
        self._moved()

    def _lay(self) -> None:
        room = self.viewport().size()
        self._zoom = self._stack.fitting(self._fit, room, self._points_px, APART, self._zoom, self._page)
        self._stack = Stack(self._stack.sizes, self._zoom * self._points_px, APART)
        down, across = self.verticalScrollBar(), self.horizontalScrollBar()
        down.setRange(0, max(0, round(self._stack.height) - room.height()))
        down.setPageStep(room.height())
        down.setSingleStep(10 * GRID)
        across.setRange(0, max(0, round(self._stack.width) - room.width()))
        across.setPageStep(room.width())
        self.viewport().update()
        self.zoom_changed.emit(self._zoom)

    def _moved(self) -> None:
        down = self.verticalScrollBar().value()
        visible = self._stack.visible(down, self.viewport().height())
        page = self._stack.at(down + self.viewport().height() / 3)
        if page != self._page:
            self._page = page
            self.page_changed.emit(page)
        wanted = self._zoom * self._points_px * self.devicePixelRatioF()
        blurred = [
            number for number in visible if abs(self._sharp.get(number, 0.0) - wanted) > wanted * _EQUAL
        ]
        if blurred:
            self.pages_wanted.emit(tuple(blurred), wanted)
        self.viewport().update()

    def _forget_far_pages(self) -> None:
        """Pictures of pages far from view are let go: a packet may have fifty."""
        near = self._stack.visible(
            self.verticalScrollBar().value() - self.viewport().height(), 3 * self.viewport().height()
        )
        for page in [page for page in self._pictures if page not in near]:
            del self._pictures[page]
            self._sharp.pop(page, None)

    def _box(self, page: int) -> QRectF:
        box = self._stack.box(page, max(float(self.viewport().width()), self._stack.width))
        return box.translated(-self.horizontalScrollBar().value(), -self.verticalScrollBar().value())

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.viewport().rect(), QColor(tokens.canvas))
        down = self.verticalScrollBar().value()
        for page in self._stack.visible(down, self.viewport().height()):
            box = self._box(page)
            painter.fillRect(box, QColor("#ffffff"))
            image = self._pictures.get(page)
            if image is not None:
                painter.drawImage(box, image)
            painter.setPen(QPen(QColor(tokens.edge), 1))
            painter.drawRect(box.adjusted(-0.5, -0.5, 0.5, 0.5))
        if self.hasFocus():
            painter.setPen(QPen(QColor(tokens.accent), 2))
            painter.drawRect(self.viewport().rect().adjusted(1, 1, -1, -1))
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        page = self._page
        self._lay()
        if self._fit is Fit.WHOLE:
            self.go_to(page)
        self._moved()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        self.viewport().update()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.step_zoom(event.angleDelta().y() / 120, event.position())
            event.accept()
            return
        super().wheelEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        last = len(self._stack.sizes) - 1
        pages = {
            Qt.Key.Key_PageDown: min(last, self._page + 1),
            Qt.Key.Key_PageUp: max(0, self._page - 1),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if Qt.Key(event.key()) in pages:
            self.go_to(pages[Qt.Key(event.key())])
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: object) -> None:
        self.viewport().update()

    def focusOutEvent(self, event: object) -> None:
        self.viewport().update()

    def viewportSizeHint(self) -> QSize:
        return QSize(150 * GRID, 180 * GRID)
