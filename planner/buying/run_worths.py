"""What runs cost at least, by what copies are worth: a bound that holds for whole ranges of runs at once.

Say what one needed copy of each want is worth, whatever you like. In a plan every need is met, so its
layouts make copies worth the sum of all needs at least, where copies beyond a need count nothing. What one
layout makes when it is run r times is at most V(r), a knapsack by any capacity row (see
`planner.buying.capacity`): a copy takes its share of the row and is worth r copies, or what is left of the
need. So no plan costs less than the worth of all needs and, for each layout, what its run costs beyond
V(r); over ranges of runs each layout counts with the least of that. And where the V of the longest runs do
not add up to the worth of all needs, nothing works. The knapsacks are relaxed to take parts of copies.

Which worths tell most about given ranges is a linear programme, solved by cutting planes. Worths that were
good for some ranges are mostly good for others nearby, so all are kept and tried.
"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from planner.buying.capacity import Rows
from planner.work.solver import Programme, solve

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_MOST_KEPT = 48
_MOST_CUTS = 400
_ROUNDS, _ROUNDS_FOR_MORE = 3, 30
_MAGNITUDE = 1.3
_ROWS = 4
_NEAR = 2e-3
"""So close to what the cuts promise, more of them are not worth the time."""
_FAR = 1_000
_SOLVE_S = 0.2
_NOISE, _TINY = 1e-7, 1e-12


class Worths:
    """Worths of the wants of one problem that were found useful, each with its figures for every run."""

    def __init__(self, needs: Ints, rows: Rows, costs: Floats) -> None:
        """`costs[r - 1]`: what a layout that is run r times costs at least; for r up to the largest need.

        The first row is the one that matters most.
        """
        self._needs, self._rows, self._costs = needs, rows, costs
        self._runs: Ints = np.arange(1, len(costs) + 1)
        full = needs // self._runs[:, None]
        rest = needs - full * self._runs[:, None]
        self._made = np.concatenate([full * self._runs[:, None], rest], axis=1).astype(float)
        self._copies = np.concatenate([full, rest > 0], axis=1).astype(float)
        # By kept worth: the worth of all needs, V by run, and the least of costs - V over 2^level runs.
        self._totals: Floats = np.zeros(0)
        self._values: Floats = np.zeros((0, len(costs)))
        self._levels = max(1, len(costs).bit_length())
        self._beyond: Floats = np.zeros((0, self._levels, len(costs)))
        self._cuts: list[tuple[int, Floats]] = []
        self._cuts_of_more: list[tuple[int, Floats]] = []
        self._worths_of_more: Floats = rows[0] * costs[-1] / len(costs)
        self._least_of_more: dict[int, float] = {}

    def least(self, lows: Ints, highs: Ints) -> Floats:
        """The least that plans with runs in each of these ranges cost; infinite where nothing works."""
        most = np.full(len(lows), -np.inf)
        if not len(self._totals):
            return most
        level = np.frompyfunc(int.bit_length, 1, 1)(highs - lows + 1).astype(np.int64) - 1
        first, second = lows - 1, highs - (1 << level)
        for total, values, beyond in zip(self._totals, self._values, self._beyond, strict=True):
            least = np.minimum(beyond[level, first], beyond[level, second]).sum(axis=1) + total
            works = values[highs - 1].sum(axis=1) >= total * (1 - _NOISE)
            most = np.maximum(most, np.where(works, least, np.inf))
        return most

    def learn(self, low: Sequence[int], high: Sequence[int]) -> None:
        """Find worths that tell most about plans with runs in these ranges."""
        best, best_worths = -np.inf, None
        ranges = sorted(set(zip(low, high, strict=True)))
        often = np.array([float(sum(one == two for two in zip(low, high, strict=True))) for one in ranges])
        worths = self._rows[0] * self._costs[-1] / self._runs[-1]
        for _ in range(_ROUNDS):
            beyond = self._costs - self._cut(worths, ranges, self._cuts)
            bound = float(worths @ self._needs + often @ [beyond[a - 1 : b].min() for a, b in ranges])
            if bound > best:
                best, best_worths = bound, worths
            promised, worths = self._best_by_cuts(ranges, often, self._cuts, free=True)
            if promised - best <= _NEAR * abs(promised):
                break
        if best_worths is not None:
            self._keep(best_worths)

    def least_of_more(self, layouts: int, is_over: Callable[[], bool] = lambda: False) -> float:
        """The least that any plan of at least so many layouts costs; asked again, it goes on where it was.

        No run may be worth more than it costs. What a layout costs beyond that at least, each costs.
        """
        ranges = [(1, len(self._costs))]
        often = np.array([float(layouts)])
        best, worths = self._least_of_more.get(layouts, 0.0), self._worths_of_more
        for _ in range(_ROUNDS_FOR_MORE):
            if is_over():
                break
            values = self._cut(worths, ranges, self._cuts_of_more)
            total = float(worths @ self._needs)
            scale = float((self._costs / np.maximum(values, _TINY)).min())
            left = max(0.0, float((self._costs - values).min()))
            best = max(best, scale * total, total + layouts * left if scale >= 1 else 0.0)
            promised, worths = self._best_by_cuts(ranges, often, self._cuts_of_more, free=False)
            if promised - best <= _NEAR * abs(promised):
                break
        self._least_of_more[layouts], self._worths_of_more = best, worths
        return best

    def _cut(
        self, worths: Floats, ranges: Sequence[tuple[int, int]], cuts: list[tuple[int, Floats]]
    ) -> Floats:
        """V by run; what the runs that are worth most make becomes a line of the programmes to come."""
        values, made = self._knapsacks(worths, self._rows[0])
        beyond = self._costs - values
        # Neighbouring runs make nearly the same: one of each length's magnitude tells more.
        for a, b in ranges:
            start = a - 1
            while start < b:
                end = min(b, max(start + 1, int(start * _MAGNITUDE)))
                at = start + int(beyond[start:end].argmin())
                cuts.append((at + 1, made[at]))
                start = end
        del cuts[:-_MOST_CUTS]
        return values

    def _best_by_cuts(
        self, ranges: Sequence[tuple[int, int]], often: Floats, cuts: list[tuple[int, Floats]], *, free: bool
    ) -> tuple[float, Floats]:
        """(what the best worths would prove were the cuts all there is, these worths).

        Besides the worths, variables tell by range how far the least that a run costs beyond V is under
        what the shortest costs: unless `free`, never under nothing.
        """
        costs, wants = self._costs, len(self._needs)
        floors = np.array([costs[a - 1] for a, _ in ranges])
        runs = np.array([run for run, _ in cuts])
        made = np.array([made for _, made in cuts])
        lines, tops = [], []
        for number, (a, b) in enumerate(ranges):
            inside = (runs >= a) & (runs <= b)
            tail = np.zeros((int(inside.sum()), len(ranges)))
            tail[:, number] = -1
            lines.append(np.concatenate([made[inside], tail], axis=1))
            tops.append(costs[runs[inside] - 1] - floors[number])
        objective = np.concatenate([-self._needs.astype(float), often])
        top = np.concatenate(tops)
        most_under = np.full(len(ranges), _FAR * costs[-1]) if free else floors
        most = np.concatenate([np.full(wants, costs[-1]), most_under])
        programme = Programme(
            objective, np.concatenate(lines), np.full(len(top), -np.inf), top, most, whole=False
        )
        solution = solve(programme, budget_s=_SOLVE_S)
        if not len(solution.values):
            return -np.inf, np.zeros(wants)
        promised = float(often @ floors - solution.values @ objective)
        return promised, np.maximum(0.0, solution.values[:wants])

    def _keep(self, worths: Floats) -> None:
        # Every row limits what a sheet can make: the strictest counts.
        values = np.min([self._knapsacks(worths, row)[0] for row in self._rows[:_ROWS]], axis=0)
        beyond = np.empty((self._levels, len(values)))
        beyond[0] = self._costs - values
        for level in range(1, self._levels):
            half = 1 << (level - 1)
            beyond[level] = beyond[level - 1]
            beyond[level, :-half] = np.minimum(beyond[level - 1, :-half], beyond[level - 1, half:])
        self._totals = np.append(self._totals, worths @ self._needs)[-_MOST_KEPT:]
        self._values = np.concatenate([self._values, values[None]])[-_MOST_KEPT:]
        self._beyond = np.concatenate([self._beyond, beyond[None]])[-_MOST_KEPT:]

    def _knapsacks(self, worths: Floats, row: Floats) -> tuple[Floats, Floats]:
        """(V by run, needed copies made of each want by run)."""
        sizes = self._copies * np.tile(row, 2)
        prizes = self._made * np.tile(worths, 2)
        order = np.argsort(-prizes / np.maximum(sizes, _TINY), axis=1, kind="stable")
        taken = np.take_along_axis(sizes, order, axis=1)
        before = np.cumsum(taken, axis=1) - taken
        parts_in_order = np.clip((1 + _NOISE - before) / np.maximum(taken, _TINY), 0, 1)
        parts = np.empty_like(parts_in_order)
        np.put_along_axis(parts, order, parts_in_order, axis=1)
        made = parts * self._made
        count = len(worths)
        return (parts * prizes).sum(axis=1), made[:, :count] + made[:, count:]
