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


@lru_cache(maxsize=64)
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
        back_x = [[bisect_right(self._xs, x - a) - 1 for a in self._xs if 2 * a <= x] for x in self._xs]
        back_y = [
            np.array([bisect_right(self._ys, y - a) - 1 for a in self._ys if 2 * a <= y]) for y in self._ys
        ]
        for i in range(len(self._xs)):
            row = table[i]
            for k, rest in enumerate(back_x[i]):
                if k:
                    np.maximum(row, table[k] + table[rest], out=row)
            for j in range(1, len(self._ys)):
                rests = back_y[j]
                most = int((row[: len(rests)] + row[rests]).max())
                if most > row[j]:
                    row[j] = most
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
        xs = [x for x in self._xs if 0 < x < width]
        ys = np.array([y for y in self._ys if 0 < y < height])
        if room <= beat or max(len(xs), len(ys)) > _PINWHEEL_POINTS or len(ys) == 0:
            return None
        table = self._table
        to_x, to_y = np.array(self._xs), np.array(self._ys)
        down, up = (np.searchsorted(to_y, y, side="right") - 1 for y in (ys, height - ys))
        between = ys[None, :] - ys[:, None]
        middle = np.searchsorted(to_y, np.maximum(between, 0), side="right") - 1
        best: list[tuple[int, int, int, int]] | None = None
        for at, x1 in enumerate(xs):
            for x2 in xs[at + 1 :]:
                i1, w1, w2, i2, m = (
                    np.searchsorted(to_x, [x1, width - x1, width - x2, x2, x2 - x1], side="right") - 1
                )
                right_of = table[w1, down] + table[w2, up]
                left_of = table[i1, down] + table[i2, up]
                totals = right_of[:, None] + left_of[None, :] + table[m, middle]
                totals[between <= 0] = 0
                most = int(totals.max())
                if most > beat:
                    k1, k2 = np.unravel_index(int(totals.argmax()), totals.shape)
                    y1, y2 = int(ys[k1]), int(ys[k2])
                    beat = most
                    best = [
                        (0, 0, x1, y2),
                        (x1, 0, width - x1, y1),
                        (x2, y1, width - x2, height - y1),
                        (0, y2, x2, height - y2),
                        (x1, y1, x2 - x1, y2 - y1),
                    ]
        return best


def _every(points: list[int], unit: int, length: int) -> list[int]:
    """So many points that whole sides and both ends are among them, and no more than can be afforded."""
    kept = points[:: max(1, len(points) // (_MOST_POINTS // 2))]
    return sorted({0, *kept, *range(unit, length + 1, unit), points[-1]})
