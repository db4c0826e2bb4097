"""The cut list: numbered straight cuts that free every piece of a sheet, in working order.

A trimmer's stop is set to a measure and everything that needs this measure is cut in one go, turned where it
must be, so the list keeps cuts with the same measure together and sets the stop as seldom as it can.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from random import Random

from planner.measures.geometry import Rect
from planner.measures.layout import Layout
from planner.sheets.micrometres import place_um, size_um, to_mm

_TOLERANCE_UM = 1

_Box = tuple[int, int, int, int]


class Direction(StrEnum):
    """Which way a cut runs on the sheet as it is drawn."""

    DOWN = "down"
    """From the top edge of the part to its bottom edge."""
    ACROSS = "across"
    """From the left edge of the part to its right edge."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut through one part of the sheet.

    `measure_mm` is what to set: the distance of the cut from the part's left edge (down) or top edge
    (across). `at_mm` is the same line on the whole sheet. `is_new_setting` tells that the stop must be
    moved for it. `part` is the part that is cut, `step` its number in working order, from 1.
    """

    step: int
    direction: Direction
    measure_mm: float
    at_mm: float
    part: Rect
    is_new_setting: bool

    @property
    def line_mm(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """Where the cut begins and ends on the sheet."""
        if self.direction is Direction.DOWN:
            return (self.at_mm, self.part.y_mm), (self.at_mm, self.part.bottom_mm)
        return (self.part.x_mm, self.at_mm), (self.part.right_mm, self.at_mm)


class NotSeparable(ValueError):
    """The layout has pieces that no edge-to-edge cut parts; `indices` names their placements."""

    def __init__(self, indices: tuple[int, ...]) -> None:
        super().__init__("These pieces cannot be parted by straight cuts from edge to edge.")
        self.indices = indices


@dataclass(frozen=True, slots=True)
class _Part:
    box: _Box
    pieces: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class _Wish:
    """A cut that could be made now."""

    part: int
    axis: int
    measure: int
    is_start: bool
    """Whether a piece begins at the cut."""


def cut_list(layout: Layout) -> tuple[Cut, ...]:
    """Cuts in working order that free every piece of the layout to its exact size.

    Between two pieces with a gap there are two cuts, one along each: what lies between is waste.

    Raises:
        NotSeparable: some pieces cannot be parted by edge-to-edge cuts.
    """
    boxes = [_box(p.box) for p in layout.placements]
    if not boxes:
        return ()
    sheet = _Part(
        (0, 0, place_um(layout.sheet.width_mm), place_um(layout.sheet.height_mm)), tuple(range(len(boxes)))
    )
    plans = (_plan(boxes, sheet, habit) for habit in _habits(len(boxes)))
    return min(plans, key=lambda cuts: (set_ups(cuts), len(cuts)))


def cuts_if_any(layout: Layout) -> tuple[Cut, ...]:
    """The cut list; empty where no edge-to-edge cuts part all pieces, as hands may have laid them."""
    try:
        return cut_list(layout)
    except NotSeparable:
        return ()


def _habits(pieces: int) -> list["_Habit"]:
    """Ways to choose the next cut: sensible ones, then chance ones as far as time allows."""
    habits = [_Habit(starts, small, None) for starts in (True, False) for small in (True, False)]
    chance = Random(0)
    return habits + [
        _Habit(chance.random() < 0.5, chance.random() < 0.5, Random(number))
        for number in range(min(24, 240 // pieces))
    ]


def _plan(boxes: list[_Box], sheet: _Part, habit: "_Habit") -> tuple[Cut, ...]:
    """All cuts, chosen one after the other by habit."""
    wishes = {0: _wishes(boxes, sheet, 0)}
    parts = {0: sheet}
    cuts: list[Cut] = []
    last: _Wish | None = None
    while any(wishes.values()):
        wish = habit.next([wish for of_part in wishes.values() for wish in of_part], last)
        part = parts.pop(wish.part)
        del wishes[wish.part]
        is_new = last is None or wish.measure != last.measure
        last = wish
        cuts.append(_cut(len(cuts) + 1, wish, part, is_new))
        for at, half in enumerate(_halves(boxes, part, wish)):
            if half.pieces:
                number = 2 * len(cuts) + at
                parts[number] = half
                wishes[number] = _wishes(boxes, half, number)
    return tuple(cuts)


def set_ups(cuts: Iterable[Cut]) -> int:
    """How often the stop is moved."""
    return sum(1 for cut in cuts if cut.is_new_setting)


def _box(rect: Rect) -> _Box:
    left, top = place_um(rect.x_mm), place_um(rect.y_mm)
    return left, top, left + size_um(rect.width_mm), top + size_um(rect.height_mm)


def _wishes(boxes: list[_Box], part: _Part, number: int) -> list[_Wish]:
    """All cuts of one part along a piece's edge that cross no piece."""
    wishes = []
    for axis in (0, 1):
        start, end = part.box[axis], part.box[axis + 2]
        spans = sorted((boxes[i][axis], boxes[i][axis + 2]) for i in part.pieces)
        starts = {span[0] for span in spans}
        reach = start
        lines: set[int] = set()
        for first, last in spans:
            if first >= reach - _TOLERANCE_UM:
                lines |= {reach, first}
            reach = max(reach, last)
        lines.add(reach)
        wishes += [
            _Wish(number, axis, line - start, line in starts) for line in lines if start + 1 < line < end - 1
        ]
    if not wishes and len(part.pieces) > 1:
        raise NotSeparable(part.pieces)
    return wishes


