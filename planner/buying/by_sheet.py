"""Orders at offers by the sheet: which layouts, and how often each is run."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from planner.buying.ask import Ask, Found
from planner.buying.capacity import capacity_rows
from planner.buying.effort import Effort
from planner.buying.packer import Packer
from planner.buying.pinned import kept_layouts, still_wanted
from planner.buying.price import Printed, charged, fits_in, sheet_lines
from planner.buying.purchase import Saving
from planner.buying.run_bound import Proof
from planner.buying.run_engine import search_runs
from planner.buying.run_plan import RunPlan, RunProblem
from planner.buying.run_prices import RunPrices, amount_of, cheapest_of_all, coins_of, run_prices
from planner.buying.together import is_apart, marked_keys
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.measures.money import total
from planner.sheets.arrange import arrange
from planner.sheets.problem import Arrangement, FixedSheet, Request, grouped
from planner.shop.prices import BySheet
from planner.work.ticket import Ticket

Tell = Callable[[Found], None]

USUAL_LAYOUTS = 4
"""The bound is proven for at least so many distinct layouts."""
_SEARCH_SHARE = 0.95
_OUTLINE_SEARCH_SHARE = 0.4
"""Of the budget; the rest proves the bound."""


def plan_sheets(ask: Ask, table: BySheet, ticket: Ticket | None, tell: Tell | None) -> Found:
    """The cheapest layouts and runs found on any of the offer's sheet sizes, with a proven bound."""
    if not marked_keys(ask):
        return _planned(ask, table, ticket, tell)
    # The cheapest order may well keep them together of itself; else they are settled before the rest.
    half = replace(ask, budget_s=ask.budget_s / 2)
    settled = _planned(half, table, ticket, tell)
    free = tuple(replace(want, one_sheet=False) for want in ask.wants)
    found = _planned(replace(half, wants=free), table, ticket, None)
    is_cheaper = _cost(ask, table, found.layouts) < _cost(ask, table, settled.layouts)
    return found if is_cheaper and not is_apart(ask, found) else settled


def _planned(ask: Ask, table: BySheet, ticket: Ticket | None, tell: Tell | None) -> Found:
    """The same, where what must share a sheet is settled on one beforehand."""
    effort = Effort(ask.budget_s, ask.rounds, ticket)
    kept = kept_layouts(ask)
    wanted = still_wanted(ask.wants, kept)
    best = _Best(ask, table, tell)
    if not wanted:
        best.hear(Found(kept))
    sizes = run_prices(table, ask.currency)
    proofs = {} if effort.is_none or not wanted else _proofs(ask, sizes)
    search_share = _OUTLINE_SEARCH_SHARE if ask.way is Way.OUTLINE else _SEARCH_SHARE
    for number, prices in enumerate(sizes if wanted else ()):
        here = tuple(want for want in wanted if _fits(ask, want, prices.size))
        elsewhere = tuple(want for want in wanted if want not in here)
        second = _size_for(ask, elsewhere, sizes)
        if not here or (elsewhere and second is None):
            continue
        end = search_share * (number + 1) / len(sizes)
        rest = kept
        if elsewhere and second is not None:
            rest = (*kept, *_layouts(second, _searched(ask, elsewhere, second, effort, end, None)))

        def told(plan: RunPlan, prices: RunPrices = prices, rest: tuple[Layout, ...] = rest) -> None:
            best.hear(_with_savings(prices, plan, rest))

        # Runs proposed by outline areas would hardly ever pack by boxes.
        helps = here == ask.wants and ask.way is not Way.OUTLINE
        _searched(ask, here, prices, effort, end, told, proofs.get(prices.size) if helps else None)
    if ask.way is Way.OUTLINE and wanted and not effort.is_none:
        _by_outline(ask, wanted, sizes, kept, effort, ticket, best.hear)
    found = _to_free_delivery(ask, table, best.found)
    return found if effort.is_none or not wanted else _bounded(ask, table, sizes, proofs, found, effort)


def _bounded(
    ask: Ask,
    table: BySheet,
    sizes: Sequence[RunPrices],
    proofs: Mapping[Size, Proof],
    found: Found,
    effort: Effort,
) -> Found:
    """The same with its bound: among orders on one sheet size where it is such an order, else among all."""
    printed = [Printed(layout.sheet, layout.runs) for layout in found.layouts]
    goods = total(line.amount for line in sheet_lines(table, printed, ask.currency))
    upper = coins_of(goods, ask.currency)
    steps = effort.steps(for_each_round=500)
    is_on_one = len({layout.sheet for layout in found.layouts}) == 1 and bool(proofs)
    bounds = []
    for proof in proofs.values() if is_on_one else (_proof(ask, cheapest_of_all(sizes)),):
        within = len(found.layouts) <= proof.most_layouts
        if not within:
            proof.look_beyond(lambda: upper, effort.until(1.0), most_nodes=steps)
        proof.run(lambda: upper, effort.until(1.0), most_nodes=steps)
        bounds.append(proof.bound(upper) if within else proof.bound_for_any(upper))
    limits = [bound.most_layouts for bound in bounds if bound.most_layouts is not None]
    return replace(
        found,
        least_goods=amount_of(min(bound.cost for bound in bounds), ask.currency),
        most_layouts=min(limits, default=None),
        one_size=is_on_one and len(sizes) > 1,
    )


class _Best:
    """The cheapest order so far, everything charged; tells of every better one."""

    def __init__(self, ask: Ask, table: BySheet, tell: Tell | None) -> None:
        self._ask, self._table, self._tell = ask, table, tell
        self._found: Found | None = None
        self._worth = (Decimal("Infinity"), 0)

    @property
    def found(self) -> Found:
        assert self._found is not None, "every want fits some size, so there is always a plan"
        return self._found

    def hear(self, found: Found) -> None:
        # Of two orders that cost the same, the one with fewer layouts is less work.
        worth = (_cost(self._ask, self._table, found.layouts), len(found.layouts))
        if worth < self._worth:
            self._found, self._worth = found, worth
            if self._tell is not None:
                self._tell(found)


