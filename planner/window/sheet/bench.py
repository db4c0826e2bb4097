"""The bench: every sheet of every offer laid out side by side, as a graphics scene in millimetres."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QPainterPath, QPolygonF, QTransform
from PySide6.QtWidgets import QGraphicsItem, QGraphicsScene

from planner.measures.layout import Layout, Placement, Way
from planner.measures.lengths import LengthUnit, format_size
from planner.sheets.covered import covered_share
from planner.sheets.cuts import Cut
from planner.sheets.nudge import Feature
from planner.sheets.outline import Outline
from planner.sheets.validate import Fault, faults
from planner.window.look import LIGHT, Tokens
from planner.window.pixmaps import Pictures
from planner.window.sheet import words
from planner.window.sheet.cut_marks import CutMarks, cuts_on
from planner.window.sheet.facts import OfferShown, PieceFacts, facts_of
from planner.window.sheet.fault_marks import FaultMark, grown, marks_of, shape_of
from planner.window.sheet.items import CASING, CHOSEN, PieceItem, SheetItem, cut_out, thin
from planner.window.sheet.moves import Ref, Room, bounds
from planner.window.sheet.overlays import DashesItem, HatchItem, LinesItem, Side, TagItem, hatch, path_of
from planner.window.sheet.places import Spot, laid_out
from planner.window.sheet.snapping import Guide

_MOST_TAGS, _MOST_TAGS_ON_SHEET, _MOST_KEPT = 40, 5, 1000
_BEYOND_MM = 1.0
GUIDE_LINES = {
    Feature.MARGIN: Qt.PenStyle.DashLine,
    Feature.GAP: Qt.PenStyle.DotLine,
    Feature.EDGE: Qt.PenStyle.SolidLine,
    Feature.CENTRE: Qt.PenStyle.DashDotLine,
    Feature.SHEET_CENTRE: Qt.PenStyle.DashDotDotLine,
}
"""How the line of each thing that a piece catches on is drawn; a word at its end says which it is."""


class BenchScene(QGraphicsScene):
    """Sheets and pieces as items, matched to what they show; knows which pieces are chosen."""

    def __init__(self) -> None:
        super().__init__()
        self.pictures = Pictures()
        self.offers: tuple[OfferShown, ...] = ()
        self.facts: dict[str, PieceFacts] = {}
        self.unit = LengthUnit.INCH
        self.tokens: Tokens = LIGHT
        self.on_cloth = True
        self._brush = QBrush()
        self._outlines: dict[str, Outline] = {}
        self._faults: dict[tuple[Layout, Room, Way], tuple[Fault, ...]] = {}
        self._fills: dict[tuple[Layout, Way], float] = {}
        self._font = QFont()
        self.spots: tuple[Spot, ...] = ()
        self.several = False
        self._sheets: dict[tuple[str, int], SheetItem] = {}
        self._pieces: dict[tuple[str, Ref], PieceItem] = {}
        self._marks: list[QGraphicsItem] = []
        self._px_per_mm = 1.0
        self._halo, self._ghost = DashesItem(2.5), DashesItem(5)
        self._halos: dict[tuple[Placement, Room, Way], QPainterPath] = {}
        # Guides lie over what rests and under what moves.
        self._guides = LinesItem(1.5)
        self._guide_tags: list[TagItem] = []
        for item in (self._halo, self._ghost, self._guides):
            self.addItem(item)
        self.cuts, self.with_cuts = CutMarks(self), True

    def show_offers(
        self,
        offers: tuple[OfferShown, ...],
        facts: dict[str, PieceFacts],
        unit: LengthUnit,
        tokens: Tokens,
        font: QFont,
    ) -> None:
        """Show these sheets; items are kept where the same piece lies in the same place."""
        self.offers, self.facts, self.unit, self.tokens = offers, facts, unit, tokens
        self._font = font
        self._brush = hatch(tokens)
        self.spots = laid_out(offers)
        self.several = sum(1 for offer in offers if offer.layouts) > 1
        wanted = {(spot.offer, spot.sheet) for spot in self.spots}
        for gone in self._sheets.keys() - wanted:
            self.removeItem(self._sheets.pop(gone))
        pieces: set[tuple[str, Ref]] = set()
        for spot in self.spots:
            offer = self.offer(spot.offer)
            self._show_sheet(spot, offer)
            for number, placement in enumerate(offer.layouts[spot.sheet].placements):
                ref = Ref(spot.sheet, number)
                pieces.add((spot.offer, ref))
                self._show_piece(spot, ref, placement)
        for lost in self._pieces.keys() - pieces:
            self.removeItem(self._pieces.pop(lost))
        self.show_guides(None, ())
        self.offer_spot(())
        self.show_halo()
        self.show_marks()

    def offer(self, key: str) -> OfferShown:
        return next(offer for offer in self.offers if offer.key == key)

    def layout(self, spot: Spot) -> Layout:
        return self.offer(spot.offer).layouts[spot.sheet]

    def spot(self, offer: str, sheet: int) -> Spot:
        return next(spot for spot in self.spots if (spot.offer, spot.sheet) == (offer, sheet))

    def spot_at(self, point: QPointF) -> Spot | None:
        return next((spot for spot in self.spots if spot.box.contains(point)), None)

    def bench_box(self) -> QRectF:
        """Around all sheets, headers included."""
        whole = QRectF()
        for spot in self.spots:
            whole = whole.united(spot.box.adjusted(0, -min(40.0, 0.12 * spot.size.height_mm), 0, 0))
        return whole

    def all_pieces(self) -> list[PieceItem]:
        """Every piece in reading order: sheet by sheet, from top left."""
        order = {(spot.offer, spot.sheet): at for at, spot in enumerate(self.spots)}
        return sorted(
            self._pieces.values(),
            key=lambda p: (order[p.offer, p.ref.sheet], round(p.placement.y_mm / 10), p.placement.x_mm),
        )

    def piece(self, offer: str, ref: Ref) -> PieceItem | None:
        return self._pieces.get((offer, ref))

    def piece_at(self, point: QPointF) -> PieceItem | None:
        """The uppermost piece at a point of the scene."""
        found = self.items(
            point, Qt.ItemSelectionMode.IntersectsItemBoundingRect, Qt.SortOrder.DescendingOrder, QTransform()
        )
        pieces = (item for item in found if isinstance(item, PieceItem))
        return next((piece for piece in pieces if piece.is_at(point)), None)

    def chosen(self) -> list[PieceItem]:
        return [piece for piece in self._pieces.values() if piece.chosen]

    def choose(self, pieces: Collection[PieceItem]) -> None:
        """Select these pieces and no others."""
        for piece in self._pieces.values():
            piece.choose(piece in pieces)
        self.show_halo()

    def set_current(self, spot: Spot | None) -> None:
        """Mark the sheet that rulers and commands go by, and draw its cuts where cuts are straight."""
        self.show_cuts(spot)
        for (offer, sheet), item in self._sheets.items():
            current = spot is not None and (offer, sheet) == (spot.offer, spot.sheet)
            if item.current != current:
                item.current = current
                item.update()

    def show_cuts(self, spot: Spot | None) -> None:
        """The trimmer's cuts on one sheet; none while its offer is cut another way."""
        cuts = self.cuts_of(spot)
        if spot is not None:
            self.cuts.show(cuts, spot.origin, spot.size, self.tokens, self._font)

    def cuts_of(self, spot: Spot | None) -> tuple[Cut, ...]:
        """Cuts of a sheet in working order; none where it is not cut straight, or cuts are not wanted."""
        if spot is None or not self.with_cuts or not self.is_cut_straight(spot):
            return ()
        return cuts_on(self.layout(spot))

    def is_cut_straight(self, spot: Spot | None) -> bool:
        return spot is not None and self.offer(spot.offer).way is Way.STRAIGHT

    def fit_words(self, px_per_mm: float) -> None:
        """Let what is written over the sheets know the scale at which it must find room."""
        self._px_per_mm = px_per_mm
        self._part_tags()
        for spot in self.spots:
            header = self._sheets[spot.offer, spot.sheet].header
            header.fit(spot.size.width_mm * px_per_mm, spot.above_mm * px_per_mm)

    def marks_on(self, spot: Spot) -> tuple[FaultMark, ...]:
        offer, layout = self.offer(spot.offer), self.layout(spot)
        key = (layout, offer.room, offer.way)
        if key not in self._faults:
            if len(self._faults) > _MOST_KEPT:
                self._faults.clear()
            self._faults[key] = self._faults_of(layout, self.room(offer), offer.way)
        return self._worded(layout, self._faults[key], self.room(offer))

    def fill_percent(self, offer: OfferShown, layout: Layout) -> float:
        """How full a sheet is, by outlines where those are cut by."""
        key = (layout, offer.way)
        if key not in self._fills:
            if len(self._fills) > _MOST_KEPT:
                self._fills.clear()
            self._fills[key] = 100 * covered_share(layout, self.room(offer).outlines)
        return self._fills[key]

    def room(self, offer: OfferShown) -> Room:
        """What an offer asks to be kept clear: around true outlines where those are cut by and known."""
        by_outline = offer.way is Way.OUTLINE and bool(self._outlines)
        return replace(offer.room, outlines=self._outlines) if by_outline else offer.room

    def _faults_of(self, layout: Layout, room: Room, way: Way) -> tuple[Fault, ...]:
        return faults(layout, gap_mm=room.gap_mm, margin_mm=room.margin_mm, way=way, outlines=room.outlines)

    def set_outlines(self, outlines: Mapping[str, Outline]) -> bool:
        """Take outlines by piece key, for sheets cut by outline; whether they are other ones than before."""
        if outlines == self._outlines:
            return False
        self._outlines = dict(outlines)
        for known in (self._faults, self._halos, self._fills):
            known.clear()
        return True

    def _worded(self, layout: Layout, found: tuple[Fault, ...], room: Room) -> tuple[FaultMark, ...]:
        return marks_of(
            layout, found, room, unit=self.unit, name_of=lambda key: facts_of(self.facts, key).name
        )

    def show_marks(self) -> None:
        """Hatch and tag every fault of the layouts as they are."""
        self._clear_marks()
        for spot in self.spots:
            self._mark(spot, self.marks_on(spot))

    def show_marks_while_moving(self, spot: Spot, moving: list[Placement], resting: list[Placement]) -> None:
        """Hatch and tag what the moving pieces are in the way of, and nothing else."""
        self._clear_marks()
        offer = self.offer(spot.offer)
        # Outlines may reach a little beyond their box: they are drawn outside the ink.
        reach = bounds(moving).grown(offer.room.gap_mm + _BEYOND_MM)
        near = [placement for placement in resting if placement.box.overlap(reach)]
        layout = Layout(offer.room.reach(spot.size), (*moving, *near))
        way = Way.LOOSE if offer.way is Way.STRAIGHT else offer.way
        room = self.room(offer)
        found = tuple(f for f in self._faults_of(layout, room, way) if f.indices[0] < len(moving))
        self._mark(spot, self._worded(layout, found, room))

    @property
    def mark_count(self) -> int:
        """Hatches and tags on show."""
        return len(self._marks)

    def show_guides(self, spot: Spot | None, guides: Collection[Guide]) -> None:
        """The lines that a dragged box caught on."""
        lines = []
        for item in self._guide_tags:
            self.removeItem(item)
        self._guide_tags = []
        for guide in guides:
            ends = QPointF(*guide.start), QPointF(*guide.end)
            lines.append((*ends, thin(CASING, 3)))
            lines.append((*ends, thin(CHOSEN, 1.4, GUIDE_LINES[guide.feature])))
            if spot is not None:
                self._name_guide(spot, guide)
        if spot is not None:
            self._guides.setPos(spot.origin)
        self._guides.show_lines(lines)
        self._part_tags()

    def _name_guide(self, spot: Spot, guide: Guide) -> None:
        """What a line belongs to, at its end: above an upright one, right of one across."""
        upright = guide.start[0] == guide.end[0]
        side, end = (Side.ABOVE, guide.start) if upright else (Side.RIGHT, guide.end)
        tag = TagItem(words.GUIDES[guide.feature], self._font, self.tokens, side=side, colour=CHOSEN)
        tag.setPos(spot.origin + QPointF(*end))
        self.addItem(tag)
        self._guide_tags.append(tag)

    def show_halo(self) -> None:
        """The gap that chosen pieces need around them."""
        path = QPainterPath()
        for piece in self.chosen():
            path.addPath(self._halo_of(piece).translated(piece.pos()))
        self._halo.show_path(path, thin(self.tokens.edge, 1, Qt.PenStyle.DashLine))

    @property
    def halo(self) -> QPainterPath:
        """The gap around what is chosen, as drawn."""
        return self._halo.path

    def _halo_of(self, piece: PieceItem) -> QPainterPath:
        """The gap around a piece, from its top left corner; worked out once, however far it is dragged."""
        offer = self.offer(piece.offer)
        key = (replace(piece.placement, x_mm=0, y_mm=0, pinned=False), offer.room, offer.way)
        if key not in self._halos:
            if len(self._halos) > _MOST_KEPT:
                self._halos.clear()
            room = self.room(offer)
            self._halos[key] = path_of(grown(shape_of(key[0], room), room.gap_mm, room))
        return self._halos[key]

    def offer_spot(self, placed: Iterable[tuple[Spot, Placement]]) -> None:
        """Outline where pieces could go instead; nothing takes the outline away."""
        path = QPainterPath()
        for spot, placement in placed:
            shape = shape_of(placement, self.room(self.offer(spot.offer)))
            path.addPath(path_of(shape).translated(spot.origin))
        self._ghost.show_path(path, thin(CHOSEN, 2, Qt.PenStyle.DashLine))

    @property
    def spot_offered(self) -> QRectF:
        """The box around where pieces could go instead; null where nothing is offered."""
        return self._ghost.path.boundingRect()

    def show_on_cloth(self, on_cloth: bool) -> None:
        self.on_cloth = on_cloth
        for piece in self._pieces.values():
            piece.on_cloth = on_cloth
            piece.update()
        for sheet in self._sheets.values():
            sheet.on_cloth = on_cloth
            sheet.update()

    def _show_sheet(self, spot: Spot, offer: OfferShown) -> None:
        item = self._sheets.get((spot.offer, spot.sheet))
        if item is None:
            item = self._sheets[spot.offer, spot.sheet] = SheetItem()
            self.addItem(item)
        layout = offer.layouts[spot.sheet]
        item.setPos(spot.origin)
        item.on_cloth = self.on_cloth
        item.show_sheet(spot.size, offer.room.margin_mm, provisional=offer.provisional, tokens=self.tokens)
        rest = [
            words.fill(self.fill_percent(offer, layout)),
            format_size(spot.size.width_mm, spot.size.height_mm, self.unit),
        ]
        if layout.runs > 1:
            rest.insert(0, f"{layout.runs} runs")
        if self.several:
            rest.insert(0, offer.name)
        if offer.provisional:
            rest.insert(0, "provisional")
        if offer.searching:
            rest.insert(0, words.BEST_SO_FAR)
        item.header.show_words(words.sheet(spot.sheet + 1), rest, self._font, self.tokens)

    def _show_piece(self, spot: Spot, ref: Ref, placement: Placement) -> None:
        item = self._pieces.get((spot.offer, ref))
        if item is None:
            item = self._pieces[spot.offer, ref] = PieceItem(self.pictures)
            item.offer, item.ref = spot.offer, ref
            self.addItem(item)
        elif item.placement.print != placement.print:
            item.choose(False)
        item.setPos(spot.x_mm + placement.x_mm, spot.y_mm + placement.y_mm)
        facts = facts_of(self.facts, placement.print)
        shape = self.cut_out_of(placement, self.offer(spot.offer).way)
        item.show_piece(placement, facts, self.tokens, on_cloth=self.on_cloth, cut_out=shape)

    def cut_out_of(self, placement: Placement, way: Way) -> QPolygonF | None:
        """A piece's shape where it is not its box: cut by outline, or lying at an angle."""
        outline = self._outlines.get(placement.print) if way is Way.OUTLINE else None
        odd = placement.turned_deg % 90 > 0
        return cut_out(placement, outline) if outline or odd else None

    def _part_tags(self) -> None:
        tags = [*(mark for mark in self._marks if isinstance(mark, TagItem)), *self._guide_tags]
        for at, tag in enumerate(tags):
            tag.step_aside(self._px_per_mm, tags[:at])

    def _clear_marks(self) -> None:
        for item in self._marks:
            self.removeItem(item)
        self._marks = []

    def _mark(self, spot: Spot, marks: Iterable[FaultMark]) -> None:
        for number, mark in enumerate(marks):
            paths = [path_of(part) for part in mark.areas]
            area = HatchItem(paths, self._brush, self.tokens)
            area.setPos(spot.origin)
            self.addItem(area)
            self._marks.append(area)
            if number < _MOST_TAGS_ON_SHEET and len(self._marks) < 2 * _MOST_TAGS:
                where = paths[0].boundingRect()
                # Above the sheet stand its number and fill: there the words go below the mark.
                below = where.top() < 0.06 * spot.size.height_mm
                side = Side.BELOW if below else Side.ABOVE
                tag = TagItem(mark.tag, self._font, self.tokens, side=side, colour=self.tokens.stop)
                edge = where.bottom() if below else where.top()
                tag.setPos(spot.origin + QPointF(where.center().x(), edge))
                self.addItem(tag)
                self._marks.append(tag)
        self._part_tags()
