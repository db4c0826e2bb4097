"""Pieces on fixed sheets of one size: the fewest sheets, and the last of them as empty as can be."""

from collections.abc import Sequence

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.copies import pattern_of
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet, blank
from planner.sheets.search import FewestSheets, Packing
from planner.sheets.strips import reach, shortest
from planner.sheets.task import Filled, Heard, Task, layout_from

_TAIL = 0.05
"""Share of the effort for pushing the last sheet's pieces into one end of it,"""
_TAIL_AT_THE_BOUND = 0.3
"""and of what is left where the search ended by itself."""
_STRIP = 0.1
"""What free room on the last sheet is worth to gain, beside as much on a sheet less."""


class FixedSheets:
    """One size of sheet being filled with items of a task; at most so many beside those kept."""

    def __init__(self, task: Task, size: Size, most: int | None, kept: Sequence[Sheet]) -> None:
        self._task = task
        self._size = size
        self._most = most
        self._kept = kept
        self._room = task.shapes.room(size)
        self._search = FewestSheets(task.shapes, task.way, self._room, task.seed)
        self._packing = Packing(())

    def start(self, items: Sequence[int]) -> Filled:
        """A first answer, at once."""
        self._packing = self._search.start(items, self._kept, self._most, self._task.effort.is_late)
        if len(set(items)) == 1 and not self._kept:
            self._packing = self._of_one_kind(items, self._packing)
        return self._filled(self._packing)

    def _of_one_kind(self, items: Sequence[int], packing: Packing) -> Packing:
        """Copies of one piece in its best pattern, where that uses fewer sheets or leaves fewer over."""
        kind = items[0]
        pattern = pattern_of(self._task.shapes, kind, self._room, is_loose=self._task.way is not Way.STRAIGHT)
        if not pattern:
            return packing
        sheets: list[Sheet] = []
        left = len(items)
        while left and (self._most is None or len(sheets) < self._most):
            sheet = blank(*self._room)
            sheet.placed = list(pattern[:left])
            sheet.area = len(sheet.placed) * self._task.shapes.areas[kind]
            left -= len(sheet.placed)
            sheets.append(sheet)
        if (left, len(sheets)) < (len(packing.unplaced), len(packing.sheets)):
            return Packing(tuple(sheets), (kind,) * left)
        return packing

    def hand_on(self) -> None:
        """Forget what is unplaced: another medium has it now."""
        self._packing = Packing(self._packing.sheets)

    @property
    def may_gain(self) -> float:
        """Area in µm² that better answers might save at most; of the last sheet, a part of what is free."""
        area = self._room[0] * self._room[1]
        sheets = self._search.may_save(self._packing) * area
        last = _emptiest(self._packing)
        strip = 0.0 if last is None else _STRIP * (area - last.area)
        return sheets + strip + sum(self._task.shapes.areas[kind] for kind in self._packing.unplaced)

    def improve(self, effort: Effort, heard: Heard) -> Filled:
        """Ever better answers until the effort is over; `heard` gets each."""
        search_effort = effort.share(1 - _TAIL)
        packing = self._search.improve(
            self._packing, search_effort, lambda packing: heard(self._filled(packing))
        )
        effort.spend(search_effort)
        if not packing.unplaced:
            tail = effort.share(1.0 if search_effort.is_over() else _TAIL_AT_THE_BOUND)
            packing = self._pushed_up(packing, tail)
            effort.spend(tail)
        self._packing = packing
        return self._filled(packing)

    def _pushed_up(self, packing: Packing, effort: Effort) -> Packing:
        """The last sheet's pieces pushed together, so that what is left of it is one strip."""
        last = _emptiest(packing)
        if last is None:
            return packing
        items = [placed[0] for placed in last.placed]
        best = last

        def found(sheet: Sheet, length: int) -> None:
            nonlocal best
            if length < reach(self._task, best):
                best = sheet

        shortest(
            self._task,
            items,
            blank(*self._room),
            effort,
            tighter=lambda length: length - max(1, self._room[1] // 200),
            found=found,
        )
        best.area = last.area
        return Packing(tuple(best if sheet is last else sheet for sheet in packing.sheets))

    def _filled(self, packing: Packing) -> Filled:
        task, size = self._task, self._size
        kept = [sheet for sheet in packing.sheets if sheet.is_kept]
        own = [sheet for sheet in packing.sheets if not sheet.is_kept and sheet.placed]
        own.sort(key=lambda sheet: -sheet.area)
        layouts = [
            layout_from(task, sheet, task.kept[sheet.number].sheet if sheet.number >= 0 else size)
            for sheet in (*kept, *own)
        ]
        return Filled(tuple(layouts), packing.unplaced)


def _emptiest(packing: Packing) -> Sheet | None:
    """Of the sheets that nothing has to stay on."""
    own = [sheet for sheet in packing.sheets if not sheet.is_kept and sheet.placed]
    return min(own, key=lambda sheet: sheet.area, default=None)
