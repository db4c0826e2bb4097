"""Shortest strip of given width for loose rectangles: lowest place first, best piece for it, and the order
of the pieces improved by local search.

After S. C. H. Leung, D. Zhang and K. M. Sim, "A two-stage intelligent search algorithm for the
two-dimensional strip packing problem", European Journal of Operational Research 215 (2011): the lowest
stretch of the skyline is filled by the piece that fits its width and its walls best.
"""

from collections.abc import Callable, Sequence
from math import gcd
from random import Random

from planner.sheets.effort import Effort
from planner.sheets.shapes import Placed, Shapes

_LATE = 150
Found = Callable[[list[Placed], int], None]
_Standing = tuple[int, int, int, bool]
"""Width, height, kind, turned."""


def used_length(shapes: Shapes, placed: Sequence[Placed]) -> int:
    """How far down the grown pieces reach."""
    return max(
        (y + (shapes.widths[kind] if turned else shapes.heights[kind]) for kind, _, y, turned in placed),
        default=0,
    )


class ShortestStrip:
    """The search for one set of pieces on a strip of one width."""

    def __init__(self, shapes: Shapes, items: Sequence[int], width: int, seed: int) -> None:
        self._shapes = shapes
        self._items = list(items)
        self._width = width
        self._random = Random(seed)
        self._total = sum(shapes.areas[kind] for kind in items)
        # Strips end on a multiple of whatever divides all sides; aiming at one lets walls match exactly.
        self._unit = gcd(*(side for k in set(items) for side in (shapes.widths[k], shapes.heights[k]))) or 1
        self._ways: list[tuple[_Standing, ...]] = []
        for kind in range(len(shapes.pieces)):
            w, h = shapes.widths[kind], shapes.heights[kind]
            ways = [(w, h, kind, False)] + ([(h, w, kind, True)] if shapes.turns[kind] else [])
            self._ways.append(tuple(way for way in ways if way[0] <= width))

    @property
    def bound(self) -> int:
        """No strip can be shorter: by area, and by the piece that needs most at its shortest."""
        tallest = max((min(way[1] for way in self._ways[kind]) for kind in set(self._items)), default=0)
        by_area = -(-self._total // self._width)
        return max(-(-by_area // self._unit) * self._unit, tallest)

    def run(self, effort: Effort, limit: int, tighter: Callable[[int], int], found: Found) -> None:
        """Look for strips of at most `limit`, then of at most what `tighter` makes of each length found.

        `found` hears of each strip. Ends when the limit falls under the bound.
        """
        order: list[int] = []
        areas, widths, heights = self._shapes.areas, self._shapes.widths, self._shapes.heights
        for measure in (
            lambda kind: areas[kind],
            lambda kind: max(widths[kind], heights[kind]),
            lambda kind: widths[kind] + heights[kind],
        ):
            trial = sorted(self._items, key=measure, reverse=True)
            placed, left = self.decode(trial, limit)
            if left == 0:
                length = used_length(self._shapes, placed)
                order, limit = trial, tighter(length)
                found(placed, length)
            elif not order:
                order = trial
        while limit >= self.bound:
            limit -= limit % self._unit
            solved, is_done = self._shorter(order, limit, effort)
            if not is_done:
                return
            placed, _ = self.decode(solved, limit)
            length = used_length(self._shapes, placed)
            order, limit = solved, tighter(length)
            found(placed, length)

    def _shorter(self, order: list[int], target: int, effort: Effort) -> tuple[list[int], bool]:
        """The best order found for the target length, and whether all pieces fit it."""
        chance = self._random
        current = order[:]
        count = len(current)
        left = self.decode(current, target)[1]
        late = [left] * _LATE
        attempt = 0
        while left and effort.next_attempt():
            attempt += 1
            trial = current[:]
            for _ in range(chance.choice((1, 1, 1, 2, 3))):
                one, other = chance.randrange(count), chance.randrange(count)
                if chance.random() < 0.7:
                    trial[one], trial[other] = trial[other], trial[one]
                else:
                    trial.insert(other, trial.pop(one))
            trial_left = self.decode(trial, target)[1]
            if trial_left <= left or trial_left <= late[attempt % _LATE]:
                current, left = trial, trial_left
            late[attempt % _LATE] = left
        return current, left == 0

    def decode(self, order: Sequence[int], length: int) -> tuple[list[Placed], int]:
        """Pieces placed within the length, and the area of those that found no room."""
        counts: dict[int, int] = {}
        for kind in order:
            counts[kind] = counts.get(kind, 0) + 1
        choices = [way for kind in dict.fromkeys(order) for way in self._ways[kind]]
        xs, ys, ws = [0], [0], [self._width]
        placed: list[Placed] = []
        left = self._total
        areas = self._shapes.areas
        while choices:
            at = ys.index(min(ys))
            y, width = ys[at], ws[at]
            before = ys[at - 1] if at else length
            after = ys[at + 1] if at + 1 < len(ys) else length
            wall_left, wall_right = before - y, after - y
            best, chosen = _best_way(choices, width, length - y, wall_left, wall_right)
            if best < 0:
                _raise(xs, ys, ws, at, min(before, after))
                if len(ys) == 1 and ys[0] >= length:
                    break
                continue
            w, h, kind, turned = chosen
            # Against the higher wall, unless the other one is matched exactly.
            is_left = wall_left >= wall_right if best in (0, 3, 5) else best == 2
            x = xs[at] if is_left else xs[at] + width - w
            placed.append((kind, x, y, turned))
            left -= areas[kind]
            counts[kind] -= 1
            if not counts[kind]:
                choices = [way for way in choices if way[2] != kind]
            _lay(xs, ys, ws, at, w, y + h, is_left)
        return placed, left


def _best_way(
    choices: list[_Standing], width: int, room: int, wall_left: int, wall_right: int
) -> tuple[int, _Standing]:
    """The first piece with the highest score for a stretch so wide, -1 where none fits.

    5: fills the width and meets a wall's top; 3: fills the width; 2, 1: meets the left or right wall's top.
    """
    best, chosen = -1, (0, 0, 0, False)
    for way in choices:
        w, h = way[0], way[1]
        if w > width or h > room:
            continue
        if w == width:
            score = 5 if h in (wall_left, wall_right) else 3
        elif h == wall_left:
            score = 2
        elif h == wall_right:
            score = 1
        else:
            score = 0
        if score > best:
            best, chosen = score, way
            if score == 5:
                break
    return best, chosen


def _raise(xs: list[int], ys: list[int], ws: list[int], at: int, to: int) -> None:
    """Give up the stretch: lift it to its lower wall and merge it there."""
    ys[at] = to
    _merge(xs, ys, ws, at)


def _lay(xs: list[int], ys: list[int], ws: list[int], at: int, w: int, top: int, is_left: bool) -> None:
    """The skyline with a piece of width w and that top at one end of the stretch."""
    if w == ws[at]:
        ys[at] = top
        _merge(xs, ys, ws, at)
        return
    if is_left:
        xs.insert(at, xs[at])
        ys.insert(at, top)
        ws.insert(at, w)
        xs[at + 1] += w
        ws[at + 1] -= w
        _merge(xs, ys, ws, at)
    else:
        ws[at] -= w
        xs.insert(at + 1, xs[at] + ws[at])
        ys.insert(at + 1, top)
        ws.insert(at + 1, w)
        _merge(xs, ys, ws, at + 1)


def _merge(xs: list[int], ys: list[int], ws: list[int], at: int) -> None:
    if at + 1 < len(ys) and ys[at + 1] == ys[at]:
        ws[at] += ws[at + 1]
        del xs[at + 1], ys[at + 1], ws[at + 1]
    if at and ys[at - 1] == ys[at]:
        ws[at - 1] += ws[at]
        del xs[at], ys[at], ws[at]
