"""The one place that knows HiGHS: a small mixed-integer linear programme in, a solution out.

HiGHS is imported on first use; it takes longer to load than most orders take to plan.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class Outcome(StrEnum):
    """How solving ended."""

    OPTIMAL = "optimal"
    IMPOSSIBLE = "impossible"
    """Proven to have no solution."""
    UNDECIDED = "undecided"
    """Time was up, or the solver gave up."""


@dataclass(frozen=True)
class Programme:
    """Minimise costs · x with low ≤ rows · x ≤ high and 0 ≤ x ≤ most."""

    costs: Floats
    rows: Floats
    """One row a constraint, dense: programmes here are small."""
    low: Floats
    high: Floats
    most: Floats
    whole: bool = True
    """Whether all variables are integers."""


@dataclass(frozen=True)
class Solution:
    outcome: Outcome
    values: Floats
    """Empty unless a solution was found."""
    least: float
    """Proven lower bound on the costs; minus infinity where nothing was proven."""
    worths: Floats
    """What the costs rise by as each row asks for one more; empty where variables are whole."""


def solve(programme: Programme, *, budget_s: float, most_nodes: int | None = None) -> Solution:
    """The cheapest solution, on one thread and always the same for the same programme.

    With `most_nodes` the work is limited by the branches looked at, too. Undecided, the best found counts.
    """
    import highspy

    count = len(programme.costs)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = count, len(programme.rows)
    lp.col_cost_ = programme.costs
    lp.col_lower_, lp.col_upper_ = np.zeros(count), programme.most
    lp.row_lower_, lp.row_upper_ = programme.low, programme.high
    filled = programme.rows != 0
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.concatenate([[0], filled.sum(axis=1).cumsum()]).astype(np.int32)
    lp.a_matrix_.index_ = np.nonzero(filled)[1].astype(np.int32)
    lp.a_matrix_.value_ = programme.rows[filled]
    if programme.whole:
        lp.integrality_ = [highspy.HighsVarType.kInteger] * count
    highs = highspy.Highs()  # type: ignore[no-untyped-call]
    highs.silent()
    for option, value in (
        ("log_to_console", False),
        ("threads", 1),
        ("random_seed", 0),
        ("time_limit", max(0.001, budget_s)),
        ("mip_rel_gap", 0.0),
        *([] if most_nodes is None else [("mip_max_nodes", most_nodes)]),
    ):
        highs.setOptionValue(option, value)
    highs.passModel(lp)
    highs.run()
    status = highs.getModelStatus()
    info = highs.getInfo()
    if status == highspy.HighsModelStatus.kOptimal:
        solution = highs.getSolution()
        worths = np.array([] if programme.whole else solution.row_dual)
        values = np.array(solution.col_value)
        return Solution(Outcome.OPTIMAL, values, float(info.objective_function_value), worths)
    if status == highspy.HighsModelStatus.kInfeasible:
        return Solution(Outcome.IMPOSSIBLE, np.zeros(0), np.inf, np.zeros(0))
    least = float(info.mip_dual_bound) if programme.whole else -np.inf
    is_found = info.primal_solution_status == highspy.kSolutionStatusFeasible
    values = np.array(highs.getSolution().col_value) if is_found else np.zeros(0)
    return Solution(Outcome.UNDECIDED, values, least, np.zeros(0))
