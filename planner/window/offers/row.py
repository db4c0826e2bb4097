"""One offer as a row of figures that opens to tell more."""

from collections.abc import Mapping

from PySide6.QtCore import QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QContextMenuEvent,
    QEnterEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy

from planner.window import wording
from planner.window.look import GRID, RELATED, Tokens, Type, draw_status, tokens_of, type_font
from planner.window.offers import words
from planner.window.offers.columns import EDGE, Columns, columns_for
from planner.window.offers.figures import Cell, Column, OfferShown
from planner.window.widgets import FocusDrawn

_LEFT_ALIGNED = frozenset({Column.NAME, Column.ARRIVES})
_STEPS = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}


class RowHead(FocusDrawn):
    """Draws the figures of one offer; a click or Enter opens and closes what is below."""

    toggled = Signal()
    stepped = Signal(int)
    """The cursor wants to go so many rows down."""
    menu_asked = Signal(QPoint)
    """A context menu is wanted at this place of the screen."""

    def __init__(self) -> None:
        super().__init__()
        self._shown: OfferShown | None = None
        self._fractions: Mapping[Column, float] = {}
        self._open = False
        self._hovered = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def shown(self) -> OfferShown | None:
        return self._shown

    def show_offer(self, shown: OfferShown, fractions: Mapping[Column, float]) -> None:
        """Show an offer; `fractions` is the room right of the decimal point in each column."""
        self._shown, self._fractions = shown, fractions
        self.setAccessibleName(shown.spoken)
        self.setToolTip(_hint(shown))
        self.updateGeometry()
        self.update()

    def show_open(self, is_open: bool) -> None:
        self._open = is_open
        self.setAccessibleDescription(words.OPEN if is_open else words.CLOSED)
        self.update()

    def _columns(self) -> Columns:
        return columns_for(self.width(), self.font())

    def _heights(self) -> tuple[float, float]:
        """Of a line of figures, and of a smaller line."""
        body = QFontMetricsF(type_font(self.font(), Type.BODY, strong=True))
        small = QFontMetricsF(type_font(self.font(), Type.SMALL))
        return body.height(), small.height()

    def _band(self) -> float:
        return sum(self._heights()) + GRID

    def _draw_cells(self, painter: QPainter, tokens: Tokens, shown: OfferShown) -> None:
        columns, band = self._columns(), self._band()
        line_height, small_height = self._heights()
        for column, cell in shown.cells.items():
            box = columns.box(column, RELATED, band, line_height)
            below = QRectF(box.left(), box.bottom(), box.width(), small_height)
            if column is Column.NAME:
                self._draw_name(painter, tokens, shown, box)
                continue
            self._draw_figure(painter, tokens, column, cell, box, strong=column is Column.COST)
            if column in shown.was and not cell.warns:
                self._draw_was(painter, tokens, column, cell, below)
                continue
            if column is Column.COST:
                # Its smaller line may run on under the next column, which has none.
                each = columns.box(Column.EACH, RELATED, band, line_height)
                below.setRight(max(box.right(), each.right() if each.top() == box.top() else 0.0))
            if column is Column.ARRIVES:
                press = columns.box(Column.PRESS, RELATED, band, line_height)
                below.setRight(press.left() - GRID)
            self._draw_below(painter, tokens, column, cell, below)

    def _draw_name(self, painter: QPainter, tokens: Tokens, shown: OfferShown, box: QRectF) -> None:
        painter.setFont(type_font(self.font(), Type.BODY, strong=shown.chosen))
        painter.setPen(QColor(tokens.text if shown.may_be_used else tokens.quiet))
        metrics = QFontMetricsF(painter.font())
        if metrics.horizontalAdvance(shown.name) > box.width():
            # A long name takes the room of both lines; the kind is told where the row opens.
            both = box.adjusted(0, 0, 0, self._heights()[1] + GRID / 2)
            flags = Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
            painter.drawText(both, flags, shown.name)
            return
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown.name)
        painter.setFont(type_font(self.font(), Type.SMALL))
        painter.setPen(QColor(tokens.quiet))
        metrics = QFontMetricsF(painter.font())
        kind = metrics.elidedText(shown.kind, Qt.TextElideMode.ElideRight, box.width())
        below = QRectF(box.left(), box.bottom(), box.width(), metrics.height())
        painter.drawText(below, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, kind)

    def _draw_figure(
        self, painter: QPainter, tokens: Tokens, column: Column, cell: Cell, box: QRectF, *, strong: bool
    ) -> None:
        middle = Qt.AlignmentFlag.AlignVCenter
        font = type_font(self.font(), Type.BODY, strong=strong)
        small = type_font(self.font(), Type.SMALL)
        shown = self._shown
        painter.setFont(font)
        painter.setPen(QColor(tokens.text if shown is None or shown.may_be_used else tokens.quiet))
        if column in _LEFT_ALIGNED:
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | middle, cell.figure)
            return
        unit_width = QFontMetricsF(small).horizontalAdvance(_unit_room(column, cell))
        whole, _, fraction = cell.figure.partition(".")
        point = box.right() - unit_width - GRID - self._fractions.get(column, 0.0)
        painter.drawText(
            QRectF(box.left() - EDGE, box.top(), point - box.left() + EDGE, box.height()),
            Qt.AlignmentFlag.AlignRight | middle,
            whole,
        )
        if fraction:
            rest = QRectF(point, box.top(), box.right() - point, box.height())
            painter.drawText(rest, Qt.AlignmentFlag.AlignLeft | middle, f".{fraction}")
        painter.setFont(small)
        painter.setPen(QColor(tokens.quiet))
        unit = QRectF(box.right() - unit_width, box.top(), unit_width + GRID, box.height())
        painter.drawText(unit, Qt.AlignmentFlag.AlignLeft | middle, cell.unit)

    def _draw_was(self, painter: QPainter, tokens: Tokens, column: Column, cell: Cell, box: QRectF) -> None:
        """What the figure was, right below it, in place of the smaller line."""
        small = type_font(self.font(), Type.SMALL)
        metrics = QFontMetricsF(small)
        painter.setFont(small)
        painter.setPen(QColor(tokens.quiet))
        text = wording.was(self._shown.was[column]) if self._shown else ""
        align = Qt.AlignmentFlag.AlignLeft
        if column not in _LEFT_ALIGNED:
            align = Qt.AlignmentFlag.AlignRight
            box = box.adjusted(-EDGE, 0, -metrics.horizontalAdvance(_unit_room(column, cell)) - GRID, 0)
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, text)

    def _draw_below(self, painter: QPainter, tokens: Tokens, column: Column, cell: Cell, box: QRectF) -> None:
        if not cell.below:
            return
        painter.setFont(type_font(self.font(), Type.SMALL, strong=cell.warns))
        painter.setPen(QColor(tokens.text if cell.warns else tokens.quiet))
        left = column in _LEFT_ALIGNED or column is Column.COST
        align = Qt.AlignmentFlag.AlignLeft if column in _LEFT_ALIGNED else Qt.AlignmentFlag.AlignRight
        metrics = QFontMetricsF(painter.font())
        room = box.width() if left else box.width() + GRID
        text = metrics.elidedText(cell.below, Qt.TextElideMode.ElideRight, room)
        painter.drawText(box, align | Qt.AlignmentFlag.AlignVCenter, text)

    def _draw_state(self, painter: QPainter, tokens: Tokens, shown: OfferShown) -> None:
        """Shapes and words: what singles the offer out, and what speaks against it."""
        small = type_font(self.font(), Type.SMALL, strong=True)
        painter.setFont(small)
        metrics = QFontMetricsF(small)
        columns = self._columns()
        left = columns.at[Column.NAME][0]
        top = RELATED + columns.bands * self._band() - GRID / 2
        height = metrics.height() + GRID
        for word in shown.marks:
            box = QRectF(left, top, 3 * GRID, height)
            _draw_mark(painter, tokens, box, chosen=word != words.CHEAPEST)
            left = box.right() + GRID
            painter.setPen(QColor(tokens.text))
            width = metrics.horizontalAdvance(word)
            painter.drawText(QRectF(left, top, width + 1, height), Qt.AlignmentFlag.AlignVCenter, word)
            left += width + 3 * GRID
        if shown.against:
            serious = shown.against[0].seriousness
            side = 3 * GRID
            mark = QRectF(left, top + (height - side) / 2, side, side)
            draw_status(painter, mark, serious, tokens.of(serious), tokens.ground)
            left = mark.right() + GRID + 2
            painter.setFont(type_font(self.font(), Type.SMALL))
            painter.setPen(QColor(tokens.text))
            room = self.width() - EDGE - left
            text = QFontMetricsF(painter.font()).elidedText(
                shown.against_words, Qt.TextElideMode.ElideRight, room
            )
            painter.drawText(QRectF(left, top, room, height), Qt.AlignmentFlag.AlignVCenter, text)

    def sizeHint(self) -> QSize:
        bands = self._columns().bands
        height = 2 * RELATED + bands * self._band() - GRID
        if self._shown is not None and (self._shown.marks or self._shown.against):
            height += self._heights()[1] + GRID
        return QSize(80 * GRID, round(height))

    def minimumSizeHint(self) -> QSize:
        return QSize(60 * GRID, self.sizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._shown is None:
            return
        tokens, shown = tokens_of(self), self._shown
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._open:
            painter.fillRect(self.rect(), QColor(tokens.chosen))
        elif self._hovered:
            painter.fillRect(self.rect(), QColor(tokens.field))
        _draw_caret(painter, tokens, QPointF(EDGE + GRID / 2, RELATED + self._heights()[0] / 2), self._open)
        self._draw_cells(painter, tokens, shown)
        self._draw_state(painter, tokens, shown)
        if self.hasFocus():
            painter.setPen(QPen(QColor(tokens.accent), 2))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def resizeEvent(self, event: object) -> None:
        self.updateGeometry()

    def enterEvent(self, event: QEnterEvent) -> None:
        self._hovered = True
        self.update()

    def leaveEvent(self, event: object) -> None:
        self._hovered = False
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.toggled.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        # The second click of a pair closes what the first one opened; taking is a button's work.
        self.mouseReleaseEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self.menu_asked.emit(event.globalPos())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _STEPS:
            self.stepped.emit(_STEPS[key])
        elif (
            key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
            or (key is Qt.Key.Key_Right and not self._open)
            or (key is Qt.Key.Key_Left and self._open)
        ):
            self.toggled.emit()
        else:
            super().keyPressEvent(event)


def _unit_room(column: Column, cell: Cell) -> str:
    """Units of one column share their left edge."""
    return {Column.SHEETS: "sheets", Column.PRESS: "min"}.get(column, cell.unit)


def _hint(shown: OfferShown) -> str:
    cost, arrives = shown.cells[Column.COST], shown.cells[Column.ARRIVES]
    told = [f"{shown.name}: {cost.figure} {cost.unit}", cost.below, f"{arrives.figure}: {arrives.hint}"]
    told += [words.was_to(column.value, was, shown.cells[column].figure) for column, was in shown.was.items()]
    return "\n".join([*filter(None, told), *(each.sentence for each in shown.against[:3])])


def _draw_caret(painter: QPainter, tokens: Tokens, centre: QPointF, is_open: bool) -> None:
    reach = GRID - 0.5
    points = (
        ((-reach, -reach / 2), (0, reach / 2), (reach, -reach / 2))
        if is_open
        else ((-reach / 2, -reach), (reach / 2, 0), (-reach / 2, reach))
    )
    pen = QPen(QColor(tokens.accent), 1.6)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.drawPolyline(QPolygonF([centre + QPointF(x, y) for x, y in points]))


def _draw_mark(painter: QPainter, tokens: Tokens, box: QRectF, *, chosen: bool) -> None:
    """A tick for what was chosen, a low bar of three for the cheapest."""
    centre = box.center()
    painter.setPen(QPen(QColor(tokens.text), 1.8))
    if chosen:
        points = ((-4, 0), (-1.2, 3), (4.5, -3.5))
        painter.drawPolyline(QPolygonF([centre + QPointF(x, y) for x, y in points]))
        return
    for step, height in enumerate((3, 6, 9)):
        x = centre.x() - 4 + 4 * step
        colour = QColor(tokens.text if step == 0 else tokens.edge)
        painter.setPen(QPen(colour, 2.4 if step == 0 else 1.6))
        painter.drawLine(QPointF(x, centre.y() + 4), QPointF(x, centre.y() + 4 - height))
