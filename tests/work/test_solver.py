"""The small door to the solver."""

import subprocess
import sys

import numpy as np

from planner.work.solver import Outcome, Programme, solve

INF = float("inf")


def a_programme(least: float) -> Programme:
    """Fewest x + y with 2x + 3y at least so much, both up to 9."""
    return Programme(
        np.array([1.0, 1.0]), np.array([[2.0, 3.0]]), np.array([least]), np.array([INF]), np.array([9.0, 9.0])
    )


def test_the_cheapest_whole_numbers_are_found() -> None:
    solution = solve(a_programme(8), budget_s=5)
    assert solution.outcome is Outcome.OPTIMAL
    assert solution.values.sum() == 3 == solution.least
    assert solution.values @ [2, 3] >= 8


def test_what_has_no_solution_is_proven_to_have_none() -> None:
    assert solve(a_programme(46), budget_s=5).outcome is Outcome.IMPOSSIBLE


def test_planning_does_not_load_the_solver_before_it_is_needed() -> None:
    told = "import sys, planner.buying.order; print('highspy' in sys.modules)"
    found = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "False"
