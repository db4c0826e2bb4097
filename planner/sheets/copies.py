"""As many copies of one piece on one sheet as go there.

Edge-to-edge patterns come from dynamic programming over the places where pieces can start, after P. C.
Gilmore and R. E. Gomory, "Multistage cutting stock problems of two and more dimensions", Operations
Research 13 (1965); loose pieces also get one pinwheel of five such blocks, after E. E. Bischoff and W. B.
Dowsland, "An application of the micro to product design and distribution", Journal of the Operational
Research Society 33 (1982).
"""

from bisect import bisect_right
from dataclasses import replace
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.sheets.problem import Piece
from planner.sheets.shapes import Placed, Shapes, layout_of, shapes_of

_MOST_POINTS = 260
"""More starting points than this would take long; then only whole blocks of rows are looked at."""
_PINWHEEL_POINTS = 80
"""With more, the pinwheels would take longer than they are likely to gain."""

_Table = npt.NDArray[np.int32]
_Lengths = npt.NDArray[np.int64]


def most_copies(piece: Piece, sheet: Size, *, gap_mm: float, margin_mm: float, way: Way) -> Layout:
    """One sheet with as many copies as a pattern of the kind allowed was found to hold.

    The piece's count does not matter. The layout is empty where not one copy fits. For straight cuts
    the number is the most that edge-to-edge cuts allow unless the piece is tiny against the sheet.
    """
    shapes = shapes_of([replace(piece, count=1)], gap_mm=gap_mm, margin_mm=margin_mm)
    placed = pattern_of(shapes, 0, shapes.room(sheet), is_loose=way is not Way.STRAIGHT)
    return layout_of(shapes, placed, sheet)


def pattern_of(shapes: Shapes, kind: int, room: tuple[int, int], *, is_loose: bool) -> list[Placed]:
    """The same for numbered kinds and a room in micrometres."""
    found = _pattern(shapes.widths[kind], shapes.heights[kind], shapes.turns[kind], room, is_loose)
    return [(kind, x, y, turned) for _, x, y, turned in found]


@lru_cache(maxsize=256)
def _pattern(
    width: int, height: int, may_turn: bool, room: tuple[int, int], is_loose: bool
) -> tuple[Placed, ...]:
    if min(room) <= 0:
        return ()
    if may_turn:
        return tuple(_Pattern((width, height), *room).best(is_loose=is_loose))
    return tuple(_grid((width, height), (0, 0, *room), False))


