"""The chart of cost a garment against quantity: read by mouse or keys, drawn by `ChartPainter`."""

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.window.look import GRID, tokens_of
from planner.window.offers import words
from planner.window.offers.chart_painter import ChartPainter
from planner.window.offers.curves import Curve, Curves, cheapest_words

_ALONG = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1}
_ACROSS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}


class QuantityChart(QWidget):
    """Shows curves; the point under the cursor is told in a sentence."""

    pointed = Signal(str)
    """What the point under the cursor says, or nothing."""

    def __init__(self) -> None:
        super().__init__()
        self._curves: Curves | None = None
        self._cursor: tuple[str, int] | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(f"{words.CHART}. {words.CHART_KEYS}")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def curves(self) -> Curves | None:
        return self._curves

    @property
    def cursor_at(self) -> tuple[str, int] | None:
        """Offer and quantity under the cursor."""
        return self._cursor

    def show_curves(self, curves: Curves | None) -> None:
        """Show these curves; the cursor stays where it still is on one."""
        self._curves = curves
        if self._cursor is not None and self._pointed() is None:
            self._move(None)
        self.setAccessibleDescription(cheapest_words(curves) if curves else words.CHART_WAITS)
        self.update()

    def spot(self, offer: str, quantity: int) -> QPointF | None:
        """Where a point is drawn; None where there is none."""
        if self._curves is None:
            return None
        curve = next((each for each in self._curves.curves if each.offer == offer), None)
        point = curve.at(quantity) if curve else None
        return self._painter(self._curves).spot(point) if point else None

    def _painter(self, curves: Curves) -> ChartPainter:
        return ChartPainter(curves, self.rect().toRectF(), self.font(), tokens_of(self))

    def _pointed(self) -> str | None:
        """The sentence of the point under the cursor."""
        if self._curves is None or self._cursor is None:
            return None
        offer, quantity = self._cursor
        curve = next((each for each in self._curves.curves if each.offer == offer), None)
        point = curve.at(quantity) if curve else None
        return self._curves.told(curve, point) if curve and point else None

    def _move(self, cursor: tuple[str, int] | None) -> None:
        if cursor != self._cursor:
            self._cursor = cursor
            told = self._pointed() or ""
            if told:
                self.setAccessibleDescription(told)
            self.pointed.emit(told)
            self.update()

    def _start(self, curves: Curves) -> tuple[str, int] | None:
        """Where keys begin: the offer chosen, at the present quantity."""
        if not curves.curves:
            return None
        wanted = [curve for curve in curves.curves if curve.offer == curves.chosen] or list(curves.curves)
        return wanted[0].offer, _nearest(wanted[0], curves.now)

    def sizeHint(self) -> QSize:
        return QSize(90 * GRID, 76 * GRID)

    def minimumSizeHint(self) -> QSize:
        return QSize(70 * GRID, 64 * GRID)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._curves is not None and self._curves.curves:
            drawn = self._painter(self._curves)
            drawn.draw(painter, self._cursor)
            if self.hasFocus():
                drawn.draw_focus(painter)
        painter.end()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._curves is None:
            return
        self._move(self._painter(self._curves).nearest(event.position()))
        self.setToolTip(self._pointed() or "")

    def leaveEvent(self, event: object) -> None:
        if not self.hasFocus():
            self._move(None)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self._curves is not None and self._cursor is None:
            self._move(self._start(self._curves))
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._move(None)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, curves = Qt.Key(event.key()), self._curves
        moves = key in _ALONG or key in _ACROSS or key in (Qt.Key.Key_Home, Qt.Key.Key_End)
        if curves is None or not curves.curves or not moves:
            super().keyPressEvent(event)
            return
        start = self._cursor or self._start(curves)
        if start is None:
            return
        offer, quantity = start
        if key in _ACROSS:
            by_cost = _by_cost(curves, quantity)
            keys = [curve.offer for curve in by_cost]
            at = keys.index(offer) if offer in keys else 0
            self._move((keys[min(len(keys) - 1, max(0, at + _ACROSS[key]))], quantity))
            return
        quantities = curves.quantities
        at = quantities.index(quantity) if quantity in quantities else 0
        wanted = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: len(quantities) - 1}.get(key, at + _ALONG.get(key, 0))
        self._move((offer, quantities[min(len(quantities) - 1, max(0, wanted))]))


def _nearest(curve: Curve, quantity: int) -> int:
    return min((point.quantity for point in curve.points), key=lambda at: abs(at - quantity))


def _by_cost(curves: Curves, quantity: int) -> list[Curve]:
    """Curves from the top of the chart downwards at a quantity."""
    priced = [(point.cost_each, curve) for curve in curves.curves if (point := curve.at(quantity))]
    return [curve for _, curve in sorted(priced, key=lambda pair: -pair[0])]
