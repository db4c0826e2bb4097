"""Pieces under the hand: they follow it, catch on lines, and show at once what they are in the way of."""

from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Placement
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.items import PieceItem
from planner.window.sheet.moves import Ref, bounds
from planner.window.sheet.places import Spot
from planner.window.sheet.snapping import Catcher, OutlineCatcher


class Drag:
    """One gesture from press to release. Only items move; `arrivals` tells what it would mean."""

    def __init__(self, bench: BenchScene, pieces: list[PieceItem]) -> None:
        self._bench = bench
        self.pieces = pieces
        self._began = [QPointF(piece.pos()) for piece in pieces]
        self.is_moved = False
        self._resting: dict[tuple[str, int], list[Placement]] = {}
        self._catchers: dict[tuple[str, int], Catcher] = {}

    @property
    def offer(self) -> str:
        return self.pieces[0].offer

    def move(self, by: QPointF, *, reach_mm: float) -> None:
        """Pieces at their start plus the hand's way, snapped to lines within reach."""
        self.is_moved = self.is_moved or not by.isNull()
        whole = self._whole().translated(by)
        spot = self._spot_under(whole.center())
        if spot is None:
            self._put(by)
            self._bench.show_guides(None, ())
            self._bench.show_halo()
            return
        resting = self._resting_on(spot)
        box = Rect(whole.x() - spot.x_mm, whole.y() - spot.y_mm, whole.width(), whole.height())
        caught = self._catcher_on(spot).snap(box, reach_mm)
        self._put(by + QPointF(caught.dx_mm, caught.dy_mm))
        self._bench.show_guides(spot, caught.guides)
        self._bench.show_halo()
        self._bench.show_marks_while_moving(
            spot, [self._placed(piece, spot) for piece in self.pieces], resting
        )

    def whereabouts(self) -> tuple[Spot | None, Rect]:
        """The sheet the pieces are over, and the box around them in mm on it; None off all sheets."""
        whole = QRectF()
        for piece in self.pieces:
            whole = whole.united(piece.sceneBoundingRect())
        spot = self._spot_under(whole.center())
        origin = spot.origin if spot else QPointF()
        return spot, Rect(whole.x() - origin.x(), whole.y() - origin.y(), whole.width(), whole.height())

    def take_back(self) -> None:
        """Everything where it was before."""
        self._put(QPointF())
        self._bench.show_guides(None, ())
        self._bench.show_halo()
        self._bench.show_marks()

    def arrivals(self) -> dict[tuple[str, Ref], tuple[int, Placement]]:
        """For each piece the sheet it is on now and its placement there.

        A piece is on the sheet that holds its centre; one off every sheet of its offer stays on its own,
        where it sticks out.
        """
        result = {}
        for piece in self.pieces:
            spot = self._landing(piece)
            result[piece.offer, piece.ref] = (spot.sheet, self._placed(piece, spot))
        return result

    def is_from(self, offer: str) -> bool:
        """Whether all pieces are bought at one offer."""
        return all(piece.offer == offer for piece in self.pieces)

    def strays(self) -> bool:
        """Whether a piece lies on a sheet of an offer that it is not bought at."""
        for piece in self.pieces:
            spot = self._bench.spot_at(piece.sceneBoundingRect().center())
            if spot is not None and spot.offer != piece.offer:
                return True
        return False

    def _landing(self, piece: PieceItem) -> Spot:
        spot = self._bench.spot_at(piece.sceneBoundingRect().center())
        if spot is None or spot.offer != piece.offer:
            return self._bench.spot(piece.offer, piece.ref.sheet)
        return spot

    def _placed(self, piece: PieceItem, spot: Spot) -> Placement:
        box = box_on_sheet(piece, spot)
        # Whole micrometres, as the arrangers and the validator count.
        return replace(piece.placement, x_mm=round(box.x_mm, 3), y_mm=round(box.y_mm, 3), pinned=True)

    def _whole(self) -> QRectF:
        whole = QRectF()
        for piece, start in zip(self.pieces, self._began, strict=True):
            whole = whole.united(piece.boundingRect().translated(start))
        return whole

    def _spot_under(self, centre: QPointF) -> Spot | None:
        spot = self._bench.spot_at(centre)
        if spot is not None and spot.offer == self.offer:
            return spot
        own = self.pieces[0]
        home = self._bench.spot(own.offer, own.ref.sheet)
        near = home.box.adjusted(-60, -60, 60, 60)
        return home if near.contains(centre) else None

    def _resting_on(self, spot: Spot) -> list[Placement]:
        key = (spot.offer, spot.sheet)
        if key not in self._resting:
            moving = {(piece.offer, piece.ref) for piece in self.pieces}
            self._resting[key] = [
                placement
                for number, placement in enumerate(self._bench.layout(spot).placements)
                if (spot.offer, Ref(spot.sheet, number)) not in moving
            ]
        return self._resting[key]

    def _catcher_on(self, spot: Spot) -> Catcher:
        key = (spot.offer, spot.sheet)
        if key not in self._catchers:
            self._catchers[key] = self._catcher(spot)
        return self._catchers[key]

    def _catcher(self, spot: Spot) -> Catcher:
        room, resting = self._bench.room(self._bench.offer(spot.offer)), self._resting_on(spot)
        whole = self._whole()
        if not room.outlines:
            size, boxes = Size(whole.width(), whole.height()), [placement.box for placement in resting]
            return Catcher(size, boxes, spot.size, gap_mm=room.gap_mm, margin_mm=room.margin_mm)
        moving = [
            replace(piece.placement, x_mm=start.x() - whole.x(), y_mm=start.y() - whole.y())
            for piece, start in zip(self.pieces, self._began, strict=True)
        ]
        return OutlineCatcher(
            moving, resting, spot.size, room.outlines, gap_mm=room.gap_mm, margin_mm=room.margin_mm
        )

    def _put(self, by: QPointF) -> None:
        for piece, start in zip(self.pieces, self._began, strict=True):
            piece.setPos(start + by)


def bounds_on_sheet(pieces: list[PieceItem]) -> Rect:
    """The box around pieces by their placements, in mm on their sheets."""
    return bounds(piece.placement for piece in pieces)


def box_on_sheet(piece: PieceItem, spot: Spot) -> Rect:
    """Where a piece's item is now, in millimetres on a sheet."""
    at = piece.pos() - spot.origin
    return Rect(at.x(), at.y(), piece.placement.width_mm, piece.placement.height_mm)
