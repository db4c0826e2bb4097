"""The best mixture of all layouts that were found on the way, whatever plan they were found for.

Where breaks count all sheets of the order, an integer programme over the layouts known to pack (each as
often as it likes, a set-up charge for each that is used) beats most plans whose layouts were found together.
"""

import numpy as np

from planner.buying.effort import Effort
from planner.buying.run_plan import RunPlan, RunProblem
from planner.buying.solver import Programme, solve

_MOST_COLUMNS = 120
_SHARE = 0.15


def recombined(problem: RunProblem, best: RunPlan, effort: Effort) -> RunPlan | None:
    """A plan of known layouts, or None where none was found or breaks count by layout."""
    prices, packer, needs = problem.prices, problem.packer, np.array(problem.needs, dtype=float)
    if prices.is_by_layout or problem.most_layouts is not None:
        return None
    columns = packer.known_to_pack()
    if len(columns) < 2:
        return None
    count, wants = len(columns), len(needs)
    held = np.array(columns, dtype=float)
    endless = np.full(wants, np.inf)
    # The load of a want, were sheets as full as the best of these: which layouts are worth a look.
    duals = solve(
        Programme(-needs, held, np.full(count, -np.inf), np.ones(count), endless, whole=False), budget_s=1
    )
    if not len(duals.values):
        return None
    worth = np.argsort(-(held @ duals.values), kind="stable")[:_MOST_COLUMNS]
    held = held[np.sort(worth)]
    each = prices.bought(sum(best.runs))[0] / sum(best.runs)
    solution = solve(
        _programme(held, needs, each, float(prices.set_up)),
        budget_s=effort.share_s(_SHARE),
        most_nodes=effort.steps(for_each_round=30),
    )
    if not len(solution.values):
        return None
    runs = np.round(solution.values[: len(held)]).astype(int)
    used = np.nonzero(runs)[0]
    counts = [tuple(int(n) for n in held[at]) for at in used]
    layouts = [packer.pack(column) for column in counts]
    found = [layout for layout in layouts if layout is not None]
    if len(found) < len(layouts):
        return None
    return problem.plan([int(runs[at]) for at in used], counts, found)


def _programme(
    held: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    needs: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    each: float,
    set_up: float,
) -> Programme:
    count = len(held)
    # More runs than meet every want that a layout carries make no sense.
    with np.errstate(divide="ignore"):
        tops = np.ceil(np.where(held > 0, needs / held, 0)).max(axis=1)
    if not set_up:
        return Programme(np.full(count, each), held.T, needs, np.full(len(needs), np.inf), tops)
    costs = np.concatenate([np.full(count, each), np.full(count, set_up)])
    rows = np.block([[held.T, np.zeros((len(needs), count))], [-np.eye(count), np.diag(tops)]])
    low = np.concatenate([needs, np.zeros(count)])
    return Programme(costs, rows, low, np.full(len(rows), np.inf), np.concatenate([tops, np.ones(count)]))
