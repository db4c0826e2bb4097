"""Which selections of a few designs go on one sheet: every one of them, so that plans are proven cheapest.

With few designs all selections that no capacity row forbids can be listed. Whatever a plan prints is on
the list, so what cannot be put together from the list cannot be put together at all. Only the selections
that the cheapest runs lean on are settled, by packing or by an exact search (`planner.buying.exact_fit`):
one that never fits is struck off with all that hold at least as much. One that stays open stays listed,
which keeps everything that is ruled out ruled out rightly.
"""

from collections.abc import Callable, Sequence
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from planner.buying.capacity import Rows
from planner.buying.exact_fit import Fits, Sides, exact_fit
from planner.buying.packer import Counts, Packer
from planner.buying.run_leaf import Verdict
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.validate import faults
from planner.work.solver import Outcome, Programme, solve

Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_MOST_DESIGNS = 4
_MOST_SELECTIONS = 40_000
_MOST_WAYS = 150_000
_MOST_WAYS_OF_RANGES = 4_000
_FIRST_NODES, _LAST_NODES = 500, 32_000
_PACKING_ROUNDS = 2
_UNITS_A_MM = 1_000
_NOISE = 1e-7


def selections_of(
    packer: Packer, rows: Rows, needs: Sequence[int], *, most_nodes: int | None = None
) -> "Selections | None":
    """All that may go on a sheet; None where that is too much to list, or pieces are no rectangles.

    `most_nodes` limits what all exact searches together may take, where no clock does.
    """
    if len(needs) > _MOST_DESIGNS or packer.way is Way.OUTLINE:
        return None
    most = np.floor(1 / np.maximum(rows.max(axis=0), 1e-6) + 1e-6).astype(np.int64)
    most = np.minimum(most, np.array(needs))
    if np.prod(most + 1.0) > _MOST_SELECTIONS:
        return None
    listed = np.stack(np.meshgrid(*(np.arange(top + 1) for top in most), indexing="ij"), axis=-1)
    may_fit: Bools = np.all(listed @ rows.T <= 1 + _NOISE, axis=-1)
    return Selections(packer, may_fit, needs, most_nodes)


