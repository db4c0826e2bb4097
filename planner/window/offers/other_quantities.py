"""Which quantities the chart prices, and which offers it shows: a rough answer soon, a fine one later."""

from collections.abc import Collection, Sequence
from decimal import Decimal

from planner.buying.compare import Facts
from planner.buying.quantity import CostByQuantity, QuantityCurve, cost_by_quantity, usual_quantities
from planner.job.document import Job
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.work.ticket import Ticket

MOST_CURVES = 4
"""More lines than that cannot be told apart."""
_FEW = 12
_PORTION = 8


def garments_of(job: Job) -> int:
    return sum(line.count for line in job.lines)


def at_few(job: Job, shop: Shop, facts: Facts, ticket: Ticket) -> CostByQuantity:
    """All offers that may be used, at a dozen quantities around the present one."""
    now = garments_of(job)
    if not now or not job.prints:
        return CostByQuantity(curves=(), crossings=())
    every = usual_quantities(now)
    stride = max(1, len(every) // _FEW)
    few = {*every[stride - 1 :: stride], every[-1], now}
    return cost_by_quantity(job, shop, facts, sorted(few), ticket=ticket)


def portions(job: Job) -> tuple[tuple[int, ...], ...]:
    """All usual quantities in portions of a second or so; each begins with the last of the one before.

    Work in portions lets other work have its turn, and a portion that overlaps knows the price before.
    """
    every = usual_quantities(garments_of(job))
    return tuple(every[max(0, at - 1) : at + _PORTION] for at in range(0, len(every), _PORTION))


def at_portion(
    job: Job, shop: Shop, facts: Facts, offers: Collection[str], quantities: Sequence[int], ticket: Ticket
) -> CostByQuantity:
    """These offers at one portion of quantities."""
    few = changed(shop, offers=tuple(offer for offer in shop.offers if offer.key in offers))
    return cost_by_quantity(job, few, facts, quantities, ticket=ticket)


def joined(portions: Sequence[CostByQuantity]) -> CostByQuantity:
    """Portions one after the other as one answer; the quantities they share count once."""
    curves = [
        QuantityCurve(
            offer=each[0].offer,
            points=tuple(point for at, curve in enumerate(each) for point in curve.points[1 if at else 0 :]),
        )
        for each in zip(*(portion.curves for portion in portions), strict=True)
    ]
    crossings = tuple(crossing for portion in portions for crossing in portion.crossings)
    return CostByQuantity(curves=tuple(curves), crossings=crossings)


def cheapest_offers(costs: CostByQuantity, now: int, most: int = MOST_CURVES) -> tuple[str, ...]:
    """Offers worth a line: those that are the cheapest somewhere, then the cheapest at this quantity."""
    quantities = sorted({point.quantity for curve in costs.curves for point in curve.points})
    best = dict.fromkeys(key for at in quantities if (key := costs.cheapest_at(at)) is not None)
    by_cost = sorted(costs.curves, key=lambda curve: _cost_near(curve, now))
    wanted = dict.fromkeys([*best, *(curve.offer for curve in by_cost)])
    return tuple(wanted)[:most]


def _cost_near(curve: QuantityCurve, quantity: int) -> Decimal:
    nearest = min(curve.points, key=lambda point: abs(point.quantity - quantity), default=None)
    return nearest.cost_each if nearest is not None else Decimal("Infinity")
