"""Which runs are worth packing for: tuples by the thousand, screened by load alone, cheapest first.

Cheap plans use few lengths of run: those at which a price break begins, those that divide a need with
little surplus, and something short for what is left. All tuples of such runs can be listed and priced, and
most of those that cost little are ruled out at once, since their sheets would have to be too full.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations_with_replacement
from math import comb

import numpy as np
from numpy.typing import NDArray

from planner.buying.run_bound import LONGEST_NEED, passing, run_lengths
from planner.buying.run_plan import RunProblem

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Runs = tuple[int, ...]

_MOST_LAYOUTS = 3
_MOST_TUPLES = 60_000
"""Of one number of layouts; with more of them fewer lengths are combined."""
_MOST_COPIES = 8
_STRIDE = 1.12
"""Ratio of neighbours among the lengths that are there for what is left."""
_BATCH = 512


class RunChoices:
    """The tuples of runs of one problem that may lead to cheap plans."""

    def __init__(self, problem: RunProblem) -> None:
        self._needs: Ints = np.array(problem.needs, dtype=np.int64)
        self._least_sheets = float(np.array(problem.packer.shares) @ self._needs)
        self._tuples: list[Ints] = []
        self._costs: list[Ints] = []
        most = _MOST_LAYOUTS if problem.most_layouts is None else min(_MOST_LAYOUTS, problem.most_layouts)
        # Longer needs would take longer to screen than to search.
        lengths = _lengths(problem) if max(problem.needs) <= LONGEST_NEED else []
        for layouts in range(1, most + 1) if lengths else ():
            lengths = _thinned(lengths, layouts, problem.prices.starts)
            ways = combinations_with_replacement(lengths[::-1], layouts)
            tuples = np.array(list(ways), dtype=np.int64)
            tuples = tuples[tuples.sum(axis=1) >= self._least_sheets]
            self._tuples.append(tuples)
            self._costs.append(_costs(problem, tuples))

    def cheapest_first(
        self, loads: Floats, *, fill: float, upper: Callable[[], int], is_over: Callable[[], bool]
    ) -> Iterator[Runs]:
        """Tuples that cost less than `upper()` and may work with sheets no fuller than `fill`."""
        priced: list[tuple[int, Runs]] = []
        for tuples, costs in zip(self._tuples, self._costs, strict=True):
            below = costs < upper()
            found = zip(costs[below].tolist(), map(tuple, tuples[below].tolist()), strict=True)
            priced += found
        priced.sort()
        for start in range(0, len(priced), _BATCH):
            batch = priced[start : start + _BATCH]
            if is_over() or batch[0][0] >= upper():
                return
            runs = [runs for _, runs in batch]
            may_work = self._may_work(runs, loads / fill)
            yield from (one for one, may in zip(runs, may_work, strict=True) if may)

    def _may_work(self, each: Sequence[Runs], loads: Floats) -> NDArray[np.bool_]:
        may = np.zeros(len(each), dtype=bool)
        numbers = np.array([len(runs) for runs in each])
        for layouts in np.unique(numbers):
            asked = np.flatnonzero(numbers == layouts)
            runs = np.array([each[int(at)] for at in asked], dtype=np.int64)
            may[asked] = passing(runs, loads[np.newaxis], self._needs, most=1.0)
        return may


def _lengths(problem: RunProblem) -> list[int]:
    """Lengths of run worth combining, shortest first."""
    longest = max(problem.needs)
    wished = {start for start in problem.prices.starts if start <= longest}
    wished |= {-(-need // copies) for need in problem.needs for copies in range(1, _MOST_COPIES + 1)}
    stride = 1.0
    while stride < longest:
        wished.add(int(stride))
        stride = max(stride + 1, stride * _STRIDE)
    # Where more sheets cost no more, nobody prints fewer.
    allowed = np.array(run_lengths(problem.prices, longest))
    return sorted({int(allowed[np.searchsorted(allowed, run)]) for run in wished})


def _thinned(lengths: list[int], layouts: int, starts: Sequence[int]) -> list[int]:
    """The same without those closest to the next, so that there are not too many tuples; breaks stay."""
    lengths = list(lengths)
    while comb(len(lengths) + layouts - 1, layouts) > _MOST_TUPLES:
        ratios = [
            (lengths[at + 1] / length, at) for at, length in enumerate(lengths[:-1]) if length not in starts
        ]
        if not ratios:
            break
        lengths.pop(min(ratios)[1])
    return lengths


def _costs(problem: RunProblem, tuples: Ints) -> Ints:
    """What each tuple costs."""
    prices = problem.prices
    counted = tuples if prices.is_by_layout else tuples.sum(axis=1)
    each, places = np.unique(counted, return_inverse=True)
    bought = np.array([prices.bought(int(count))[0] for count in each], dtype=np.int64)
    costs = bought[places].reshape(counted.shape)
    if prices.is_by_layout:
        costs = costs.sum(axis=1)
    return np.asarray(costs + prices.set_up * tuples.shape[1])
