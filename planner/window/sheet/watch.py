"""Watches the sheets for what is wrong or missing, says it in the bar, and offers the way out."""

from collections.abc import Collection

from PySide6.QtCore import QRectF

from planner.job.findings import Seriousness
from planner.plan.wording import count
from planner.window.sheet import words
from planner.window.sheet.canvas import Canvas
from planner.window.sheet.drag import Drag
from planner.window.sheet.facts import OfferShown, facts_of
from planner.window.sheet.fault_marks import FaultMark
from planner.window.sheet.hand import Hand
from planner.window.sheet.items import PieceItem
from planner.window.sheet.moves import Ref
from planner.window.sheet.piece_words import missing_words, refused_words, stray_words
from planner.window.sheet.places import Spot
from planner.window.sheet.rows import FaultBar
from planner.window.sheet.ways_out import WayOut


class Watch:
    """Says the worst thing first: of what is chosen, else of any sheet."""

    def __init__(self, canvas: Canvas, hand: Hand, bar: FaultBar) -> None:
        self._canvas, self._bench, self._hand, self._bar = canvas, canvas.bench, hand, bar
        self._strayed = ""
        self.told_of = QRectF()
        """The box in the scene around what the bar tells of and the spot it offers."""
        bar.show_pressed.connect(self._show_first)
        bar.add_pressed.connect(self._add_missing)

    def is_faulty(self, pieces: Collection[PieceItem]) -> bool:
        """Whether something is wrong with one of the pieces."""
        return any(
            piece.ref.piece in mark.indices
            for piece in pieces
            for mark in self._bench.marks_on(self._bench.spot(piece.offer, piece.ref.sheet))
        )

    def stray(self, drag: Drag) -> None:
        """Note that pieces were dropped on another offer's sheet, until something else is chosen."""
        self._strayed = stray_words(drag.pieces[0], self._bench.offer(drag.offer).name)

    def forget(self) -> None:
        self._strayed = ""

    def look(self) -> None:
        """Say what is wrong now, and outline where the chosen pieces could go instead."""
        self._bench.offer_spot(())
        self.told_of = QRectF()
        found = [(spot, mark) for spot in self._bench.spots for mark in self._bench.marks_on(spot)]
        if self._strayed:
            self._bar.say(self._strayed, Seriousness.NOTE)
        elif self._canvas.locked:
            self._bar.say("")
        elif found:
            self._say_fault(found)
        else:
            self._say_missing()

    def _say_missing(self) -> None:
        short = self._short()
        if short is not None:
            self._bar.say(missing_words(short, self._name_of), add=True)
            return
        refused = [piece for offer in self._bench.offers for piece in offer.not_placed]
        self._bar.say(refused_words(refused, self._name_of, self._bench.unit) if refused else "")

    def _say_fault(self, found: list[tuple[Spot, FaultMark]]) -> None:
        own = {(piece.offer, piece.ref) for piece in self._bench.chosen()}
        ours = [
            (spot, mark)
            for spot, mark in found
            if any((spot.offer, Ref(spot.sheet, number)) in own for number in mark.indices)
        ]
        spot, mark = (ours or found)[0]
        told = mark.sentence if ours else words.on_sheet(spot.sheet + 1, mark.sentence)
        more = len(ours or found) - 1
        if more:
            told += f" {count(more, 'more fault')}."
        box = mark.box
        self.told_of = QRectF(box.x_mm, box.y_mm, box.width_mm, box.height_mm).translated(spot.origin)
        if not ours:
            self._bar.say(told, show=True)
            return
        out = self._hand.offer_spot()
        for piece in self._bench.chosen():
            self.told_of |= piece.sceneBoundingRect()
        self.told_of |= self._bench.spot_offered
        if out is None:
            told += f" {words.no_room(len(own))}"
        elif out.sheet is not None:
            told += f" {words.no_other_room(len(own))}"
        self._bar.say(told, settle=_settle_words(out) if out else "")

    def _show_first(self) -> None:
        """Choose the pieces of the fault that the bar tells of, and bring them into view."""
        for spot in self._bench.spots:
            for mark in self._bench.marks_on(spot)[:1]:
                self._hand.choose(spot.offer, [Ref(spot.sheet, number) for number in mark.indices])
                self._canvas.fit_chosen()
                self._canvas.setFocus()
                return

    def _short(self) -> OfferShown | None:
        """The first offer whose sheets yield too few pieces."""
        return next((offer for offer in self._bench.offers if offer.missing), None)

    def _add_missing(self) -> None:
        short = self._short()
        if short is not None:
            self._hand.add_missing(short)

    def _name_of(self, key: str) -> str:
        return facts_of(self._bench.facts, key).name


def _settle_words(out: WayOut) -> str:
    if out.sheet is None:
        return words.SETTLE
    return words.SETTLE_ON_NEW if out.is_new else words.settle_on(out.sheet + 1)