@dataclass(frozen=True, slots=True)
class _Habit:
    """How the next cut is chosen when the measure that is set serves no more."""

    prefers_starts: bool
    """Cut where the next piece begins, so that equal pieces with their gaps are equal parts."""
    prefers_small: bool
    chance: Random | None

    def next(self, wishes: list[_Wish], last: _Wish | None) -> _Wish:
        """A cut at the measure that is set; else by preference, in the direction last cut while possible.

        A measure that several parts need comes first: they are cut in one go.
        """
        axis = None if last is None else last.axis
        same = [wish for wish in wishes if last is not None and wish.measure == last.measure]
        if same:
            return min(same, key=lambda wish: (wish.axis != axis, not wish.is_start, wish.part))
        if self.chance is not None and self.chance.random() < 0.5:
            return self.chance.choice(wishes)
        needed: dict[int, set[int]] = {}
        for wish in wishes:
            needed.setdefault(wish.measure, set()).add(wish.part)

        def merit(wish: _Wish) -> tuple[int, bool, bool, int, int]:
            return (
                len(needed[wish.measure]),
                wish.axis == axis,
                self.prefers_starts and wish.is_start,
                -wish.measure if self.prefers_small else wish.measure,
                -wish.part,
            )

        return max(wishes, key=merit)


def _halves(boxes: list[_Box], part: _Part, wish: _Wish) -> tuple[_Part, _Part]:
    axis = wish.axis
    line = part.box[axis] + wish.measure
    near = tuple(i for i in part.pieces if boxes[i][axis + 2] <= line + _TOLERANCE_UM)
    far = tuple(i for i in part.pieces if i not in near)
    left, top, right, bottom = part.box
    if axis == 0:
        return _Part((left, top, line, bottom), near), _Part((line, top, right, bottom), far)
    return _Part((left, top, right, line), near), _Part((left, line, right, bottom), far)


def _cut(step: int, wish: _Wish, part: _Part, is_new: bool) -> Cut:
    left, top, right, bottom = part.box
    rect = Rect(to_mm(left), to_mm(top), to_mm(right - left), to_mm(bottom - top))
    return Cut(
        step,
        Direction.DOWN if wish.axis == 0 else Direction.ACROSS,
        to_mm(wish.measure),
        to_mm(part.box[wish.axis] + wish.measure),
        rect,
        is_new,
    )


@dataclass(frozen=True, slots=True)
class Replay:
    """What is left once all cuts are made: parts of the sheet, and what went wrong on the way."""

    pieces: tuple[Rect | None, ...]
    """For each placement the part that holds it alone; None where it shares one."""
    crossed: tuple[tuple[int, int], ...]
    """Steps and the placements that they would cut through."""
    homeless: tuple[int, ...]
    """Steps whose part did not exist when they were due."""

    @property
    def is_clean(self) -> bool:
        """Every piece is free and none was cut."""
        return not self.crossed and not self.homeless and all(rect is not None for rect in self.pieces)


def replay(cuts: Iterable[Cut], layout: Layout) -> Replay:
    """Make the cuts one after the other on parts of the sheet, looking at every piece each time.

    Knows nothing of how the list was made, so that it proves it.
    """
    sheet = Rect(0, 0, layout.sheet.width_mm, layout.sheet.height_mm)
    parts = [sheet]
    crossed: list[tuple[int, int]] = []
    homeless: list[int] = []
    slack_mm = 0.003
    for cut in cuts:
        part = next((p for p in parts if _is_same(p, cut.part, slack_mm)), None)
        if part is None:
            homeless.append(cut.step)
            continue
        parts.remove(part)
        is_down = cut.direction is Direction.DOWN
        for index, placement in enumerate(layout.placements):
            box = placement.box
            if box.overlap(part.grown(-slack_mm)) is None:
                continue
            start, end = (box.x_mm, box.right_mm) if is_down else (box.y_mm, box.bottom_mm)
            if start + slack_mm < cut.at_mm < end - slack_mm:
                crossed.append((cut.step, index))
        if is_down:
            width = cut.at_mm - part.x_mm
            parts.append(Rect(part.x_mm, part.y_mm, width, part.height_mm))
            parts.append(Rect(cut.at_mm, part.y_mm, part.width_mm - width, part.height_mm))
        else:
            height = cut.at_mm - part.y_mm
            parts.append(Rect(part.x_mm, part.y_mm, part.width_mm, height))
            parts.append(Rect(part.x_mm, cut.at_mm, part.width_mm, part.height_mm - height))
    return Replay(_alone(parts, layout, slack_mm), tuple(crossed), tuple(homeless))


def _is_same(one: Rect, other: Rect, slack_mm: float) -> bool:
    return (
        abs(one.x_mm - other.x_mm) < slack_mm
        and abs(one.y_mm - other.y_mm) < slack_mm
        and abs(one.right_mm - other.right_mm) < slack_mm
        and abs(one.bottom_mm - other.bottom_mm) < slack_mm
    )


def _alone(parts: list[Rect], layout: Layout, slack_mm: float) -> tuple[Rect | None, ...]:
    """The part that is each piece and nothing else, to within rounding."""
    return tuple(
        next((part for part in parts if _is_same(part, placement.box, slack_mm)), None)
        for placement in layout.placements
    )
