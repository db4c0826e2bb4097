"""Whether a few rectangles fit on a sheet at all, decided by trying every way that matters.

Take any arrangement and among all those of the same pieces, each turned the same way, the one in which
the distances from the left and the lower edge add up to the least. No piece of it can move left or down.
So every piece lies on the lower edge or on the top of another piece, and its distance from the left edge
is a sum of widths of other pieces. Number the pieces by their lower sides, from left to right where these
are level. Whatever lies under a piece then has a smaller number, overhung or not: where the pieces with
smaller numbers are known, a piece's height follows from where it starts across the sheet, being the
highest top in its span. Hence it is enough to put down one piece after the other, never lower than the
last, at every such start; room that is left under the last piece's lower side is lost for good.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

Sides = tuple[int, int]
_MOST_STARTS = 90


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one piece lies: its number, the corner next to the origin, and its sides as it lies."""

    piece: int
    x: int
    y: int
    sides: Sides


class Fits(StrEnum):
    YES = "yes"
    NEVER = "never"
    UNDECIDED = "undecided"
    """The search was given up before it had seen everything."""


def exact_fit(
    pieces: Sequence[Sides],
    counts: Sequence[int],
    turns: Sequence[bool],
    room: Sides,
    *,
    most_nodes: int,
    is_over: Callable[[], bool] = lambda: False,
) -> tuple[Fits, tuple[Spot, ...]]:
    """Whether so many of each piece fit in the room, in straight cuts or not, and where they then lie."""
    ways = [_ways(*one) for one in zip(pieces, turns, strict=True)]
    upright = _Search(ways, counts, room)
    lying = _Search(_transposed(ways), counts, room[::-1])
    search = min(upright, lying, key=lambda one: len(one.starts))
    if len(search.starts) > _MOST_STARTS:
        return Fits.UNDECIDED, ()
    verdict = search.run(most_nodes, is_over)
    if search is upright:
        return verdict, tuple(search.spots)
    return verdict, tuple(Spot(spot.piece, spot.y, spot.x, spot.sides[::-1]) for spot in search.spots)


def _ways(sides: Sides, may_turn: bool) -> tuple[Sides, ...]:
    return (sides, sides[::-1]) if may_turn and sides[0] != sides[1] else (sides,)


def _transposed(ways: Sequence[tuple[Sides, ...]]) -> list[tuple[Sides, ...]]:
    return [tuple((height, width) for width, height in each) for each in ways]


class _OutOfNodes(Exception):
    pass


