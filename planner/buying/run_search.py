"""The search for layouts and runs: from a person's two ways to plans with several mixed layouts.

What matters for the cost is how often each layout is run; which copies then go on which layout only has
to work out. So the search walks over tuples of runs, asks by load whether a tuple may work (quickly), and
packs the layouts of those that would be cheaper than the best plan so far (slowly).
"""

from collections.abc import Callable, Sequence
from random import Random

import numpy as np

from planner.buying.packer import Counts
from planner.buying.run_alike import PartSearch
from planner.buying.run_leaf import LeafJudge
from planner.buying.run_lengths import Floats, Ints, Spread
from planner.buying.run_plan import RunPlan, RunProblem
from planner.buying.run_polish import Polisher

_PART_STEPS = 60_000
_HEATS = (0.01, 0.003, 0.002, 0.02, 0.005, 0.001)
"""Cold annealing keeps to the number of layouts that it begins with, hot annealing finds better ones."""

Told = Callable[[RunPlan], None]
Runs = tuple[int, ...]


class RunSearch:
    """One search on one sheet size: holds the best plan so far and what was learnt about packing."""

    def __init__(
        self, problem: RunProblem, *, seed: int, is_over: Callable[[], bool], told: Told | None = None
    ) -> None:
        self.problem = problem
        self.is_over = is_over
        self._told = told
        self.random = Random(seed)
        packer = problem.packer
        self.needs: Ints = np.array(problem.needs, dtype=np.int64)
        self.most: Ints = np.array([packer.most(i) for i in range(len(problem.needs))], dtype=np.int64)
        # Alone a piece wastes the strips beside it, mixed with others hardly any: the truth is between.
        self.loads: Floats = (np.array(packer.shares) + 1.0 / self.most) / 2
        self._fullness: dict[Runs, float] = {}
        self._chains: list[RunPlan] = []
        partings = PartSearch(problem, self.random) if packer.is_of_one_kind else None
        self._partings = partings if partings is not None and partings.is_possible else None
        self.best: RunPlan | None = None
        self.judge: LeafJudge | None = None
        """Spreads wants exactly where one is at hand."""

    def offer(self, plan: RunPlan | None) -> bool:
        """Keep a plan if it is the best so far: the cheapest, and of those the one with fewest layouts."""
        if plan is None or not self.problem.allows(len(plan.runs)):
            return False
        if self.best is not None and (plan.cost, len(plan.runs)) >= (self.best.cost, len(self.best.runs)):
            return False
        self.best = plan
        if self._told is not None:
            self._told(plan)
        return True

    @property
    def cheapest(self) -> RunPlan:
        """The best plan so far."""
        assert self.best is not None, "one layout a design always works where layouts are not limited"
        return self.best

    def propose(self, runs: Runs, counts: tuple[Counts, ...] | None) -> None:
        """Try to pack what the proof could not rule out, with less on the layouts that failed each time."""
        if not self.would_improve(runs):
            return
        if counts is None:
            self.offer(self.realise(runs, tries=2))
        room = [1.0] * len(runs)
        for _ in range(5):
            if counts is None or self.is_over():
                return
            layouts = [self.problem.packer.pack(column, rounds=8) for column in counts]
            found = [layout for layout in layouts if layout is not None]
            if len(found) == len(layouts):
                self.offer(self.problem.plan(runs, counts, found))
                return
            for number, (column, layout) in enumerate(zip(counts, layouts, strict=True)):
                if layout is None:
                    covered = sum(n * s for n, s in zip(column, self.problem.packer.shares, strict=True))
                    room[number] = min(room[number], covered) - 0.003
            counts = self._spread_anew(runs, room)
            if counts is None:
                self.offer(self.realise(runs, tries=2))

    def _spread_anew(self, runs: Runs, room: Sequence[float]) -> tuple[Counts, ...] | None:
        if self.judge is None:
            return None
        return self.judge.spread(runs, room, random=self.random, budget_s=0.1)

    def would_improve(self, runs: Sequence[int]) -> bool:
        """Whether a plan with these runs would be the best so far."""
        return self.best is None or self.problem.prices.of_plan(runs) < self.best.cost

    def spread(self, runs: Sequence[int]) -> Spread:
        return Spread(self.needs, self.loads, self.most, runs)

    def fullness(self, runs: Sequence[int]) -> float:
        """How full the sheets would have to be with these runs; far over 1 cannot work."""
        runs = tuple(sorted(runs, reverse=True))
        if runs not in self._fullness:
            spread = self.spread(runs)
            self._fullness[runs] = spread.needed()[0] if spread.is_possible else np.inf
        return self._fullness[runs]

    def realise(self, runs: Sequence[int], *, tries: int = 4) -> RunPlan | None:
        """A plan with these runs whose layouts really pack, or None where none was found."""
        spread = self.spread(sorted(runs, reverse=True))
        if not spread.is_possible:
            return None
        for number in range(tries):
            # What room a piece takes among others is a guess: another guess, another distribution.
            noise = [self.random.uniform(-0.05, 0.05) for _ in self.loads] if number else 0.0
            plan = self._packed(spread, self.loads * (1 + np.array(noise)))
            if plan is not None or self.is_over():
                return plan
        return None

    def _packed(self, spread: Spread, loads: Floats) -> RunPlan | None:
        runs, packer = spread.runs, self.problem.packer
        _, choice, _ = spread.needed(loads)
        room = np.full(len(runs), 1.06)
        for _ in range(8):
            choice, excess = spread.evened(choice, loads, room)
            if excess > 0.006:
                return None
            copies = spread.copies(choice).astype(int)
            columns = [tuple(int(n) for n in copies[:, number]) for number in range(len(runs))]
            layouts = [packer.pack(column) for column in columns]
            failed = [number for number, layout in enumerate(layouts) if layout is None]
            if len(failed) == 1:
                layouts[failed[0]] = packer.pack(columns[failed[0]], rounds=12)
                failed = [] if layouts[failed[0]] is not None else failed
            if not failed:
                used = [
                    (run, column, layout)
                    for run, column, layout in zip(runs, columns, layouts, strict=True)
                    if layout is not None and any(column)
                ]
                return self.problem.plan([u[0] for u in used], [u[1] for u in used], [u[2] for u in used])
            for number in failed:
                room[number] = min(room[number], float(copies[:, number] @ loads)) - 0.012
            if self.is_over():
                return None
        return None

    def realise_from(self, runs: Sequence[int]) -> bool:
        """Try these runs, then longer and longer ones while they would still improve."""
        now = list(runs)
        for _ in range(6):
            if self.is_over() or not self.would_improve(now):
                return False
            plan = self.realise(now)
            if plan is not None:
                return self.offer(plan)
            longest = max(range(len(now)), key=lambda number: now[number])
            now = [run + max(1, run // 40) if n == longest else run for n, run in enumerate(now)]
        return False

    def polish(self, rounds: int | None, slack: float = 0.015) -> None:
        """Small changes to the best plan and to what they lead to, until some rounds bring nothing."""
        stale = 0
        while not self.is_over() and stale < 3 and rounds != 0:
            polisher = Polisher(self.problem, self.cheapest, self.random)
            polisher.run(120, self.is_over, slack)
            stale = 0 if self.offer(polisher.best) else stale + 1
            rounds = None if rounds is None else rounds - 1

    def anneal(self, starts: Sequence[RunPlan], rounds: int | None) -> None:
        """Many small changes from every start in turn, and where packing is no question from new partings."""
        slack = (0.02, 0.05, 0.01, 0.1)
        # Every start goes on from where it got: what begins worse may end better.
        chains = self._chains or [self.cheapest, *sorted(starts, key=lambda plan: plan.cost)[:5]]
        chains[0], self._chains = self.cheapest, chains
        number = 0
        while not self.is_over() and (rounds is None or number < rounds):
            # The best plan every other time.
            at = 0 if number % 2 == 0 or len(chains) == 1 else 1 + (number // 2) % (len(chains) - 1)
            start = chains[at]
            if self._partings is not None and number % 4 == 3:
                start = self._parted_anew(number // 4)
            polisher = Polisher(self.problem, start, self.random)
            polisher.run(600 if self._partings else 250, self.is_over, slack[number % len(slack)])
            if start is chains[at] or polisher.best.cost < chains[at].cost:
                chains[at] = polisher.best
            if self.offer(polisher.best):
                chains[0] = self.cheapest
            number += 1

    def _parted_anew(self, number: int) -> RunPlan:
        """What annealing a parting finds, from the best plan every other time, at different heats."""
        assert self._partings is not None
        start = self.cheapest if number % 2 else None
        heat = _HEATS[number % len(_HEATS)]
        return self._partings.annealed(start, steps=_PART_STEPS, heat=heat, is_over=self.is_over)

    def improve(self, starts: Sequence[RunPlan], steps: int | None) -> None:
        """Walks over runs and small changes in turn, at several guesses of how full sheets can be."""
        left, stale = steps, 0
        while not self.is_over() and stale < 30 and (left is None or left > 0):
            ways = [plan for plan in (*starts, self.cheapest) if 1 <= len(plan.runs) <= 6]
            before = self.best
            for plan in sorted(ways, key=lambda plan: plan.cost)[:2]:
                for target in (1.0, 0.97, 1.03):
                    runs = plan.runs if len(plan.runs) > 1 else (*plan.runs, 1)
                    self.walk(runs, target, 4)
            self.polish(2)
            left = None if left is None else left - 1
            stale = 0 if self.best is not before else stale + 1

    def walk(self, start: Runs, target: float, steps: int) -> None:
        """Random changes of one run, the shortest fitting answer of another; better ones are packed."""
        most = int(self.needs.max())
        now, now_cost = start, self.problem.prices.of_plan(start)
        random = self.random
        for _ in range(steps):
            if self.is_over():
                return
            changed = list(now)
            kind = random.random()
            if kind < 0.12 and self.problem.allows(len(now) + 1) and len(now) < 6:
                changed.append(random.randint(1, max(1, max(now) // 2)))
            elif kind < 0.22 and len(changed) > 2:
                changed.pop(random.randrange(len(changed)))
            else:
                at = random.randrange(len(changed))
                changed[at] = self._nearby(changed[at], most)
            if not changed:
                continue
            free = random.randrange(len(changed))
            others = tuple(run for n, run in enumerate(changed) if n != free)
            # The free run may be anything that keeps the walk near its present cost.
            run = self._shortest_near(others, most, target, now_cost * 1.02)
            if run is None:
                continue
            tried = tuple(sorted((*others, run), reverse=True))
            cost = self.problem.prices.of_plan(tried)
            if cost <= now_cost * 1.01:
                now, now_cost = tried, cost
            if self.would_improve(tried):
                self.realise_from(tried)

    def _nearby(self, run: int, most: int) -> int:
        random = self.random
        kind = random.random()
        if kind < 0.4:
            return max(1, min(most, run + random.choice((-3, -2, -1, 1, 2))))
        if kind < 0.6:
            return max(1, min(most, round(run * random.uniform(0.7, 1.3))))
        if kind < 0.8:
            starts = [int(step.from_count) for step in self.problem.prices.sheet.breaks.steps]
            return min(most, max(1, random.choice(starts)))
        need = int(random.choice(self.needs.tolist()))
        return max(1, -(-need // random.randint(1, 6)))

    def _shortest_near(self, others: Runs, most: int, target: float, dearest: float) -> int | None:
        price = self.problem.prices.of_plan
        low, high = 1, most
        while high > low and price((*others, high)) > dearest:
            high = high * 4 // 5
        if price((*others, high)) > dearest or self.fullness((*others, high)) > target:
            return None
        while low < high:
            middle = (low + high) // 2
            if self.fullness((*others, middle)) <= target:
                high = middle
            else:
                low = middle + 1
        return high
