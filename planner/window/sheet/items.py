"""What lies on the bench: sheets, pieces, and the marks that show for a while. Scene units are mm."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPen,
    QPixmap,
    QPolygonF,
    QTransform,
)
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Placement
from planner.sheets.outline import Outline
from planner.window.look import GRID, Tokens, Type, contrast, type_font
from planner.window.pixmaps import Pictures, level_for
from planner.window.sheet.facts import PieceFacts
from planner.window.sheet.moves import Ref

HEADER_PX = 22
FILM = "#b7b3aa"
"""Ground of a sheet whose pieces lie on no cloth: white ink and black ink both show on it."""
CHOSEN, CASING = "#0a6464", "#ffffff"
"""What is chosen lies on paper, light in either scheme: its line is the light accent, cased in white."""
PIN_PX = 13
_ODD_DEG = 0.001


def qrect(box: Rect) -> QRectF:
    return QRectF(box.x_mm, box.y_mm, box.width_mm, box.height_mm)


def thin(colour: str, px: float = 1.0, style: Qt.PenStyle = Qt.PenStyle.SolidLine) -> QPen:
    """A pen that many pixels wide at any zoom."""
    pen = QPen(QColor(colour), px, style)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


class SheetItem(QGraphicsItem):
    """A sheet: its paper, its margin, and a line of words above it."""

    def __init__(self) -> None:
        super().__init__()
        self.size = Size(1, 1)
        self.margin_mm = 0.0
        self.current = False
        self.provisional = False
        self.on_cloth = True
        self._tokens: Tokens | None = None
        self.header = HeaderItem(self)

    def show_sheet(self, size: Size, margin_mm: float, *, provisional: bool, tokens: Tokens) -> None:
        if size != self.size:
            self.prepareGeometryChange()
        self.size, self.margin_mm = size, margin_mm
        self.provisional, self._tokens = provisional, tokens
        self.update()

    def boundingRect(self) -> QRectF:
        return QRectF(0, 0, self.size.width_mm, self.size.height_mm)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        tokens = self._tokens
        if tokens is None:
            return
        box = self.boundingRect()
        painter.fillRect(box, QColor(tokens.paper if self.on_cloth else FILM))
        if self.provisional:
            painter.setPen(thin(tokens.edge, 1.5, Qt.PenStyle.DashLine))
        elif self.current:
            painter.setPen(thin(tokens.text, 1.5))
        else:
            painter.setPen(thin(tokens.edge))
        painter.drawRect(box)
        inside = box.adjusted(self.margin_mm, self.margin_mm, -self.margin_mm, -self.margin_mm)
        if self.margin_mm > 0 and inside.isValid():
            painter.setPen(thin("#b9b4aa", 1, Qt.PenStyle.DotLine))
            painter.drawRect(inside)


class HeaderItem(QGraphicsItem):
    """The words above a sheet, at the same size at any zoom."""

    def __init__(self, sheet: QGraphicsItem) -> None:
        super().__init__(sheet)
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemIgnoresTransformations)
        self._strong = ""
        self._rest: list[tuple[str, float]] = []
        """Words that may follow, the longest first, with their width in pixels."""
        self._strong_px = 0.0
        self._fonts = QFont(), QFont()
        self._wide_px, self._high_px = 100.0, float(HEADER_PX)
        self._tokens: Tokens | None = None

    def show_words(self, strong: str, rest: list[str], font: QFont, tokens: Tokens) -> None:
        """Measured here, once: while the view is zoomed, headers are painted in every frame."""
        self._strong, self._tokens = strong, tokens
        self._fonts = type_font(font, Type.SMALL, strong=True), type_font(font, Type.SMALL)
        self._strong_px = QFontMetricsF(self._fonts[0]).horizontalAdvance(strong)
        small = QFontMetricsF(self._fonts[1])
        # What does not fit whole is left out.
        fewer = (" · ".join(rest[:most]) for most in range(len(rest), 0, -1))
        self._rest = [(words, small.horizontalAdvance(words)) for words in fewer]
        self.update()

    def fit(self, wide_px: float, high_px: float) -> None:
        """Take as much room as there is over the sheet; the words keep away where it is too low for them."""
        if abs(wide_px - self._wide_px) >= 1 or abs(high_px - self._high_px) >= 1:
            self.prepareGeometryChange()
            self._wide_px, self._high_px = wide_px, high_px

    @property
    def has_room(self) -> bool:
        """Whether its words fit between the sheet and what lies above it."""
        return self._high_px >= QFontMetricsF(self._fonts[0]).ascent()

    def boundingRect(self) -> QRectF:
        high = min(float(HEADER_PX), self._high_px)
        return QRectF(0, -high, max(self._wide_px, 20), high)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        if self._tokens is None or not self.has_room:
            return
        box = self.boundingRect()
        spare = box.height() - QFontMetricsF(self._fonts[0]).height()
        box.setBottom(-min(max(spare, 0.0), 4.0))
        painter.setPen(QColor(self._tokens.text))
        painter.setFont(self._fonts[0])
        align = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
        if self._strong_px > box.width():
            # Half a word tells nobody anything: the number alone does.
            painter.drawText(box, align, self._strong.rpartition(" ")[2])
            return
        painter.drawText(box, align, self._strong)
        left = self._strong_px + 2 * GRID
        fitting = next((words for words, wide in self._rest if wide <= box.width() - left), "")
        if fitting:
            painter.setFont(self._fonts[1])
            painter.setPen(QColor(self._tokens.quiet))
            painter.drawText(box.adjusted(left, 0, 0, 0), align, fitting)


def cut_out(placement: Placement, outline: Outline | None) -> QPolygonF:
    """A piece's true outline as it lies, in mm from its box's top left corner; None is a rectangle.

    Turned about the middle of the box, as the picture is (`planner.sheets.validate.placed_outline`).
    """
    size = placement.unturned
    wide, high = size.width_mm, size.height_mm
    corners = outline or ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return turn_of(placement).map(QPolygonF([QPointF(x, y) for x, y in corners]))


def turn_of(placement: Placement) -> QTransform:
    """From the unturned piece to its place in its box."""
    size = placement.unturned
    turn = QTransform.fromTranslate(placement.width_mm / 2, placement.height_mm / 2)
    turn.rotate(placement.turned_deg)
    turn.translate(-size.width_mm / 2, -size.height_mm / 2)
    return turn


class PieceItem(QGraphicsItem):
    """One piece: its artwork on the colour of its garment, edges, selection and pin."""

    def __init__(self, pictures: Pictures) -> None:
        super().__init__()
        self.setZValue(1)
        self._pictures = pictures
        self.offer = ""
        self.ref = Ref(0, 0)
        self.placement = Placement("", 0, 0, 1, 1)
        self.facts: PieceFacts | None = None
        self.chosen = False
        self.on_cloth = True
        self._needs_edge = False
        self._box = QRectF(0, 0, 1, 1)
        self._longest_mm = 1.0
        self._ground, self._edge = QColor(), QPen()
        self._kept: QPixmap | None = None
        self._kept_for: tuple[int, int, float, str] | None = None
        self._kept_is_clear = True
        self._is_odd = False
        self._kept_box = QRectF()
        self._tokens: Tokens | None = None
        self._cut_out: QPolygonF | None = None

    def show_piece(
        self,
        placement: Placement,
        facts: PieceFacts,
        tokens: Tokens,
        *,
        on_cloth: bool,
        cut_out: QPolygonF | None = None,
    ) -> None:
        """Show this piece; `cut_out` is its true outline where it is cut by that."""
        new = (placement, facts, tokens, on_cloth, cut_out)
        if new == (self.placement, self.facts, self._tokens, self.on_cloth, self._cut_out):
            return
        self.update()
        self._cut_out = cut_out
        if (placement.width_mm, placement.height_mm) != (self.placement.width_mm, self.placement.height_mm):
            self.prepareGeometryChange()
        if self.facts is None or facts.artwork != self.facts.artwork:
            self._kept = None
        self.placement, self.facts, self._tokens, self.on_cloth = placement, facts, tokens, on_cloth
        self._box = QRectF(0, 0, placement.width_mm, placement.height_mm)
        self._is_odd = placement.turned_deg % 90 > _ODD_DEG
        self._longest_mm = max(placement.width_mm, placement.height_mm)
        self._ground, self._edge = QColor(facts.cloth_hex), thin(tokens.edge)
        # Cloth that the paper would swallow gets a line around it.
        self._needs_edge = contrast(facts.cloth_hex, tokens.paper) < 3

    def choose(self, chosen: bool) -> None:
        if chosen != self.chosen:
            self.chosen = chosen
            self.setZValue(2 if chosen else 1)
            self.update()

    def boundingRect(self) -> QRectF:
        return self._box

    def is_at(self, point: QPointF) -> bool:
        """Whether a point of the scene is on the piece itself: in a hollow of its outline lies another."""
        own = self.mapFromScene(point)
        if self._cut_out is None:
            return self._box.contains(own)
        return self._cut_out.containsPoint(own, Qt.FillRule.OddEvenFill)

    def _outlined(self, painter: QPainter, box: QRectF) -> None:
        if self._cut_out is None:
            painter.drawRect(box)
        else:
            painter.drawPolygon(self._cut_out)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        tokens, facts = self._tokens, self.facts
        if tokens is None or facts is None:
            return
        box = self._box
        scale = option.levelOfDetailFromTransform(painter.worldTransform())
        ratio = widget.devicePixelRatioF() if widget is not None else 1.0
        picture = self._picture(facts, scale * ratio)
        if self.on_cloth and self._cut_out is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._ground)
            self._outlined(painter, box)
            painter.setBrush(Qt.BrushStyle.NoBrush)
        elif self.on_cloth and (picture is None or self._kept_is_clear):
            painter.fillRect(box, self._ground)
        if picture is None:
            painter.fillRect(box, QBrush(QColor(tokens.quiet), Qt.BrushStyle.BDiagPattern))
        elif self._is_odd:
            painter.save()
            unturned = self.placement.unturned
            painter.setTransform(turn_of(self.placement), True)
            painter.drawPixmap(QRectF(0, 0, unturned.width_mm, unturned.height_mm), picture, self._kept_box)
            painter.restore()
        else:
            painter.drawPixmap(box, picture, self._kept_box)
        if self._needs_edge or not self.on_cloth:
            inset = 0.5 / scale
            painter.setPen(self._edge)
            self._outlined(painter, box.adjusted(inset, inset, -inset, -inset))
        if self.chosen:
            inset = 1.5 / scale
            for pen in (thin(CASING, 5), thin(CHOSEN, 3)):
                painter.setPen(pen)
                self._outlined(painter, box.adjusted(inset, inset, -inset, -inset))
        if self.placement.pinned and min(box.width(), box.height()) * scale > PIN_PX:
            _paint_pin(painter)

    def _picture(self, facts: PieceFacts, px_per_mm: float) -> QPixmap | None:
        """The artwork at the drawn size; on its cloth already where that is all that is seen around it."""
        if facts.artwork is None:
            return None
        longest_px = self._longest_mm * px_per_mm
        ground = facts.cloth_hex if self.on_cloth and self._cut_out is None else ""
        # The level, not the size, decides whether the pixmap at hand still does: most frames keep theirs.
        wanted = (self._pictures.age, level_for(longest_px), self.placement.turned_deg, ground)
        if self._kept is None or wanted != self._kept_for:
            quarters = 0 if self._is_odd else round(self.placement.turned_deg / 90) % 4
            self._kept = self._pictures.picture(facts.artwork, longest_px, quarters, ground)
            self._kept_for = wanted
            if self._kept is not None:
                self._kept_box = QRectF(self._kept.rect())
                self._kept_is_clear = self._kept.hasAlpha()
        return self._kept


def _paint_pin(painter: QPainter) -> None:
    """A round head with a needle, in the piece's top left corner, at the same size at any zoom."""
    corner = painter.worldTransform().map(QPointF(0, 0))
    painter.save()
    painter.resetTransform()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    head = QPointF(round(corner.x()) + 9, round(corner.y()) + 8)
    for colour, wide in (("#ffffff", 4.0), ("#23221f", 1.8)):
        painter.setPen(QPen(QColor(colour), wide, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        painter.drawLine(head, head + QPointF(0, 8))
    painter.setPen(QPen(QColor("#ffffff"), 1.5))
    painter.setBrush(QColor("#23221f"))
    painter.drawEllipse(head, 4.2, 4.2)
    painter.restore()
