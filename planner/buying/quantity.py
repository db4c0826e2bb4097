"""What a job would cost at other quantities: curves, where the cheapest offer changes, price breaks.

Costs by quantity are no smooth curves and cross more than once, so every quantity asked for is priced;
nothing is interpolated.
"""

from collections.abc import Sequence
from decimal import Decimal

from planner.buying.compare import QUICK, Effort, Facts, OfferResult, goods_price, result_at
from planner.buying.suits import suits
from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.shop.book import Shop
from planner.shop.document import Document, changed
from planner.shop.offers import Offer
from planner.work.ticket import Ticket


class QuantityPoint(Document):
    """One offer at one number of garments."""

    quantity: int
    cost: Decimal
    cost_each: Decimal
    """Cost a garment; not rounded."""
    is_break: bool = False
    """A price break was passed since the quantity before."""


class QuantityCurve(Document):
    """One offer over all quantities."""

    offer: str
    points: tuple[QuantityPoint, ...]


class Crossing(Document):
    """From this quantity on another offer is the cheapest."""

    quantity: int
    before: str
    after: str


class CostByQuantity(Document):
    """Data of the chart: a curve an offer, and where the cheapest changes."""

    curves: tuple[QuantityCurve, ...]
    crossings: tuple[Crossing, ...]

    def cheapest_at(self, quantity: int) -> str | None:
        """Key of the cheapest offer at one of the quantities."""
        costs = [
            (point.cost, curve.offer)
            for curve in self.curves
            for point in curve.points
            if point.quantity == quantity
        ]
        return min(costs)[1] if costs else None


def cost_by_quantity(
    job: Job,
    shop: Shop,
    facts: Facts,
    quantities: Sequence[int] | None = None,
    effort: Effort = QUICK,
    *,
    ticket: Ticket | None = None,
) -> CostByQuantity:
    """Every offer that may be used, priced at each number of garments (default: see `usual_quantities`).

    The job's sizes keep their proportions; each quantity is dealt out to them whole. With `ticket` one
    step a quantity is reported; stopping raises `Cancelled`.
    """
    now = sum(line.count for line in job.lines)
    asked = sorted(set(quantities if quantities is not None else usual_quantities(now)))
    offers = [offer for offer in shop.offers if _may_be_used(offer, job, shop, facts)]
    points: dict[str, list[QuantityPoint]] = {offer.key: [] for offer in offers}
    prices: dict[str, object] = {}
    for number, quantity in enumerate(asked):
        if ticket is not None:
            ticket.step(number, len(asked))
        scaled = at_quantity(job, quantity)
        for offer in offers:
            result = result_at(offer, scaled, shop, facts, effort, prints=scaled.prints, ticket=ticket)
            # One more image or layout at the prices known is no break.
            price = frozenset(goods_price(result.order))
            points[offer.key].append(_point(quantity, result, prices.get(offer.key, price) != price))
            prices[offer.key] = price
    curves = tuple(QuantityCurve(offer=key, points=tuple(each)) for key, each in points.items())
    return CostByQuantity(curves=curves, crossings=_crossings(curves, asked))


def spans_of_change(costs: CostByQuantity) -> tuple[tuple[int, ...], ...]:
    """Where the cheapest changes between quantities that are not neighbours: all from one to the other."""
    asked = sorted({point.quantity for curve in costs.curves for point in curve.points})
    before = dict(zip(asked[1:], asked, strict=False))
    return tuple(
        tuple(range(before[crossing.quantity], crossing.quantity + 1))
        for crossing in costs.crossings
        if crossing.quantity - before[crossing.quantity] > 1
    )


def with_more(costs: CostByQuantity, more: CostByQuantity) -> CostByQuantity:
    """Both answers about the same offers as one; where both know a quantity the later one counts."""
    later = {curve.offer: curve.points for curve in more.curves}
    curves = []
    for curve in costs.curves:
        first = later[curve.offer][0].quantity if curve.offer in later else 0
        by_quantity = {point.quantity: point for point in curve.points}
        # Whether a break was passed since the quantity before, the first of a span cannot know.
        by_quantity |= {p.quantity: p for p in later.get(curve.offer, ()) if p.quantity != first}
        points = tuple(by_quantity[quantity] for quantity in sorted(by_quantity))
        curves.append(QuantityCurve(offer=curve.offer, points=points))
    asked = sorted({point.quantity for curve in curves for point in curve.points})
    return CostByQuantity(curves=tuple(curves), crossings=_crossings(curves, asked))


def usual_quantities(now: int) -> tuple[int, ...]:
    """Up to about sixty quantities around the present one: each single one while that is few enough."""
    top = max(24, 2 * now)
    stride = max(1, top // 60)
    return tuple(sorted({*range(stride, top + 1, stride), 1, max(1, now), now + 1}))


def at_quantity(job: Job, quantity: int) -> Job:
    """The job with so many garments in all, its sizes in the same proportions (largest remainders)."""
    counts = [size.count for line in job.lines for size in line.sizes]
    dealt = iter(_dealt(counts, quantity))
    lines = tuple(
        changed(line, sizes=tuple(changed(size, count=next(dealt)) for size in line.sizes))
        for line in job.lines
    )
    return changed(job, lines=lines)


def _dealt(counts: Sequence[int], quantity: int) -> list[int]:
    now = sum(counts)
    if not now:
        return list(counts)
    shares = [divmod(count * quantity, now) for count in counts]
    dealt = [whole for whole, _ in shares]
    by_rest = sorted(range(len(counts)), key=lambda number: (-shares[number][1], number))
    for number in by_rest[: quantity - sum(dealt)]:
        dealt[number] += 1
    return dealt


def _may_be_used(offer: Offer, job: Job, shop: Shop, facts: Facts) -> bool:
    # A due date does not depend on the quantity here, and the least order is what the chart is about.
    return not any(
        finding.seriousness is Seriousness.STOP
        for print_ in job.prints
        for finding in suits(job, print_, offer, facts.traits.get(print_.artwork), presses=shop.presses)
    )


def _point(quantity: int, result: OfferResult, is_break: bool) -> QuantityPoint:
    return QuantityPoint(
        quantity=quantity, cost=result.cost, cost_each=result.cost / max(1, quantity), is_break=is_break
    )


def _crossings(curves: Sequence[QuantityCurve], quantities: Sequence[int]) -> tuple[Crossing, ...]:
    found: list[Crossing] = []
    cheapest: str | None = None
    for number, quantity in enumerate(quantities):
        costs = {curve.offer: curve.points[number].cost for curve in curves}
        if not costs:
            break
        least = min(costs.values())
        # On a tie the offer before stays the cheapest: nothing changes for the shop.
        if cheapest is not None and costs[cheapest] == least:
            continue
        best = min(key for key, cost in costs.items() if cost == least)
        if cheapest is not None:
            found.append(Crossing(quantity=quantity, before=cheapest, after=best))
        cheapest = best
    return tuple(found)
