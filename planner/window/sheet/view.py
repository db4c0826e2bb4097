"""The bench seen at some scale: fitted, zoomed, pushed along; by wheel and touchpad too."""

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QNativeGestureEvent, QPainter, QResizeEvent, QTransform, QWheelEvent
from PySide6.QtWidgets import QFrame, QGraphicsView

from planner.window.screens import real_size_scale
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.zoom import is_by_fingers, readable, stepped

_FIT_EDGE_PX = 20
_FOOT_PX = 36
"""Kept clear below the sheets for the bar that tells of faults."""
_KEPT_IN_VIEW_PX = 80
_LEAST_SCALE, _MOST_SCALE = 0.02, 60.0
_SMALLEST = 4.0
"""How many times smaller than fitted the bench may be seen."""


class BenchView(QGraphicsView):
    """Where the bench is looked at from; keeps what it was fitted to until the user looks elsewhere."""

    view_changed = Signal()

    def __init__(self, bench: BenchScene) -> None:
        super().__init__(bench)
        self.bench = bench
        self._fits: QRectF | None = None
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        self.setMinimumSize(QSize(240, 160))

    @property
    def px_per_mm(self) -> float:
        return self.transform().m11()

    @property
    def percent(self) -> float:
        """The scale, 100 being real size."""
        return 100 * self.px_per_mm / real_size_scale(self)

    def room_to_pan(self) -> None:
        """Let the bench be pushed almost out of view, and no further."""
        across_mm = max(0, self.viewport().width() - _KEPT_IN_VIEW_PX) / self.px_per_mm
        down_mm = max(0, self.viewport().height() - _KEPT_IN_VIEW_PX) / self.px_per_mm
        self.setSceneRect(self.bench.bench_box().adjusted(-across_mm, -down_mm, across_mm, down_mm))

    def fit(self, box: QRectF | None = None) -> None:
        """The whole bench in view, or one box; kept so until the user zooms or pans."""
        box = self.bench.bench_box() if box is None else box
        if box.isEmpty():
            return
        wide, high = self.viewport().width() - 2 * _FIT_EDGE_PX, self.viewport().height() - 2 * _FIT_EDGE_PX
        room = QSize(max(40, wide), max(40, high - _FOOT_PX))
        scale = min(room.width() / box.width(), room.height() / box.height())
        self._set_scale(scale)
        self.centerOn(box.center() + QPointF(0, _FOOT_PX / 2 / self.px_per_mm))
        self._fits = box
        self.view_changed.emit()

    def refit(self, *, whole: bool) -> None:
        """Fit the bench again after its sheets changed, unless the user chose another view."""
        if whole or self._fits is not None:
            self.fit(readable(self.bench.bench_box(), self.viewport().size()))

    def real_size(self, about: QPointF | None = None) -> None:
        """A printed inch is an inch on this screen; a point of the scene comes into the middle, if given."""
        self.zoom_to(real_size_scale(self), self.viewport().rect().center())
        if about is not None:
            self.centerOn(about)
            self.view_changed.emit()

    def zoom_to(self, scale: float, at: QPoint) -> None:
        """Another scale, with the point under the pointer staying under it."""
        fixed = self.mapToScene(at)
        self._set_scale(scale)
        drift = self.mapFromScene(fixed) - at
        self._scroll(drift.x(), drift.y())
        self._fits = None
        self.view_changed.emit()

    def zoom_by(self, steps: float, at: QPoint | None = None) -> None:
        at = self.viewport().rect().center() if at is None else at
        self.zoom_to(stepped(self.px_per_mm, steps), at)

    def _least_scale(self) -> float:
        """So that sheets never shrink to a dot that nobody finds again."""
        box = self.bench.bench_box()
        if box.isEmpty():
            return _LEAST_SCALE
        seen = self.viewport().size()
        return min(seen.width() / box.width(), seen.height() / box.height()) / _SMALLEST

    def _set_scale(self, scale: float) -> None:
        scale = min(max(scale, self._least_scale()), _MOST_SCALE)
        self.setTransform(QTransform.fromScale(scale, scale))
        self.room_to_pan()
        self.bench.fit_words(scale)

    def _scroll(self, dx: int, dy: int) -> None:
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setValue(across.value() + dx)
        down.setValue(down.value() + dy)

    def pan(self, dx: int, dy: int) -> None:
        self._scroll(dx, dy)
        self._fits = None
        self.view_changed.emit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        pixels, angle = event.pixelDelta(), event.angleDelta()
        command = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if is_by_fingers(event) and not command:
            way = angle if pixels.isNull() else pixels
            self.pan(-way.x(), -way.y())
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.pan(-(angle.y() or angle.x()), 0)
        else:
            self.zoom_by((angle.y() or angle.x()) / 120, event.position().toPoint())
        event.accept()

    def viewportEvent(self, event: QEvent) -> bool:
        if isinstance(event, QNativeGestureEvent):
            if event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture:
                self.zoom_to(self.px_per_mm * (1 + event.value()), event.position().toPoint())
            return True
        return super().viewportEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.room_to_pan()
        if self._fits is not None:
            self.fit(self._fits)
        else:
            self.view_changed.emit()
