"""A small chart of the price of a garment by quantity."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.measures.figures import whole
from planner.plan.wording import bare_money
from planner.pricing.ladder import Rung
from planner.window.costs import words
from planner.window.look import GRID, Type, tokens_of, type_font
from planner.window.offers.scale import Scale, step_for, ticks

_TICK_ROOM_PX = 36


class LadderChart(QWidget):
    """Dots at the quantities, joined; the one under the cursor is told by `pointed`."""

    pointed = Signal(int)
    """Place among the rungs, -1 for none."""

    def __init__(self) -> None:
        super().__init__()
        self._rungs: tuple[Rung, ...] = ()
        self._now = 0
        self._currency = "USD"
        self._at = -1
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(f"{words.CHART}. {words.CHART_KEYS}")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_rungs(self, rungs: tuple[Rung, ...], now: int, currency: str) -> None:
        self._rungs, self._now, self._currency = rungs, now, currency
        self._point(-1)
        self.update()

    def spot(self, at: int) -> QPointF:
        """Where a rung is drawn."""
        across, up, _ = self._scales()
        return QPointF(across.pixel(self._rungs[at].quantity), up.pixel(float(self._rungs[at].price_each)))

    def sizeHint(self) -> QSize:
        return QSize(120 * GRID, 52 * GRID)

    def minimumSizeHint(self) -> QSize:
        return QSize(60 * GRID, 44 * GRID)

    def _plot(self) -> QRectF:
        metrics = QFontMetricsF(type_font(self.font(), Type.SMALL))
        most = max(float(rung.price_each) for rung in self._rungs)
        left = metrics.horizontalAdvance(self._money(most)) + 5 * GRID
        line = metrics.height()
        return QRectF(left, 2 * line, self.width() - left - 6 * GRID, self.height() - 4 * line - GRID)

    def _scales(self) -> tuple[Scale, Scale, tuple[float, ...]]:
        plot = self._plot()
        most = max(float(rung.price_each) for rung in self._rungs)
        step = step_for(most, max(2, int(plot.height() / _TICK_ROOM_PX)))
        high = step * max(1, -(-most // step))
        across = Scale(0, max(rung.quantity for rung in self._rungs), plot.left(), plot.right())
        return across, Scale(0, high, plot.bottom(), plot.top()), ticks(0, high, step)

    def _money(self, amount: float) -> str:
        return bare_money(amount, self._currency)

    def paintEvent(self, event: QPaintEvent) -> None:
        if not self._rungs:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(type_font(self.font(), Type.SMALL))
        self._draw_ground(painter)
        self._draw_rungs(painter)
        painter.end()

    def _draw_ground(self, painter: QPainter) -> None:
        tokens, plot = tokens_of(self), self._plot()
        _, up, prices = self._scales()
        line = painter.fontMetrics().height()
        for price in prices:
            y = round(up.pixel(price)) + 0.5
            painter.setPen(QPen(QColor(tokens.edge if price == 0 else tokens.line), 1))
            painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
            painter.setPen(QColor(tokens.quiet))
            room = QRectF(0, y - line / 2, plot.left() - GRID, line)
            painter.drawText(
                room, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, self._money(price)
            )
        painter.drawText(QPointF(GRID, line), f"{self._currency}, {words.CHART.lower()}")

    def _draw_rungs(self, painter: QPainter) -> None:
        tokens, plot = tokens_of(self), self._plot()
        line = painter.fontMetrics().height()
        spots = [self.spot(at) for at in range(len(self._rungs))]
        painter.setPen(QPen(QColor(tokens.text), 1.8))
        painter.drawPolyline(spots)
        free_from = 0.0
        for at, (rung, spot) in enumerate(zip(self._rungs, spots, strict=True)):
            is_now = rung.quantity == self._now
            painter.setPen(QPen(QColor(tokens.text), 1.8))
            painter.setBrush(QColor(tokens.text if is_now else tokens.ground))
            painter.drawEllipse(spot, 4.5, 4.5)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            if at == self._at:
                painter.setPen(QPen(QColor(tokens.accent), 2))
                painter.drawEllipse(spot, 8, 8)
            text = f"{words.NOW} {whole(rung.quantity)}" if is_now else whole(rung.quantity)
            width = painter.fontMetrics().horizontalAdvance(text)
            # Where two stand too near the second goes a line lower: none is left out.
            down = line if spot.x() - width / 2 < free_from else 0
            painter.setPen(QColor(tokens.text if is_now else tokens.quiet))
            painter.drawText(QPointF(spot.x() - width / 2, plot.bottom() + line + down), text)
            free_from = spot.x() + width / 2 + GRID
        if self.hasFocus():
            painter.setPen(QPen(QColor(tokens.accent), 2))
            painter.drawRect(plot.adjusted(-2, -2, 2, 2))

    def _point(self, at: int) -> None:
        if at != self._at:
            self._at = at
            self.pointed.emit(at)
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._rungs:
            away = [abs(self.spot(at).x() - event.position().x()) for at in range(len(self._rungs))]
            self._point(away.index(min(away)))

    def leaveEvent(self, event: object) -> None:
        if not self.hasFocus():
            self._point(-1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        along = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}.get(Qt.Key(event.key()))
        if along is None or not self._rungs:
            super().keyPressEvent(event)
            return
        self._point(min(len(self._rungs) - 1, max(0, self._at + along)))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._point(-1)
