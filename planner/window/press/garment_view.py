"""The picture of a garment with its prints in place: drag one, and its placement follows."""

import itertools

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import QWidget

from planner.job.document import GarmentLine, Job, SizeCount
from planner.measures.geometry import Rect
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_length, format_size
from planner.paper.outlines import Half
from planner.plan.wording_press import to_the_side
from planner.pressing.placement import hard_parts_near
from planner.pressing.usual import SIDES, Side
from planner.shop.garments import SizeGroup
from planner.window.look import Type, contrast, tokens_of, type_font
from planner.window.pixmaps import Pictures
from planner.window.press import words
from planner.window.press.geometry import Frame, ShownPrint, frame_for, is_back, shown_print

_NUDGE_MM = {LengthUnit.INCH: MM_PER_INCH / 16, LengthUnit.MILLIMETRE: 1.0}
_DRAG_MM = {LengthUnit.INCH: MM_PER_INCH / 4, LengthUnit.MILLIMETRE: 5.0}
"""A hand puts a print where a ruler finds it again; keys and typing are finer."""
_FAST = 8
_CATCH_PX = 7
_CHOSEN, _CASING, _RESTING = "#0a6464", "#ffffff", "#8a877f"
"""Lines around prints, which lie on cloth of any colour: the light accent cased in white, and a mid grey."""
EDGE_PX, _BESIDE_PX = 34, 88
"""Above and below the garment, and at its sides where there is room, for its dimension lines."""
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_gestures = itertools.count(1)


