"""What is drawn over sheets and pieces: faults, offered spots, snapping guides."""

from collections.abc import Sequence
from enum import Enum, auto

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QPolygonF,
)
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget
from shapely import get_parts
from shapely.geometry.base import BaseGeometry

from planner.window.look import Tokens, Type, type_font

_LEAST_PX = 3
_HIGH_PX, _ASIDE_PX = 20.0, 6.0
"""Height of a tag, and how far from its spot it begins."""
_MOST_STEPS = 3
"""So many heights aside a tag still is seen to belong to its spot."""


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


def path_of(shape: BaseGeometry) -> QPainterPath:
    """A shape in mm as a path to draw, holes left open."""
    path = QPainterPath()
    for part in get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            path.addPolygon(QPolygonF([QPointF(x, y) for x, y in ring.coords]))
    return path


class DashesItem(QGraphicsItem):
    """Dashed outlines: the gap around what is selected, or the spot that is offered."""

    def __init__(self, z: float) -> None:
        super().__init__()
        self.setZValue(z)
        self.path = QPainterPath()
        self._pen = QPen(Qt.PenStyle.NoPen)

    def show_path(self, path: QPainterPath, pen: QPen) -> None:
        self.prepareGeometryChange()
        self.path, self._pen = path, pen

    def boundingRect(self) -> QRectF:
        return self.path.controlPointRect()

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.setPen(self._pen)
        painter.drawPath(self.path)


class HatchItem(QGraphicsItem):
    """The area of one fault, hatched at the same width of line at any zoom."""

    def __init__(self, areas: Sequence[QPainterPath], brush: QBrush, tokens: Tokens) -> None:
        super().__init__()
        self.setZValue(3)
        self._areas = areas
        self._brush, self._tokens = brush, tokens

    def boundingRect(self) -> QRectF:
        whole = QRectF()
        for area in self._areas:
            whole = whole.united(area.boundingRect())
        return whole

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        to_view = painter.worldTransform()
        painter.save()
        painter.resetTransform()
        painter.setBrush(self._brush)
        painter.setPen(QPen(QColor(self._tokens.stop), 1))
        for area in self._areas:
            seen = to_view.map(area)
            box = seen.boundingRect()
            if min(box.width(), box.height()) >= _LEAST_PX:
                painter.drawPath(seen)
                continue
            # A sliver must still be seen: never drawn thinner than three pixels.
            grow_x, grow_y = max(0.0, _LEAST_PX - box.width()) / 2, max(0.0, _LEAST_PX - box.height()) / 2
            painter.drawRect(box.adjusted(-grow_x, -grow_y, grow_x, grow_y))
        painter.restore()


class Side(Enum):
    """Where a tag stands of its spot."""

    ABOVE = auto()
    BELOW = auto()
    RIGHT = auto()


class TagItem(QGraphicsItem):
    """A few words at a spot, on a ground of their own, at the same size at any zoom."""

    def __init__(self, words: str, font: QFont, tokens: Tokens, *, side: Side, colour: str) -> None:
        super().__init__()
        self.setZValue(6)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self.words, self._tokens, self._colour = words, tokens, colour
        self._font = type_font(font, Type.SMALL, strong=True)
        wide = QFontMetricsF(self._font).horizontalAdvance(words) + 12
        if side is Side.RIGHT:
            self._box = QRectF(_ASIDE_PX, -_HIGH_PX / 2, wide, _HIGH_PX)
        else:
            top = _ASIDE_PX if side is Side.BELOW else -_ASIDE_PX - _HIGH_PX
            self._box = QRectF(-wide / 2, top, wide, _HIGH_PX)
        self._top = self._box.top()
        self._down = -1 if side is Side.ABOVE else 1

    def step_aside(self, px_per_mm: float, others: Sequence["TagItem"]) -> None:
        """Go on up or down until none of the others is covered at this scale; without room there, away."""
        self.prepareGeometryChange()
        taken = [other.seen_at(px_per_mm) for other in others if other.isVisible()]
        for step in range(_MOST_STEPS + 1):
            self._box.moveTop(self._top + self._down * step * (_HIGH_PX + 2))
            if not any(box.intersects(self.seen_at(px_per_mm)) for box in taken):
                self.setVisible(True)
                return
        self.setVisible(False)

    def seen_at(self, px_per_mm: float) -> QRectF:
        """Its box in pixels from the scene's corner."""
        return self._box.translated(self.scenePos() * px_per_mm)

    def boundingRect(self) -> QRectF:
        return self._box

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        inner = self._box.adjusted(0.5, 0.5, -0.5, -0.5)
        painter.fillRect(inner, QColor(self._tokens.field))
        painter.setPen(QPen(QColor(self._colour), 1))
        painter.drawRect(inner)
        painter.setPen(QColor(self._tokens.text))
        painter.setFont(self._font)
        painter.drawText(inner, Qt.AlignmentFlag.AlignCenter, self.words)


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
