"""The search for layouts and runs of pieces that are all of one size: every layout has so many places.

Part each need into numbers of prints, one for each place that carries the want. Sort all parts, longest
first: the first layout takes as many as it has places, the next the following ones. Each layout is run as
often as its longest part, and no other way of dealing these parts out costs less. So only the parting has
to be found. It is annealed (Kirkpatrick, Gelatt & Vecchi, Science 220, 1983) by moving prints between two
parts of a want, by parting one and by joining two. What a part becomes is taken from the other parts: where
two wants have equal parts, both use up the run.
"""

from bisect import bisect_left, insort
from collections.abc import Callable, Sequence
from itertools import pairwise
from math import exp
from random import Random

from planner.buying.run_plan import RunPlan, RunProblem
from planner.measures.layout import Layout

Parts = list[list[int]]
"""By want: how many prints of it each of its places makes at most; together the need."""

_COLDEST = 2e-5
"""Of the cost: what a change may cost more at the end of annealing."""
_CHECKS = 256
_SHIFTS, _JOINS = 0.6, 0.15
"""How many of the changes are of these kinds; the rest part a part."""


class PartSearch:
    """Finds partings of the needs of one problem whose pieces are alike."""

    def __init__(self, problem: RunProblem, random: Random) -> None:
        self._problem = problem
        self._random = random
        self._places = problem.packer.most(0)
        self._most_parts = None if problem.most_layouts is None else problem.most_layouts * self._places
        self._prices = problem.prices

    @property
    def is_possible(self) -> bool:
        """Whether layouts are allowed as many as it takes to carry every want once."""
        return self._most_parts is None or len(self._problem.needs) <= self._most_parts

    def annealed(
        self, start: RunPlan | None, *, steps: int, heat: float, is_over: Callable[[], bool]
    ) -> RunPlan:
        """The best plan met on so many changes; without a start every want begins in one place.

        `heat`: the share of the cost that a change may cost more at the beginning.
        """
        random = self._random
        parts = [[need] for need in self._problem.needs] if start is None else self._parted(start)
        ordered = sorted(part for each in parts for part in each)
        cost = self._smooth_cost(ordered)
        best, best_parts = self._cost(ordered), [list(each) for each in parts]
        hottest, coldest = heat * max(1.0, cost), _COLDEST * max(1.0, cost)
        heat_now = hottest
        for step in range(steps):
            if step % _CHECKS == 0:
                if is_over():
                    break
                heat_now = hottest * (coldest / hottest) ** (step / steps)
            want = random.randrange(len(parts))
            change = self._change(parts[want], ordered)
            if change is None:
                continue
            gone, come = change
            if self._most_parts is not None and len(ordered) + len(come) - len(gone) > self._most_parts:
                continue
            changed = ordered.copy()
            for part in gone:
                del changed[bisect_left(changed, part)]
            for part in come:
                insort(changed, part)
            changed_cost = self._smooth_cost(changed)
            if changed_cost > cost and random.random() >= exp((cost - changed_cost) / heat_now):
                continue
            ordered, cost = changed, changed_cost
            for part in gone:
                parts[want].remove(part)
            parts[want].extend(come)
            if cost < best and (true := self._cost(ordered)) < best:
                best, best_parts = true, [list(each) for each in parts]
        return self._plan(best_parts)

    def _change(
        self, parts: Sequence[int], ordered: Sequence[int]
    ) -> tuple[tuple[int, ...], tuple[int, ...]] | None:
        """(parts of one want that go, parts that come instead), as many prints in all."""
        random = self._random
        kind = random.random()
        length = ordered[~random.randrange(len(ordered))]
        at = random.randrange(len(parts))
        if len(parts) < 2 or kind >= _SHIFTS + _JOINS:
            part = parts[at]
            if part < 2:
                return None
            if length >= part:
                length = random.randrange(1, part)
            return (part,), (length, part - length)
        other = random.randrange(len(parts) - 1)
        other += other >= at
        one, two = parts[at], parts[other]
        if kind >= _SHIFTS or length == one + two:
            return (one, two), (one + two,)
        if length > one + two or length in (one, two):
            return None
        return (one, two), (length, one + two - length)

    def _cost(self, ordered: Sequence[int]) -> int:
        """Coins for parts in rising order: from the longest down, each layout's first is its run."""
        return self._prices.of_plan(ordered[:: -self._places])

    def _smooth_cost(self, ordered: Sequence[int]) -> float:
        """The same, a layout that is not full counted by the share of its places that are taken."""
        *runs, last = ordered[:: -self._places]
        share = (len(ordered) % self._places or self._places) / self._places
        if self._prices.is_by_layout:
            return self._prices.of_plan(runs) + share * self._prices.of_run(last)
        return self._prices.of_plan([*runs, int(share * last)]) - (1 - share) * self._prices.set_up

    def _parted(self, plan: RunPlan) -> Parts:
        """Each place's run, the shortest ones cut back to what is needed."""
        parts: Parts = []
        for want, need in enumerate(self._problem.needs):
            runs = [
                run for run, counts in zip(plan.runs, plan.counts, strict=True) for _ in range(counts[want])
            ]
            made = [0]
            for run in sorted(runs, reverse=True):
                made.append(min(need, made[-1] + run))
            parts.append([after - before for before, after in pairwise(made) if after > before])
        return parts

    def _plan(self, parts: Parts) -> RunPlan:
        wants = range(len(parts))
        dealt = sorted(((part, want) for want, each in enumerate(parts) for part in each), reverse=True)
        runs, counts, layouts = [], [], []
        for first in range(0, len(dealt), self._places):
            sheet = [want for _, want in dealt[first : first + self._places]]
            column = tuple(sheet.count(want) for want in wants)
            runs.append(dealt[first][0])
            counts.append(column)
            layouts.append(self._packed(column))
        return self._problem.plan(runs, counts, layouts)

    def _packed(self, column: tuple[int, ...]) -> Layout:
        layout = self._problem.packer.pack(column)
        assert layout is not None, "no more pieces than one sheet takes"
        return layout
