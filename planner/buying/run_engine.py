"""All ways of finding layouts and runs on one sheet size, one after the other within one budget."""

from collections.abc import Callable

from planner.buying.effort import Effort
from planner.buying.run_groups import grouped_plans, guessed_plans
from planner.buying.run_plan import RunPlan, RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_search import RunSearch


def search_runs(
    problem: RunProblem,
    effort: Effort,
    *,
    end: float,
    seed: int = 0,
    told: Callable[[RunPlan], None] | None = None,
) -> RunPlan:
    """The cheapest plan found by the time this share of the budget is used up; hears of every better one.

    A person's two ways are always among the plans compared, so no plan costs more than they do.
    """
    is_over = effort.until(end)
    search = RunSearch(problem, seed=seed, is_over=is_over, told=told)
    search.offer(one_layout_a_design(problem))
    for plan in guessed_plans(problem, search.loads.tolist()):
        search.offer(plan)
    search.offer(one_mixed_layout(problem))
    if not effort.is_none:
        starts = grouped_plans(problem)
        for plan in starts:
            search.offer(plan)
        search.improve(starts, steps=effort.steps(for_each_round=30))
    assert search.best is not None, "one layout a design always works where layouts are not limited"
    return search.best
