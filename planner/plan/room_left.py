"""Copies that would find room for nothing on sheets that are printed anyway."""

from dataclasses import dataclass

from planner.buying.order import room_filled
from planner.buying.wants import extra_pieces
from planner.job.document import Arranged, Extra, Job
from planner.job.edits import next_key, set_fields, set_layouts
from planner.job.pieces import pieces_at
from planner.plan.ordering import Facts, arranged_orders, outlines_of, way_of
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.prices import ByLength, BySheet

_LEAST_COPIES, _MOST_COPIES = 4, 1000
"""Fewer are not worth a word; more nobody hands out."""


@dataclass(frozen=True, slots=True)
class RoomLeft:
    """The small print that fits most often beside what is on the sheets."""

    extra: Extra
    """Its `most` is how many copies find room, runs counted."""
    arranged: tuple[Arranged, ...]
    """The job's accepted sheets with those copies on them."""


def room_left(job: Job, shop: Shop, facts: Facts) -> RoomLeft | None:
    """What could ride along on the sheets as accepted; None where nothing worth a word could.

    The smallest print of each offer is tried, unless its artwork is an extra already: then the shop knows.
    """
    known = {extra.artwork for extra in job.extras}
    best: RoomLeft | None = None
    for offer, order in arranged_orders(job, shop, facts):
        pieces = pieces_at(job, offer.key)
        if not isinstance(offer.price, BySheet | ByLength) or not pieces:
            continue
        smallest = min(pieces, key=lambda piece: piece.size.area_mm2)
        if smallest.artwork in known:
            continue
        extra = Extra(
            key=next_key(job, "e"),
            artwork=smallest.artwork,
            width_mm=smallest.size.width_mm,
            most=_MOST_COPIES,
            may_turn=smallest.may_turn,
        )
        tried = set_fields(job, extras=(extra,))
        outlines = outlines_of(tried, shop, facts)
        layouts = room_filled(
            offer,
            pieces,
            order.layouts,
            spares=shop.spares,
            currency=shop.currency,
            way=way_of(job, shop),
            extras=extra_pieces(tried, outlines),
            outlines=outlines,
            rounds=1,
        )
        copies = sum(layout.count_of(extra.key) for layout in layouts)
        if copies >= _LEAST_COPIES and (best is None or copies > best.extra.most):
            extra = changed(extra, most=copies)
            best = RoomLeft(extra, set_layouts(job, offer.key, layouts).arranged)
    return best
