"""What the canvas shows of a job and its plan, gathered once for each showing."""

from dataclasses import dataclass, replace

from planner.buying.purchase import NotPlaced, PieceOrder
from planner.job.document import Artwork, Job
from planner.job.edits import layouts_at
from planner.job.pieces import needed_pieces, print_of_piece, print_size
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.measures.lengths import effective_ppi
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.offers import Offer
from planner.shop.prices import ByLength, BySheet
from planner.window.sheet import words
from planner.window.sheet.moves import Roll, Room


@dataclass(frozen=True, slots=True)
class PieceFacts:
    """What a kind of piece is: enough for its picture and its tooltip."""

    key: str
    artwork: str | None
    """None where the job no longer holds the print."""
    name: str
    """Artwork and place: "choir-logo, left chest"."""
    size: Size
    """Unturned."""
    ppi: float | None
    """At print size; None for vector artwork."""
    cloth_hex: str
    """Colour of the garment it goes on."""
    garment: str
    may_turn: bool
    any_angle: bool = False
    """Whether it may stand at any angle where it is cut by outline."""


@dataclass(frozen=True, slots=True)
class OfferShown:
    """One offer's sheets as they lie on the bench."""

    key: str
    name: str
    room: Room
    way: Way
    layouts: tuple[Layout, ...]
    provisional: bool
    tally: tuple[PieceOrder, ...]
    not_placed: tuple[NotPlaced, ...] = ()
    """Pieces that no sheet of the offer takes."""
    searching: bool = False
    """The layouts are a running search's best so far."""

    @property
    def missing(self) -> tuple[PieceOrder, ...]:
        """Pieces of which the sheets yield fewer than the garments need."""
        return tuple(piece for piece in self.tally if piece.ordered < piece.need)

    @property
    def sheets(self) -> int:
        return sum(layout.runs for layout in self.layouts)

    def showing(self, layouts: tuple[Layout, ...], *, searching: bool = False) -> "OfferShown":
        """The same offer with other layouts, made by hand or found by the search; its tally is not known."""
        return replace(self, layouts=layouts, provisional=False, tally=(), searching=searching)


def piece_facts(job: Job) -> dict[str, PieceFacts]:
    """Facts by piece key, for all pieces the job needs and all its extras."""
    facts = {}
    for piece in needed_pieces(job):
        print_ = job.print_of(piece.print)
        line = job.line(print_.line)
        artwork = job.artwork(piece.artwork)
        place = wording.place(print_.location, print_.place_name)
        facts[piece.key] = PieceFacts(
            piece.key,
            artwork.key,
            f"{artwork.name.rpartition('.')[0] or artwork.name}, {place}",
            piece.size,
            _ppi(artwork, piece.size),
            line.colour.hex,
            f"{line.style or kind_name(line.kind)}, {line.colour.name}",
            piece.may_turn,
            piece.may_turn and piece.any_angle,
        )
    for extra in job.extras:
        artwork = job.artwork(extra.artwork)
        size = print_size(artwork, extra.width_mm)
        name = f"{artwork.name.rpartition('.')[0] or artwork.name}, extra"
        ppi = _ppi(artwork, size)
        any_angle = extra.may_turn and extra.any_angle
        facts[extra.key] = PieceFacts(
            extra.key, artwork.key, name, size, ppi, "#dedad2", "no garment", extra.may_turn, any_angle
        )
    return facts


def unknown_piece(key: str) -> PieceFacts:
    """Stands for a piece whose print the job no longer needs."""
    return PieceFacts(key, None, words.NO_LONGER_NEEDED, Size(1, 1), None, "#dedad2", "", True)


def offers_shown(job: Job, shop: Shop, plan: Plan) -> tuple[OfferShown, ...]:
    """Every offer with sheets, in the order of the purchase; accepted layouts where no purchase stands."""
    orders = plan.purchase.orders if plan.purchase else ()
    shown = []
    for order in orders:
        offer = shop.offer(order.offer)
        if offer is not None and order.layouts:
            provisional = order.provisional or plan.provisional
            of_order = _shown(job, shop, offer, order.layouts, provisional, order.pieces)
            shown.append(replace(of_order, not_placed=order.not_placed))
    bought = {order.offer for order in orders}
    for arranged in job.arranged:
        offer = shop.offer(arranged.offer)
        if offer is not None and arranged.offer not in bought:
            shown.append(_shown(job, shop, offer, layouts_at(job, arranged.offer), False, ()))
    return tuple(shown)


def _shown(
    job: Job,
    shop: Shop,
    offer: Offer,
    layouts: tuple[Layout, ...],
    provisional: bool,
    tally: tuple[PieceOrder, ...],
) -> OfferShown:
    return OfferShown(
        offer.key,
        offer.name,
        Room(offer.gap_mm, offer.edge_mm, roll=_roll_of(offer), sizes=_sizes_of(offer)),
        job.way or shop.way,
        layouts,
        provisional,
        tally,
    )


def _roll_of(offer: Offer) -> Roll | None:
    price = offer.price
    return Roll(price.step_mm, price.longest_mm) if isinstance(price, ByLength) else None


def _sizes_of(offer: Offer) -> tuple[Size, ...]:
    price = offer.price
    return tuple(sheet.size for sheet in price.sheets) if isinstance(price, BySheet) else ()


def _ppi(artwork: Artwork, size: Size) -> float | None:
    if artwork.stays_vector:
        return None
    width_px, height_px = artwork.size_px
    return min(effective_ppi(width_px, size.width_mm), effective_ppi(height_px, size.height_mm))


def facts_of(facts: dict[str, PieceFacts], key: str) -> PieceFacts:
    """Facts of a piece; a print's own where only its group's width went."""
    return facts.get(key) or facts.get(print_of_piece(key)) or unknown_piece(key)