def _grid(side: tuple[int, int], box: tuple[int, int, int, int], turned: bool) -> list[Placed]:
    w, h = (side[1], side[0]) if turned else side
    left, top, width, height = box
    return [
        (0, left + column * w, top + row * h, turned)
        for row in range(max(0, height) // h)
        for column in range(max(0, width) // w)
    ]


def _points(side: tuple[int, int], length: int) -> list[int]:
    """Sums of sides up to the length: where pieces pushed to one end can begin."""
    w, h = side
    return sorted({a * w + b * h for a in range(length // w + 1) for b in range((length - a * w) // h + 1)})


class _Pattern:
    """The best pattern in every size of block up to the sheet."""

    def __init__(self, side: tuple[int, int], width: int, height: int) -> None:
        self._side = side
        self._size = (width, height)
        self._xs, self._ys = _points(side, width), _points(side, height)
        if max(len(self._xs), len(self._ys)) > _MOST_POINTS:
            unit = max(side)
            self._xs = _every(self._xs, unit, width)
            self._ys = _every(self._ys, unit, height)
        self._table = self._worked_out()

    def best(self, *, is_loose: bool) -> list[Placed]:
        i, j = len(self._xs) - 1, len(self._ys) - 1
        if is_loose:
            pinwheel = self._pinwheel(int(self._table[i, j]))
            if pinwheel is not None:
                return [p for box in pinwheel for p in self._laid(*box)]
        return self._laid(0, 0, self._size[0], self._size[1])

    def _worked_out(self) -> _Table:
        """Most copies in a block from 0 to each pair of points, by edge-to-edge cuts."""
        w, h = self._side
        xs, ys = np.array(self._xs), np.array(self._ys)
        table: _Table = np.maximum(np.outer(xs // w, ys // h), np.outer(xs // h, ys // w)).astype(np.int32)
        by_area = np.outer(xs, ys) // (w * h)
        splits_x, splits_y = _splits(xs), _splits(ys)
        for row, most_by_area, rests in zip(table, by_area, splits_x, strict=True):
            if rests.size:
                np.maximum(row, (table[1 : rests.size + 1] + table[rests]).max(axis=0), out=row)
            # Where the area is used up no cut finds more.
            for j in np.flatnonzero(row < most_by_area):
                rests = splits_y[j]
                if rests.size:
                    row[j] = max(row[j], (row[1 : rests.size + 1] + row[rests]).max())
        return table

    def _most(self, width: int, height: int) -> int:
        if width < 0 or height < 0:
            return 0
        return int(self._table[bisect_right(self._xs, width) - 1, bisect_right(self._ys, height) - 1])

    def _laid(self, left: int, top: int, width: int, height: int) -> list[Placed]:
        """The pattern of one block, found again from the table."""
        most = self._most(width, height)
        if most == 0:
            return []
        w, h = self._side
        for turned in (False, True):
            a, b = (h, w) if turned else (w, h)
            if (width // a) * (height // b) >= most:
                return _grid(self._side, (left, top, width, height), turned)
        for x in self._xs:
            if 0 < x < width and self._most(x, height) + self._most(width - x, height) >= most:
                return self._laid(left, top, x, height) + self._laid(left + x, top, width - x, height)
        for y in self._ys:
            if 0 < y < height and self._most(width, y) + self._most(width, height - y) >= most:
                return self._laid(left, top, width, y) + self._laid(left, top + y, width, height - y)
        raise AssertionError("a block's table entry has no pattern")

    def _pinwheel(self, beat: int) -> list[tuple[int, int, int, int]] | None:
        """Four blocks around a fifth that together hold more than `beat`, if there are such.

        The upper left block is x1 wide and y2 high, the others follow clockwise; the middle one lies
        between x1 and x2, y1 and y2.
        """
        width, height = self._size
        room = width * height // (self._side[0] * self._side[1])
        xs = np.array([x for x in self._xs if 0 < x < width])
        ys = np.array([y for y in self._ys if 0 < y < height])
        if room <= beat or max(len(xs), len(ys)) > _PINWHEEL_POINTS or min(len(xs), len(ys)) < 2:
            return None
        to_x, to_y = np.array(self._xs), np.array(self._ys)
        left, across = _below(to_x, xs), _below(to_x, width - xs)
        down, up = _below(to_y, ys), _below(to_y, height - ys)
        first, second = np.triu_indices(len(ys), 1)
        middle = _below(to_y, ys[second] - ys[first])
        table = self._table
        best: list[tuple[int, int, int, int]] | None = None
        for at, x1 in enumerate(xs[:-1]):
            after = slice(at + 1, None)
            right_of = table[across[at]][down] + table[across[after]][:, up]
            left_of = table[left[at]][down] + table[left[after]][:, up]
            totals = table[_below(to_x, xs[after] - x1)][:, middle]
            totals += right_of[:, first]
            totals += left_of[:, second]
            most = int(totals.max())
            if most > beat:
                beat = most
                k, pair = np.unravel_index(int(totals.argmax()), totals.shape)
                best = _around(
                    int(x1), int(xs[after][k]), int(ys[first[pair]]), int(ys[second[pair]]), self._size
                )
        return best


def _around(x1: int, x2: int, y1: int, y2: int, size: tuple[int, int]) -> list[tuple[int, int, int, int]]:
    width, height = size
    return [
        (0, 0, x1, y2),
        (x1, 0, width - x1, y1),
        (x2, y1, width - x2, height - y1),
        (0, y2, x2, height - y2),
        (x1, y1, x2 - x1, y2 - y1),
    ]


def _below(points: _Lengths, lengths: _Lengths) -> _Lengths:
    """Which of the points is the last one not beyond each length."""
    return np.searchsorted(points, lengths, side="right") - 1


def _splits(points: _Lengths) -> list[_Lengths]:
    """For each point, cut at each other one up to its half in turn: the point that what is left reaches."""
    rests = _below(points, points[:, None] - points[None, :])
    halves = _below(points, points // 2)
    return [row[1 : half + 1] for row, half in zip(rests, halves, strict=True)]


def _every(points: list[int], unit: int, length: int) -> list[int]:
    """So many points that whole sides and both ends are among them, and no more than can be afforded."""
    kept = points[:: max(1, len(points) // (_MOST_POINTS // 2))]
    return sorted({0, *kept, *range(unit, length + 1, unit), points[-1]})
