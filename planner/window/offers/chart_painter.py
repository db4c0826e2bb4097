"""Draws the chart of cost a garment against quantity."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from planner.buying.quantity import QuantityPoint
from planner.measures.figures import decimal, whole
from planner.measures.money import minor_units
from planner.plan.wording import bare_money
from planner.window.look import GRID, RELATED, Tokens, Type, type_font
from planner.window.offers import words
from planner.window.offers.curves import Curve, Curves
from planner.window.offers.scale import Scale, kept_apart, step_for, ticks

_EDGE = 4 * GRID
_NAMES_SHARE = 0.26
_NAMES_MOST = 46 * GRID
_SAMPLE = 6 * GRID
_NEAR_PX = 28.0
_TICK_ROOM_Y, _TICK_ROOM_X = 36, 64

# After Okabe & Ito, "Color Universal Design" (2008): blue, bluish green, reddish purple, and the text's
# own colour; vermillion and orange are left to the status shapes. Each holds 3:1 on its ground.
LINE_COLOURS = {
    False: ("#23221f", "#0072b2", "#007a5a", "#a04a80"),
    True: ("#eeece7", "#6dbdf0", "#4fcf9f", "#e8a3cb"),
}
LINE_DASHES: tuple[tuple[float, ...], ...] = ((), (6.0, 3.0), (1.2, 2.4), (8.0, 3.0, 1.2, 3.0))
"""Lengths of dash and gap in line widths; the first line is solid."""


class ChartPainter:
    """One drawing of curves into a box; also tells where things are."""

    def __init__(self, curves: Curves, box: QRectF, base: QFont, tokens: Tokens) -> None:
        self._curves, self._tokens = curves, tokens
        self._small = type_font(base, Type.SMALL)
        self._strong = type_font(base, Type.SMALL, strong=True)
        metrics = QFontMetricsF(self._small)
        self._line = metrics.height()
        names = min(box.width() * _NAMES_SHARE, _NAMES_MOST)
        # One line for the unit of cost, one for the quantities where the cheapest changes.
        top = box.top() + 2 * self._line + RELATED
        bottom = box.bottom() - 2 * self._line - 2 * GRID
        step = step_for(curves.top, max(2, int((bottom - top) / _TICK_ROOM_Y)), least=self._coin())
        high = step * max(1, -(-curves.top // step))
        self._cost_ticks = ticks(0, high, step)
        widest = max(metrics.horizontalAdvance(self._cost(tick)) for tick in self._cost_ticks)
        self._plot = QRectF(
            QPointF(box.left() + _EDGE + widest + GRID, top), QPointF(box.right() - _EDGE - names, bottom)
        )
        self._names = QRectF(self._plot.right() + RELATED, top, names - RELATED, bottom - top)
        self._x = Scale(0, max(1, curves.most), self._plot.left(), self._plot.right())
        self._y = Scale(0, high, self._plot.bottom(), self._plot.top())

    @property
    def unit_box(self) -> QRectF:
        """What the axis of cost tells stands all across: over the lines' names nothing is in its way."""
        return QRectF(_EDGE, 0, self._names.right() - _EDGE, self._line)

    @property
    def unit_told(self) -> str:
        """The unit of cost and the signs used; in a narrow chart as much of it as there is room for."""
        told = words.axis_of_cost(self._curves.currency)
        return QFontMetricsF(self._small).elidedText(told, Qt.TextElideMode.ElideRight, self.unit_box.width())

    def spot(self, point: QuantityPoint) -> QPointF:
        return QPointF(self._x.pixel(point.quantity), self._y.pixel(float(point.cost_each)))

    def nearest(self, at: QPointF) -> tuple[str, int] | None:
        """Offer and quantity of the point nearest to a place; None far from all."""
        found: tuple[float, str, int] | None = None
        for curve in self._curves.curves:
            for quick in curve.points:
                point = curve.at(quick.quantity) or quick
                away = self.spot(point) - at
                # Along the axis of quantity a hand aims well; across it should not have to.
                distance = (away.x() ** 2 * 4 + away.y() ** 2) ** 0.5
                if distance < _NEAR_PX * 2 and (found is None or distance < found[0]):
                    found = distance, curve.offer, point.quantity
        return (found[1], found[2]) if found else None

    def draw(self, painter: QPainter, cursor: tuple[str, int] | None) -> None:
        self._draw_grid(painter)
        self._draw_crossings(painter)
        self._draw_now(painter)
        for curve in self._curves.curves:
            self._draw_curve(painter, curve)
        self._draw_points_now(painter)
        self._draw_names(painter)
        if cursor is not None:
            self._draw_cursor(painter, cursor)

    def draw_focus(self, painter: QPainter) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(self._tokens.accent), 2))
        painter.drawRect(self._plot.adjusted(-2, -2, 2, 2))

    def _coin(self) -> float:
        return 10.0 ** -minor_units(self._curves.currency)

    def _cost(self, amount: float) -> str:
        return bare_money(amount, self._curves.currency)

    def _draw_grid(self, painter: QPainter) -> None:
        tokens, plot = self._tokens, self._plot
        painter.setFont(self._small)
        right, centre = Qt.AlignmentFlag.AlignRight, Qt.AlignmentFlag.AlignHCenter
        middle = Qt.AlignmentFlag.AlignVCenter
        for amount in self._cost_ticks:
            y = round(self._y.pixel(amount)) + 0.5
            painter.setPen(QPen(QColor(tokens.edge if amount == 0 else tokens.line), 1))
            painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
            painter.setPen(QColor(tokens.quiet))
            text = QRectF(0, y - self._line / 2, plot.left() - GRID, self._line)
            painter.drawText(text, right | middle, self._cost(amount))
        painter.drawText(self.unit_box, Qt.AlignmentFlag.AlignLeft | middle, self.unit_told)
        step = step_for(self._curves.most, max(2, int(plot.width() / _TICK_ROOM_X)), least=1)
        now = self._x.pixel(self._curves.now)
        for quantity in ticks(0, self._curves.most, step):
            x = self._x.pixel(quantity)
            painter.setPen(QPen(QColor(tokens.edge), 1))
            painter.drawLine(QPointF(x, plot.bottom()), QPointF(x, plot.bottom() + GRID))
            if abs(x - now) > 9 * GRID:
                painter.setPen(QColor(tokens.quiet))
                text = QRectF(x - 40, plot.bottom() + GRID, 80, self._line)
                painter.drawText(text, centre | middle, decimal(quantity, 0))
        painter.setPen(QColor(tokens.quiet))
        below = QRectF(plot.right() - 120, plot.bottom() + GRID + self._line, 120, self._line)
        painter.drawText(below, right | middle, words.CHART_GARMENTS)

    def _draw_crossings(self, painter: QPainter) -> None:
        """A thin line down from each quantity where the cheapest changes, the quantity at its top."""
        painter.setFont(self._small)
        metrics = QFontMetricsF(self._small)
        free_from = self._plot.left()
        for crossing in self._curves.crossings:
            x = self._x.pixel(crossing.quantity)
            pen = QPen(QColor(self._tokens.edge), 1)
            pen.setDashPattern([2, 3])
            painter.setPen(pen)
            painter.drawLine(QPointF(x, self._plot.top()), QPointF(x, self._plot.bottom()))
            self._draw_turn(painter, QPointF(x, self._plot.top() - 3))
            text = whole(crossing.quantity)
            width = metrics.horizontalAdvance(text)
            if x - width / 2 >= free_from:
                painter.setPen(QColor(self._tokens.text))
                above = QRectF(x - width / 2, self._plot.top() - 7 - self._line, width + 1, self._line)
                painter.drawText(above, Qt.AlignmentFlag.AlignCenter, text)
                free_from = x + width / 2 + GRID

    def _draw_turn(self, painter: QPainter, tip: QPointF) -> None:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._tokens.text))
        painter.drawPolygon(QPolygonF([tip, tip + QPointF(-3.5, -5), tip + QPointF(3.5, -5)]))
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _draw_now(self, painter: QPainter) -> None:
        """The present quantity: a full line, named below the axis."""
        x = self._x.pixel(self._curves.now)
        painter.setPen(QPen(QColor(self._tokens.text), 1))
        painter.drawLine(QPointF(x, self._plot.top()), QPointF(x, self._plot.bottom() + GRID))
        painter.setFont(self._strong)
        text = f"{words.NOW} {whole(self._curves.now)}"
        box = QRectF(x - 60, self._plot.bottom() + GRID, 120, self._line)
        painter.drawText(box, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter, text)

    def _pen(self, curve: Curve) -> QPen:
        colours = LINE_COLOURS[self._tokens.dark]
        width = 2.6 if curve.offer == self._curves.chosen else 1.8
        pen = QPen(QColor(colours[curve.style % len(colours)]), width)
        dashes = LINE_DASHES[curve.style % len(LINE_DASHES)]
        if dashes:
            pen.setDashPattern(list(dashes))
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        return pen

    def _draw_curve(self, painter: QPainter, curve: Curve) -> None:
        pen = self._pen(curve)
        painter.save()
        painter.setClipRect(self._plot.adjusted(-4, 0, 4, 1))
        painter.setPen(pen)
        painter.drawPolyline(QPolygonF([self.spot(point) for point in curve.points]))
        painter.setPen(QPen(pen.color(), 1.4))
        painter.setBrush(QColor(self._tokens.ground))
        for point in curve.points:
            if point.is_break and not self._curves.rough:
                painter.drawEllipse(self.spot(point), 2.6, 2.6)
        painter.restore()

    def _draw_points_now(self, painter: QPainter) -> None:
        for curve in self._curves.curves:
            quick, point = curve.quick_at(self._curves.now), curve.at(self._curves.now)
            if quick is not None and point is not None and point is not quick:
                self._draw_stem(painter, curve, quick, point)
        painter.setPen(QPen(QColor(self._tokens.ground), 1.5))
        for curve in self._curves.curves:
            point = curve.at(self._curves.now)
            if point is not None:
                painter.setBrush(self._pen(curve).color())
                painter.drawEllipse(self.spot(point), 4.5, 4.5)
        painter.setBrush(Qt.BrushStyle.NoBrush)

    def _draw_stem(self, painter: QPainter, curve: Curve, quick: QuantityPoint, known: QuantityPoint) -> None:
        """From a line, with a small bar across it, to the point off it that is known better."""
        line, point = self.spot(quick), self.spot(known)
        painter.setPen(QPen(self._pen(curve).color(), 3))
        painter.drawLine(line, point)
        painter.drawLine(line - QPointF(4, 0), line + QPointF(4, 0))

    def _draw_names(self, painter: QPainter) -> None:
        """Each line's name at its end, behind a sample of the line."""
        curves = [curve for curve in self._curves.curves if curve.points]
        ends = [max(self._plot.top(), self.spot(curve.points[-1]).y()) for curve in curves]
        height = 2 * self._line
        middles = kept_apart(ends, height, self._plot.top() - self._line, self._plot.bottom() + self._line)
        for curve, end, middle in zip(curves, ends, middles, strict=True):
            painter.setPen(QPen(QColor(self._tokens.line), 1))
            left = self._names.left()
            painter.drawLine(QPointF(self._plot.right() + 1, end), QPointF(left, middle))
            painter.setPen(self._pen(curve))
            painter.drawLine(QPointF(left, middle), QPointF(left + _SAMPLE, middle))
            painter.setPen(QColor(self._tokens.text))
            painter.setFont(self._strong if curve.offer == self._curves.chosen else self._small)
            text = QRectF(
                left + _SAMPLE + GRID, middle - height / 2, self._names.width() - _SAMPLE - GRID, height
            )
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(text, flags, curve.name)

    def _draw_cursor(self, painter: QPainter, cursor: tuple[str, int]) -> None:
        offer, quantity = cursor
        for curve in self._curves.curves:
            point = curve.at(quantity)
            if curve.offer == offer and point is not None:
                at = self.spot(point)
                at.setY(max(at.y(), self._plot.top()))
                painter.setPen(QPen(QColor(self._tokens.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawEllipse(at, 7, 7)
