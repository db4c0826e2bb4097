"""What the chart draws, in figures: a few curves, breaks, crossings, the present quantity. No Qt here."""

from dataclasses import dataclass

from planner.buying.quantity import CostByQuantity, Crossing, QuantityPoint
from planner.plan.wording import count, money
from planner.shop.book import Shop
from planner.window.offers import words
from planner.window.offers.other_quantities import cheapest_offers

_ABOVE = 1.9
"""How far above the dearest curve's present cost the chart reaches: small orders are dear beyond telling."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One offer's costs by quantity; `style` is its place among the shop's offers drawn."""

    offer: str
    name: str
    style: int
    points: tuple[QuantityPoint, ...]

    def at(self, quantity: int) -> QuantityPoint | None:
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


def curves_from(costs: CostByQuantity, shop: Shop, *, now: int, chosen: str | None, rough: bool) -> Curves:
    """The offers worth a line, and where the cheapest of them changes."""
    keys = cheapest_offers(costs, now)
    by_key = {curve.offer: curve for curve in costs.curves}
    drawn = [offer for offer in shop.offers if offer.key in keys]
    curves = tuple(
        Curve(offer.key, offer.name, style, by_key[offer.key].points) for style, offer in enumerate(drawn)
    )
    crossings = tuple(
        crossing for crossing in costs.crossings if crossing.before in keys and crossing.after in keys
    )
    return Curves(curves, crossings, now, shop.currency, rough, chosen)


def cheapest_words(curves: Curves) -> str:
    """Which offer is the cheapest over which quantities, as a sentence."""
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
