"""What the chart draws, in figures: a few curves, breaks, crossings, the present quantity. No Qt here."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from planner.buying.quantity import CostByQuantity, Crossing, QuantityPoint
from planner.plan.wording import count, money
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window.offers import words
from planner.window.offers.other_quantities import cheapest_offers

_ABOVE = 1.9
"""How far above the dearest curve's present cost the chart reaches: small orders are dear beyond telling."""


@dataclass(frozen=True, slots=True)
class Known:
    """What an offer costs at the present quantity, better known than by a quick arrangement."""

    cost: Decimal
    is_accepted: bool
    """By the job's own sheets; else a search found it."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One offer's costs by quantity; `style` is its place among the shop's offers drawn."""

    offer: str
    name: str
    style: int
    points: tuple[QuantityPoint, ...]
    """Of quick arrangements: what the line joins."""
    here: QuantityPoint | None = None
    """The present quantity where that is known better: it lies off the line."""
    is_accepted: bool = False
    """Whether the job's own sheets are what is known."""

    def at(self, quantity: int) -> QuantityPoint | None:
        if self.here is not None and self.here.quantity == quantity:
            return self.here
        return self.quick_at(quantity)

    def quick_at(self, quantity: int) -> QuantityPoint | None:
        return next((point for point in self.points if point.quantity == quantity), None)


@dataclass(frozen=True, slots=True)
class Curves:
    """All that a chart shows."""

    curves: tuple[Curve, ...]
    crossings: tuple[Crossing, ...]
    now: int
    currency: str
    rough: bool
    chosen: str | None

    @property
    def most(self) -> int:
        """The largest quantity."""
        return max((point.quantity for curve in self.curves for point in curve.points), default=1)

    @property
    def top(self) -> float:
        """Where the axis of cost ends; what is dearer leaves the chart at its top."""
        here = [float(point.cost_each) for curve in self.curves if (point := curve.at(self.now))]
        every = [float(point.cost_each) for curve in self.curves for point in curve.points]
        if not every:
            return 1.0
        return min(max(every), _ABOVE * max(here)) if here else max(every)

    @property
    def quantities(self) -> tuple[int, ...]:
        return tuple(sorted({point.quantity for curve in self.curves for point in curve.points}))

    def name_of(self, offer: str) -> str:
        return next((curve.name for curve in self.curves if curve.offer == offer), offer)

    def told(self, curve: Curve, point: QuantityPoint) -> str:
        """The figures at one point, in sentences."""
        notes = [words.BREAK_NOTE] if point.is_break else []
        quick = curve.quick_at(point.quantity)
        if point is curve.here and quick is not None:
            notes.append(words.known_note(money(quick.cost, self.currency), is_accepted=curve.is_accepted))
        notes += [
            words.crossing_note(self.name_of(crossing.after))
            for crossing in self.crossings
            if crossing.quantity == point.quantity and crossing.after == curve.offer
        ]
        return words.point_hint(
            curve.name,
            count(point.quantity, "garment"),
            money(point.cost, self.currency),
            money(point.cost_each, self.currency),
            " ".join(notes),
        )


def curves_from(
    costs: CostByQuantity,
    shop: Shop,
    *,
    now: int,
    chosen: str | None,
    rough: bool,
    known: Mapping[str, Known] | None = None,
) -> Curves:
    """The offers worth a line, and where the cheapest of them changes.

    `known` gives offers' costs at the present quantity as the rows tell them.
    """
    keys = cheapest_offers(costs, now)
    by_key = {curve.offer: curve for curve in costs.curves}
    drawn = [offer for offer in shop.offers if offer.key in keys]
    curves = tuple(
        _with_known(
            Curve(offer.key, offer.name, style, by_key[offer.key].points), now, (known or {}).get(offer.key)
        )
        for style, offer in enumerate(drawn)
    )
    crossings = tuple(
        crossing for crossing in costs.crossings if crossing.before in keys and crossing.after in keys
    )
    return Curves(curves, crossings, now, shop.currency, rough, chosen)


def _with_known(curve: Curve, now: int, known: Known | None) -> Curve:
    quick = curve.quick_at(now)
    if known is None or quick is None or known.cost == quick.cost:
        return curve
    here = changed(quick, cost=known.cost, cost_each=known.cost / max(1, now))
    return replace(curve, here=here, is_accepted=known.is_accepted)


def cheapest_words(curves: Curves) -> str:
    """Which offer is the cheapest over which quantities, and what the present one makes of that."""
    by_quantity = _cheapest_by_quantity(curves)
    if not any(curve.here for curve in curves.curves):
        return by_quantity
    priced = [(point.cost, curve.name) for curve in curves.curves if (point := curve.at(curves.now))]
    return f"{by_quantity} {words.known_now(curves.now, min(priced)[1])}"


def _cheapest_by_quantity(curves: Curves) -> str:
    quantities = curves.quantities
    if not curves.curves or not quantities:
        return ""
    if not curves.crossings:
        first = min(curves.curves, key=lambda curve: curve.points[0].cost)
        return words.always_cheapest(first.name, quantities[0], quantities[-1])
    spans = [(quantities[0], curves.crossings[0].before)]
    spans += [(crossing.quantity, crossing.after) for crossing in curves.crossings]
    told = []
    for at, (start, offer) in enumerate(spans):
        following = spans[at + 1][0] if at + 1 < len(spans) else None
        end = max((q for q in quantities if following is None or q < following), default=start)
        told.append(words.cheapest_span(curves.name_of(offer), start, end, last=following is None))
    return f"{words.CHEAPEST_AT}: {'; '.join(told)}."