class GarmentView(QWidget):
    """One side of a garment in one size, true to scale, with the chosen print's measures."""

    placed = Signal(str, float, float, str)
    """Print key, top and aside in mm, gesture."""
    moving = Signal(float, float)
    """Where a hand has the chosen print right now: top and aside in mm; nothing is settled by it."""
    print_chosen = Signal(str)

    def __init__(self, pictures: Pictures) -> None:
        super().__init__()
        self._pictures = pictures
        self._line: GarmentLine | None = None
        self._size: SizeCount | None = None
        self._prints: tuple[ShownPrint, ...] = ()
        self._hard_parts: tuple[Rect, ...] = ()
        self._chosen = ""
        self._back = False
        self._side = Side.FRONT
        self._unit = LengthUnit.INCH
        self._usual_top_mm: float | None = None
        self._pressed: QPointF | None = None
        self._held: ShownPrint | None = None
        self._gesture = ""
        self.setMinimumSize(QSize(240, 180))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(words.GARMENT)

    def show_print(
        self, job: Job, key: str, size: SizeCount | None, unit: LengthUnit, usual_top_mm: float | None
    ) -> None:
        """Show the garment of a print in one size; the other prints of that side are shown with it."""
        chosen = job.print_of(key)
        if key != self._chosen:
            self._gesture = ""
        self._line, self._size, self._unit = job.line(chosen.line), size, unit
        self._chosen, self._back, self._usual_top_mm = key, is_back(chosen.location), usual_top_mm
        group = size.group if size else SizeGroup.ADULT
        length_mm = size.body_length_mm if size else None
        self._side = SIDES[chosen.location]
        self._hard_parts = tuple(box for _, box in hard_parts_near(self._line, chosen, length_mm))
        self._prints = tuple(
            shown_print(job, print_, group)
            for print_ in job.prints_on(chosen.line)
            if is_back(print_.location) is self._back
        )
        self.update()

    @property
    def frame(self) -> Frame | None:
        """How millimetres become pixels; None while nothing is shown."""
        if self._line is None:
            return None
        return frame_for(
            self._line,
            self._size,
            width=self.width() - 2 * min(_BESIDE_PX, self.width() / 8),
            height=self.height() - 2 * EDGE_PX,
            middle=self.width() / 2,
            back=self._back,
        )

    @property
    def chosen(self) -> ShownPrint | None:
        """The chosen print, where the hand has it now."""
        return self._held or next((p for p in self._prints if p.key == self._chosen), None)

    def box_of(self, print_: ShownPrint) -> QPolygonF:
        """A print's corners in pixels of this widget."""
        frame = self.frame
        assert frame is not None
        return self._to_view(frame, print_).map(QPolygonF(self._upright(frame, print_)))

    def _upright(self, frame: Frame, print_: ShownPrint) -> QRectF:
        wide, high = print_.size.width_mm * frame.scale, print_.size.height_mm * frame.scale
        return QRectF(-wide / 2, -high / 2, wide, high)

    def _to_view(self, frame: Frame, print_: ShownPrint) -> QTransform:
        x, y = frame.centre(print_)
        return QTransform().translate(x, y + EDGE_PX).rotate(frame.spot(print_).up_deg)

    def _paint_garment(self, painter: QPainter, frame: Frame, line: GarmentLine) -> None:
        tokens = tokens_of(self)
        outline = frame.outline
        painter.save()
        painter.translate(0, EDGE_PX)
        dark = contrast(line.colour.hex, "#000000") < contrast(line.colour.hex, "#ffffff")
        colour = QColor(line.colour.hex)
        pen = QPen(QColor(tokens.edge), 1.4)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.setPen(pen)
        painter.setBrush(colour)
        painter.drawPath(_closed(frame, outline.back if self._back else outline.front))
        seam = _blend(colour, QColor("#ffffff" if dark else "#000000"), 0.3)
        painter.save()
        painter.setClipPath(_closed(frame, outline.back if self._back else outline.front))
        painter.setPen(QPen(seam, 1, Qt.PenStyle.DotLine))
        painter.setBrush(QBrush(seam, Qt.BrushStyle.BDiagPattern))
        for part in self._hard_parts:
            painter.drawRect(QRectF(*frame.box(part, self._side)))
        painter.restore()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(seam, 1))
        for half in (*outline.right_lines, *(() if self._back else outline.front_lines)):
            for side in (1, -1):
                painter.drawPath(_open(frame, half, side))
        painter.restore()

    def _paint_print(self, painter: QPainter, frame: Frame, print_: ShownPrint, chosen: bool) -> None:
        box = self._upright(frame, print_)
        painter.save()
        painter.setTransform(self._to_view(frame, print_), True)
        longest = max(box.width(), box.height()) * self.devicePixelRatioF()
        seen = self._pictures.picture(print_.artwork.key, longest)
        if seen is not None:
            painter.drawPixmap(box, seen, QRectF(seen.rect()))
        else:
            painter.fillRect(box, QColor(128, 128, 128, 90))
        for colour, wide in ((_CASING, 3.0), (_CHOSEN, 1.4)) if chosen else ((_RESTING, 1.0),):
            pen = QPen(QColor(colour), wide)
            pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            if not chosen:
                pen.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.drawRect(box)
        painter.restore()

    def _paint_measures(self, painter: QPainter, frame: Frame, print_: ShownPrint) -> None:
        """Dimension lines: from the mark, from the centre line, and the print's own size."""
        tokens = tokens_of(self)
        box = self.box_of(print_).boundingRect()
        mark_x, mark_y = frame.mark(print_)
        mark_y += EDGE_PX
        painter.setFont(type_font(self.font(), Type.SMALL, strong=True))
        guide = QPen(QColor(tokens.quiet), 1, Qt.PenStyle.DashLine)
        spot = frame.spot(print_)
        right = min(self.width() - 84.0, frame.point(frame.outline.reach_mm, 0)[0] + 10)
        edge_y = box.bottom() if spot.from_below else box.top()
        if spot.up_deg:
            words = f"{format_length(print_.top_mm, self._unit)} {print_.measured}"
            self._label(painter, QPointF(box.center().x(), box.top() - 8), words)
        else:
            painter.setPen(guide)
            painter.drawLine(QPointF(mark_x, mark_y), QPointF(right + 6, mark_y))
            painter.drawLine(QPointF(box.right(), edge_y), QPointF(right + 6, edge_y))
            self._arrow(painter, QPointF(right, mark_y), QPointF(right, edge_y))
            middle = QPointF(right + 8, (mark_y + edge_y) / 2)
            self._label(painter, middle, format_length(print_.top_mm, self._unit), left=True)
            painter.setPen(QPen(QColor(tokens.quiet), 1, Qt.PenStyle.DashDotLine))
            centre = frame.point(spot.x_mm, 0)[0]
            painter.drawLine(QPointF(centre, EDGE_PX - 12), QPointF(centre, self.height() - EDGE_PX + 12))
            if print_.aside_mm:
                level = EDGE_PX - 12.0
                painter.setPen(guide)
                painter.drawLine(QPointF(box.center().x(), box.top()), QPointF(box.center().x(), level))
                self._arrow(painter, QPointF(centre, level), QPointF(box.center().x(), level))
                words = to_the_side(print_.aside_mm, self._unit)
                self._label(painter, QPointF((centre + box.center().x()) / 2, level - 10), words)
        level = self.height() - EDGE_PX + 12.0
        if not spot.up_deg:
            painter.setPen(guide)
            for x in (box.left(), box.right()):
                painter.drawLine(QPointF(x, box.bottom()), QPointF(x, level))
            self._arrow(painter, QPointF(box.left(), level), QPointF(box.right(), level))
        size = format_size(print_.size.width_mm, print_.size.height_mm, self._unit)
        under = box.bottom() + 12 if spot.up_deg else level + 12
        self._label(painter, QPointF(box.center().x(), under), size)

    def _label(self, painter: QPainter, at: QPointF, words: str, *, left: bool = False) -> None:
        """Words on a ground of their own, so that they read on any garment."""
        tokens = tokens_of(self)
        wide = painter.fontMetrics().horizontalAdvance(words) + 8
        x = at.x() if left else at.x() - wide / 2
        box = QRectF(min(max(0.0, x), self.width() - wide), at.y() - 8, wide, 17)
        painter.fillRect(box, QColor(tokens.canvas))
        painter.setPen(QColor(tokens.text))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def _arrow(self, painter: QPainter, start: QPointF, end: QPointF) -> None:
        painter.setPen(QPen(QColor(tokens_of(self).text), 1.2))
        painter.drawLine(start, end)
        way = end - start
        long = max(1e-6, (way.x() ** 2 + way.y() ** 2) ** 0.5)
        if long < 8:
            return
        step, across = way / long * 5, QPointF(-way.y(), way.x()) / long * 2.6
        for tip, back in ((end, -step), (start, step)):
            painter.setBrush(QColor(tokens_of(self).text))
            painter.drawPolygon(QPolygonF([tip, tip + back + across, tip + back - across]))
            painter.setBrush(Qt.BrushStyle.NoBrush)

    def _catch(self, print_: ShownPrint, start: ShownPrint, frame: Frame) -> ShownPrint:
        """The print by a ruler's marks, or where it is centred or usual if it is almost there."""
        reach, step_mm = _CATCH_PX / frame.scale, _DRAG_MM[self._unit]
        top_mm, aside_mm = (
            now if now == before else round(now / step_mm) * step_mm
            for now, before in ((print_.top_mm, start.top_mm), (print_.aside_mm, start.aside_mm))
        )
        if abs(aside_mm) < reach:
            aside_mm = 0.0
        if self._usual_top_mm is not None and abs(top_mm - self._usual_top_mm) < reach:
            top_mm = self._usual_top_mm
        return print_.at(top_mm, aside_mm)

    def _print_at(self, at: QPointF) -> ShownPrint | None:
        under = [p for p in self._prints if self.box_of(p).containsPoint(at, Qt.FillRule.OddEvenFill)]
        under.sort(key=lambda print_: print_.key != self._chosen)
        return under[0] if under else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        found = self._print_at(event.position()) if self.frame else None
        if event.button() is Qt.MouseButton.LeftButton and found is not None:
            self._gesture = ""
            if found.key != self._chosen:
                self.print_chosen.emit(found.key)
            self._pressed = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        frame, chosen = self.frame, next((p for p in self._prints if p.key == self._chosen), None)
        if self._pressed is None or frame is None or chosen is None:
            over = self._print_at(event.position()) if frame else None
            self.setCursor(Qt.CursorShape.OpenHandCursor if over else Qt.CursorShape.ArrowCursor)
            return
        way = event.position() - self._pressed
        moved = frame.moved(chosen, way.x(), way.y())
        free = event.modifiers() & Qt.KeyboardModifier.AltModifier
        self._hold(moved if free else self._catch(moved, chosen, frame))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        held, self._held, self._pressed = self._held, None, None
        self.setCursor(Qt.CursorShape.ArrowCursor)
        if held is not None:
            self._keep(held)
            self.placed.emit(held.key, held.top_mm, held.aside_mm, f"print place {next(_gestures)}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        frame, chosen = self.frame, self.chosen
        if event.key() == Qt.Key.Key_Escape and self._pressed is not None:
            self._pressed = None
            self._hold(None)
        elif event.key() in _ARROWS and frame is not None and chosen is not None:
            right, down = _ARROWS[Qt.Key(event.key())]
            times = _FAST if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            step = _NUDGE_MM[self._unit] * times * frame.scale
            moved = frame.moved(chosen, right * step, down * step)
            self._gesture = self._gesture or f"print place {next(_gestures)}"
            self._keep(moved)
            self.placed.emit(moved.key, moved.top_mm, moved.aside_mm, self._gesture)
        else:
            super().keyPressEvent(event)

    def _hold(self, held: ShownPrint | None) -> None:
        self._held = held
        if (shown := self.chosen) is not None:
            self.moving.emit(shown.top_mm, shown.aside_mm)
        self.update()

    def _keep(self, moved: ShownPrint) -> None:
        """Show the print where it was put until the plan confirms it."""
        self._prints = tuple(moved if print_.key == moved.key else print_ for print_ in self._prints)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._gesture = ""
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.canvas))
        frame = self.frame
        if frame is not None and self._line is not None:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            self._paint_garment(painter, frame, self._line)
            chosen = self.chosen
            for print_ in self._prints:
                if print_.key != self._chosen:
                    self._paint_print(painter, frame, print_, False)
            if chosen is not None:
                self._paint_print(painter, frame, chosen, True)
                self._paint_measures(painter, frame, chosen)
        if self.hasFocus():
            painter.setPen(QPen(QColor(tokens.accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()


def _blend(one: QColor, other: QColor, share: float) -> QColor:
    """A colour on the way from one to the other."""
    mixed = (
        round(a + (b - a) * share)
        for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True)  # type: ignore[index]
    )
    return QColor(*mixed)


def _open(frame: Frame, half: Half, side: int) -> QPainterPath:
    (x, y), parts = half
    path = QPainterPath(QPointF(*frame.point(side * x, y)))
    for kind, *figures in parts:
        points = [
            QPointF(*frame.point(side * figures[at], figures[at + 1])) for at in range(0, len(figures), 2)
        ]
        if kind == "l":
            path.lineTo(points[0])
        else:
            path.cubicTo(points[0], points[1], points[2])
    return path


def _closed(frame: Frame, half: Half) -> QPainterPath:
    """The right half and its mirror image as one shape."""
    path = _open(frame, half, 1)
    path.connectPath(_open(frame, half, -1).toReversed())
    path.closeSubpath()
    return path
