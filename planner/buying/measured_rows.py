"""Capacity rows made to measure for what is needed: products of two functions that hold back the most.

How many sheets the needs take at least, by all rows known, is a linear programme: each want is dealt out to
its two positions so that the fullest row is as empty as can be. For that dealing the product of functions
that counts the most is looked for by holding one function and finding the best for the other, in turn, from
several starts; what it breaks joins the rows, and the needs are dealt out anew. (Finding both at once is
the bilinear programme of A. Caprara & M. Monaci, "Bidimensional packing by bilinear programming",
Mathematical Programming 118, 2009.)
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.buying.dual_functions import Line
from planner.work.solver import Programme, solve

Floats = NDArray[np.float64]
Rows = NDArray[np.float64]

_SAFE = 1e-9
_ROUNDS = 20
_PATIENCE = 6
"""After so many rounds in which the rows ask for no more sheets than before, more rows are not looked for."""
_STARTS = 3
_TURNS = 3
_BROKEN = 1e-6
_MOST_ADDED = 8
_SOLVE_S = 1.0
"""What one programme may take; it takes hundredths."""


class Places:
    """The two positions in which each of some wants may lie on a sheet.

    Rows for them have a column for every want upright, then one for every want turned.
    """

    def __init__(
        self, sides: Sequence[tuple[int, int]], turns: Sequence[bool], width: int, height: int
    ) -> None:
        """All in whole units."""
        lengths = [side for each in sides for side in each]
        self.across, self.along = Line(width, lengths), Line(height, lengths)
        positions = [*sides, *((h, w) for w, h in sides)]
        numbers = [(self.across.number(w), self.along.number(h)) for w, h in positions]
        may = [True] * len(sides) + [*turns]
        self.can_lie = np.array(
            [
                turn and one is not None and other is not None
                for turn, (one, other) in zip(may, numbers, strict=True)
            ]
        )
        self._one = np.array([one or 0 for one, _ in numbers])
        self._other = np.array([other or 0 for _, other in numbers])

    def usual(self) -> Rows:
        """All products of two usual functions; nothing counts where it cannot lie."""
        across, along = self.across.usual[:, self._one], self.along.usual[:, self._other]
        products = (across[:, None, :] * along[None, :, :]).reshape(-1, len(self._one))
        return np.unique(products * self.can_lie, axis=0)

    def product(self, across: Floats, along: Floats) -> Rows:
        """One row."""
        row: Rows = across[self._one] * along[self._other] * self.can_lie
        return row

    def demands(self, copies: Floats) -> Floats:
        """Copies by length across and length along."""
        found = np.zeros((len(self.across.lengths), len(self.along.lengths)))
        np.add.at(found, (self._one[self.can_lie], self._other[self.can_lie]), copies[self.can_lie])
        return found

    def smaller(self, rows: Rows) -> Rows:
        """Rows by want, each counted where it counts least; what fits in no position holds nothing back."""
        by_position = np.where(self.can_lie, rows, np.inf)
        upright, turned = np.split(by_position, 2, axis=1)
        least = np.minimum(upright, turned)
        return np.maximum(0.0, np.where(np.isfinite(least), least, 1.0) - _SAFE)


def made_to_measure(places: Places, rows: Rows, needs: Floats) -> tuple[Rows, Rows]:
    """More rows by position, those of use; and the mean of all rows that asks for most sheets (one row)."""
    used = [int(np.argmax(rows @ np.tile(needs, 2)))]
    known = len(rows)
    most, stale = 0.0, 0
    for _ in range(_ROUNDS):
        copies, sheets = _dealt(places, rows, needs, used)
        most, stale = (sheets, 0) if sheets > most * (1 + _BROKEN) else (most, stale + 1)
        if stale == _PATIENCE:
            break
        new = _broken(places, copies)
        if not len(new):
            break
        used += range(len(rows), len(rows) + len(new))
        rows = np.concatenate([rows, new])
    return rows[known:], _mean(places, rows[used], needs)


def _dealt(places: Places, rows: Rows, needs: Floats, used: list[int]) -> tuple[Floats, float]:
    """Copies a sheet by position for the least number of sheets, and that number.

    Rows that the answer breaks join those used until none is broken.
    """
    wants = len(needs)
    needed = np.concatenate([np.eye(wants), np.eye(wants), np.zeros((wants, 1))], axis=1)
    most = np.append(np.where(places.can_lie, np.inf, 0.0), np.inf)
    # What fits in no position is nothing to ask sheets for.
    asked = np.where(places.can_lie[:wants] | places.can_lie[wants:], needs, 0.0)
    while True:
        held = np.concatenate([rows[used], -np.ones((len(used), 1))], axis=1)
        solution = solve(
            Programme(
                np.append(np.zeros(2 * wants), 1.0),
                np.concatenate([held, needed]),
                np.concatenate([np.full(len(used), -np.inf), asked]),
                np.concatenate([np.zeros(len(used)), asked]),
                most,
                whole=False,
            ),
            budget_s=_SOLVE_S,
        )
        copies, sheets = solution.values[:-1], float(solution.values[-1])
        loads = rows @ copies
        broken = np.argsort(-loads)[:_MOST_ADDED]
        new = [int(number) for number in broken if loads[number] > sheets * (1 + _BROKEN)]
        if not set(new) - set(used):
            return copies / sheets, sheets
        used += sorted(set(new) - set(used))


def _broken(places: Places, copies: Floats) -> Rows:
    """Products by which these copies are more than one sheet."""
    demands = places.demands(copies)
    across, along = places.across, places.along
    loads = across.usual @ demands @ along.usual.T
    starts = [along.usual[number] for number in np.argsort(-loads.max(axis=0), kind="stable")[:_STARTS]]
    for number in np.argsort(-loads.max(axis=1), kind="stable")[:_STARTS]:
        starts.append(along.best(across.usual[number] @ demands, over=1))
    found = [row for start in starts for row in _climbed(places, demands, start)]
    return np.unique(np.array(found), axis=0) if found else np.zeros((0, len(copies)))


def _climbed(places: Places, demands: Floats, along: Floats) -> list[Floats]:
    """Products on the way up from one function along the sheet, the best across it, the best along it, …"""
    rows = []
    value = 1 + _BROKEN
    for _ in range(_TURNS):
        across = places.across.best(demands @ along, over=value)
        counted = float(across @ demands @ along)
        if counted <= value:
            break
        rows.append(places.product(across, along))
        along = places.along.best(across @ demands, over=counted)
        value = float(across @ demands @ along)
        if value <= counted + _BROKEN:
            break
        rows.append(places.product(across, along))
    return rows


def _mean(places: Places, rows: Rows, needs: Floats) -> Rows:
    """The mean of rows that asks for most sheets, as one row; no row where none was found.

    The programme's variables are what each row weighs and what each want then counts at most: as much as
    either of its positions does.
    """
    many, wants = len(rows), len(needs)
    counts = np.concatenate([np.eye(wants), np.eye(wants)])
    lines = np.concatenate([-rows.T, counts], axis=1)[places.can_lie]
    weighed = np.concatenate([np.ones(many), np.zeros(wants)])[None]
    programme = Programme(
        np.concatenate([np.zeros(many), -needs]),
        np.concatenate([lines, weighed]),
        np.append(np.full(len(lines), -np.inf), 1.0),
        np.append(np.zeros(len(lines)), 1.0),
        # What fits in no position is nothing to ask sheets for.
        np.concatenate([np.ones(many), 1.0 * (places.can_lie[:wants] | places.can_lie[wants:])]),
        whole=False,
    )
    weights = np.maximum(0.0, solve(programme, budget_s=_SOLVE_S).values[:many])
    return weights[None] @ rows / weights.sum() if weights.any() else np.zeros((0, 2 * wants))
