"""Orders at offers by the sheet: which layouts, and how often each is run."""

from collections.abc import Callable
from decimal import Decimal

from planner.buying.ask import Ask, Found
from planner.buying.packer import Packer
from planner.buying.price import Printed, sheet_lines
from planner.buying.run_plan import RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_prices import RunPrices, run_prices
from planner.measures.layout import Layout
from planner.measures.money import total
from planner.shop.prices import BySheet
from planner.work.ticket import Ticket


def plan_sheets(
    ask: Ask, table: BySheet, ticket: Ticket | None, tell: Callable[[Found], None] | None
) -> Found:
    """The cheapest layouts and runs found on any of the offer's sheet sizes."""
    found = [_on_size(ask, table, prices) for prices in run_prices(table, ask.currency)]
    return min((one for one in found if one is not None), key=lambda one: _goods(ask, table, one))


def _on_size(ask: Ask, table: BySheet, prices: RunPrices) -> Found | None:
    packer = Packer(
        ask.wants,
        prices.size,
        gap_mm=ask.offer.gap_mm,
        margin_mm=ask.offer.margin_mm,
        way=ask.way,
        seed=ask.seed,
    )
    problem = RunProblem(tuple(want.wanted for want in ask.wants), packer, prices)
    plans = [plan for plan in (one_layout_a_design(problem), one_mixed_layout(problem)) if plan]
    best = min(plans, key=lambda plan: plan.cost)
    runs = prices.bought_runs(best.runs)
    layouts = tuple(
        Layout(layout.sheet, layout.placements, run) for layout, run in zip(best.layouts, runs, strict=True)
    )
    return Found(layouts)


def _goods(ask: Ask, table: BySheet, found: Found) -> Decimal:
    printed = [Printed(layout.sheet, layout.runs) for layout in found.layouts]
    return total(line.amount for line in sheet_lines(table, printed, ask.currency))
