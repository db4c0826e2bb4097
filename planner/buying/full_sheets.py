"""The sheet that is worth most when a copy of each want is worth so much: full sheets for mixed plans.

Pieces of like width are stacked into columns, columns of any width stand side by side in a strip, strips
lie above each other: three stages of straight cuts, each a knapsack solved exactly by dynamic programming
(P. Gilmore & R. Gomory, "Multistage cutting stock problems of two and more dimensions", Operations Research
13, 1965). Sides are rounded up to a grid, so whatever comes out fits; both directions of strips are tried.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import ceil, floor, gcd

import numpy as np
from numpy.typing import NDArray

from planner.buying.packer import Counts, Packer
from planner.buying.wants import Want
from planner.measures.layout import Layout, Placement

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

_UNITS_A_MM = 1_000
_FINEST = 420
"""Steps of the grid along the sheet's longer side at most."""
_TINY = 1e-9


@dataclass(frozen=True, slots=True)
class _Lying:
    """A want in one of its positions, in steps of the grid."""

    want: int
    width: int
    height: int
    is_turned: bool


@dataclass(frozen=True, slots=True)
class _Spot:
    lying: _Lying
    x: int
    y: int


class FullSheets:
    """Fills sheets of one packer."""

    def __init__(self, packer: Packer) -> None:
        self._packer = packer
        lost_mm = 2 * packer.margin_mm - packer.gap_mm
        width = floor((packer.sheet.width_mm - lost_mm) * _UNITS_A_MM + 1e-6)
        height = floor((packer.sheet.height_mm - lost_mm) * _UNITS_A_MM + 1e-6)
        sides = [_sides(want, packer.gap_mm) for want in packer.wants]
        self._step = _step_of([side for pair in sides for side in pair], max(width, height))
        room = width // self._step, height // self._step
        lying = [
            _Lying(number, -(-one // self._step), -(-other // self._step), bool(is_turned))
            for number, (want, (w, h)) in enumerate(zip(packer.wants, sides, strict=True))
            for is_turned, (one, other) in enumerate(((w, h), (h, w)) if want.may_turn else ((w, h),))
        ]
        across = [_Lying(one.want, one.height, one.width, one.is_turned) for one in lying]
        self._ways = (_Strips(room, lying), _Strips((room[1], room[0]), across))

    def best(self, worths: Floats) -> tuple[float, Counts]:
        """(what the sheet is worth, copies of each want on it); the packer knows its layout from now on."""
        values = [way.fill(worths) for way in self._ways]
        number = int(np.argmax(values))
        spots = self._ways[number].spots()
        counts = [0] * len(self._packer.wants)
        for spot in spots:
            counts[spot.lying.want] += 1
        self._packer.learn(counts, self._layout(spots, is_across=number == 1))
        return float(values[number]), tuple(counts)

    def _layout(self, spots: Sequence[_Spot], *, is_across: bool) -> Layout:
        packer = self._packer
        placements = []
        for spot in spots:
            want = packer.wants[spot.lying.want]
            size = want.size.turned() if spot.lying.is_turned else want.size
            x, y = (spot.y, spot.x) if is_across else (spot.x, spot.y)
            placements.append(
                Placement(
                    want.key,
                    packer.margin_mm + x * self._step / _UNITS_A_MM,
                    packer.margin_mm + y * self._step / _UNITS_A_MM,
                    size.width_mm,
                    size.height_mm,
                    90.0 if spot.lying.is_turned else 0.0,
                )
            )
        return Layout(packer.sheet, tuple(placements))


class _Strips:
    """The three knapsacks for strips that lie above each other."""

    def __init__(self, room: tuple[int, int], lying: Sequence[_Lying]) -> None:
        self._width, self._height = room
        self._lying = [one for one in lying if one.width <= room[0] and one.height <= room[1]]
        self._columns = sorted({one.width for one in self._lying})
        self._steps: Ints = np.array([one.height for one in self._lying], dtype=np.int64)
        widths = np.array([one.width for one in self._lying], dtype=np.int64)
        self._barred: Floats = np.where(widths[None, :] <= np.array(self._columns)[:, None], 0.0, -np.inf)
        self._stacked: Floats = np.zeros((0, 0))
        self._beside: Floats = np.zeros((0, 0))
        self._above: Floats = np.zeros(0)

    def fill(self, worths: Floats) -> float:
        """What the best sheet is worth."""
        if not self._lying:
            return -1.0
        self._worths: Floats = np.array([worths[one.want] for one in self._lying])
        self._stack()
        self._stand_side_by_side()
        above = np.zeros(self._height + 1)
        strips = self._beside[self._width]
        for height in range(1, self._height + 1):
            above[height] = (strips[1 : height + 1] + above[height - 1 :: -1]).max()
        self._above = above
        return float(above[-1])

    def _stack(self) -> None:
        """By column and height, what pieces no wider than the column are worth above each other."""
        tallest = int(self._steps.max())
        # So many empty rows before the first that no step leads out of the table.
        table = np.full((len(self._columns), tallest + self._height + 1), -np.inf)
        table[:, tallest] = 0
        added = self._barred + self._worths
        for height in range(1, self._height + 1):
            at = tallest + height
            found = (table[:, at - self._steps] + added).max(axis=1)
            np.maximum(found, table[:, at - 1], out=table[:, at])
        self._stacked = table[:, tallest:]

    def _stand_side_by_side(self) -> None:
        """By width and height, what columns no higher than that are worth beside each other."""
        table = np.zeros((self._width + 1, self._height + 1))
        for width in range(1, self._width + 1):
            table[width] = table[width - 1]
            for number, column in enumerate(self._columns):
                if column > width:
                    break
                np.maximum(table[width], table[width - column] + self._stacked[number], out=table[width])
        self._beside = table

    def spots(self) -> list[_Spot]:
        """Where the pieces of the best sheet lie."""
        spots: list[_Spot] = []
        strips, above = self._beside[self._width], self._above
        left = self._height
        while left > 0 and above[left] > _TINY:
            sums = strips[1 : left + 1] + above[left - 1 :: -1]
            strip = 1 + int(sums.argmax())
            self._fill_strip(strip, self._height - left, spots)
            left -= strip
        return spots

    def _fill_strip(self, height: int, y: int, spots: list[_Spot]) -> None:
        width, table = self._width, self._beside
        while width > 0 and table[width, height] > _TINY:
            if table[width - 1, height] >= table[width, height]:
                width -= 1
                continue
            fitting = [number for number, column in enumerate(self._columns) if column <= width]
            number = max(
                fitting,
                key=lambda n: table[width - self._columns[n], height] + self._stacked[n, height],
            )
            width -= self._columns[number]
            self._fill_column(number, height, width, y, spots)

    def _fill_column(self, number: int, height: int, x: int, y: int, spots: list[_Spot]) -> None:
        stacked = self._stacked[number]
        while height > 0 and stacked[height] > _TINY:
            if stacked[height - 1] >= stacked[height]:
                height -= 1
                continue
            fitting = [
                at
                for at, one in enumerate(self._lying)
                if one.height <= height and self._barred[number, at] == 0
            ]
            at = max(fitting, key=lambda a: stacked[height - self._lying[a].height] + self._worths[a])
            height -= self._lying[at].height
            spots.append(_Spot(self._lying[at], x, y + height))


def _sides(want: Want, gap_mm: float) -> tuple[int, int]:
    return (
        ceil((want.size.width_mm + gap_mm) * _UNITS_A_MM - 1e-6),
        ceil((want.size.height_mm + gap_mm) * _UNITS_A_MM - 1e-6),
    )


def _step_of(sides: Sequence[int], longest: int) -> int:
    """The step that all sides are whole numbers of, where that is not too fine."""
    return max(reduce(gcd, sides), -(-longest // _FINEST))
