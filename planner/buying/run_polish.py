"""Small changes to a plan that packs: a copy exchanged, a run shortened, a layout more or less.

Every change is made good in the cheapest way (copies added where there is room, runs lengthened where
there is none, runs shortened where nothing needs them), priced, and only then packed. Changes that cost a
little more are followed for a while, since two steps up and three down is how most improvements come.
"""

from collections.abc import Callable
from math import ceil
from random import Random

from planner.buying.packer import Counts
from planner.buying.run_plan import RunPlan, RunProblem

_FEW = 4

Grid = list[list[int]]
"""Copies by layout and want."""


class Polisher:
    """Improves one plan step by step; `current` may cost a little more than the best."""

    def __init__(self, problem: RunProblem, start: RunPlan, random: Random) -> None:
        self._problem = problem
        self._random = random
        self._wants = range(len(problem.needs))
        self._needs = problem.needs
        self._shares = problem.packer.shares
        self._packer = problem.packer
        self._price = problem.prices.of_plan
        self._runs = list(start.runs)
        self._grid: Grid = [list(counts) for counts in start.counts]
        self.best = start
        self._cost = start.cost

    def run(self, steps: int, is_over: Callable[[], bool], slack: float) -> bool:
        """So many changes tried; `slack` is how much dearer than the best a plan may be that is followed."""
        before = self.best.cost
        for step in range(steps):
            if step % 8 == 0 and is_over():
                break
            allowed = self.best.cost * (1 + slack * (1 - step / steps))
            self._try(allowed)
        return self.best.cost < before

    def _try(self, allowed: float) -> None:
        runs, grid = list(self._runs), [list(counts) for counts in self._grid]
        changed = self._change(runs, grid)
        if changed is None:
            return
        made = self._made(runs, grid)
        self._add_copies(runs, grid, made, changed)
        self._lengthen(runs, grid, made)
        self._shorten(runs, grid, made)
        self._trade(runs, grid, made)
        kept = [number for number, run in enumerate(runs) if run > 0 and any(grid[number])]
        if not kept or not self._problem.allows(len(kept)):
            return
        cost = self._price([runs[number] for number in kept])
        if cost > allowed or (cost >= self._cost and self._random.random() < 0.3):
            return
        if not all(self._packer.packs(grid[number]) for number in changed if number in kept):
            return
        self._runs = [runs[number] for number in kept]
        self._grid = [grid[number] for number in kept]
        self._cost = cost
        if cost < self.best.cost:
            self._keep()

    def _keep(self) -> None:
        counts: list[Counts] = [tuple(column) for column in self._grid]
        layouts = [self._packer.pack(column) for column in counts]
        found = [layout for layout in layouts if layout is not None]
        if len(found) == len(layouts):
            self.best = self._problem.plan(self._runs, counts, found)

    def _change(self, runs: list[int], grid: Grid) -> set[int] | None:
        """One random change; the layouts whose copies it touched."""
        random = self._random
        kind = random.random()
        at = random.randrange(len(runs))
        if kind < 0.12:
            return self._exchange(grid, at, self._random.choice(self._wants))
        if kind < 0.30:
            return self._exchange(grid, at, self._tightest(runs, grid, at))
        if kind < 0.48:
            return self._swap(grid, at)
        if kind < 0.65:
            runs[at] = max(1, runs[at] - self._step(runs[at]))
            return set()
        if kind < 0.80 and len(runs) > 1:
            other = random.randrange(len(runs))
            step = self._step(runs[at])
            runs[at] = max(1, runs[at] - step)
            runs[other] += random.randint(1, max(1, step))
            return set()
        if kind < 0.88 and self._problem.allows(len(runs) + 1):
            runs.append(random.randint(1, max(1, min(runs))))
            grid.append([0] * len(self._needs))
            runs[at] = max(1, runs[at] - self._step(runs[at]))
            return {len(runs) - 1}
        if kind < 0.92 and len(runs) > 1:
            runs[at] = 0
            return set()
        return self._move(grid, at)

    def _step(self, run: int) -> int:
        """How much shorter to try: small and large steps are equally likely, whatever the run."""
        return max(1, int(max(1.0, run / 2) ** self._random.random()))

    def _tightest(self, runs: list[int], grid: Grid, at: int) -> int:
        """The want on a layout that keeps its run from being shorter."""
        made = self._made(runs, grid)
        column = grid[at]
        there = [want for want in self._wants if column[want]]
        if not there:
            return self._random.choice(self._wants)
        return min(there, key=lambda want: (made[want] - self._needs[want]) / column[want])

    def _swap(self, grid: Grid, at: int) -> set[int] | None:
        """A copy of one want for a copy of another between two layouts."""
        random = self._random
        other = random.randrange(len(grid))
        here = [want for want in self._wants if grid[at][want]]
        there = [want for want in self._wants if grid[other][want]]
        if other == at or not here or not there:
            return None
        one, two = random.choice(here), random.choice(there)
        if one == two:
            return None
        grid[at][one] -= 1
        grid[at][two] += 1
        grid[other][two] -= 1
        grid[other][one] += 1
        return {at, other}

    def _exchange(self, grid: Grid, at: int, come: int) -> set[int] | None:
        """A copy off a layout, and as many of another want on as have room there."""
        column = grid[at]
        there = [want for want in self._wants if column[want]]
        if not there:
            return None
        gone = self._random.choice(there)
        column[gone] -= 1
        if come != gone:
            column[come] += max(1, int(self._shares[gone] / self._shares[come] + 1e-9))
        return {at}

    def _move(self, grid: Grid, at: int) -> set[int] | None:
        other = self._random.randrange(len(grid))
        there = [want for want in self._wants if grid[at][want]]
        if other == at or not there:
            return None
        want = self._random.choice(there)
        grid[at][want] -= 1
        grid[other][want] += 1
        return {at, other}

    def _made(self, runs: list[int], grid: Grid) -> list[int]:
        made = [0] * len(self._needs)
        for run, column in zip(runs, grid, strict=True):
            if run:
                for want, count in enumerate(column):
                    if count:
                        made[want] += run * count
        return made

    def _add_copies(self, runs: list[int], grid: Grid, made: list[int], changed: set[int]) -> None:
        """Copies for what is short, where the boxes' area leaves room; useless copies go first."""
        short = [want for want in self._wants if made[want] < self._needs[want]]
        if not short:
            return
        shares, random = self._shares, self._random
        self._drop_useless(runs, grid, made, changed)
        room = [1.0 - sum(n * s for n, s in zip(column, shares, strict=True) if n) for column in grid]
        short.sort(key=lambda want: -shares[want] * (0.5 + random.random()))
        for want in short:
            lacking = self._needs[want] - made[want]
            ways = []
            for number, run in enumerate(runs):
                if run:
                    more = -(-lacking // run)
                    if more * shares[want] <= room[number] + 1e-9:
                        # The least of a sheet's worth, and a little chance.
                        ways.append((more * run * (0.7 + 0.6 * random.random()), number, more))
            if ways:
                _, number, more = min(ways)
                grid[number][want] += more
                room[number] -= more * shares[want]
                made[want] += more * runs[number]
                changed.add(number)

    def _drop_useless(self, runs: list[int], grid: Grid, made: list[int], changed: set[int]) -> None:
        """Copies off whose want is met without them."""
        for want in self._wants:
            beyond = made[want] - self._needs[want]
            if beyond <= 0:
                continue
            for number, column in enumerate(grid):
                run = runs[number]
                while run and column[want] and beyond >= run:
                    column[want] -= 1
                    beyond -= run
                    made[want] -= run
                    changed.add(number)

    def _lengthen(self, runs: list[int], grid: Grid, made: list[int]) -> None:
        """Runs lengthened until nothing is short, each time the one that costs least."""
        for want in self._wants:
            while made[want] < self._needs[want]:
                ways = []
                for number, column in enumerate(grid):
                    if column[want]:
                        more = -(-(self._needs[want] - made[want]) // column[want])
                        longer = [run + more if n == number else run for n, run in enumerate(runs)]
                        ways.append((self._price([run for run in longer if run]), number, more))
                if not ways:
                    # Carried by no layout any more: a copy on the longest run, room or not; packing decides.
                    longest = max(range(len(runs)), key=lambda number: runs[number])
                    grid[longest][want] = 1
                    runs[longest] = max(1, runs[longest])
                    made[:] = self._made(runs, grid)
                    continue
                _, number, more = min(ways)
                runs[number] += more
                for other, count in enumerate(grid[number]):
                    made[other] += more * count

    def _shorten(self, runs: list[int], grid: Grid, made: list[int]) -> None:
        """Runs as short as the others allow, in random order."""
        order = list(range(len(runs)))
        self._random.shuffle(order)
        for number in order:
            run, column = runs[number], grid[number]
            spare = run
            for want, count in enumerate(column):
                if count:
                    spare = min(spare, (made[want] - self._needs[want]) // count)
                    if spare <= 0:
                        break
            if spare > 0:
                runs[number] = run - spare
                for want, count in enumerate(column):
                    made[want] -= spare * count

    def _trade(self, runs: list[int], grid: Grid, made: list[int]) -> None:
        """One run shortened for another lengthened by less, where what both carry allows it."""
        shortened = list(range(len(runs)))
        if len(runs) > _FEW:
            # All pairs of many layouts would take longer than the change itself.
            shortened = self._random.sample(shortened, 2)
        for a in shortened:
            for b in range(len(runs)):
                if a == b or not runs[a] or not runs[b]:
                    continue
                less, more = self._rate(runs[a], grid[a], grid[b], made)
                if less <= 0:
                    continue
                before = self._price([run for run in runs if run])
                runs[a] -= less
                runs[b] += more
                if self._price([run for run in runs if run]) > before:
                    runs[a] += less
                    runs[b] -= more
                    continue
                for want in self._wants:
                    made[want] += more * grid[b][want] - less * grid[a][want]

    def _rate(self, run: int, column: list[int], other: list[int], made: list[int]) -> tuple[int, int]:
        """(sheets less of one layout, more of another) that keep every need met; (0, 0) if not fewer."""
        rate = 0.0
        loose = []
        for want, count in enumerate(column):
            if not count:
                continue
            slack = made[want] - self._needs[want]
            if slack >= count:
                loose.append((want, slack))
            elif not other[want]:
                return 0, 0
            else:
                rate = max(rate, count / other[want])
        if rate >= 1:
            return 0, 0
        most = float(run)
        for want, slack in loose:
            gap = column[want] - rate * other[want]
            if gap > 0:
                most = min(most, slack / gap)
        less = int(most)
        return less, ceil(rate * less - 1e-9)
