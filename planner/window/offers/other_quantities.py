"""Which quantities the chart prices, and which offers it shows: a rough answer soon, a fine one later."""

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


def at_many(job: Job, shop: Shop, facts: Facts, rough: CostByQuantity, ticket: Ticket) -> CostByQuantity:
    """The cheapest offers of a rough answer, at all usual quantities."""
    if not rough.curves:
        return rough
    keys = cheapest_offers(rough, garments_of(job))
    few = changed(shop, offers=tuple(offer for offer in shop.offers if offer.key in keys))
    return cost_by_quantity(job, few, facts, ticket=ticket)


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
