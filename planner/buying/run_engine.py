"""All ways of finding layouts and runs on one sheet size, and what is proven about them."""

from collections.abc import Callable

from planner.buying.capacity import Rows
from planner.buying.effort import Effort
from planner.buying.packer import Counts
from planner.buying.run_bound import Proof
from planner.buying.run_groups import grouped_plans, guessed_plans
from planner.buying.run_plan import RunPlan, RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_pool import recombined
from planner.buying.run_search import RunSearch
from planner.buying.run_single import sheet_by_sheet
from planner.buying.selections import selections_of

_LIKELY_FILL, _EMPTIER, _FULLER = 0.95, 0.01, 0.02
"""How full sheets are assumed to become when runs are looked for that will pack, and the next guesses."""
_MOST_FILLS = 8
_MOST_FAILURES = 6
_FEW_LAYOUTS = 3
_SMALL_SET_UPS = 0.1
"""Of an order's cost."""
_BRANCH_SHARE = 0.4
_FIRST_PROOF_SHARE = 0.1
_WALK_SHARE = 0.12
_POLISH_SHARE = 0.12
"""Shares of the budget; the proof has the rest."""


def search_runs(
    problem: RunProblem,
    effort: Effort,
    *,
    end: float,
    seed: int = 0,
    told: Callable[[RunPlan], None] | None = None,
    rows: Rows | None = None,
    proof: Proof | None = None,
) -> RunPlan:
    """The cheapest plan found by the time this share of the budget is used up; hears of every better one.

    A person's two ways are always among the plans compared, so no plan costs more than they do. With the
    capacity rows, runs are also looked for by branching as if sheets could not be filled quite; a proof
    of the same problem is carried on, and the runs that it cannot rule out are tried.
    """
    search = RunSearch(problem, seed=seed, is_over=effort.until(end), told=told)
    search.offer(one_layout_a_design(problem))
    for plan in guessed_plans(problem, search.loads.tolist()):
        search.offer(plan)
    search.offer(one_mixed_layout(problem))
    if effort.is_none:
        return search.cheapest
    if _sheets_are_what_counts(search):
        search.offer(sheet_by_sheet(problem, effort))
        search.offer(recombined(problem, search.cheapest, effort))
    search.polish(effort.steps(for_each_round=2) or 2)
    if rows is not None and proof is not None and _all_known(search, rows, proof, effort, end):
        return search.cheapest
    starts = grouped_plans(problem)
    for plan in starts:
        search.offer(plan)
    if rows is None:
        search.is_over = effort.until(end)
        search.anneal(starts, effort.steps(for_each_round=1))
        return search.cheapest
    search.is_over = effort.lasting(_POLISH_SHARE, end)
    search.anneal(starts, effort.steps(for_each_round=1))
    _branch(search, rows, effort, end)
    if _proven(search, proof, effort, effort.lasting(_FIRST_PROOF_SHARE, end)):
        return search.cheapest
    search.is_over = effort.lasting(_WALK_SHARE, end)
    if len(set(problem.packer.kinds)) == 1:
        search.anneal(starts, effort.steps(for_each_round=1))
    else:
        search.improve(starts, steps=effort.steps(for_each_round=2))
    if _sheets_are_what_counts(search):
        search.offer(recombined(problem, search.cheapest, effort))
    if not _proven(search, proof, effort, effort.until(end)):
        search.is_over = effort.until(end)
        search.anneal(starts, effort.steps(for_each_round=1))
    return search.cheapest


def _sheets_are_what_counts(search: RunSearch) -> bool:
    """Whether a layout more hardly costs anything, even were there one a design."""
    prices = search.problem.prices
    set_ups = prices.set_up * len(search.problem.needs)
    return not prices.is_by_layout and set_ups <= _SMALL_SET_UPS * search.cheapest.cost


def _all_known(search: RunSearch, rows: Rows, proof: Proof, effort: Effort, end: float) -> bool:
    """With few designs: whether the best plan is the cheapest among all that can go on sheets at all."""
    problem = search.problem
    most_nodes = effort.steps(for_each_round=5_000)
    selections = selections_of(problem.packer, rows, problem.needs, most_nodes=most_nodes)
    if selections is None:
        return False
    # Where breaks count by layout the number of sheets alone tells little.
    by_layout = problem.prices.is_by_layout
    least_sheets, used = (1, ()) if by_layout else selections.fewest(effort.until(0.8 * end))
    proof.know(selections, least_sheets)
    layouts = [(run, counts, problem.packer.pack(counts)) for run, counts in used]
    packed = [(run, counts, layout) for run, counts, layout in layouts if layout is not None]
    if used and len(packed) == len(used):
        search.offer(problem.plan(*zip(*packed, strict=True)))
    return _proven(search, proof, effort, effort.until(end))


def _proven(search: RunSearch, proof: Proof | None, effort: Effort, is_over: Callable[[], bool]) -> bool:
    """Whether the best plan is now known to be the cheapest of those with as many layouts as were tried."""
    if proof is None:
        return False
    search.is_over = is_over
    search.judge = proof.judge
    proof.run(
        lambda: search.cheapest.cost,
        is_over,
        most_nodes=effort.steps(for_each_round=200),
        propose=search.propose,
    )
    return proof.bound(search.cheapest.cost).cost >= search.cheapest.cost


def _branch(search: RunSearch, rows: Rows, effort: Effort, end: float) -> None:
    """Runs that would work if sheets became no fuller than assumed, cheapest first.

    Less full is assumed where what is found does not pack, fuller where nothing cheaper is left.
    """
    problem = search.problem
    most = problem.most_layouts
    layouts = _FEW_LAYOUTS if most is None else min(_FEW_LAYOUTS, most)
    search.is_over = effort.lasting(_BRANCH_SHARE, end)
    fill = _LIKELY_FILL
    for _ in range(_MOST_FILLS):
        likely = Proof(problem, rows, most_layouts=layouts, loads=(search.loads / fill).tolist())
        search.judge = likely.judge
        failures = _Failures(search)
        likely.run(
            lambda: search.cheapest.cost,
            failures.are_enough,
            most_nodes=effort.steps(for_each_round=100),
            propose=failures.propose,
        )
        if search.is_over() or fill > 1:
            return
        fill += -_EMPTIER if failures.are_many else _FULLER


class _Failures:
    """Proposes runs to a search and counts how many of them in turn led to nothing better."""

    def __init__(self, search: RunSearch) -> None:
        self._search = search
        self._in_turn = 0

    @property
    def are_many(self) -> bool:
        return self._in_turn >= _MOST_FAILURES

    def are_enough(self) -> bool:
        return self.are_many or self._search.is_over()

    def propose(self, runs: tuple[int, ...], counts: tuple[Counts, ...] | None) -> None:
        before = self._search.cheapest.cost
        self._search.propose(runs, counts)
        self._in_turn = 0 if self._search.cheapest.cost < before else self._in_turn + 1
