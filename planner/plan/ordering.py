"""From a job to its orders: accepted layouts where they still hold, a quick arrangement elsewhere."""

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from planner.artwork.facts import ArtworkFacts, Style
from planner.artwork.outline import Corners, at_size
from planner.buying.order import order_from_layouts, plan_order, quick_order, room_filled
from planner.buying.price import UnknownSheet
from planner.buying.purchase import Order, Purchase
from planner.buying.suits import ArtTraits
from planner.buying.wants import extra_pieces, wants_of
from planner.job.document import Arranged, Bound, Job
from planner.job.edits import arranged_at, set_layouts
from planner.job.pieces import NeededPiece, needed_pieces, pieces_at, print_size, what_layouts_serve
from planner.measures import figures
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way, sheets_with
from planner.sheets.problem import Piece
from planner.sheets.validate import faults
from planner.shop.book import Shop, Spares
from planner.shop.document import changed
from planner.shop.offers import Offer
from planner.shop.prices import ByArea, ByPiece
from planner.work.ticket import Ticket

Facts = Mapping[str, ArtworkFacts]
"""What was measured, by artwork key; artworks not measured yet are not in it."""


@dataclass(frozen=True, slots=True)
class Ordering:
    """Everything that an order at one offer depends on; equal questions have equal answers."""

    offer: Offer
    pieces: tuple[NeededPiece, ...]
    spares: Spares
    currency: str
    way: Way
    rush: bool
    extras: tuple[Piece, ...]
    pinned: tuple[Layout, ...]
    colours: tuple[tuple[str, int], ...]
    outlines: tuple[tuple[str, Corners], ...]
    """By piece key, where sheets are cut by outline."""

    @property
    def terms(self) -> str:
        """Digest of all that a proven bound depends on beside the need."""
        told = (
            self.offer.model_dump_json(),
            self.spares.model_dump_json(),
            self.currency,
            self.way.value,
            self.rush,
            self.colours,
            self.outlines,
        )
        return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def offers_used(job: Job, shop: Shop) -> tuple[Offer, ...]:
    """The offers that the job's prints are bought at, in the order of its prints."""
    keys = dict.fromkeys(key for print_ in job.prints if (key := job.offer_of(print_)))
    return tuple(offer for key in keys if (offer := shop.offer(key)))


def way_of(job: Job, shop: Shop) -> Way:
    """How this job's sheets are cut apart."""
    return job.way or shop.way


def outlines_of(job: Job, shop: Shop, facts: Facts) -> dict[str, Corners]:
    """Outlines in millimetres by piece key, for a job whose sheets are cut by outline; else none."""
    if way_of(job, shop) is not Way.OUTLINE:
        return {}
    sizes = [(piece.key, piece.artwork, piece.size) for piece in needed_pieces(job)]
    sizes += [
        (extra.key, extra.artwork, print_size(job.artwork(extra.artwork), extra.width_mm))
        for extra in job.extras
    ]
    return {
        key: at_size(measured.outline, size.width_mm, size.height_mm)
        for key, artwork, size in sizes
        if (measured := facts.get(artwork)) is not None and measured.outline
    }


def traits(facts: ArtworkFacts) -> ArtTraits:
    """What decides whether a kind of transfer can show an artwork."""
    return ArtTraits(
        colours=facts.flat_colours,
        photograph=facts.style is Style.PHOTOGRAPH,
        soft_edges=any(level.area_px > 0.02 * facts.ink_px for level in facts.soft),
    )


def purchase_of(job: Job, shop: Shop, facts: Facts) -> Purchase | None:
    """What the job buys as it stands; None where no offer is chosen or nothing is needed."""
    orders = tuple(
        _standing_order(job, _ordering(job, shop, facts, offer))
        for offer in offers_used(job, shop)
        if wants_of(offer, pieces_at(job, offer.key), shop.spares)
    )
    return Purchase(orders=orders) if orders else None


def arranged_orders(job: Job, shop: Shop, facts: Facts) -> tuple[tuple[Offer, Order], ...]:
    """The offers whose accepted sheets hold and are in order, and what is bought there."""
    found = []
    for offer in offers_used(job, shop):
        ordering = _ordering(job, shop, facts, offer)
        order = _standing_order(job, ordering)
        outlines = dict(ordering.outlines)
        holds = order.layouts and is_arranged(job, order) and not order.provisional
        if holds and not faulty_pieces(order, offer, ordering.way, outlines):
            found.append((offer, order))
    return tuple(found)


def is_arranged(job: Job, order: Order) -> bool:
    """Whether somebody accepted the layouts of an order; where there are none, nothing is to accept."""
    return not order.layouts or _holds(job, arranged_at(job, order.offer))


def arrange_job(
    job: Job,
    shop: Shop,
    *,
    facts: Facts,
    ticket: Ticket | None = None,
    improved: Callable[[Order], None] | None = None,
    rounds: int | None = None,
) -> Job:
    """The job with the best layouts found for every offer it uses, pinned pieces left in place.

    Layouts that are in order and cost less than what the search found are kept, their room filled with
    extras. With `rounds` the answer is the same on every machine; otherwise the shop's search time counts.

    Raises:
        Cancelled: the ticket was stopped before there was any answer.
    """
    for offer in offers_used(job, shop):
        ordering = _ordering(job, shop, facts, offer)
        if not wants_of(offer, ordering.pieces, shop.spares):
            continue
        found = plan_order(
            offer,
            ordering.pieces,
            spares=ordering.spares,
            currency=ordering.currency,
            way=ordering.way,
            rush=ordering.rush,
            extras=ordering.extras,
            pinned=ordering.pinned,
            budget_s=shop.search_s,
            rounds=rounds,
            ticket=ticket,
            improved=improved,
            colours=dict(ordering.colours),
            outlines=dict(ordering.outlines),
        )
        bound = None
        if found.least_cost is not None:
            bound = Bound(
                least_cost=found.least_cost,
                most_layouts=found.most_layouts,
                one_size=found.one_size,
                terms=ordering.terms,
            )
        job = set_layouts(job, offer.key, _better(job, ordering, found, rounds), bound)
    return job


