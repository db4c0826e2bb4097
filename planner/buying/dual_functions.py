"""Dual feasible functions: lengths that fit in a line side by side have images that add up to at most 1.

The usual ones come from the literature (see `planner.buying.capacity`). Others are made to measure: for
given demands of lengths a linear programme over what fits in a line finds the function by which they add up
to most, which is the dual of packing them into fewest lines where parts of lines count (P. Gilmore &
R. Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961). Its
values are carried over to all lengths by what a line of that length can hold at most, so that whatever is
true of the lengths asked about holds for all.
"""

from collections.abc import Callable, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planner.work.solver import Programme, solve

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_MOST_CELLS = 3_000
_MOST_PATTERNS = 30
_SOLVE_S = 1.0
"""What one programme may take; it takes a thousandth."""
_NOISE = 1e-9


class Line:
    """Lengths (whole units) that may lie side by side in a room of so many units.

    A function is an array with its image of every one of `lengths`.
    """

    def __init__(self, room: int, lengths: Sequence[int]) -> None:
        self.room = room
        self.lengths = sorted({length for length in lengths if length <= room})
        self._number = {length: number for number, length in enumerate(self.lengths)}
        count = len(self.lengths)
        most = [room // length for length in self.lengths]
        self._patterns: Floats = np.diag(np.array(most, dtype=float)).reshape(count, count)
        """What fits in a line, as far as it was of use: copies by length."""

    def number(self, length: int) -> int | None:
        """Where a length stands among the lengths; None where it is longer than the room."""
        return self._number.get(length)

    @cached_property
    def usual(self) -> Floats:
        """The usual functions, one a line."""
        return np.array([[f(length) for length in self.lengths] for f in _usual(self.room, self.lengths)])

    def best(self, demands: Floats, *, over: float) -> Floats:
        """A function by which these demands add up to most.

        The search ends early once it is sure that they add up to no more than `over`.
        """
        count = len(self.lengths)
        images = np.zeros(count)
        for _ in range(_MOST_PATTERNS):
            most, none = np.ones(len(self._patterns)), np.full(len(self._patterns), -np.inf)
            programme = Programme(-demands, self._patterns, none, most, np.ones(count), whole=False)
            solution = solve(programme, budget_s=_SOLVE_S)
            if not len(solution.values):
                break
            images = solution.values
            held, pattern = self._most_held(images)
            if held[-1] <= 1 + _NOISE or demands @ images <= over:
                break
            self._patterns = np.concatenate([self._patterns, pattern[None]])
        held, _ = self._most_held(images)
        carried: Floats = held[self._cells[1]] / max(1.0, held[-1])
        return carried

    @cached_property
    def _cells(self) -> tuple[Ints, Ints, Ints]:
        """Sums of lengths within the room, where each length stands among them, and what is left without it.

        Sums count in cells of a few units where there are very many. Rounded down, lengths that fit side by
        side still do.
        """
        cell = min(-(-self.room // _MOST_CELLS), self.lengths[0])
        room, lengths = self.room // cell, [length // cell for length in self.lengths]
        within, reached = (1 << (room + 1)) - 1, 1
        for length in lengths:
            shift = length
            while shift <= room:
                reached |= (reached << shift) & within
                shift *= 2
        bits = np.array([digit == "1" for digit in reversed(f"{reached:b}")])
        sums = np.flatnonzero(bits)
        # Without a length there is less left than the sum, but by how much may be rounded to the next sum.
        before = sums[:, None] - np.array(lengths, dtype=np.int64)[None, :]
        rest = np.where(before >= 0, np.searchsorted(sums, before, side="right") - 1, -1)
        return sums, np.searchsorted(sums, lengths, side="right") - 1, rest

    def _most_held(self, images: Floats) -> tuple[Floats, Floats]:
        """By sum: the most that lengths adding up to it or to less can count; and copies that count most."""
        _, _, rest = self._cells
        # One place more at the end, for sums shorter than a length.
        held = np.append(np.zeros(len(rest)), -np.inf)
        while True:
            more = np.maximum.accumulate((held[rest] + images).max(axis=1, initial=0.0))
            if (more <= held[:-1] + _NOISE * 1e-3).all():
                break
            held[:-1] = np.maximum(more, held[:-1])
        copies = np.zeros(len(images))
        at = len(rest) - 1
        while held[at] > _NOISE:
            gains = held[rest[at]] + images
            best = int(gains.argmax())
            if gains[best] >= held[at] - _NOISE:
                copies[best] += 1
                at = rest[at, best]
            else:
                at -= 1
        return held[:-1], copies


def _usual(room: int, lengths: Sequence[int]) -> list[Callable[[int], float]]:
    found: list[Callable[[int], float]] = [lambda x: x / room]
    shorts = sorted({n for n in lengths if 2 * n <= room} | {room - n for n in lengths if 2 * n > room})
    for short in [s for s in shorts if s > 0][:24]:

        def threshold(x: int, short: int = short) -> float:
            return 1.0 if x > room - short else 0.0 if x < short else x / room

        def counting(x: int, short: int = short) -> float:
            fits = room // short
            if 2 * x == room:
                return 0.5
            return ((fits - (room - x) // short) if 2 * x > room else x // short) / fits

        found += [threshold, counting]
    for k in range(1, 13):

        def rounded(x: int, k: int = k) -> float:
            scaled = (k + 1) * x
            return x / room if scaled % room == 0 else (scaled // room) / k

        found.append(rounded)
    return found
