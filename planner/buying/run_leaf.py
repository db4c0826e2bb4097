"""One tuple of runs judged exactly by all capacity rows: ruled out, or spread over its layouts.

An integer programme spreads the wants; rows that its answer breaks are added until none is broken. What
it rules out is proven; what it spreads is a proposal that real packing has to confirm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.buying.packer import Counts
from planner.buying.solver import Outcome, Programme, solve

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

    def __init__(self, needs: Sequence[int], rows: Floats) -> None:
        self._needs: Ints = np.array(needs, dtype=np.int64)
        self._rows = rows
        self._most = np.floor(1 / np.maximum(rows.max(axis=0), 1e-6) + 1e-6)
        weight = rows @ self._needs
        self._used: list[int] = [int(number) for number in np.argsort(-weight)[:3]]

    def judge(self, runs: Sequence[int], *, budget_s: float, packs_within: float = 1.0) -> Verdict:
        """Whether these runs can work; `packs_within` under 1 asks for emptier sheets and proves nothing."""
        layouts, wants = len(runs), len(self._needs)
        area = self._rows[self._used[0]]
        for _ in range(12):
            solution = solve(self._programme(runs, area, packs_within), budget_s=budget_s)
            if solution.outcome is Outcome.IMPOSSIBLE:
                return Verdict(is_ruled_out=packs_within >= 1)
            if solution.outcome is Outcome.UNDECIDED:
                return Verdict(is_ruled_out=False)
            copies = np.round(solution.values).reshape(layouts, wants)
            loads = self._rows @ copies.T
            worst = {int(number) for number in loads.argmax(axis=0)}
            broken = {number for number in worst if loads[number].max() > 1 + _NOISE} - set(self._used)
            if not broken:
                return Verdict(False, tuple(tuple(int(n) for n in column) for column in copies))
            self._used += sorted(broken)
        return Verdict(is_ruled_out=False)

    def _programme(self, runs: Sequence[int], area: Floats, packs_within: float) -> Programme:
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
                high.append((1.0 if packs_within >= 1 else packs_within) + _NOISE)
        most = np.broadcast_to(self._most, (layouts, wants)).ravel()
        costs = np.broadcast_to(area, (layouts, wants)).ravel()
        return Programme(costs.copy(), np.array(rows), np.array(low), np.array(high), most.copy())
