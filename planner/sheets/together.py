"""Pieces that must be on the same sheet, seated before anything else."""

from collections.abc import Sequence

from planner.measures.layout import Way
from planner.sheets.filling import Manner, Sheet, Split, blank, fill
from planner.sheets.maxrects import Rule
from planner.sheets.search import FewestSheets
from planner.sheets.task import Task, placed_box

_PART = 0.2
"""Share of the effort for one set of pieces that does not fit a sheet at once."""


def seated(
    task: Task, sets: Sequence[Sequence[int]], kept: Sequence[Sheet], room: tuple[int, int], most: int | None
) -> tuple[list[Sheet], list[list[int]]]:
    """Sheets on which each set lies together, the kept ones first, and the sets that fit no sheet.

    Seated pieces stay where they are from now on, so they are packed tightly from the top.
    """
    sheets = list(kept)
    failed: list[list[int]] = []
    for items in sorted(sets, key=lambda s: -sum(task.shapes.areas[kind] for kind in s)):
        for at, sheet in enumerate(sheets):
            fuller = _with(task, sheet, items)
            if fuller is not None:
                sheets[at] = fuller
                break
        else:
            fresh = None
            if most is None or len(sheets) - len(kept) < most:
                fresh = _with(task, blank(*room), items) or _searched(task, items, room)
            if fresh is None:
                failed.append(list(items))
            else:
                sheets.append(fresh)
    return sheets, failed


def _with(task: Task, sheet: Sheet, items: Sequence[int]) -> Sheet | None:
    """The sheet with all the items seated too, if one of a few fillings has room for them."""
    areas = task.shapes.areas
    for rule in (Rule.TOP, Rule.SHORT_SIDE, Rule.AREA):
        for sides in (areas, task.shapes.heights, task.shapes.widths):
            is_straight = task.way is Way.STRAIGHT
            for manner in (
                Manner(rule, is_best_fit=False, is_checked=is_straight),
                Manner(rule, is_best_fit=False, split=Split.LARGEST_LEFT),
            ):
                trial = sheet.emptied(manner.split is not None)
                order = sorted(items, key=sides.__getitem__, reverse=True)
                if not fill([trial], order, task.shapes, manner, task.shapes.least):
                    return _fixed(task, trial)
    return None


def _searched(task: Task, items: Sequence[int], room: tuple[int, int]) -> Sheet | None:
    part = task.effort.share(_PART)
    packing = FewestSheets(task.shapes, task.way, room, task.seed).on_one(items, part)
    task.effort.spend(part)
    if packing.unplaced or not packing.sheets:
        return None
    return _fixed(task, packing.sheets[0])


def _fixed(task: Task, sheet: Sheet) -> Sheet:
    """The sheet with what is placed on it turned into what stays there."""
    boxes = tuple(placed_box(task.shapes, placed) for placed in sheet.placed)
    pinned = Sheet(
        sheet.width, sheet.height, (*sheet.pins, *boxes), sheet.number, (*sheet.seated, *sheet.placed)
    )
    return pinned.emptied()
