"""The least that layouts and runs can cost: a proven bound, found by branching on the runs alone.

Fix how many layouts there are and let each run lie in a range. Nothing in the ranges costs less than the
lower ends do. And nothing works unless the upper ends do: take any multipliers that add up to 1, one a
layout; then each want needs at least f copies, f being the least sum of multipliers of copies whose runs
reach the need (a knapsack, solved for all needs at once), and since each sheet holds at most 1 by every
capacity row, Σ row[i] × f[need i] must not exceed 1 (see `planner.buying.capacity`). Ranges that fail are
dropped, the cheapest of the rest are halved, until the cheapest left cannot be halved, costs as much as
the best plan, or time is up: its lower ends are the bound. Only the packing is relaxed, never the price or
the need, so the bound holds for every plan with at most as many layouts as were tried. Plans with more
layouts are bounded by a linear programme in which at least so many are run; where that gives as much, the
bound holds for any number.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

import numpy as np
from numpy.typing import NDArray

from planner.buying.capacity import Row
from planner.buying.run_plan import RunProblem

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Runs = tuple[int, ...]
_Node = tuple[int, int, Runs, Runs]
"""Cost of the lower ends, a number to break ties, lower ends, upper ends."""

LONGEST_NEED = 3_000
"""Beyond this the knapsack over single copies is too long to solve thousands of times."""
_BATCH = 192
_LEANINGS = (1.0, 0.8, 1.2, 0.6)
"""Multipliers are the runs to these powers: long runs are worth about their length."""
_NOISE = 1e-7


@dataclass(frozen=True, slots=True)
class RunBound:
    """No plan with at most so many layouts costs less coins."""

    cost: int
    most_layouts: int
    leaves: tuple[Runs, ...] = ()
    """Cheapest runs that could not be ruled out: worth packing."""


def least_cost(
    problem: RunProblem,
    rows: Sequence[Row],
    *,
    most_layouts: int,
    upper: int,
    is_over: Callable[[], bool],
    most_nodes: int | None = None,
) -> RunBound:
    """The bound for plans of at most `most_layouts` layouts; never over `upper`, the best plan's cost."""
    search = _Branching(problem, rows, upper)
    for layouts in range(1, most_layouts + 1):
        search.open(layouts)
    leaves: list[Runs] = []
    nodes = 0
    while True:
        cheapest = search.cheapest()
        if cheapest is None or is_over() or (most_nodes is not None and nodes >= most_nodes):
            break
        nodes += search.branch(cheapest)
        leaves = search.leaves
        if leaves and search.least() >= search.cost(leaves[0]):
            break
    return RunBound(min(upper, search.least()), most_layouts, tuple(leaves[:20]))


class _Branching:
    """Open ranges by number of layouts."""

    def __init__(self, problem: RunProblem, rows: Sequence[Row], upper: int) -> None:
        self.cost = problem.prices.of_plan
        self.leaves: list[Runs] = []
        self._upper = upper
        self._needs: Ints = np.array(problem.needs, dtype=np.int64)
        self._rows: Floats = np.array(rows, dtype=float)
        self._open: dict[int, list[_Node]] = {}
        self._count = 0

    def open(self, layouts: int) -> None:
        """Begin with all runs of so many layouts."""
        self._open[layouts] = []
        longest = int(self._needs.max())
        self._push(layouts, (1,) * layouts, (longest,) * layouts)

    def least(self) -> int:
        """The cheapest that is left, or the best plan's cost."""
        open_costs = [heap[0][0] for heap in self._open.values() if heap]
        leaf_costs = [self.cost(leaf) for leaf in self.leaves[:1]]
        return min([*open_costs, *leaf_costs, self._upper])

    def cheapest(self) -> int | None:
        """The number of layouts whose cheapest range is the cheapest of all."""
        alive = [(heap[0][0], layouts) for layouts, heap in self._open.items() if heap]
        if not alive or min(alive)[0] >= self._upper:
            return None
        return min(alive)[1]

    def branch(self, layouts: int) -> int:
        """Halve a batch of the cheapest ranges and keep what may work; returns how many were looked at."""
        heap = self._open[layouts]
        children: list[tuple[Runs, Runs]] = []
        while heap and len(children) < _BATCH:
            cost, _, low, high = heappop(heap)
            if cost >= self._upper:
                break
            children += _halves(low, high, self.cost)
        children = [child for child in children if self.cost(child[0]) < self._upper]
        if not children:
            return 0
        possible = self._may_work(np.array([high for _, high in children], dtype=np.int64))
        for (low, high), may in zip(children, possible, strict=True):
            if may:
                self._push(layouts, low, high)
        self.leaves.sort(key=self.cost)
        return len(children)

    def _push(self, layouts: int, low: Runs, high: Runs) -> None:
        if low == high:
            self.leaves.append(low)
            return
        self._count += 1
        heappush(self._open[layouts], (self.cost(low), self._count, low, high))

    def _may_work(self, highs: Ints) -> NDArray[np.bool_]:
        """Whether each tuple of runs passes every row under every choice of multipliers."""
        alive = np.ones(len(highs), dtype=bool)
        for leaning in _LEANINGS:
            weights = highs[alive].astype(float) ** leaning
            weights /= weights.sum(axis=1, keepdims=True)
            copies = least_copies(highs[alive], weights, self._needs)
            loads = copies @ self._rows.T
            alive[alive] = (loads <= 1 + _NOISE).all(axis=1)
            if not alive.any():
                break
        return alive


def least_copies(runs: Ints, weights: Floats, needs: Ints) -> Floats:
    """For each tuple of runs and each need: the least sum of weights of copies whose runs reach the need."""
    longest = int(needs.max())
    least = np.zeros((len(runs), longest + 1))
    for need in range(1, longest + 1):
        rest = np.maximum(0, need - runs)
        least[:, need] = (weights + np.take_along_axis(least, rest, axis=1)).min(axis=1)
    return least[:, needs]


def _halves(low: Runs, high: Runs, cost: Callable[[Sequence[int]], int]) -> list[tuple[Runs, Runs]]:
    """The range in two, along the run whose ends differ most in cost; longest run first stays first."""

    def spread(number: int) -> tuple[int, int]:
        raised = (*low[:number], high[number], *low[number + 1 :])
        return cost(raised), high[number] - low[number]

    wide = [number for number in range(len(low)) if low[number] < high[number]]
    at = max(wide, key=spread)
    middle = (low[at] + high[at]) // 2
    lower = _ordered(low, (*high[:at], middle, *high[at + 1 :]))
    upper = _ordered((*low[:at], middle + 1, *low[at + 1 :]), high)
    return [half for half in (lower, upper) if half is not None]


def _ordered(low: Runs, high: Runs) -> tuple[Runs, Runs] | None:
    """The part of a range in which runs fall from the first layout to the last; None where it is empty."""
    lows, highs = list(low), list(high)
    for number in range(len(lows) - 2, -1, -1):
        lows[number] = max(lows[number], lows[number + 1])
    for number in range(1, len(highs)):
        highs[number] = min(highs[number], highs[number - 1])
    if any(a > b for a, b in zip(lows, highs, strict=True)):
        return None
    return tuple(lows), tuple(highs)
