"""Rulers along the canvas, in the shop's unit, counted from the current sheet's corner."""

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPixmap, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.measures.figures import written
from planner.measures.geometry import Rect, Size
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.window.look import Type, tokens_of, type_font
from planner.window.sheet import words

THICK_PX = 22
_LEAST_LABEL_PX = 56
_LEAST_TICK_PX = 5
_STEPS_MM = {
    LengthUnit.INCH: [MM_PER_INCH * step for step in (0.0625, 0.125, 0.25, 0.5, 1, 2, 6, 12, 24, 60, 120)],
    LengthUnit.MILLIMETRE: [0.5, 1, 5, 10, 20, 50, 100, 200, 500, 1000, 2000],
}


def steps_for(px_per_mm: float, unit: LengthUnit) -> tuple[float, float]:
    """Distance in mm between ticks, and between labels, at a scale; labels stand on ticks."""
    steps = _STEPS_MM[unit]
    tick = next((step for step in steps if step * px_per_mm >= _LEAST_TICK_PX), steps[-1])
    label = next(
        (
            step
            for step in steps
            if step >= tick
            and step * px_per_mm >= _LEAST_LABEL_PX
            and abs(step / tick - round(step / tick)) < 1e-6
        ),
        steps[-1],
    )
    return tick, label


