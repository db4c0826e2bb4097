"""An artwork drawn large on its garment's colour, in print millimetres, with spots marked."""

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QImage,
    QKeyEvent,
    QPainter,
    QPen,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QFrame, QGraphicsScene, QGraphicsView

from planner.job.findings import Region
from planner.measures.geometry import Size
from planner.window.artwork import words
from planner.window.look import GRID, tokens_of
from planner.window.screens import real_size_scale

_STEP = 1.25
_MOST_SCALE = 200.0
"""Pixels a millimetre: past that single printed dots fill the view."""
_CLOTH_AROUND = 0.12
"""Cloth shown around the print, as a share of its longer side."""


def draw_spot(painter: QPainter, box: QRectF) -> None:
    """Hatch and a two-tone outline: one tone shows on any ground, whatever eyes see of colour."""
    painter.save()
    # The hatch keeps its grain at any zoom; its second tone lies a pixel beside the first.
    inverted, fine = painter.transform().inverted()
    grain = QTransform.fromScale(inverted.m11(), inverted.m22()) if fine else QTransform()
    for colour, aside in (("#000000", 1), ("#ffffff", 0)):
        hatch = QBrush(QColor(colour), Qt.BrushStyle.BDiagPattern)
        hatch.setTransform(QTransform.fromTranslate(aside, 0) * grain)
        painter.fillRect(box, hatch)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, width in (("#000000", 3.0), ("#ffffff", 1.0)):
        pen = QPen(QColor(colour), width)
        pen.setCosmetic(True)
        painter.setPen(pen)
        painter.drawRect(box)
    painter.restore()


class CloserCanvas(QGraphicsView):
    """Zooms under the pointer, moves with the hand; keys + − 0 (fit) 1 (real size)."""

    scale_changed = Signal(float)
    """Share of real size: 1.0 is as large as printed, where the screen tells its true resolution."""

    def __init__(self) -> None:
        super().__init__()
        self._scene = QGraphicsScene(self)
        self.setScene(self._scene)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setDragMode(QGraphicsView.DragMode.ScrollHandDrag)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.AnchorUnderMouse)
        self.setRenderHints(QPainter.RenderHint.SmoothPixmapTransform | QPainter.RenderHint.Antialiasing)
        self.setAccessibleName(words.CLOSER_CANVAS)
        self._size = Size(100, 100)
        self._cloth = "#808080"
        self._after: QImage | None = None
        self._before: QImage | None = None
        self._rim = (0.0, 0.0)
        self._divide = 0.0
        self._spots: tuple[Region, ...] = ()
        self._fitted = True

    def show_print(self, size: Size, cloth: str) -> None:
        """Another print: its size and the colour under it; the view is fitted anew."""
        if (size, cloth) != (self._size, self._cloth):
            self._size, self._cloth = size, cloth
            self._scene.setSceneRect(self._ground())
            self.fit()

    def show_pictures(
        self, after: QImage | None, before: QImage | None, rim: tuple[float, float] = (0.0, 0.0)
    ) -> None:
        """The artwork as printed, and as it came (None where nothing was mended).

        `rim` is what mending added at each side, in shares of width and height.
        """
        self._after, self._before, self._rim = after, before, rim
        self.viewport().update()

    def divide(self, share: float) -> None:
        """Show the artwork as it came in the left share of the picture."""
        self._divide = share
        self.viewport().update()

    def mark(self, spots: tuple[Region, ...]) -> None:
        """Mark spots, and bring the first into view where it is not."""
        self._spots = spots
        if spots and not self._fitted:
            self.ensureVisible(self._box(spots[0]))
        self.viewport().update()

    @property
    def needs_px(self) -> int:
        """Pixels on the picture's longer side that this zoom can show."""
        longer_mm = max(self._size.width_mm, self._size.height_mm)
        return round(longer_mm * self.transform().m11() * self.devicePixelRatioF())

    def fit(self) -> None:
        """All of the print in view."""
        self._fitted = True
        self._scene.setSceneRect(self._ground())
        self.fitInView(self._ground(), Qt.AspectRatioMode.KeepAspectRatio)
        self._tell_scale()

    def real_size(self) -> None:
        """As large as it will be printed, by what the screen says of its own resolution."""
        self._zoom_to(self._real_scale())

    def zoom_by(self, steps: int) -> None:
        self._zoom_to(self.transform().m11() * _STEP**steps)

    def _zoom_to(self, scale: float) -> None:
        least = 0.5 * min(
            self.viewport().width() / self._ground().width(),
            self.viewport().height() / self._ground().height(),
        )
        wanted = max(min(least, self._real_scale()), min(_MOST_SCALE, scale))
        factor = wanted / self.transform().m11()
        self._fitted = False
        self.scale(factor, factor)
        self._tell_scale()

    def _real_scale(self) -> float:
        return real_size_scale(self)

    def _tell_scale(self) -> None:
        self.scale_changed.emit(self.transform().m11() / self._real_scale())

    def _ground(self) -> QRectF:
        around = _CLOTH_AROUND * max(self._size.width_mm, self._size.height_mm)
        return self._picture().adjusted(-around, -around, around, around)

    def _picture(self) -> QRectF:
        return QRectF(0, 0, self._size.width_mm, self._size.height_mm)

    def _box(self, spot: Region) -> QRectF:
        picture = self._picture()
        return QRectF(
            spot.x * picture.width(),
            spot.y * picture.height(),
            spot.width * picture.width(),
            spot.height * picture.height(),
        )

    def drawBackground(self, painter: QPainter, rect: QRectF | object) -> None:
        painter.fillRect(rect, QColor(tokens_of(self).canvas))  # type: ignore[arg-type]
        painter.fillRect(self._ground(), QColor(self._cloth))

    def drawForeground(self, painter: QPainter, rect: QRectF | object) -> None:
        picture = self._picture()
        if self._after is not None:
            painter.drawImage(picture, self._after)
        if self._before is not None and self._divide > 0:
            left = QRectF(0, 0, picture.width() * self._divide, picture.height())
            # A pixel more on each side: of a last row half covered the mended picture would show through.
            pixel = 1 / self.transform().m11()
            painter.fillRect(left.adjusted(-pixel, -pixel, 0, pixel), QColor(self._cloth))
            across, down = self._rim[0] * picture.width(), self._rim[1] * picture.height()
            painter.save()
            painter.setClipRect(left)
            painter.drawImage(picture.adjusted(across, down, -across, -down), self._before)
            painter.restore()
            pen = QPen(QColor(tokens_of(self).accent), 2)
            pen.setCosmetic(True)
            painter.setPen(pen)
            painter.drawLine(QPointF(left.right(), picture.top()), QPointF(left.right(), picture.bottom()))
        least_mm = 2 * GRID / self.transform().m11()
        for spot in self._spots:
            box = self._box(spot)
            wide, high = max(0.0, least_mm - box.width()) / 2, max(0.0, least_mm - box.height()) / 2
            draw_spot(painter, box.adjusted(-wide, -high, wide, high))

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned = event.angleDelta().y()
        if turned:
            self.zoom_by(1 if turned > 0 else -1)
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        doings = {
            Qt.Key.Key_Plus: lambda: self.zoom_by(1),
            Qt.Key.Key_Equal: lambda: self.zoom_by(1),
            Qt.Key.Key_Minus: lambda: self.zoom_by(-1),
            Qt.Key.Key_0: self.fit,
            Qt.Key.Key_1: self.real_size,
        }
        doing = doings.get(Qt.Key(event.key()))
        if doing is None:
            super().keyPressEvent(event)
        else:
            doing()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._fitted:
            self.fit()
