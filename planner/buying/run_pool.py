"""The best mixture of known layouts, whatever plan they were found for.

Where breaks count all sheets of the order, an integer programme over the layouts known to pack (each as
often as it likes, a set-up charge for each that is used) beats most plans whose layouts were found together.
Full sheets for it are made by column generation: as long as some sheet is worth more than a sheet at the
prices of copies that the mixture of the layouts known so far implies, that sheet joins them.
"""

from collections.abc import Callable, Sequence

import numpy as np

from planner.buying.effort import Effort
from planner.buying.full_sheets import FullSheets
from planner.buying.packer import Counts
from planner.buying.run_plan import RunPlan, RunProblem
from planner.work.solver import Programme, solve

_MOST_COLUMNS = 120
_SHARE = 0.15
_MOST_FULL = 120
_WORTH_MORE = 1e-3
"""A sheet that is worth so little more than a sheet changes nothing."""


def full_layouts(problem: RunProblem, is_over: Callable[[], bool]) -> tuple[Counts, ...]:
    """Copies of each want on sheets that together need few runs, each want alone on a sheet first."""
    packer, needs = problem.packer, problem.needs
    filler = FullSheets(packer)
    wants = range(len(needs))
    columns = [tuple(min(packer.most(n), needs[n]) * (n == other) for other in wants) for n in wants]
    while not is_over() and len(columns) < _MOST_FULL:
        worths = _worths(np.array(columns, dtype=float), np.array(needs, dtype=float))
        if not len(worths):
            break
        worth, counts = filler.best(worths)
        column = tuple(min(count, need) for count, need in zip(counts, needs, strict=True))
        if worth <= 1 + _WORTH_MORE or column in columns:
            break
        columns.append(column)
    return tuple(columns)


def _worths(
    held: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
    needs: np.ndarray[tuple[int, ...], np.dtype[np.float64]],
) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """What a copy of each want is worth, in sheets, where a mixture of these layouts meets the needs."""
    endless, none = np.full(len(needs), np.inf), np.full(len(held), -np.inf)
    solution = solve(Programme(-needs, held, none, np.ones(len(held)), endless, whole=False), budget_s=1)
    return solution.values


def recombined(
    problem: RunProblem, best: RunPlan, effort: Effort, *, full: Sequence[Counts] = ()
) -> RunPlan | None:
    """A plan of known layouts, or None where none was found or breaks count by layout.

    `full`: layouts to consider besides those that the packer remembers.
    """
    prices, packer, needs = problem.prices, problem.packer, np.array(problem.needs, dtype=float)
    if prices.is_by_layout or problem.most_layouts is not None:
        return None
    columns = tuple(dict.fromkeys((*packer.known_to_pack(), *full)))
    if len(columns) < 2:
        return None
    held = np.array(columns, dtype=float)
    worths = _worths(held, needs)
    if not len(worths):
        return None
    # Those that come nearest to being worth a sheet.
    worth = np.argsort(-(held @ worths), kind="stable")[:_MOST_COLUMNS]
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