class Ruler(QWidget):
    """One ruler: lying along the top, or upright along the left."""

    scrolled = Signal(int)
    """The wheel was turned over the ruler: so many pixels along it."""

    def __init__(self, *, upright: bool) -> None:
        super().__init__()
        self.setToolTip(words.RULER_HINT)
        self._upright = upright
        self._origin_px, self._scale = 0.0, 1.0
        self._length_mm = 0.0
        self._unit = LengthUnit.INCH
        self._span: tuple[float, float] | None = None
        self._pointer: float | None = None
        self._drawn: QPixmap | None = None
        self._ticks_for: tuple[float, float, LengthUnit] | None = None
        if upright:
            self.setFixedWidth(THICK_PX)
            self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Ignored)
        else:
            self.setFixedHeight(THICK_PX)
            self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_scale(
        self,
        *,
        origin_px: float,
        px_per_mm: float,
        length_mm: float,
        unit: LengthUnit,
        span_mm: tuple[float, float] | None,
    ) -> None:
        """Where the sheet's corner is, how long the sheet is, and which part is chosen."""
        self._origin_px, self._scale, self._length_mm = origin_px, px_per_mm, length_mm
        if (origin_px, px_per_mm, unit) != self._ticks_for:
            self._ticks_for = (origin_px, px_per_mm, unit)
            self._drawn = None
        self._unit, self._span = unit, span_mm
        self.update()

    def show_pointer(self, px: float | None) -> None:
        if px != self._pointer:
            self._pointer = px
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        # Bars and the pointer's mark move at every step of the hand; the ticks over them do not.
        if self._drawn is None:
            self._drawn = self._ticks_drawn()
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.ground))
        # The sheet's own extent in the colour of fields, so that zero and end are seen at once.
        self._bar(painter, self._at(0), self._at(self._length_mm), tokens.field)
        if self._span is not None:
            self._bar(painter, self._at(self._span[0]), self._at(self._span[1]), tokens.chosen)
        painter.drawPixmap(0, 0, self._drawn)
        if self._pointer is not None:
            painter.setPen(QPen(QColor(tokens.accent), 1))
            painter.drawLine(self._tick(round(self._pointer) + 0.5, THICK_PX))
        painter.end()

    def wheelEvent(self, event: QWheelEvent) -> None:
        self.scrolled.emit(-(event.angleDelta().y() or event.angleDelta().x()))
        event.accept()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._drawn = None
        super().resizeEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        self._drawn = None
        super().changeEvent(event)

    def _ticks_drawn(self) -> QPixmap:
        tokens = tokens_of(self)
        ratio = self.devicePixelRatioF()
        drawn = QPixmap(self.size() * ratio)
        drawn.setDevicePixelRatio(ratio)
        drawn.fill(Qt.GlobalColor.transparent)
        painter = QPainter(drawn)
        along = self.height() if self._upright else self.width()
        tick, label = steps_for(self._scale, self._unit)
        painter.setFont(type_font(self.font(), Type.SMALL))
        first = int(-self._origin_px / (tick * self._scale)) - 1
        last = int((along - self._origin_px) / (tick * self._scale)) + 1
        every = max(1, round(label / tick))
        mains, others = [], []
        start, step = self._origin_px, tick * self._scale
        half = every // 2 if every % 2 == 0 else every
        for number in range(first, last + 1):
            at = round(start + number * step) + 0.5
            if number % every == 0:
                mains.append(self._tick(at, 9))
            else:
                others.append(self._tick(at, 3 if number % half else 6))
        painter.setPen(QPen(QColor(tokens.quiet), 1))
        painter.drawLines(others)
        painter.setPen(QPen(QColor(tokens.text), 1))
        painter.drawLines(mains)
        for number in range(first + -first % every, last + 1, every):
            self._label(painter, round(self._at(number * tick)) + 0.5, self._figure(number * tick))
        painter.setPen(QPen(QColor(tokens.line), 1))
        edge = THICK_PX - 0.5
        if self._upright:
            painter.drawLine(QPointF(edge, 0), QPointF(edge, along))
        else:
            painter.drawLine(QPointF(0, edge), QPointF(along, edge))
        painter.end()
        return drawn

    def _at(self, mm: float) -> float:
        return self._origin_px + mm * self._scale

    def _figure(self, mm: float) -> str:
        figure = mm / MM_PER_INCH if self._unit is LengthUnit.INCH else mm
        return written(f"{figure:.3f}".rstrip("0").rstrip(".").replace("-0", "0" if not figure else "-0"))

    def _bar(self, painter: QPainter, start: float, end: float, colour: str) -> None:
        box = (
            QRectF(0, start, THICK_PX - 1, end - start)
            if self._upright
            else QRectF(start, 0, end - start, THICK_PX - 1)
        )
        painter.fillRect(box, QColor(colour))

    def _tick(self, at: float, long: float) -> QLineF:
        if self._upright:
            return QLineF(THICK_PX - long, at, THICK_PX, at)
        return QLineF(at, THICK_PX - long, at, THICK_PX)

    def _label(self, painter: QPainter, at: float, words: str) -> None:
        if not self._upright:
            painter.drawText(QRectF(at + 3, 0, 60, 13), Qt.AlignmentFlag.AlignLeft, words)
            return
        painter.save()
        painter.translate(0, at - 3)
        painter.rotate(-90)
        painter.drawText(QRectF(0, 0, 60, 13), Qt.AlignmentFlag.AlignLeft, words)
        painter.restore()


class Rulers:
    """Both rulers of a canvas."""

    def __init__(self) -> None:
        self.top, self.side = Ruler(upright=False), Ruler(upright=True)

    def show_sheet(
        self, corner: QPointF, px_per_mm: float, size: Size, box: Rect | None, unit: LengthUnit
    ) -> None:
        """A sheet whose corner is at that point of the view, and the box of what is chosen on it."""
        for ruler, origin_px, length_mm, span_mm in (
            (self.top, corner.x(), size.width_mm, (box.x_mm, box.right_mm) if box else None),
            (self.side, corner.y(), size.height_mm, (box.y_mm, box.bottom_mm) if box else None),
        ):
            ruler.show_scale(
                origin_px=origin_px, px_per_mm=px_per_mm, length_mm=length_mm, unit=unit, span_mm=span_mm
            )

    def show_pointer(self, at: QPointF | None) -> None:
        """Where the pointer is in the view; None when it has left."""
        self.top.show_pointer(at.x() if at else None)
        self.side.show_pointer(at.y() if at else None)
