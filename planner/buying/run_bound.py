"""The least that layouts and runs can cost: a proven bound, found by branching on the runs alone.

Fix how many layouts there are and let each run lie in a range. Nothing in the ranges costs less than the
lower ends do. And nothing works unless the upper ends do: take any multipliers that add up to 1, one a
layout; then each want needs at least f copies, f being the least sum of multipliers of copies whose runs
reach the need (a knapsack, solved for all needs at once), and since each sheet holds at most 1 by every
capacity row, Σ row[i] × f[need i] must not exceed 1 (see `planner.buying.capacity`). What copies are
worth tells what the rest costs at least (see `planner.buying.run_worths`). Ranges that fail are dropped,
the cheapest of the rest are halved. A single tuple of runs that is left is judged by an integer programme
with all rows (see `planner.buying.run_leaf`): ruled out, or proposed for packing. The cheapest
tuple or range that could not be ruled out is the bound. Only the packing is relaxed, never the price or
the need, so it holds for every plan with at most as many layouts as were tried; `RunBound.most_layouts`
says how many, None where more layouts provably do not help.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from math import ceil

import numpy as np
from numpy.typing import NDArray

from planner.buying.capacity import Rows
from planner.buying.packer import Counts
from planner.buying.run_leaf import LeafJudge
from planner.buying.run_plan import RunProblem
from planner.buying.run_prices import RunPrices
from planner.buying.run_worths import Worths
from planner.buying.selections import Selections

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Runs = tuple[int, ...]
Propose = Callable[[Runs, tuple[Counts, ...] | None], None]
_Node = tuple[int, int, Runs, Runs]
"""Cost of the lower ends, a number to break ties, lower ends, upper ends."""

_BATCH = 96
_LEANINGS = (1.0, 0.8, 1.2, 0.6)
"""Multipliers are the runs to these powers: long runs are worth about their length."""
_ROWS = 14
"""Rows that ranges are held against; single tuples are held against all."""
LONGEST_NEED = 4_000
"""Beyond this single copies are not looked at: the bound stays valid, only coarser."""
_LOOKS = ((80, np.inf), (240, 1.6), (LONGEST_NEED, 1.15))
"""Steps in which needs are looked at, and how wide, as a ratio, a range may be for that."""
_NOISE = 1e-7
_COIN = 0.01
"""Less than this above a whole coin is floating point."""
_MOST_LAYOUTS = 12
_WORTH_LEARNING = 1.005
"""How much dearer the cheapest ranges become before better worths are found for them."""
_MOST_TOGETHER = 64
"""Needs; more at once only take more memory."""
_LEAF_S = 0.25
"""What judging a single tuple of runs may take."""


@dataclass(frozen=True, slots=True)
class RunBound:
    """No plan costs less coins; none with at most so many layouts where that is given."""

    cost: int
    most_layouts: int | None


class Proof:
    """The search for the bound of one problem; goes on where it stopped."""

    def __init__(self, problem: RunProblem, rows: Rows, *, most_layouts: int) -> None:
        self._problem = problem
        self._needs: Ints = np.array(problem.needs, dtype=np.int64)
        self.rows = rows
        self._strongest = _strongest(rows, self._needs)
        self._least_sheets = max(1, ceil(float((rows @ self._needs).max()) - _NOISE))
        self._open: dict[int, list[_Node]] = {}
        self._count = 0
        self.judge = LeafJudge(problem.needs, rows, problem.packer.shares)
        self._stuck: list[tuple[int, Runs]] = []
        """Tuples that could not be ruled out, with their cost."""
        self.selections: Selections | None = None
        """All that may go on one sheet, where that is known."""
        self.nodes = 0
        self._learnt: dict[int, int] = {}
        """By number of layouts: the cost of the ranges that worths were last found for."""
        self.most_layouts = most_layouts
        self._lengths = run_lengths(problem.prices, int(self._needs.max()))
        longest = self._lengths[-1]
        self._worths: Worths | None = None
        self._least_of_more = 0.0
        """What plans with more layouts than are tried cost at least."""
        if longest <= LONGEST_NEED:
            costs = _least_costs(problem.prices, longest, self._least_sheets)
            self._worths = Worths(self._needs, self._strongest, costs)
            self._least_of_more = self._worths.least_of_more(most_layouts + 1)
        for layouts in range(1, most_layouts + 1):
            self._start(layouts)

    def bound(self, upper: int) -> RunBound:
        """What is proven so far, never over the best plan's cost."""
        tried = min([upper, *self._fronts(), *(cost for cost, _ in self._stuck)])
        beyond = self._cost_of_more()
        return RunBound(tried, None if beyond >= tried else self.most_layouts)

    def bound_for_any(self, upper: int) -> RunBound:
        """A bound for any number of layouts, weaker where more layouts could help."""
        return RunBound(min(self.bound(upper).cost, max(0, self._cost_of_more())), None)

    def look_beyond(
        self,
        upper: Callable[[], int],
        is_over: Callable[[], bool],
        *,
        most_nodes: int | None = None,
        propose: Propose | None = None,
    ) -> None:
        """Find out more about plans with more layouts than are tried, and try more of them while that helps.

        Meant for plans that have more layouts themselves. The rest is as in `run`.
        """
        end = None if most_nodes is None else self.nodes + most_nodes
        while self._worths is not None and not is_over():
            self._least_of_more = self._worths.least_of_more(self.most_layouts + 1, is_over)
            beyond = self._cost_of_more()
            if beyond >= upper() or self.most_layouts >= _MOST_LAYOUTS:
                return
            left = None if end is None else end - self.nodes
            self.run(upper, is_over, most_nodes=left, propose=propose, enough=beyond)
            if self.bound(upper()).cost <= beyond:
                return
            self.most_layouts += 1
            self._start(self.most_layouts)

    def _start(self, layouts: int) -> None:
        """Open the range of all plans with so many layouts."""
        low, high = (self._lengths[0],) * layouts, (self._lengths[-1],) * layouts
        self._open[layouts] = []
        if self._worths is not None:
            self._worths.learn(low, high)
        self._push_all([(low, high)], np.inf)

    def know(self, selections: Selections, least_sheets: int) -> None:
        """Hold ranges and tuples against all that may go on one sheet, too."""
        self.selections = selections
        self._least_sheets = max(self._least_sheets, least_sheets)

    def run(
        self,
        upper: Callable[[], int],
        is_over: Callable[[], bool],
        *,
        most_nodes: int | None = None,
        propose: Propose | None = None,
        enough: float = np.inf,
    ) -> None:
        """Go on until nothing cheaper than `upper()` is open, or time is up.

        `propose` hears of every tuple that could not be ruled out, cheapest first. Without it the work
        ends at the first such tuple, because the bound cannot rise any more. It ends, too, once nothing is
        open that costs as little as is `enough`.
        """
        end = None if most_nodes is None else self.nodes + most_nodes
        while not is_over() and (end is None or self.nodes < end):
            fronts = [(heap[0][0], layouts) for layouts, heap in self._open.items() if heap]
            if not fronts or min(fronts)[0] >= upper():
                if self._open_again(upper()):
                    continue
                return
            cost, layouts = min(fronts)
            if cost > enough:
                return
            if propose is None and any(stuck <= cost for stuck, _ in self._stuck):
                return
            if self._open[layouts][0][2] == self._open[layouts][0][3]:
                self._judged(layouts, propose, is_over)
            else:
                self._branch(layouts, upper())

    def _fronts(self) -> list[int]:
        return [heap[0][0] for heap in self._open.values() if heap]

    def _open_again(self, upper: int) -> bool:
        """Whether tuples cheaper than the best plan are to be judged once more, with more patience."""
        again = [(cost, runs) for cost, runs in self._stuck if cost < upper]
        if not again or self.selections is None or not self.selections.look_harder():
            return False
        self._stuck = [(cost, runs) for cost, runs in self._stuck if cost >= upper]
        for cost, runs in again:
            self._push(cost, runs, runs)
        return True

    def _judged(self, layouts: int, propose: Propose | None, is_over: Callable[[], bool]) -> None:
        cost, _, runs, _ = heappop(self._open[layouts])
        self.nodes += 20
        if self.selections is not None and self.selections.judges(layouts):
            verdict = self.selections.judge(runs, is_over)
        else:
            verdict = self.judge.judge(runs, budget_s=_LEAF_S)
        if verdict.is_ruled_out:
            return
        self._stuck.append((cost, runs))
        if propose is not None:
            propose(runs, verdict.counts)

    def _branch(self, layouts: int, upper: int) -> None:
        """Halve a batch of the cheapest ranges and keep what may work."""
        heap = self._open[layouts]
        self._learn(heap[0])
        children: list[tuple[Runs, Runs]] = []
        while heap and len(children) < _BATCH and heap[0][2] != heap[0][3] and heap[0][0] < upper:
            _, _, low, high = heappop(heap)
            children += _halves(low, high, self._lengths, self._problem.prices.of_plan)
        self.nodes += len(children)
        self._push_all(children, upper)

    def _learn(self, node: _Node) -> None:
        """Find better worths about the cheapest ranges, where those known tell little more than before."""
        cost, _, low, high = node
        if self._worths is not None and self._learnt.get(len(low), -1) * _WORTH_LEARNING < cost:
            self._worths.learn(low, high)
            self._learnt[len(low)] = cost

    def _push_all(self, ranges: Sequence[tuple[Runs, Runs]], upper: float) -> None:
        """Keep those of these ranges, all of as many layouts, that may work and cost less."""
        costs = [self._cost(low) for low, _ in ranges]
        kept = [number for number, cost in enumerate(costs) if cost < upper]
        if not kept:
            return
        lows, highs = (np.array([ranges[n][end] for n in kept], dtype=np.int64) for end in (0, 1))
        least = np.array([costs[number] for number in kept], dtype=float)
        if self._worths is not None:
            least = np.maximum(least, self._worths.least(lows, highs))
        asked = least < upper
        kept = [number for number, is_asked in zip(kept, asked, strict=True) if is_asked]
        if not kept:
            return
        possible = self._may_work(lows[asked], highs[asked])
        for number, may, cost in zip(kept, possible, least[asked], strict=True):
            low, high = ranges[number]
            if may and (self.selections is None or self.selections.may_work(high)):
                self._push(self._cost(low) if low == high else ceil(cost - _COIN), low, high)

    def _push(self, cost: int, low: Runs, high: Runs) -> None:
        self._count += 1
        heappush(self._open[len(low)], (cost, self._count, low, high))

    def _cost(self, low: Runs) -> int:
        prices = self._problem.prices
        if prices.is_by_layout:
            return prices.of_plan(low)
        # However the runs are dealt out, there are no fewer sheets than the rows ask for.
        return prices.of_plan((*low[:-1], low[-1] + max(0, self._least_sheets - sum(low))))

    def _cost_of_more(self) -> int:
        """The least that any plan with more layouts than were tried can cost."""
        return max(self._plain_cost_of_more(), ceil(self._least_of_more - _COIN))

    def _plain_cost_of_more(self) -> int:
        layouts, prices = self.most_layouts + 1, self._problem.prices
        singly = max(1, self._least_sheets - layouts + 1)
        if prices.is_by_layout:
            # Any plan has some layout run once at least each, and as many sheets in all as rows ask for.
            cheapest_sheet = min(prices.bought(count)[0] / count for count in (1, singly, *prices.starts))
            return max(layouts * prices.of_run(1), int(self._least_sheets * cheapest_sheet))
        return prices.of_plan((*(1,) * (layouts - 1), singly))

    def _may_work(self, lows: Ints, highs: Ints) -> NDArray[np.bool_]:
        """Whether each tuple of runs passes every row under every choice of multipliers."""
        longest = int(self._needs.max())
        alive = np.ones(len(highs), dtype=bool)
        widest = (highs / lows).max(axis=1)
        # Wide ranges seldom fail for a copy more or less: the closer look is for narrow ones.
        for steps, narrower_than in _LOOKS:
            grain = max(1, -(-longest // steps))
            if grain == 1 and longest > LONGEST_NEED:
                break
            asked = alive & (widest <= narrower_than)
            alive = (alive & ~asked) | self._passes(highs, asked, grain)
            if grain == 1:
                break
        return alive

    def _passes(self, highs: Ints, asked: NDArray[np.bool_], grain: int) -> NDArray[np.bool_]:
        """Which of those asked about pass, needs rounded down and runs up to whole grains."""
        alive = asked.copy()
        alive[asked] = passing(highs[asked], self._strongest, self._needs, most=1 + _NOISE, grain=grain)
        return alive


def _least_costs(prices: RunPrices, longest: int, least_sheets: int) -> Floats:
    """What a layout costs at least, by its run; among no fewer sheets where breaks count the order."""
    runs = np.arange(1, longest + 1)
    if prices.is_by_layout:
        return np.array([prices.of_run(int(run)) for run in runs], dtype=float)
    counts = (least_sheets, *(start for start in prices.starts if start > least_sheets))
    # Prices are rounded to coins for all sheets together.
    each = min((prices.bought(count)[0] - 0.5) / count for count in counts)
    return np.array(prices.set_up + each * runs, dtype=float)


def _strongest(rows: Rows, needs: Ints) -> Rows:
    """The rows that need most sheets, each time the one that adds most to those taken before."""
    best = np.zeros(rows.shape[1])
    chosen = [int(np.argmax(rows @ needs))]
    while len(chosen) < _ROWS:
        best = np.maximum(best, rows[chosen[-1]])
        gains = np.maximum(0.0, rows - best) @ needs
        if gains.max() <= 1e-6:
            break
        chosen.append(int(np.argmax(gains)))
    return rows[chosen]


def passing(runs: Ints, rows: Rows, needs: Ints, *, most: float, grain: int = 1) -> NDArray[np.bool_]:
    """Which tuples of runs stay within `most` in every row, under every choice of multipliers.

    Needs are rounded down and runs up to whole grains.
    """
    alive = np.ones(len(runs), dtype=bool)
    for leaning in _LEANINGS:
        if not alive.any():
            break
        left = runs[alive]
        weights = left.astype(float) ** leaning
        weights /= weights.sum(axis=1, keepdims=True)
        copies = least_copies(-(-left // grain), weights, needs // grain)
        alive[alive] = (copies @ rows.T <= most).all(axis=1)
    return alive


def least_copies(runs: Ints, weights: Floats, needs: Ints) -> Floats:
    """For each tuple of runs and each need: the least sum of weights of copies whose runs reach the need."""
    longest, many = int(needs.max()), len(runs)
    # Above the rows of the needs, zeros for what runs exceed them by.
    above = int(min(runs.max(), longest))
    least = np.zeros((above + longest + 1, many))
    flat, added = least.reshape(-1), weights.T[:, None, :]
    # No needs that differ by less than the shortest run depend on each other: they are found at once.
    together = int(min(runs.min(), longest, _MOST_TOGETHER))
    rest = (above - np.minimum(runs, above).T) * many + np.arange(many)
    places = rest[:, None, :] + np.arange(together)[:, None] * many
    found = np.empty(places.shape)
    for need in range(1, longest + 1, together):
        count = min(together, longest + 1 - need)
        if count < together:
            places, found = places[:, :count].copy(), found[:, :count].copy()
        flat[need * many :].take(places, out=found, mode="clip")
        np.add(found, added, out=found)
        np.minimum.reduce(found, axis=0, out=least[above + need : above + need + count])
    return least[above + needs].T


def run_lengths(prices: RunPrices, longest: int) -> Sequence[int]:
    """The runs that plans need at all: where more sheets cost no more, nobody prints fewer."""
    if not prices.is_by_layout:
        return range(1, longest + 1)
    lengths = []
    run = 1
    while run <= longest:
        lengths.append(prices.bought(run)[1])
        run = lengths[-1] + 1
    return lengths


def _halves(
    low: Runs, high: Runs, lengths: Sequence[int], cost: Callable[[Sequence[int]], int]
) -> list[tuple[Runs, Runs]]:
    """The range in two, along the run whose ends differ most in cost; longest run first stays first."""

    def spread(number: int) -> tuple[int, int]:
        raised = (*low[:number], high[number], *low[number + 1 :])
        return cost(raised), high[number] - low[number]

    wide = [number for number in range(len(low)) if low[number] < high[number]]
    at = max(wide, key=spread)
    above = bisect_right(lengths, max(low[at], (low[at] + high[at]) // 2))
    lower = _ordered(low, (*high[:at], lengths[above - 1], *high[at + 1 :]))
    upper = _ordered((*low[:at], lengths[above], *low[at + 1 :]), high)
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
