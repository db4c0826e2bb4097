"""What the hand asks for, turned into the next layouts of an offer: drags, nudges, commands, typed places."""

from collections.abc import Callable, Collection, Mapping
from dataclasses import replace

from planner.measures.geometry import Size
from planner.measures.layout import Placement, Way
from planner.plan.wording import count
from planner.window.sheet import moves, words
from planner.window.sheet.acts import Act, act, to_sheet
from planner.window.sheet.canvas import Canvas
from planner.window.sheet.drag import Drag, bounds_on_sheet
from planner.window.sheet.facts import OfferShown, facts_of
from planner.window.sheet.moves import Ref
from planner.window.sheet.places import Spot
from planner.window.sheet.ways_out import WayOut, nearest_way_out

Tell = Callable[[str, Act, str], None]
"""Offer key, the edit, and the gesture it belongs to."""


class Hand:
    """Carries gestures out on what is chosen. Gestures that merge are one undo step."""

    def __init__(self, canvas: Canvas, tell: Tell) -> None:
        self._canvas, self._bench, self._tell_of = canvas, canvas.bench, tell
        self._gestures = 0
        self._begin(nudging="", settling="")

    def begin_anew(self) -> None:
        """What comes next is a gesture of its own: something else was chosen."""
        self._begin(nudging="", settling="")

    def _begin(self, *, nudging: str, settling: str) -> None:
        """The gestures that the next nudge and the next settling belong to, if to any."""
        self._nudging, self._settling = nudging, settling

    def choose(self, offer: str, refs: Collection[Ref]) -> None:
        """Select pieces by their places."""
        found = [self._bench.piece(offer, ref) for ref in refs]
        self._canvas.choose([piece for piece in found if piece is not None])

    def drop(self, drag: Drag) -> None:
        """Pieces let go where they are now."""
        gesture = self._next()
        arrivals: dict[str, dict[Ref, tuple[int, Placement]]] = {}
        for (offer, ref), arrival in drag.arrivals().items():
            arrivals.setdefault(offer, {})[ref] = arrival
        for offer, pieces in arrivals.items():
            self._carry(offer, pieces, gesture)
        # Settling after a drop belongs to the drop; a nudge is a second thought.
        self._begin(nudging="", settling=gesture)

    def nudge(self, dx_mm: float, dy_mm: float) -> None:
        """Chosen pieces moved a little; nudges in a row are one step."""
        gesture = self._nudging or self._next()
        for offer, refs in self._by_offer().items():
            layouts = moves.moved(self._bench.offer(offer).layouts, refs, dx_mm, dy_mm)
            self._tell(offer, Act(layouts, tuple(refs), words.moved(count(len(refs), "piece"))), gesture)
        self._begin(nudging=gesture, settling=gesture)

    def place(self, left_mm: float | None, top_mm: float | None) -> None:
        """Chosen pieces moved so that the box around them begins there; None leaves that way as it is."""
        box = bounds_on_sheet(self._bench.chosen())
        self.begin_anew()
        self.nudge(
            0.0 if left_mm is None else left_mm - box.x_mm, 0.0 if top_mm is None else top_mm - box.y_mm
        )
        self.begin_anew()

    def free_angle(self) -> float | None:
        """How the one chosen piece is turned, where it may be turned to any angle."""
        pieces = self._bench.chosen()
        if len(pieces) != 1 or self._bench.offer(pieces[0].offer).way is not Way.OUTLINE:
            return None
        facts = pieces[0].facts
        return pieces[0].placement.turned_deg if facts is not None and facts.any_angle else None

    def turn_to(self, turned_deg: float) -> None:
        """The one chosen piece at an angle."""
        (piece,) = self._bench.chosen()
        layouts = moves.turned_to(self._bench.offer(piece.offer).layouts, piece.ref, turned_deg)
        self._tell(piece.offer, Act(layouts, (piece.ref,), words.turned_to(turned_deg)), self._next())

    def set_runs(self, spot: Spot, runs: int) -> None:
        layouts = moves.with_runs(self._bench.offer(spot.offer).layouts, spot.sheet, runs)
        title = words.printed(spot.sheet + 1, count(runs, "time"))
        self._tell(spot.offer, Act(layouts, (), title), self._next())

    def send_to(self, sheet: int | Size | None) -> None:
        """Chosen pieces on another sheet of their offer, or a new one of a size; None: of their own."""
        gesture = self._next()
        for offer, refs in self._by_offer().items():
            shown = self._bench.offer(offer)
            to = shown.layouts[min(refs).sheet].sheet if sheet is None else sheet
            if isinstance(to, Size) or to < len(shown.layouts):
                done = to_sheet(shown.layouts, refs, to, self._bench.room(shown))
                if done is not None:
                    self._tell(offer, done, gesture)

    def add_missing(self, offer: OfferShown) -> None:
        """The copies that the garments need and the sheets do not yield."""
        copies = [
            (piece.piece, facts_of(self._bench.facts, piece.piece).size, piece.need - piece.ordered)
            for piece in offer.missing
        ]
        layouts, refs = moves.with_copies(offer.layouts, copies, self._bench.room(offer))
        title = words.added(count(len(refs), "missing piece"))
        self._tell(offer.key, Act(layouts, refs, title), self._next())

    def edit(self, key: str) -> None:
        """Carry out an editing command."""
        gesture = (self._settling if key == "settle" else "") or self._next()
        for offer, refs in self._by_offer().items():
            shown = self._bench.offer(offer)
            done = act(key, shown.layouts, refs, self._bench.room(shown))
            if done is not None:
                self._tell(offer, done, gesture)

    def offer_spot(self) -> WayOut | None:
        """Outline where the chosen pieces could go instead; None where no sheet has room for them."""
        pieces = self._bench.chosen()
        offer = self._bench.offer(pieces[0].offer)
        refs = [piece.ref for piece in pieces if piece.offer == offer.key]
        out = nearest_way_out(offer.layouts, refs, self._bench.room(offer))
        if out is not None and not out.is_new:
            self._bench.offer_spot(
                (self._bench.spot(offer.key, sheet), placement) for sheet, placement in out.arrivals.values()
            )
        return out

    def choose_sheet(self) -> None:
        """All pieces of the current sheet."""
        spot = self._canvas.current
        if spot is not None:
            numbers = range(len(self._bench.layout(spot).placements))
            self.choose(spot.offer, [Ref(spot.sheet, number) for number in numbers])

    def choose_same(self) -> None:
        """All copies of the prints that are chosen."""
        prints = {(piece.offer, piece.placement.print) for piece in self._bench.chosen()}
        self._canvas.choose(
            [piece for piece in self._bench.all_pieces() if (piece.offer, piece.placement.print) in prints]
        )

    def choose_next_too(self) -> None:
        """One piece more: the next one in reading order after the last that is chosen."""
        pieces = self._bench.all_pieces()
        chosen = [at for at, piece in enumerate(pieces) if piece.chosen]
        following = max(chosen, default=-1) + 1
        if following < len(pieces):
            self._canvas.choose([*(pieces[at] for at in chosen), pieces[following]])

    def _tell(self, key: str, done: Act, gesture: str) -> None:
        offer = self._bench.offer(key)
        layouts = moves.cut_to_length(offer.layouts, done.layouts, offer.room)
        self._tell_of(key, replace(done, layouts=layouts), gesture)

    def _carry(self, offer: str, pieces: Mapping[Ref, tuple[int, Placement]], gesture: str) -> None:
        layouts, refs = moves.transferred(self._bench.offer(offer).layouts, pieces)
        self._tell(offer, Act(layouts, refs, words.moved(count(len(refs), "piece"))), gesture)

    def _by_offer(self) -> dict[str, list[Ref]]:
        refs: dict[str, list[Ref]] = {}
        for piece in self._bench.chosen():
            refs.setdefault(piece.offer, []).append(piece.ref)
        return refs

    def _next(self) -> str:
        self._gestures += 1
        return f"sheets {self._gestures}"