class Selections:
    """The list for one problem. It only ever shrinks."""

    def __init__(self, packer: Packer, may_fit: Bools, needs: Sequence[int], most_nodes: int | None) -> None:
        """`may_fit` tells it for each number of copies of each want."""
        self._packer = packer
        self._may_fit = may_fit
        self._needs: Ints = np.array(needs, dtype=np.int64)
        self._most: Ints = np.array(may_fit.shape) - 1
        self._undecided: set[Counts] = set()
        self._packs: set[Counts] = set()
        self._nodes = _FIRST_NODES
        self._left = most_nodes
        self._maximal = _maximal(may_fit)

    def look_harder(self) -> bool:
        """Settle with more patience from now on; whether something open may be settled by that."""
        if self._nodes >= _LAST_NODES or not self._undecided or not self._has_left(4 * self._nodes):
            return False
        self._nodes *= 4
        self._undecided.clear()
        return True

    def _has_left(self, nodes: int) -> bool:
        return self._left is None or self._left >= nodes

    def may_work(self, runs: Sequence[int]) -> bool:
        """Whether the needs can be met by layouts run so often, as far as that is known quickly."""
        if len(self._maximal) ** (len(runs) - 1) > _MOST_WAYS_OF_RANGES:
            return True
        return len(self._ways(runs)) > 0

    def judges(self, layouts: int) -> bool:
        """Whether so many layouts can be judged at all."""
        ways: int = len(self._maximal) ** (layouts - 1)
        return ways <= _MOST_WAYS

    def judge(self, runs: Sequence[int], is_over: Callable[[], bool]) -> Verdict:
        """Ruled out; or copies that really pack; or neither where something stays open."""
        while not is_over():
            ways = self._ways(runs)
            if not len(ways):
                return Verdict(is_ruled_out=True)
            counts = self._best_way(ways)
            if counts is None:
                break
            verdicts = [self._settled(column, is_over) for column in counts]
            if all(verdict is Fits.YES for verdict in verdicts):
                return Verdict(is_ruled_out=False, counts=counts)
        return Verdict(is_ruled_out=False)

    def fewest(self, is_over: Callable[[], bool]) -> tuple[int, tuple[tuple[int, Counts], ...]]:
        """(no plan has fewer sheets, runs and copies of a plan with as many, empty where none is known)."""
        least = 1
        while not is_over():
            columns = self._maximal.astype(float)
            count, designs = columns.shape
            # Of mixtures with as few sheets rather one that is known to pack.
            doubt = np.array([self._doubt(_counts(column)) for column in self._maximal])
            programme = Programme(
                1 + doubt * (0.2 / self._needs.sum()),
                columns.T,
                self._needs.astype(float),
                np.full(designs, np.inf),
                np.full(count, float(self._needs.max())),
            )
            solution = solve(programme, budget_s=0.3)
            if solution.outcome is not Outcome.OPTIMAL:
                return max(least, int(np.floor(max(1.0, solution.least + 0.6 - 1e-6)))), ()
            runs = np.round(solution.values).astype(np.int64)
            least = max(least, int(runs.sum()))
            used = [(int(runs[at]), _counts(self._maximal[at])) for at in np.nonzero(runs)[0]]
            verdicts = [self._settled(column, is_over) for _, column in used]
            if all(verdict is Fits.YES for verdict in verdicts):
                return least, tuple(used)
            if Fits.NEVER not in verdicts and not self.look_harder():
                break
        return least, ()

    def _ways(self, runs: Sequence[int]) -> Ints:
        """Copies by way, layout and want with which listed selections meet all needs."""
        *first, last = runs
        chosen = np.zeros((1, 0, len(self._needs)), dtype=np.int64)
        left = self._needs[None, :]
        for run in first:
            left = np.maximum(0, left[:, None, :] - run * self._maximal[None, :, :])
            many = len(left) * len(self._maximal)
            taken = np.repeat(chosen, len(self._maximal), axis=0)
            added = np.tile(self._maximal, (len(chosen), 1))[:, None, :]
            chosen = np.concatenate([taken, added], axis=1)
            left = left.reshape(many, -1)
        rest = -(-left // last)
        works: Bools = np.all(rest <= self._most, axis=1)
        works[works] = self._may_fit[tuple(rest[works].T)]
        return np.concatenate([chosen[works], rest[works][:, None, :]], axis=1)

    def _best_way(self, ways: Ints) -> tuple[Counts, ...] | None:
        """The emptiest way in which nothing is known to stay open."""
        shares = np.array(self._packer.shares)
        fullest = (ways @ shares).max(axis=1)
        for number in np.argsort(fullest, kind="stable")[:400]:
            counts = tuple(_counts(column) for column in ways[number])
            if not any(column in self._undecided for column in counts):
                return counts
        return None

    def _doubt(self, counts: Counts) -> int:
        return 0 if counts in self._packs else 2 if counts in self._undecided else 1

    def _settled(self, counts: Counts, is_over: Callable[[], bool]) -> Fits:
        """Whether this selection fits; struck off where it never does."""
        if not any(counts) or self._packer.packs(counts, rounds=_PACKING_ROUNDS):
            self._packs.add(counts)
            return Fits.YES
        if counts in self._undecided or not self._has_left(self._nodes) or is_over():
            self._undecided.add(counts)
            return Fits.UNDECIDED
        verdict, layout = self._exactly(counts, is_over)
        if verdict is Fits.NEVER:
            self._may_fit = self._may_fit & ~self._holds(counts)
            self._maximal = _maximal(self._may_fit)
            return verdict
        if layout is None:
            self._undecided.add(counts)
            return Fits.UNDECIDED
        self._packer.learn(counts, layout)
        return Fits.YES

    def _holds(self, counts: Counts) -> Bools:
        """Which of the list hold at least as much."""
        holds: Bools = np.zeros(self._may_fit.shape, dtype=np.bool_)
        holds[tuple(slice(count, None) for count in counts)] = True
        return holds

    def _exactly(self, counts: Counts, is_over: Callable[[], bool]) -> tuple[Fits, Layout | None]:
        packer = self._packer
        gap_mm, margin_mm, wants = packer.gap_mm, packer.margin_mm, packer.wants

        # Pieces rounded down and the room up: what does not fit so does not fit.
        pieces: list[Sides] = [
            (_units(want.size.width_mm + gap_mm, floor), _units(want.size.height_mm + gap_mm, floor))
            for want in wants
        ]
        lost_mm = 2 * margin_mm - gap_mm
        room = (_units(packer.sheet.width_mm - lost_mm, ceil), _units(packer.sheet.height_mm - lost_mm, ceil))
        turns = [want.may_turn for want in wants]
        verdict, spots = exact_fit(pieces, counts, turns, room, most_nodes=self._nodes, is_over=is_over)
        if self._left is not None:
            self._left -= self._nodes
        if verdict is not Fits.YES:
            return verdict, None
        placements = []
        for spot in spots:
            size = wants[spot.piece].size
            if spot.sides != pieces[spot.piece]:
                size = size.turned()
            placements.append(
                Placement(
                    wants[spot.piece].key,
                    margin_mm + spot.x / _UNITS_A_MM,
                    margin_mm + spot.y / _UNITS_A_MM,
                    size.width_mm,
                    size.height_mm,
                    0.0 if spot.sides == pieces[spot.piece] else 90.0,
                )
            )
        layout = Layout(packer.sheet, tuple(placements))
        wrong = faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=packer.way, outlines={})
        # It may fit only by the rounding, or only with cuts that are not straight.
        return verdict, None if wrong else layout


def _units(mm: float, rounded: Callable[[float], int]) -> int:
    """Whole units; figures that are off by no more than floating point are not rounded away."""
    return rounded(round(mm * _UNITS_A_MM, 6))


def _counts(column: Ints) -> Counts:
    return tuple(int(count) for count in column)


def _maximal(may_fit: Bools) -> Ints:
    """Those that no other selection of the list contains: it holds all parts of what it holds."""
    contained = np.zeros_like(may_fit)
    for axis in range(may_fit.ndim):
        within = [slice(None)] * may_fit.ndim
        beyond = [slice(None)] * may_fit.ndim
        within[axis], beyond[axis] = slice(0, -1), slice(1, None)
        contained[tuple(within)] |= may_fit[tuple(beyond)]
    return np.argwhere(may_fit & ~contained)