def faulty_pieces(order: Order, offer: Offer, way: Way, outlines: Mapping[str, Corners]) -> int:
    """How many pieces of an order's layouts are in each other's way or over an edge."""
    return sum(
        len({index for fault in found for index in fault.indices})
        for layout in order.layouts
        if (found := faults(layout, gap_mm=offer.gap_mm, margin_mm=offer.edge_mm, way=way, outlines=outlines))
    )


def sheets_apart(job: Job, offer: Offer, order: Order) -> int:
    """Over how many sheets the pieces are spread that must share one; 0 where they do.

    At an offer by the area a piece bought singly counts as a sheet; pieces priced one by one are on none.
    """
    if isinstance(offer.price, ByPiece):
        return 0
    marked = {piece.key for piece in pieces_at(job, order.offer) if piece.one_sheet}
    sheets = sheets_with(marked, order.layouts)
    if isinstance(offer.price, ByArea):
        ordered = sum(piece.ordered for piece in order.pieces if piece.piece in marked)
        sheets += ordered - sum(layout.count_of(key) for layout in order.layouts for key in marked)
    return sheets if sheets > 1 else 0


def _better(job: Job, ordering: Ordering, found: Order, rounds: int | None) -> tuple[Layout, ...]:
    """The accepted layouts where they are in order and cost less than those found, else those found.

    Those that part what must share a sheet go where the ones found do not.
    """
    arranged = arranged_at(job, ordering.offer.key)
    if arranged is None or not _holds(job, arranged):
        return found.layouts
    standing = _standing_order(job, ordering)
    whole = all(piece.surplus >= 0 for piece in standing.pieces)
    faulty = faulty_pieces(standing, ordering.offer, ordering.way, dict(ordering.outlines))
    is_apart = sheets_apart(job, ordering.offer, standing) and not sheets_apart(job, ordering.offer, found)
    keeps = whole and standing.cost < found.cost and not faulty and not is_apart
    if not keeps:
        return found.layouts
    return room_filled(
        ordering.offer,
        ordering.pieces,
        arranged.layouts,
        spares=ordering.spares,
        currency=ordering.currency,
        way=ordering.way,
        extras=ordering.extras,
        outlines=dict(ordering.outlines),
        rounds=rounds,
    )


def _ordering(job: Job, shop: Shop, facts: Facts, offer: Offer) -> Ordering:
    pieces = pieces_at(job, offer.key)
    arranged = arranged_at(job, offer.key)
    outlines = outlines_of(job, shop, facts)
    colours = (
        (piece.artwork, facts[piece.artwork].flat_colours) for piece in pieces if piece.artwork in facts
    )
    return Ordering(
        offer=offer,
        pieces=pieces,
        spares=shop.spares,
        currency=shop.currency,
        way=way_of(job, shop),
        rush=job.terms.rush,
        extras=extra_pieces(job, outlines),
        pinned=_pinned(arranged, pieces) if arranged else (),
        colours=tuple(sorted({(key, count) for key, count in colours if count is not None})),
        outlines=tuple(sorted(outlines.items())),
    )


def _standing_order(job: Job, ordering: Ordering) -> Order:
    arranged = arranged_at(job, ordering.offer.key)
    if arranged is None or not _holds(job, arranged):
        return _quick(ordering, figures.current())
    try:
        order = order_from_layouts(
            ordering.offer,
            ordering.pieces,
            arranged.layouts,
            spares=ordering.spares,
            currency=ordering.currency,
            rush=ordering.rush,
            colours=dict(ordering.colours),
        )
    except UnknownSheet:
        return _quick(ordering, figures.current())
    bound = arranged.bound
    if bound is None or bound.terms != ordering.terms:
        return order
    return changed(
        order, least_cost=bound.least_cost, most_layouts=bound.most_layouts, one_size=bound.one_size
    )


def _holds(job: Job, arranged: Arranged | None) -> bool:
    return arranged is not None and arranged.made_for == what_layouts_serve(pieces_at(job, arranged.offer))


def _pinned(arranged: Arranged, pieces: tuple[NeededPiece, ...]) -> tuple[Layout, ...]:
    """The accepted layouts with anything pinned, less every piece that is no longer of the right size."""
    sizes = {piece.key: piece.size for piece in pieces}
    layouts = []
    for layout in arranged.layouts:
        kept = tuple(
            placement
            for placement in layout.placements
            if (size := sizes.get(placement.print)) is not None and _is_about(placement.unturned, size)
        )
        if any(placement.pinned for placement in kept):
            layouts.append(Layout(layout.sheet, kept, layout.runs))
    return tuple(layouts)


def _is_about(one: Size, other: Size) -> bool:
    # An odd angle's size comes back through sines and cosines.
    return max(abs(one.width_mm - other.width_mm), abs(one.height_mm - other.height_mm)) < 0.001


@lru_cache(maxsize=64)
def _quick(ordering: Ordering, written_for: figures.Region) -> Order:
    return quick_order(
        ordering.offer,
        ordering.pieces,
        spares=ordering.spares,
        currency=ordering.currency,
        way=ordering.way,
        rush=ordering.rush,
        extras=ordering.extras,
        pinned=ordering.pinned,
        colours=dict(ordering.colours),
        outlines=dict(ordering.outlines),
    )