def _searched(
    ask: Ask,
    wants: tuple[Want, ...],
    prices: RunPrices,
    effort: Effort,
    end: float,
    told: Callable[[RunPlan], None] | None,
    proof: Proof | None = None,
) -> RunPlan:
    # What keeps apart as boxes keeps apart as outlines; packing outlines takes seconds, not milliseconds.
    way = Way.LOOSE if ask.way is Way.OUTLINE else ask.way
    packer = Packer(
        wants,
        prices.size,
        gap_mm=ask.offer.gap_mm,
        margin_mm=ask.offer.margin_mm,
        way=way,
        seed=ask.seed,
        budget_s=effort.packing_s,
    )
    problem = RunProblem(tuple(want.wanted for want in wants), packer, prices)
    return search_runs(problem, effort, end=end, seed=ask.seed, told=told, proof=proof)


def _by_outline(
    ask: Ask,
    wants: Sequence[Want],
    sizes: Sequence[RunPrices],
    kept: tuple[Layout, ...],
    effort: Effort,
    ticket: Ticket | None,
    tell: Tell,
) -> None:
    """Every sheet for itself, pieces nested by their outlines; tells of ever better orders."""

    def told(answer: Arrangement) -> None:
        if not answer.left_over:
            tell(Found((*kept, *grouped(answer.layouts))))

    answer = arrange(
        Request(
            tuple(want.piece(want.wanted) for want in wants),
            tuple(FixedSheet(prices.size) for prices in sizes),
            ask.offer.gap_mm,
            ask.offer.margin_mm,
            Way.OUTLINE,
            seed=ask.seed,
            budget_s=effort.share_s(0.5),
            rounds=ask.rounds,
        ),
        ticket,
        told,
    )
    told(answer)


def _fits(ask: Ask, want: Want, sheet: Size) -> bool:
    lost = 2 * ask.offer.margin_mm
    room = Size(sheet.width_mm - lost, sheet.height_mm - lost)
    return fits_in(want.size, room, may_turn=want.may_turn)


def _size_for(ask: Ask, wants: Sequence[Want], sizes: Sequence[RunPrices]) -> RunPrices | None:
    """The first size that takes them all."""
    fitting = (prices for prices in sizes if all(_fits(ask, want, prices.size) for want in wants))
    return next(fitting, None)


def _layouts(prices: RunPrices, plan: RunPlan) -> tuple[Layout, ...]:
    runs = prices.bought_runs(plan.runs)
    return tuple(
        Layout(layout.sheet, layout.placements, run) for layout, run in zip(plan.layouts, runs, strict=True)
    )


def _with_savings(prices: RunPrices, plan: RunPlan, rest: tuple[Layout, ...]) -> Found:
    more = sum(prices.bought_runs(plan.runs)) - sum(plan.runs)
    saves = prices.plainly(plan.runs) - plan.cost
    savings = (Saving(more=more, saves=amount_of(saves, prices.currency)),) if more else ()
    return Found((*rest, *_layouts(prices, plan)), savings=savings)


def _cost(ask: Ask, table: BySheet, layouts: Sequence[Layout]) -> Decimal:
    """The order in all: goods, least order, rush, delivery."""
    printed = [Printed(layout.sheet, layout.runs) for layout in layouts]
    goods = sheet_lines(table, printed, ask.currency)
    return charged(ask.offer, goods, currency=ask.currency, rush=ask.rush).cost


def _to_free_delivery(ask: Ask, table: BySheet, found: Found) -> Found:
    """More runs of one layout where reaching free delivery costs less than the delivery."""
    if ask.offer.free_delivery_from is None or not ask.offer.delivery:
        return found
    plain = best_cost = _cost(ask, table, found.layouts)
    best = found
    for number, layout in enumerate(found.layouts):
        for more in range(1, 200):
            longer = Layout(layout.sheet, layout.placements, layout.runs + more)
            layouts = (*found.layouts[:number], longer, *found.layouts[number + 1 :])
            printed = [Printed(one.sheet, one.runs) for one in layouts]
            goods = total(line.amount for line in sheet_lines(table, printed, ask.currency))
            cost = _cost(ask, table, layouts)
            if cost < best_cost:
                saving = Saving(more=more, saves=plain - cost)
                best_cost, best = cost, replace(found, layouts=layouts, savings=(*found.savings, saving))
            if goods >= ask.offer.free_delivery_from or goods >= plain:
                break
    return best


def _proofs(ask: Ask, sizes: Sequence[RunPrices]) -> dict[Size, Proof]:
    """One for each size on which everything fits."""
    return {
        prices.size: _proof(ask, prices)
        for prices in sizes
        if all(_fits(ask, want, prices.size) for want in ask.wants)
    }


def _proof(ask: Ask, prices: RunPrices) -> Proof:
    """Of the least that the goods can cost at these prices.

    What is pinned is left out of account: an order with pinned layouts is an order like any other.
    """
    gap_mm, margin_mm = ask.offer.gap_mm, ask.offer.margin_mm
    rows = capacity_rows(ask.wants, prices.size, gap_mm=gap_mm, margin_mm=margin_mm, way=ask.way)
    packer = Packer(ask.wants, prices.size, gap_mm=gap_mm, margin_mm=margin_mm, way=ask.way)
    problem = RunProblem(tuple(want.wanted for want in ask.wants), packer, prices)
    return Proof(problem, rows, most_layouts=USUAL_LAYOUTS)
