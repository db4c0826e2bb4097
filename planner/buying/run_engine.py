"""All ways of finding layouts and runs on one sheet size, and what is proven about them."""

from collections.abc import Callable

from planner.buying.effort import Effort
from planner.buying.packer import Counts
from planner.buying.run_bound import Proof
from planner.buying.run_choices import RunChoices
from planner.buying.run_groups import grouped_plans, guessed_plans
from planner.buying.run_plan import RunPlan, RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_pool import full_layouts, recombined
from planner.buying.run_search import RunSearch
from planner.buying.run_single import sheet_by_sheet
from planner.buying.selections import selections_of

_FILLS = (0.97, 1.0, 1.03)
"""How full sheets are assumed to become, by loads that say a little much, when runs are chosen."""
_SMALL_SET_UPS = 0.03
"""Of an order's cost."""
_FULL_SHARE = 0.15
_POLISH_SHARE = 0.12
_CHOICES_SHARE = 0.28
_WALK_SHARE = 0.1
_ALIKE_SHARE = 0.6
_BEYOND_SHARE = 0.4
"""Shares of the budget; the proof has the rest."""


def search_runs(
    problem: RunProblem,
    effort: Effort,
    *,
    end: float,
    seed: int = 0,
    told: Callable[[RunPlan], None] | None = None,
    proof: Proof | None = None,
) -> RunPlan:
    """The cheapest plan found by the time this share of the budget is used up; hears of every better one.

    A person's two ways are always among the plans compared, so no plan costs more than they do. A proof of
    the same problem is carried on, and the runs that it cannot rule out are tried.
    """
    search = RunSearch(problem, seed=seed, is_over=effort.until(end), told=told)
    search.offer(one_layout_a_design(problem))
    for plan in guessed_plans(problem, search.loads.tolist()):
        search.offer(plan)
    search.offer(one_mixed_layout(problem))
    if effort.is_none:
        return search.cheapest
    full: tuple[Counts, ...] = ()
    if not problem.prices.is_by_layout and problem.most_layouts is None:
        full = full_layouts(problem, effort.lasting(_FULL_SHARE, end))
    if _sheets_are_what_counts(search):
        search.offer(sheet_by_sheet(problem, effort))
    search.offer(recombined(problem, search.cheapest, effort, full=full))
    search.polish(effort.steps(for_each_round=2) or 2)
    if proof is not None and _all_known(search, proof, effort, end):
        return search.cheapest
    starts = grouped_plans(problem)
    for plan in starts:
        search.offer(plan)
    if problem.packer.is_of_one_kind:
        search.is_over = effort.lasting(_ALIKE_SHARE, end)
        search.anneal(starts, effort.steps(for_each_round=4))
    else:
        search.is_over = effort.lasting(_POLISH_SHARE, end)
        search.anneal(starts, effort.steps(for_each_round=1))
        _try_choices(search, effort, min(end, effort.used + _CHOICES_SHARE))
        search.is_over = effort.lasting(_WALK_SHARE, end)
        search.improve(starts, steps=effort.steps(for_each_round=2))
    search.offer(recombined(problem, search.cheapest, effort, full=full))
    if not _proven(search, proof, effort, end):
        search.is_over = effort.until(end)
        search.anneal(starts, effort.steps(for_each_round=1))
    return search.cheapest


def _sheets_are_what_counts(search: RunSearch) -> bool:
    """Whether a layout more hardly costs anything, even were there one a design."""
    prices = search.problem.prices
    set_ups = prices.set_up * len(search.problem.needs)
    return not prices.is_by_layout and set_ups <= _SMALL_SET_UPS * search.cheapest.cost


def _all_known(search: RunSearch, proof: Proof, effort: Effort, end: float) -> bool:
    """With few designs: whether the best plan is the cheapest among all that can go on sheets at all."""
    problem = search.problem
    most_nodes = effort.steps(for_each_round=5_000)
    selections = selections_of(problem.packer, proof.rows, problem.needs, most_nodes=most_nodes)
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
    return _proven(search, proof, effort, end)


def _proven(search: RunSearch, proof: Proof | None, effort: Effort, end: float) -> bool:
    """Whether nothing is known to be cheaper, unless perhaps plans with more layouts than designs."""
    if proof is None:
        return False

    def upper() -> int:
        return search.cheapest.cost

    steps = effort.steps(for_each_round=200)
    search.judge = proof.judge
    if len(search.cheapest.runs) > proof.most_layouts:
        search.is_over = effort.lasting(_BEYOND_SHARE, end)
        proof.look_beyond(upper, search.is_over, most_nodes=steps, propose=search.propose)
    search.is_over = effort.until(end)
    proof.run(upper, search.is_over, most_nodes=steps, propose=search.propose)
    bound = proof.bound(search.cheapest.cost)
    is_enough = bound.most_layouts is None or bound.most_layouts >= len(search.problem.needs)
    return is_enough and bound.cost >= search.cheapest.cost


def _try_choices(search: RunSearch, effort: Effort, end: float) -> None:
    """Pack for the runs that would work if sheets became as full as assumed, each time a little fuller."""
    problem = search.problem
    choices = RunChoices(problem)
    most = effort.steps(for_each_round=30)
    tried: set[tuple[int, ...]] = set()
    for number, fill in enumerate(_FILLS):
        search.is_over = effort.until(min(end, effort.used + (end - effort.used) / (len(_FILLS) - number)))
        likely = choices.cheapest_first(
            search.loads, fill=fill, upper=lambda: search.cheapest.cost, is_over=search.is_over
        )
        for runs in likely:
            if search.is_over() or not search.would_improve(runs) or len(tried) == most:
                break
            if runs not in tried and search.fullness(runs) <= fill:
                tried.add(runs)
                search.offer(search.realise(runs, tries=2))
