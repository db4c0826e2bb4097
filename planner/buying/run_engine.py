"""All ways of finding layouts and runs on one sheet size, and what is proven about them."""

from collections.abc import Callable

from planner.buying.effort import Effort
from planner.buying.run_bound import Proof
from planner.buying.run_groups import grouped_plans, guessed_plans
from planner.buying.run_plan import RunPlan, RunProblem, one_layout_a_design, one_mixed_layout
from planner.buying.run_search import RunSearch

_WALK_SHARE = 0.4
"""Of the budget, before the proof begins to propose runs."""


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

    A person's two ways are always among the plans compared, so no plan costs more than they do. A proof
    of the same problem is carried on, and the runs that it cannot rule out are tried.
    """
    walk_end = end if proof is None else end * _WALK_SHARE
    search = RunSearch(problem, seed=seed, is_over=effort.until(walk_end), told=told)
    search.offer(one_layout_a_design(problem))
    for plan in guessed_plans(problem, search.loads.tolist()):
        search.offer(plan)
    search.offer(one_mixed_layout(problem))
    if effort.is_none:
        return search.cheapest
    starts = grouped_plans(problem)
    for plan in starts:
        search.offer(plan)
    search.improve(starts, steps=effort.steps(for_each_round=30))
    if proof is not None:
        search.is_over = effort.until(end)
        proof.run(
            lambda: search.cheapest.cost,
            search.is_over,
            most_nodes=effort.steps(for_each_round=500),
            propose=search.propose,
        )
        search.improve(starts, steps=effort.steps(for_each_round=10))
    return search.cheapest
