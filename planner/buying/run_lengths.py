"""Given how often each layout is run, which copies go on which layout: estimated by load, then packed.

The room a piece takes is guessed as one figure (its load). For given runs every want has a few sensible
ways to be spread over the layouts; a Lagrangian with one multiplier a layout picks among them and tells
how full sheets would have to be, and a repair walk evens the loads out. Real packing has the last word.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_MOST_WAYS = 6_000
"""Ways of spreading looked at for one want; beyond that the longest runs alone are combined."""


class Spread:
    """Every sensible way to spread each want over layouts with given runs, longest run first."""

    def __init__(self, needs: Ints, loads: Floats, most: Ints, runs: Sequence[int]) -> None:
        self.runs = tuple(runs)
        self.loads = loads
        lengths = np.array(runs, dtype=np.int64)
        tops = [int(min(most.max(), -(-needs.max() // run))) for run in runs[:-1]]
        self.is_complete = True
        """Whether really every sensible way is there."""
        while tops and np.prod([top + 1 for top in tops]) > _MOST_WAYS:
            # Small runs serve large needs only a little: they need not offer all of it.
            longest = int(np.argmax(tops))
            tops[longest] = tops[longest] * 2 // 3
            self.is_complete = False
        axes = [np.arange(top + 1) for top in tops]
        mesh = np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1).reshape(-1, len(axes)) if axes else None
        first = np.zeros((1, 0), dtype=np.int64) if mesh is None else mesh
        made = first @ lengths[:-1]
        last = -(-np.maximum(0, needs[:, None] - made[None, :]) // lengths[-1])
        self.ways = np.concatenate(
            [np.broadcast_to(first, (len(needs), *first.shape)), last[:, :, None]], axis=2
        ).astype(np.float64)
        """Copies by want, way and layout."""
        spent = self.ways @ lengths.astype(float)
        # A way that would still do with one copy less somewhere is never better.
        least = np.where(self.ways > 0, lengths[None, None, :], np.inf).min(axis=2)
        wasteful = (spent - needs[:, None] >= least) | (self.ways.max(axis=2) > most[:, None])
        self._barred = np.where(wasteful, np.inf, 0.0)
        usable = ~np.isinf(self._barred).all(axis=0)
        self.ways = self.ways[:, usable]
        self._barred = self._barred[:, usable]

    @property
    def is_possible(self) -> bool:
        """Whether every want has some way at all."""
        return self.ways.shape[1] > 0 and bool(np.isfinite(self._barred).any(axis=1).all())

    def needed(self, loads: Floats | None = None, steps: int = 12) -> tuple[float, Ints, Floats]:
        """(how full the sheets must be on average, weighted by the best multipliers; ways; multipliers)."""
        loads = self.loads if loads is None else loads
        layouts = len(self.runs)
        weights = np.array(self.runs, dtype=float)
        weights /= weights.sum()
        best, best_choice, best_weights = -1.0, np.zeros(len(self.loads), dtype=np.int64), weights
        wants = np.arange(len(self.loads))
        for step in range(steps):
            costs = self.ways @ weights + self._barred
            choice = costs.argmin(axis=1)
            value = float((costs[wants, choice] * loads).sum())
            if value > best:
                best, best_choice, best_weights = value, choice, weights
            if layouts == 1:
                break
            filled = (self.ways[wants, choice] * loads[:, None]).sum(axis=0)
            weights = weights * np.exp((filled - value) * (1.2 / (step + 2)))
            weights /= weights.sum()
        return best, best_choice, best_weights

    def copies(self, choice: Ints) -> Floats:
        """Copies by want and layout for one way a want."""
        return self.ways[np.arange(len(self.loads)), choice]

    def evened(self, choice: Ints, loads: Floats, room: Floats, steps: int = 50) -> tuple[Ints, float]:
        """Ways changed one want at a time until no layout's load exceeds its room: (ways, excess left).

        A want that was just changed rests for some steps (tabu search), so that the walk gets out of
        arrangements from which no single change leads on.
        """
        wants = np.arange(len(loads))
        choice = choice.copy()
        placed = self.ways * loads[:, None, None]
        placed_in_all = placed.sum(axis=2)
        filled = placed[wants, choice].sum(axis=0)
        excess = float((np.maximum(0.0, filled - room) ** 2).sum())
        best, best_choice = excess, choice.copy()
        rests_until = np.zeros(len(loads), dtype=np.int64)
        for step in range(steps):
            if best <= 1e-12:
                break
            after = (filled[None, :] - placed[wants, choice])[:, None, :] + placed
            too_much = np.maximum(0.0, after - room)
            over = np.einsum("ijk,ijk->ij", too_much, too_much) + self._barred
            # Among equals the one that leaves more room in all.
            over += 1e-4 * (placed_in_all - placed_in_all[wants, choice][:, None])
            over[wants, choice] = np.inf
            over[rests_until > step] = np.inf
            want, way = divmod(int(over.argmin()), over.shape[1])
            if not np.isfinite(over[want, way]):
                break
            choice[want] = way
            filled = after[want, way]
            rests_until[want] = step + 4
            excess = float((np.maximum(0.0, filled - room) ** 2).sum())
            if excess < best - 1e-12:
                best, best_choice = excess, choice.copy()
        return best_choice, best
