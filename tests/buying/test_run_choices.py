"""The list of runs worth packing for, against trying every way to fill the sheets."""

import itertools

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.buying.run_choices import RunChoices
from planner.buying.run_plan import RunProblem
from tests.buying.places import row_of, slots

SLOTS = 4
SELECTIONS = [(a, SLOTS - a) for a in range(SLOTS + 1)]


def listed(problem: RunProblem, fill: float, upper: int = 10**9) -> list[tuple[int, ...]]:
    loads = np.full(len(problem.needs), 1 / SLOTS)
    choices = RunChoices(problem)
    return list(choices.cheapest_first(loads, fill=fill, upper=lambda: upper, is_over=lambda: False))


def works(runs: tuple[int, ...], needs: tuple[int, int]) -> bool:
    return any(
        all(sum(r * n[want] for r, n in zip(runs, counts, strict=True)) >= needs[want] for want in (0, 1))
        for counts in itertools.product(SELECTIONS, repeat=len(runs))
    )


@settings(max_examples=25, deadline=None)
@given(st.tuples(st.integers(1, 14), st.integers(1, 14)))
def test_no_runs_that_work_are_left_out_as_too_full_and_some_that_do_not_are(needs: tuple[int, int]) -> None:
    problem = slots(list(needs), SLOTS, row_of(SLOTS, (1, "1"), set_up="3"))
    everything, screened = listed(problem, fill=10), set(listed(problem, fill=1 + 1e-9))
    assert {runs for runs in everything if works(runs, needs)} <= screened
    assert len(screened) < len(everything) or all(works(runs, needs) for runs in everything)


def test_cheap_runs_come_first_and_none_that_cost_as_much_as_the_best_plan() -> None:
    problem = slots([40, 17, 9], SLOTS, row_of(SLOTS, (1, "1"), set_up="3"))
    costs = [problem.prices.of_plan(runs) for runs in listed(problem, fill=1.1, upper=2_700)]
    assert costs == sorted(costs)
    assert costs
    assert max(costs) < 2_700
