"""Pieces put on given sheets one after the other, in a given order: what every search tries over and over."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import IntEnum

from planner.sheets.maxrects import Box, Rule, best_spot, take
from planner.sheets.shapes import Placed, Shapes


@dataclass(slots=True)
class Sheet:
    """A sheet being filled. `base` is its free room when only pinned pieces are on it."""

    width: int
    height: int
    base: list[Box]
    is_fixed: bool = False
    """Whether it carries pinned pieces, so that the answer must keep it."""
    free: list[Box] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    area: int = 0
    """Area of the grown pieces in `placed`."""

    def emptied(self) -> "Sheet":
        """The same sheet with nothing but its pinned pieces."""
        return Sheet(self.width, self.height, self.base, self.is_fixed, self.base)


def blank(width: int, height: int) -> Sheet:
    """An empty sheet with so much room."""
    base = [(0, 0, width, height)]
    return Sheet(width, height, base, free=base)


class Split(IntEnum):
    """Which way the room beside a piece is cut when every cut goes from edge to edge."""

    ALONG_SHORTER = 0
    """The shorter of the two remainders' sides stays whole."""
    ALONG_LONGER = 1
    LARGEST_LEFT = 2
    """The larger of the two remainders is as large as it can be."""
    ROWS = 3
    COLUMNS = 4


@dataclass(frozen=True, slots=True)
class Manner:
    """How one filling goes about it. `split` is None for loose pieces."""

    rule: Rule
    is_best_fit: bool
    """Whether all sheets are compared for each piece, rather than the first with room taken."""
    split: Split | None = None


def fill(
    sheets: Sequence[Sheet], order: Iterable[int], shapes: Shapes, manner: Manner, least: int
) -> list[int]:
    """Put kinds on the sheets in the order given; returns those that found no room."""
    left: list[int] = []
    widths, heights, turns, areas = shapes.widths, shapes.heights, shapes.turns, shapes.areas
    rule, split, is_first_fit = manner.rule, manner.split, not manner.is_best_fit
    hopeless: set[int] = set()
    starts = [0] * len(widths)
    for kind in order:
        if kind in hopeless:
            left.append(kind)
            continue
        width, height, may_turn = widths[kind], heights[kind], turns[kind]
        best = None
        # Room only shrinks: sheets that had none for this kind need not be asked again.
        first = starts[kind]
        for number in range(first, len(sheets)):
            spot = best_spot(sheets[number].free, width, height, may_turn, rule)
            if spot is None:
                if number == first:
                    first += 1
                continue
            if best is None or spot < best:
                best, chosen = spot, number
                if is_first_fit:
                    break
        starts[kind] = first
        if best is None:
            hopeless.add(kind)
            left.append(kind)
            continue
        _, _, x, y, turned = best
        if turned:
            width, height = height, width
        sheet = sheets[chosen]
        if split is None:
            sheet.free = take(sheet.free, x, y, x + width, y + height, least)
        else:
            sheet.free = cut_off(sheet.free, x, y, width, height, split, least)
        sheet.placed.append((kind, x, y, turned))
        sheet.area += areas[kind]
    return left


def cut_off(free: list[Box], x: int, y: int, width: int, height: int, split: Split, least: int) -> list[Box]:
    """Disjoint free rectangles once a piece lies in the corner of the one at (x, y), split edge to edge."""
    rest: list[Box] = []
    for box in free:
        if box[0] != x or box[1] != y:
            rest.append(box)
            continue
        _, _, right, bottom = box
        beside, below = right - x - width, bottom - y - height
        if split == 0:
            is_row = beside < below
        elif split == 1:
            is_row = beside >= below
        elif split == 2:
            # Rows leave (right - x) × below whole, columns beside × (bottom - y).
            is_row = (right - x) * below >= beside * (bottom - y)
        else:
            is_row = split == 3
        if beside >= least:
            rest.append((x + width, y, right, y + height if is_row else bottom))
        if below >= least:
            rest.append((x, y + height, right if is_row else x + width, bottom))
    return rest
