"""One tuple of runs judged exactly by all capacity rows: ruled out, or spread over its layouts.

An integer programme spreads the wants; rows that its answer breaks are added until none is broken. What
it rules out is proven; what it spreads is a proposal that real packing has to confirm.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from planner.buying.packer import Counts
from planner.buying.run_lengths import Spread
from planner.work.solver import Outcome, Programme, solve

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_NOISE = 1e-7


@dataclass(frozen=True, slots=True)
class Verdict:
    """`is_ruled_out`: no plan has these runs. Otherwise `counts` is a proposal, None where time was up."""

    is_ruled_out: bool
    counts: tuple[Counts, ...] | None = None


class LeafJudge:
    """Judges tuples of runs of one problem; learns which rows matter."""

    def __init__(self, needs: Sequence[int], rows: Floats, shares: Sequence[float]) -> None:
        self._shares: Floats = np.array(shares)
        self._needs: Ints = np.array(needs, dtype=np.int64)
        self._rows = rows
        self._most = np.floor(1 / np.maximum(rows.max(axis=0), 1e-6) + 1e-6)
        weight = rows @ self._needs
        self._used: list[int] = [int(number) for number in np.argsort(-weight)[:3]]

    def judge(self, runs: Sequence[int], *, budget_s: float) -> Verdict:
        """Whether these runs can work."""
        if self._is_hopeless(runs):
            return Verdict(is_ruled_out=True)
        solution = self._solved(runs, None, budget_s)
        if solution is None:
            return Verdict(is_ruled_out=False)
        return Verdict(solution == (), solution or None)

    def spread(
        self, runs: Sequence[int], room: Sequence[float], *, random: Random, budget_s: float
    ) -> tuple[Counts, ...] | None:
        """Copies for these runs, the boxes on each layout covering no more than its room allows.

        Where wants rather go is left to chance: asked again, the answer is another.
        """
        likings = [random.uniform(0.7, 1.3) for _ in range(len(runs) * len(self._needs))]
        return self._solved(runs, room, budget_s, np.array(likings)) or None

    def _is_hopeless(self, runs: Sequence[int]) -> bool:
        """A quick check by the strongest rows, each with multipliers of its own."""
        most = self._most.astype(np.int64)
        for number in self._used[:2]:
            spread = Spread(self._needs, self._rows[number], most, runs)
            if not spread.is_complete:
                return False
            if not spread.is_possible or spread.needed()[0] > 1 + _NOISE:
                return True
        return False

    def _solved(
        self,
        runs: Sequence[int],
        room: Sequence[float] | None,
        budget_s: float,
        likings: Floats | None = None,
    ) -> tuple[Counts, ...] | None:
        """Copies by layout; empty where there are none, None where that stayed open."""
        layouts, wants = len(runs), len(self._needs)
        for _ in range(12):
            solution = solve(self._programme(runs, room, likings), budget_s=budget_s)
            if solution.outcome is Outcome.IMPOSSIBLE:
                return ()
            if not len(solution.values):
                return None
            copies = np.round(solution.values).reshape(layouts, wants)
            loads = self._rows @ copies.T
            worst = {int(number) for number in loads.argmax(axis=0)}
            broken = {number for number in worst if loads[number].max() > 1 + _NOISE} - set(self._used)
            if not broken:
                return tuple(tuple(int(n) for n in column) for column in copies)
            self._used += sorted(broken)
        return None

    def _programme(
        self, runs: Sequence[int], room: Sequence[float] | None, likings: Floats | None
    ) -> Programme:
        layouts, wants = len(runs), len(self._needs)
        rows, low, high = [], [], []
        for want in range(wants):
            row = np.zeros((layouts, wants))
            row[:, want] = runs
            rows.append(row.ravel())
            low.append(float(self._needs[want]))
            high.append(np.inf)
        for layout in range(layouts):
            for number in self._used:
                row = np.zeros((layouts, wants))
                row[layout] = self._rows[number]
                rows.append(row.ravel())
                low.append(-np.inf)
                high.append(1 + _NOISE)
            if room is not None:
                row = np.zeros((layouts, wants))
                row[layout] = self._shares
                rows.append(row.ravel())
                low.append(-np.inf)
                high.append(room[layout])
        most = np.broadcast_to(self._most, (layouts, wants)).ravel()
        costs = np.broadcast_to(self._shares, (layouts, wants)).ravel()
        costs = costs.copy() if likings is None else costs * likings
        return Programme(costs, np.array(rows), np.array(low), np.array(high), most.copy())
