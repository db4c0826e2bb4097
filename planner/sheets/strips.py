"""The shortest stretch of a sheet of given width that pieces need, in any way of cutting."""

from collections.abc import Callable, Sequence

from planner.measures.layout import Way
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet, blank
from planner.sheets.search import FewestSheets
from planner.sheets.sections import Sections
from planner.sheets.shapes import Placed
from planner.sheets.skyline import ShortestStrip
from planner.sheets.task import Task, placed_box

Found = Callable[[Sheet, int], None]
"""Hears of a filled strip and of the length that its grown pieces take."""

_PART = 0.2
"""Share of what effort is left that one target length gets before a less daring one is tried."""

_FEW = 16
"""So many pieces are packed as a whole; more are divided into sections."""
_SOME = 40
"""So many loose pieces are worth packing in more ways than one."""


def reach(task: Task, sheet: Sheet) -> int:
    """How far down anything on the sheet reaches, gap included."""
    pieces = (placed_box(task.shapes, placed)[3] for placed in sheet.placed)
    return max((*pieces, *(pin[3] for pin in sheet.pins)), default=0)


def shortest(
    task: Task,
    items: Sequence[int],
    strip: Sheet,
    effort: Effort,
    *,
    tighter: Callable[[int], int],
    found: Found,
) -> None:
    """Look for ever shorter fillings of the strip with all the items; none may be found.

    `strip` gives the width, the longest length and what is pinned; `tighter` makes the next length
    to aim for of a length found.
    """
    if task.way is not Way.STRAIGHT and not strip.pins:
        _loose(task, items, strip, effort, tighter, found)
        return
    if not strip.pins and len(items) > _FEW:
        Sections(task, items, strip.width, strip.height).run(effort, tighter, found)
        return
    _by_filling(task, items, strip, effort, tighter, found)


def _loose(
    task: Task,
    items: Sequence[int],
    strip: Sheet,
    effort: Effort,
    tighter: Callable[[int], int],
    found: Found,
) -> None:
    """Skyline search; few pieces are also packed as on a sheet, which knows more places for them."""
    limit = strip.height

    def shorter(sheet: Sheet, length: int) -> None:
        nonlocal limit
        limit = tighter(length)
        found(sheet, length)

    if len(items) <= _SOME:
        part = effort.share(_PART)
        _by_filling(task, items, strip, part, tighter, shorter)
        effort.spend(part)

    def note(placed: list[Placed], length: int) -> None:
        sheet = blank(strip.width, strip.height)
        sheet.placed = placed
        found(sheet, length)

    ShortestStrip(task.shapes, items, strip.width, task.seed).run(effort, limit, tighter, note)


def _by_filling(
    task: Task,
    items: Sequence[int],
    strip: Sheet,
    effort: Effort,
    tighter: Callable[[int], int],
    found: Found,
) -> None:
    """Fill the strip as one sheet, then aim between the bound and the length found, ever less daring."""
    area = sum(task.shapes.areas[kind] for kind in items)
    bound = max(-(-area // strip.width) if strip.width > 0 else 0, reach(task, strip.emptied()))
    first = _filled(task, items, strip, strip.height, effort)
    if first is None:
        return
    length = reach(task, first)
    found(first, length)
    daring = 2
    while not effort.is_over():
        least_gain = tighter(length)
        target = max(bound, min(least_gain, length - (length - bound) // daring))
        if target > least_gain:
            return
        part = effort.share(_PART)
        sheet = _filled(task, items, strip, target, part)
        effort.spend(part)
        if sheet is not None:
            length = reach(task, sheet)
            found(sheet, length)
        elif target == least_gain:
            return
        else:
            daring *= 2


def _filled(task: Task, items: Sequence[int], strip: Sheet, length: int, effort: Effort) -> Sheet | None:
    search = FewestSheets(task.shapes, task.way, (strip.width, length), task.seed)
    cut = Sheet(strip.width, length, strip.pins, strip.number, strip.seated)
    packing = search.on_one(items, effort, cut)
    return None if packing.unplaced or not packing.sheets else packing.sheets[0]
