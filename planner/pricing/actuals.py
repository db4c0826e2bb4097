"""What finished jobs teach the shop book: how often a transfer is spoilt, how long loading takes.

Few jobs must not swing the shop's figures: what the shop typed counts like so many pressings of its own,
and gives way as real ones pile up.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.pressing.card import PressWork
from planner.pricing.costs import Costs
from planner.shop.actuals import Actuals
from planner.shop.book import Press, Shop
from planner.shop.document import changed

TYPED_COUNTS_LIKE = 200
"""Pressings that the shop's own figure is worth (a choice of the planner's)."""
LEAST_LOADING_S = 5.0


@dataclass(frozen=True, slots=True)
class Beside:
    """A figure of the plan beside the real one."""

    planned: Decimal
    real: Decimal

    @property
    def more_percent(self) -> Decimal | None:
        """How much more it was than planned, in percent; None where nothing was planned."""
        return (self.real / self.planned - 1) * 100 if self.planned else None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A finished job beside its plan."""

    minutes: Beside
    cost: Beside
    profit: Beside


def compare(costs: Costs, work: PressWork, actuals: Actuals) -> Comparison:
    """The plan's minutes, cost and profit beside the real ones; the revenue is taken as quoted."""
    return Comparison(
        minutes=Beside(Decimal(str(work.total_min)), Decimal(str(actuals.press_min))),
        cost=Beside(costs.total, actuals.cost),
        profit=Beside(costs.profit, costs.revenue - actuals.cost),
    )


def learned_misprint_rate(typed: float, past: Sequence[Actuals]) -> float:
    """The chance of a misprint after these jobs: the mean of a beta distribution whose prior is typed."""
    misprints = sum(one.misprints for one in past)
    pressings = sum(one.pressings for one in past)
    return (typed * TYPED_COUNTS_LIKE + misprints) / (TYPED_COUNTS_LIKE + pressings)


def learned_loading_s(press: Press, past: Sequence[Actuals]) -> float:
    """Loading time that would have made the plans of these jobs come true, drawn towards the typed one."""
    pressings = sum(one.pressings for one in past)
    more_s = 60 * sum(one.press_min - one.planned_min for one in past)
    return max(LEAST_LOADING_S, press.loading_s + more_s / (TYPED_COUNTS_LIKE + pressings))


def taught(shop: Shop, past: Sequence[Actuals]) -> Shop:
    """The shop book with misprint rate and loading times as these jobs showed them.

    `past` holds jobs planned with the figures that are in the book now: leave out those it has already
    learnt from.
    """
    spares = changed(
        shop.spares, misprint_rate=min(0.99, learned_misprint_rate(shop.spares.misprint_rate, past))
    )
    presses = tuple(
        changed(press, loading_s=round(learned_loading_s(press, past), 1)) for press in shop.presses
    )
    return changed(shop, spares=spares, presses=presses)
