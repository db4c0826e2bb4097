"""The sheet strip: every sheet small, with its fill and its number of runs."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFontMetrics,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QWheelEvent,
)
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QScrollArea, QWidget

from planner.measures.layout import Layout, Placement, Way
from planner.window import meanings
from planner.window.fields import Field
from planner.window.look import GRID, RELATED, Type, contrast, tokens_of, type_font
from planner.window.sheet import words
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.facts import OfferShown, facts_of
from planner.window.sheet.items import turn_of
from planner.window.sheet.places import Spot
from planner.window.widgets import CardFrame, column, label, row

THUMB, SMALL_THUMB = QSize(58, 66), QSize(30, 34)
_MOST_RUNS = 100_000
_BAR_PX = 14
"""Room for the scroll bar, kept free so that nothing moves when it comes."""


def read_runs(typed: str) -> int:
    """How many times a sheet is printed, from what was typed.

    Raises:
        ValueError: it is no whole number of at least 1.
    """
    text = typed.strip().removeprefix("×").strip()
    if not text.isascii() or not text.isdigit() or len(text) > 6 or not 1 <= int(text) <= _MOST_RUNS:
        raise ValueError(words.no_runs(typed.strip()))
    return int(text)


class RunsField(Field[int]):
    """How many times a layout is printed."""

    def __init__(self, name: str) -> None:
        super().__init__(name, read_runs, str, 1)
        self.setToolTip(words.RUNS_HINT)
        self.align_figures("888")


class Thumb(QWidget):
    """One sheet small: boxes in garment colour with their artwork."""

    def __init__(self, bench: BenchScene) -> None:
        super().__init__()
        self._bench = bench
        self._layout: Layout | None = None
        self._way = Way.LOOSE
        self.setFixedSize(THUMB)

    def show_layout(self, layout: Layout, way: Way) -> None:
        if layout is not self._layout or way is not self._way:
            self._layout, self._way = layout, way
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        layout = self._layout
        if layout is None:
            return
        tokens = tokens_of(self)
        scale = min((self.width() - 2) / layout.sheet.width_mm, (self.height() - 2) / layout.sheet.height_mm)
        wide, high = layout.sheet.width_mm * scale, layout.sheet.height_mm * scale
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.translate((self.width() - wide) / 2, (self.height() - high) / 2)
        painter.fillRect(QRectF(0, 0, wide, high), QColor(tokens.paper))
        for placement in layout.placements:
            self._paint_piece(painter, placement, scale)
        painter.setPen(QPen(QColor(tokens.edge), 1))
        painter.drawRect(QRectF(0, 0, wide, high))
        painter.end()

    def _paint_piece(self, painter: QPainter, placement: Placement, scale: float) -> None:
        """A piece as it lies: on its cloth, in its outline and at its angle."""
        tokens, facts = tokens_of(self), facts_of(self._bench.facts, placement.print)
        shape = self._bench.cut_out_of(placement, self._way)
        odd = placement.turned_deg % 90 > 0
        quarters = 0 if odd else round(placement.turned_deg / 90) % 4
        seen = self._bench.pictures.picture(facts.artwork, 64, quarters) if facts.artwork else None
        box = QRectF(0, 0, placement.width_mm, placement.height_mm)
        painter.save()
        painter.scale(scale, scale)
        painter.translate(placement.x_mm, placement.y_mm)
        weak = contrast(facts.cloth_hex, tokens.paper) < 1.5
        painter.setPen(QPen(QColor(tokens.edge), 0.6 / scale) if weak else Qt.PenStyle.NoPen)
        painter.setBrush(QColor(facts.cloth_hex))
        painter.drawPolygon(shape or QPolygonF(box))
        if odd:
            painter.setTransform(turn_of(placement), True)
            size = placement.unturned
            box = QRectF(0, 0, size.width_mm, size.height_mm)
        if seen is not None:
            painter.drawPixmap(box, seen, QRectF(seen.rect()))
        painter.restore()


class SheetCard(CardFrame):
    """One sheet of the strip."""

    runs_edited = Signal(int)

    def __init__(self, bench: BenchScene, number: int) -> None:
        super().__init__()
        self._bench = bench
        self.thumb = Thumb(bench)
        self.name = label("", Type.SMALL, strong=True)
        self.fill = label("", Type.SMALL, quiet=True)
        self.runs = RunsField(words.runs_of(number + 1))
        self.runs.edited.connect(lambda runs, _gesture: self.runs_edited.emit(runs))
        times = label("×", Type.BODY, quiet=True)
        runs = row(space=GRID)
        runs.addWidget(times)
        runs.addWidget(self.runs)
        named = column(space=0)
        named.addWidget(self.name)
        named.addWidget(self.fill)
        named.addStretch(1)
        self._beside = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._beside.setSpacing(GRID)
        self._beside.addLayout(named)
        self._beside.addLayout(runs)
        inside = row(space=RELATED)
        inside.setContentsMargins(RELATED, GRID, RELATED, GRID)
        inside.addWidget(self.thumb)
        inside.addLayout(self._beside)
        self.setLayout(inside)

    def set_small(self, small: bool) -> None:
        """Lower, with the runs beside the words, where the canvas needs the height."""
        self.thumb.setFixedSize(SMALL_THUMB if small else THUMB)
        direction = QBoxLayout.Direction
        self._beside.setDirection(direction.LeftToRight if small else direction.TopToBottom)

    def show_sheet(self, offer: OfferShown, number: int, current: bool) -> None:
        layout = offer.layouts[number]
        percent = self._bench.fill_percent(offer, layout)
        self.thumb.show_layout(layout, offer.way)
        self.name.setText(words.sheet(number + 1))
        self.fill.setText(words.fill(percent))
        self.setAccessibleName(words.sheet_spoken(number + 1, percent))
        self.setToolTip(meanings.sheet_card(number + 1, percent, layout.runs))
        self.runs.show_value(layout.runs)
        self.set_current(current)


class Strip(QScrollArea):
    """All sheets of all offers in a row; an offer's name stands before its sheets when there are several."""

    sheet_chosen = Signal(object)
    runs_edited = Signal(object, int)

    def __init__(self, bench: BenchScene) -> None:
        super().__init__()
        self._bench = bench
        self._cards: list[SheetCard] = []
        self._names: list[QLabel] = []
        self._target: SheetCard | None = None
        self._row = QHBoxLayout()
        self._row.setContentsMargins(RELATED, 0, RELATED, 0)
        self._row.setSpacing(0)
        self._row.addStretch(1)
        inner = QWidget()
        inner.setProperty("plain", True)
        inner.setLayout(self._row)
        self.setWidget(inner)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._small: bool | None = None
        self.set_small(False)

    def set_small(self, small: bool) -> None:
        """Lower cards, where the canvas needs the height."""
        if small != self._small:
            self._small = small
            for card in self._cards:
                card.set_small(small)
            thumb = SMALL_THUMB if small else THUMB
            self.setFixedHeight(thumb.height() + 2 * GRID + _BAR_PX)

    def show_sheets(
        self, offers: tuple[OfferShown, ...], spots: tuple[Spot, ...], current: Spot | None
    ) -> None:
        """Cards are kept where they are, so that a field being typed in keeps the cursor."""
        while len(self._cards) > len(spots):
            card = self._cards.pop()
            self._row.removeWidget(card)
            card.hide()
            card.deleteLater()
        while len(self._cards) < len(spots):
            self._add_card(len(self._cards))
        self._name_offers(offers, spots)
        by_key = {offer.key: offer for offer in offers}
        for card, spot in zip(self._cards, spots, strict=True):
            now = current is not None and (spot.offer, spot.sheet) == (current.offer, current.sheet)
            offer = by_key[spot.offer]
            card.show_sheet(offer, spot.sheet, now)

    def bring_into_view(self, at: int) -> None:
        if 0 <= at < len(self._cards):
            self.ensureWidgetVisible(self._cards[at], 40, 0)

    @property
    def target(self) -> Spot | None:
        """The sheet whose card is aimed at."""
        return self._spot_of(self._target) if self._target in self._cards else None

    def aim(self, at: QPoint | None, offer: str = "") -> None:
        """Take the card at a point of the strip for what is dragged, and mark it if it is the offer's."""
        under = (
            card for card in self._cards if at is not None and card.rect().contains(card.mapFrom(self, at))
        )
        aimed = next(under, None)
        for card in self._cards:
            card.aim_at(card is aimed and self._spot_of(card).offer == offer)
        self._target = aimed

    def refresh(self) -> None:
        for card in self._cards:
            card.thumb.update()

    @property
    def cards(self) -> tuple[SheetCard, ...]:
        return tuple(self._cards)

    def _add_card(self, at: int) -> None:
        card = SheetCard(self._bench, at)
        card.pressed.connect(lambda: self._chosen(card))
        card.runs_edited.connect(lambda runs: self.runs_edited.emit(self._spot_of(card), runs))
        card.set_small(bool(self._small))
        self._cards.append(card)
        self._row.insertWidget(self._row.count() - 1, card)

    def _chosen(self, card: SheetCard) -> None:
        self.sheet_chosen.emit(self._spot_of(card))

    def _spot_of(self, card: SheetCard) -> Spot:
        return self._bench.spots[self._cards.index(card)]

    def _name_offers(self, offers: tuple[OfferShown, ...], spots: tuple[Spot, ...]) -> None:
        for name in self._names:
            self._row.removeWidget(name)
            name.hide()
            name.deleteLater()
        self._names = []
        if not self._bench.several:
            return
        names = {offer.key: offer.name for offer in offers}
        for at, spot in enumerate(spots):
            if spot.sheet == 0:
                name = label("", Type.SMALL, quiet=True, wrap=True)
                font = type_font(self.font(), Type.SMALL)
                name.setText(names[spot.offer])
                name.setFixedWidth(min(96, QFontMetrics(font).horizontalAdvance(name.text()) + 12))
                self._row.insertWidget(self._row.indexOf(self._cards[at]), name)
                self._names.append(name)

    def wheelEvent(self, event: QWheelEvent) -> None:
        pixels, angle = event.pixelDelta(), event.angleDelta()
        down = angle.y() if pixels.isNull() else pixels.y()
        if angle.x() or not down:
            super().wheelEvent(event)
            return
        # Nothing here lies further down: a plain wheel goes along the row.
        bar = self.horizontalScrollBar()
        bar.setValue(bar.value() - down)
        event.accept()
