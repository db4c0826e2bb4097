"""The trimmer's cuts drawn on a sheet: a line each, numbered in working order."""

from collections.abc import Sequence
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QGraphicsItem, QGraphicsScene, QStyleOptionGraphicsItem, QWidget

from planner.measures.geometry import Size
from planner.measures.layout import Layout
from planner.sheets.cuts import Cut, cuts_if_any
from planner.window.look import LIGHT, Tokens, Type, type_font
from planner.window.sheet.items import CASING, CHOSEN, qrect, thin
from planner.window.sheet.overlays import LinesItem

_PLATE_PX = 16


@lru_cache(maxsize=256)
def cuts_on(layout: Layout) -> tuple[Cut, ...]:
    """The straight cuts of a sheet as last worked out: frames ask for the same again and again."""
    return cuts_if_any(layout)


class CutMarks:
    """Lines and numbers of one sheet's cuts; one cut may stand out with the part that it parts."""

    def __init__(self, scene: QGraphicsScene) -> None:
        self._lines, self._numbers = LinesItem(0.5), _Numbers()
        self._cuts: tuple[Cut, ...] = ()
        self._tokens: Tokens = LIGHT
        self.chosen: Cut | None = None
        for item in (self._lines, self._numbers):
            scene.addItem(item)

    @property
    def count(self) -> int:
        return len(self._cuts)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The numbers that found room when last drawn."""
        return self._numbers.drawn

    def show(self, cuts: tuple[Cut, ...], corner: QPointF, size: Size, tokens: Tokens, font: QFont) -> None:
        """Draw these cuts on the sheet whose corner is there."""
        self._cuts, self._tokens = cuts, tokens
        for item in (self._lines, self._numbers):
            item.setPos(corner)
        if self.chosen not in cuts:
            self.chosen = None
        self._numbers.show_cuts(cuts, self.chosen, size, tokens, font)
        self._draw()

    def choose(self, cut: Cut | None) -> None:
        """Let one cut stand out, or none."""
        if cut != self.chosen:
            self.chosen = cut
            self._numbers.choose(cut)
            self._draw()

    def _draw(self) -> None:
        plain = thin(self._tokens.note, 1, Qt.PenStyle.DashDotLine)
        lines = [(QPointF(*start), QPointF(*end), plain) for start, end in (c.line_mm for c in self._cuts)]
        if self.chosen is not None:
            part = qrect(self.chosen.part)
            corners = (part.topLeft(), part.topRight(), part.bottomRight(), part.bottomLeft())
            around = [(corners[at], corners[(at + 1) % 4]) for at in range(4)]
            start, end = self.chosen.line_mm
            through = (QPointF(*start), QPointF(*end))
            lines += [(*side, thin(CASING, 3)) for side in around]
            lines += [(*side, thin(CHOSEN, 1.4, Qt.PenStyle.DashLine)) for side in around]
            lines += [(*through, thin(CASING, 7)), (*through, thin(CHOSEN, 4))]
        # The cut that stands out lies over the pieces beside it, the others beneath them.
        self._lines.setZValue(3.5 if self.chosen is not None else 0.5)
        self._lines.show_lines(lines)


class _Numbers(QGraphicsItem):
    """Numbers on plates at the cuts' ends, as large at any zoom; those without room are left out."""

    def __init__(self) -> None:
        super().__init__()
        self.setZValue(4)
        self._cuts: tuple[Cut, ...] = ()
        self._chosen: Cut | None = None
        self._box = QRectF()
        self._tokens: Tokens = LIGHT
        self._font = QFont()
        self.drawn: tuple[int, ...] = ()

    def show_cuts(
        self, cuts: tuple[Cut, ...], chosen: Cut | None, size: Size, tokens: Tokens, font: QFont
    ) -> None:
        self.prepareGeometryChange()
        self._cuts, self._chosen, self._tokens = cuts, chosen, tokens
        self._font = type_font(font, Type.SMALL, strong=True)
        self._box = QRectF(0, 0, size.width_mm, size.height_mm)
        self.setVisible(bool(cuts))

    def choose(self, cut: Cut | None) -> None:
        self._chosen = cut
        self.update()

    def boundingRect(self) -> QRectF:
        return self._box

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        to_view, metrics = painter.worldTransform(), QFontMetricsF(self._font)
        painter.save()
        painter.resetTransform()
        painter.setFont(self._font)
        taken: list[QRectF] = []
        drawn = []
        first = [self._chosen] if self._chosen else []
        for cut in (*first, *(cut for cut in self._cuts if cut is not self._chosen)):
            wide = max(_PLATE_PX, metrics.horizontalAdvance(str(cut.step)) + 8)
            start, end = (to_view.map(QPointF(*point)) for point in cut.line_mm)
            plate = _room_on(start, end, wide, taken)
            if plate is not None:
                taken.append(plate)
                drawn.append(cut.step)
                self._draw_plate(painter, plate, cut)
        self.drawn = tuple(sorted(drawn))
        painter.restore()

    def _draw_plate(self, painter: QPainter, plate: QRectF, cut: Cut) -> None:
        chosen = cut == self._chosen
        painter.fillRect(plate, QColor(CHOSEN if chosen else CASING))
        painter.setPen(QPen(QColor(CASING if chosen else LIGHT.note), 1))
        painter.drawRect(plate)
        painter.setPen(QColor(CASING if chosen else LIGHT.text))
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, str(cut.step))


def _room_on(start: QPointF, end: QPointF, wide: float, taken: Sequence[QRectF]) -> QRectF | None:
    """The place for a plate on a line that is nearest to its end and free; None where there is none."""
    across = abs(end.x() - start.x()) > abs(end.y() - start.y())
    step = wide if across else _PLATE_PX
    long = abs(end.x() - start.x()) if across else abs(end.y() - start.y())
    for number in range(int(long / step)):
        back = step * (number + 0.5)
        middle = end - (QPointF(back, 0) if across else QPointF(0, back))
        plate = QRectF(
            round(middle.x() - wide / 2) + 0.5,
            round(middle.y() - _PLATE_PX / 2) + 0.5,
            wide - 1,
            _PLATE_PX - 1,
        )
        if not any(plate.intersects(other) for other in taken):
            return plate
    return None