class _Search:
    """One piece after the other, never lower than the last."""

    def __init__(self, ways: Sequence[tuple[Sides, ...]], counts: Sequence[int], room: Sides) -> None:
        self._ways = ways
        self._counts = list(counts)
        self._width, self._height = room
        self.spots: list[Spot] = []
        self.starts = _sums(ways, counts, self._width)
        ends = [*self.starts, self._width] if self.starts[-1] < self._width else self.starts
        self._widths = [b - a for a, b in pairwise(ends)]
        self._column = {start: number for number, start in enumerate(ends)}
        self._areas = [each[0][0] * each[0][1] for each in ways]
        self._known_reaches: dict[tuple[int, ...], tuple[Callable[[int], int], Callable[[int], int]]] = {}
        self._nodes = 0
        self._is_over: Callable[[], bool] = lambda: False
        self._dead: set[tuple[object, ...]] = set()

    def run(self, most_nodes: int, is_over: Callable[[], bool]) -> Fits:
        self._nodes, self._is_over = most_nodes, is_over
        area = sum(a * n for a, n in zip(self._areas, self._counts, strict=True))
        try:
            return Fits.YES if self._placed([0] * len(self._widths), 0, -1, area) else Fits.NEVER
        except _OutOfNodes:
            self.spots.clear()
            return Fits.UNDECIDED

    def _placed(self, tops: list[int], lower: int, column: int, area: int) -> bool:
        """Whether the rest fits on these tops, next after the piece that starts in this column."""
        if not area:
            return True
        if not self._has_room(tops, area):
            return False
        state = (tuple(tops), tuple(self._counts), lower, column)
        if state in self._dead:
            return False
        self._nodes -= 1
        if self._nodes < 0 or (self._nodes % 32 == 0 and self._is_over()):
            raise _OutOfNodes
        level = -1
        for top, at, kind, end, height in self._choices(tops, lower, column):
            if top > level:
                level = top
                # Tops under the new lower side are lost: raised, so that equal states look equal.
                raised = [max(top, other) for other in tops]
                if not self._has_room_upright(raised, area):
                    break
            self._counts[kind] -= 1
            width = self._areas[kind] // height
            self.spots.append(Spot(kind, self.starts[at], top, (width, height)))
            after = _after(raised, at, end, top, top + height)
            if self._placed(after, top, at, area - self._areas[kind]):
                return True
            self.spots.pop()
            self._counts[kind] += 1
        self._dead.add(state)
        return False

    def _has_room(self, tops: list[int], area: int) -> bool:
        """Whether all lines together, upright or lying, can run through as much as the rest covers."""
        if not self._has_room_upright(tops, area):
            return False
        across, _ = self._reaches()
        height, widths = self._height, self._widths
        levels = sorted({*tops, height})
        free = 0
        for low, high in pairwise(levels):
            span = used = 0
            for width, top in zip(widths, tops, strict=True):
                if top <= low:
                    span += width
                elif span:
                    used += across(span)
                    span = 0
            if span:
                used += across(span)
            free += used * (high - low)
        return free >= area

    def _has_room_upright(self, tops: list[int], area: int) -> bool:
        _, along = self._reaches()
        height = self._height
        free = 0
        for width, top in zip(self._widths, tops, strict=True):
            free += width * along(height - top)
        return free >= area

    def _reaches(self) -> tuple[Callable[[int], int], Callable[[int], int]]:
        """How much of a length pieces that are left can cover at most, across the room and along it."""
        counts = tuple(self._counts)
        if counts not in self._known_reaches:
            self._known_reaches[counts] = (
                _reach(_sums(self._ways, counts, self._width)),
                _reach(_sums(_transposed(self._ways), counts, self._height)),
            )
        return self._known_reaches[counts]

    def _choices(self, tops: list[int], lower: int, column: int) -> list[tuple[int, int, int, int, int]]:
        """(lower side, first column, kind, end column, height) of every next piece, lowest first."""
        found = []
        for kind, count in enumerate(self._counts):
            if not count:
                continue
            for width, height in self._ways[kind]:
                for at, start in enumerate(self.starts):
                    if start + width > self._width:
                        break
                    end = self._column.get(start + width)
                    if end is None:
                        # Only with more copies than there are does a piece of this kind start here.
                        continue
                    top = max(tops[at:end])
                    if top + height <= self._height and (top > lower or at > column):
                        found.append((top, at, kind, end, height))
        found.sort(key=lambda one: (one[0], one[1], -self._areas[one[2]]))
        return found


def _after(tops: list[int], at: int, end: int, lower: int, top: int) -> list[int]:
    """The tops with one piece more. Left of it nothing starts at its lower side any more, but higher up."""
    after = tops.copy()
    after[at:end] = [top] * (end - at)
    next_lower = min(other for other in after if other > lower)
    for column in range(at):
        if after[column] == lower:
            after[column] = next_lower
    return after


def _reach(sums: list[int]) -> Callable[[int], int]:
    known: dict[int, int] = {}

    def reach(length: int) -> int:
        if length not in known:
            known[length] = sums[bisect_right(sums, length) - 1] if len(sums) <= 4 * _MOST_STARTS else length
        return known[length]

    return reach


def _sums(ways: Sequence[tuple[Sides, ...]], counts: Sequence[int], room: int) -> list[int]:
    """All sums of widths within the room, each piece with one of its widths or left out."""
    sums = {0}
    for each, count in zip(ways, counts, strict=True):
        for _ in range(count):
            more = {old + width for old in sums for width, _ in each if old + width <= room} - sums
            if not more:
                break
            sums |= more
            if len(sums) > 4 * _MOST_STARTS:
                # Far more than are searched or looked up: too many, and of no use as they are.
                return sorted(sums)
    return sorted(sums)
