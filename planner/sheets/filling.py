"""Pieces put on given sheets one after the other, in a given order: what every search tries over and over."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from math import inf

from planner.sheets.maxrects import Box, Rule, Spot, best_spot, take
from planner.sheets.separable import cells_around, is_separable
from planner.sheets.shapes import Placed, Shapes


@dataclass(slots=True)
class Sheet:
    """A sheet being filled; `pins` are the grown boxes of pieces that stay where they are."""

    width: int
    height: int
    pins: tuple[Box, ...] = ()
    number: int = -1
    """Which of the request's pinned layouts this is, -1 for none."""
    seated: tuple[Placed, ...] = ()
    """Pieces that must be together, placed first; their boxes are among the pins."""
    free: list[Box] = field(default_factory=list)
    placed: list[Placed] = field(default_factory=list)
    area: int = 0
    """Area of the grown pieces in `placed`."""
    boxes: list[Box] = field(default_factory=list)
    """Pins and placed pieces; kept up only while pieces are placed with a check of the cuts."""

    @property
    def is_kept(self) -> bool:
        """Whether the answer must hold this sheet because of what stays on it."""
        return self.number >= 0 or bool(self.seated)

    def emptied(self, is_split: bool = False) -> "Sheet":
        """The same sheet with nothing but its pins; its free room is disjoint if it will be split."""
        if not self.pins:
            return blank(self.width, self.height)
        room = (0, 0, self.width, self.height)
        if is_split:
            free = cells_around(list(self.pins), room)
        else:
            free = [room]
            for pin in self.pins:
                free = take(free, *pin, least=1)
        return Sheet(
            self.width, self.height, self.pins, self.number, self.seated, free, boxes=list(self.pins)
        )


def blank(width: int, height: int) -> Sheet:
    """An empty sheet with so much room."""
    return Sheet(width, height, free=[(0, 0, width, height)])


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
    """How one filling goes about it. Loose pieces need neither `split` nor `is_checked`."""

    rule: Rule
    is_best_fit: bool
    """Whether all sheets are compared for each piece, rather than the first with room taken."""
    split: Split | None = None
    """How the room beside each piece is cut: straight cuts by construction, fast."""
    is_checked: bool = False
    """Whether each place is taken only if straight cuts stay possible: slower, misses no layout."""


def fill(
    sheets: Sequence[Sheet], order: Iterable[int], shapes: Shapes, manner: Manner, least: int
) -> list[int]:
    """Put kinds on the sheets in the order given; returns those that found no room."""
    left = try_fill(sheets, order, shapes, manner, least, inf)
    assert left is not None
    return left


def try_fill(
    sheets: Sequence[Sheet],
    order: Iterable[int],
    shapes: Shapes,
    manner: Manner,
    least: int,
    bearable: float,
) -> list[int] | None:
    """Put kinds on the sheets in the order given; returns those that found no room.

    Gives up and returns None as soon as more than the `bearable` area has found no room.
    """
    left: list[int] = []
    left_area = 0
    widths, heights, turns, areas = shapes.widths, shapes.heights, shapes.turns, shapes.areas
    rule, is_first_fit, is_checked = manner.rule, not manner.is_best_fit, manner.is_checked
    hopeless: set[int] = set()
    for kind in order:
        best = None
        if kind not in hopeless:
            width, height, may_turn = widths[kind], heights[kind], turns[kind]
            for sheet in sheets:
                if not sheet.free:
                    continue
                spot = best_spot(sheet.free, width, height, may_turn, rule)
                if spot is not None:
                    if is_checked and len(sheet.boxes) > 2:
                        spot = _checked(sheet, spot, width, height, may_turn, rule)
                        if spot is None:
                            continue
                    if best is None or spot < best:
                        best, chosen = spot, sheet
                        if is_first_fit:
                            break
        if best is not None:
            _put(chosen, kind, best, shapes, manner, least)
            continue
        hopeless.add(kind)
        left.append(kind)
        left_area += areas[kind]
        if left_area > bearable:
            return None
    return left


def _put(sheet: Sheet, kind: int, spot: Spot, shapes: Shapes, manner: Manner, least: int) -> None:
    """Lay the piece down and take its place from the free room."""
    _, _, x, y, turned = spot
    width, height = shapes.widths[kind], shapes.heights[kind]
    if turned:
        width, height = height, width
    if manner.split is None:
        sheet.free = take(sheet.free, x, y, x + width, y + height, least)
        if manner.is_checked:
            sheet.boxes.append((x, y, x + width, y + height))
    else:
        sheet.free = cut_off(sheet.free, x, y, width, height, manner.split, least)
    sheet.placed.append((kind, x, y, turned))
    sheet.area += shapes.areas[kind]


def _checked(sheet: Sheet, spot: Spot, width: int, height: int, may_turn: bool, rule: Rule) -> Spot | None:
    """The given spot if straight cuts stay possible, else the next best for which they do."""
    if _stays_separable(sheet.boxes, spot, width, height):
        return spot
    spots: list[Spot] = []
    for box in sheet.free:
        for turned in (False, True) if may_turn else (False,):
            here = best_spot([box], height if turned else width, width if turned else height, False, rule)
            if here is not None:
                spots.append((*here[:4], turned))
    spots.sort()
    for other in spots:
        if other != spot and _stays_separable(sheet.boxes, other, width, height):
            return other
    return None


def _stays_separable(boxes: list[Box], spot: Spot, width: int, height: int) -> bool:
    _, _, x, y, turned = spot
    box = (x, y, x + height, y + width) if turned else (x, y, x + width, y + height)
    return is_separable([*boxes, box])


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
