"""What is drawn over sheets and pieces: faults, offered spots, snapping guides."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.measures.geometry import Rect
from planner.window.look import Tokens, Type, type_font
from planner.window.sheet.items import qrect


def hatch(tokens: Tokens) -> QBrush:
    """Two-tone diagonal hatch that shows on any artwork: the stop colour and white, in turn."""
    side = 10
    tile = QPixmap(side, side)
    tile.fill(Qt.GlobalColor.transparent)
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for colour, shift in ((tokens.stop, 0.0), ("#ffffff", side / 2)):
        painter.setPen(QPen(QColor(colour), side * 0.26))
        for start in (-side, 0, side):
            painter.drawLine(QPointF(start + shift - 1, side + 1), QPointF(start + shift + side + 1, -1))
    painter.end()
    return QBrush(tile)


class BoxesItem(QGraphicsItem):
    """Dashed boxes: the gap around what is selected, or the spot that is offered."""

    def __init__(self, z: float) -> None:
        super().__init__()
        self.setZValue(z)
        self._path = QPainterPath()
        self._pen = QPen(Qt.PenStyle.NoPen)

    def show_boxes(self, boxes: Sequence[QRectF], pen: QPen) -> None:
        self.prepareGeometryChange()
        self._pen = pen
        self._path = QPainterPath()
        for box in boxes:
            self._path.addRect(box)

    def boundingRect(self) -> QRectF:
        return self._path.controlPointRect()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setPen(self._pen)
        painter.drawPath(self._path)


class HatchItem(QGraphicsItem):
    """The area of one fault, hatched at the same width of line at any zoom."""

    def __init__(self, areas: Sequence[Rect], brush: QBrush, tokens: Tokens) -> None:
        super().__init__()
        self.setZValue(3)
        self._areas = [qrect(area) for area in areas]
        self._brush, self._tokens = brush, tokens

    def boundingRect(self) -> QRectF:
        whole = QRectF()
        for area in self._areas:
            whole = whole.united(area)
        return whole

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        to_view = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        for area in self._areas:
            # A sliver must still be seen: never drawn thinner than three pixels.
            seen = to_view.mapRect(area)
            grow_x, grow_y = max(0.0, 3 - seen.width()) / 2, max(0.0, 3 - seen.height()) / 2
            seen = seen.adjusted(-grow_x, -grow_y, grow_x, grow_y)
            painter.fillRect(seen, self._brush)
            painter.setPen(QPen(QColor(self._tokens.stop), 1))
            painter.drawRect(seen)
        painter.restore()


class TagItem(QGraphicsItem):
    """A few words at a spot, on a ground of their own, at the same size at any zoom."""

    def __init__(self, words: str, font: QFont, tokens: Tokens, *, below: bool) -> None:
        super().__init__()
        self.setZValue(6)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self._words, self._tokens = words, tokens
        self._font = type_font(font, Type.SMALL, strong=True)
        wide = QFontMetricsF(self._font).horizontalAdvance(words) + 12
        self._box = QRectF(-wide / 2, 6 if below else -26, wide, 20)

    def boundingRect(self) -> QRectF:
        return self._box

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        inner = self._box.adjusted(0.5, 0.5, -0.5, -0.5)
        painter.fillRect(inner, QColor(self._tokens.field))
        painter.setPen(QPen(QColor(self._tokens.stop), 1))
        painter.drawRect(inner)
        painter.setPen(QColor(self._tokens.text))
        painter.setFont(self._font)
        painter.drawText(inner, Qt.AlignmentFlag.AlignCenter, self._words)


class LinesItem(QGraphicsItem):
    """Straight lines with a pen each: snapping guides or cuts."""

    def __init__(self, z: float) -> None:
        super().__init__()
        self.setZValue(z)
        self._lines: list[tuple[QPointF, QPointF, QPen]] = []

    def show_lines(self, lines: Sequence[tuple[QPointF, QPointF, QPen]]) -> None:
        if not lines and not self._lines:
            return
        self.prepareGeometryChange()
        self._lines = list(lines)

    def boundingRect(self) -> QRectF:
        whole = QRectF()
        for start, end, _ in self._lines:
            whole = whole.united(QRectF(start, end).normalized().adjusted(-0.1, -0.1, 0.1, 0.1))
        return whole

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        for start, end, pen in self._lines:
            painter.setPen(pen)
            painter.drawLine(start, end)
