"""Pieces on a roll: the shortest length, in the steps that the roll is sold by."""

from collections.abc import Sequence

from planner.measures.geometry import Size
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet, blank
from planner.sheets.micrometres import place_um, to_mm
from planner.sheets.problem import Roll
from planner.sheets.search import FewestSheets, Packing
from planner.sheets.strips import reach, shortest
from planner.sheets.task import Filled, Heard, Task, layout_from

_SPREAD = 0.6
"""Share of the effort for spreading pieces over several lengths where one is too short."""


class RollLengths:
    """One roll being filled with items of a task, in one length where they fit."""

    def __init__(self, task: Task, roll: Roll, kept: Sequence[Sheet]) -> None:
        self._task = task
        self._roll = roll
        self._kept = kept
        self._lost = 2 * task.shapes.margin - task.shapes.gap
        self._room = (place_um(roll.width_mm) - self._lost, place_um(roll.longest_mm) - self._lost)
        self._step = max(1, place_um(roll.step_mm))
        self._search = FewestSheets(task.shapes, task.way, self._room, task.seed)
        self._packing = Packing(())

    def start(self, items: Sequence[int]) -> Filled:
        """A first answer, at once."""
        self._packing = self._search.start(items, self._kept, None, self._task.effort.is_late)
        return self._filled(self._packing)

    def hand_on(self) -> None:
        """Forget what is unplaced: another medium has it now."""
        self._packing = Packing(self._packing.sheets)

    def improve(self, heard: Heard) -> Filled:
        """Ever better answers until the effort is over; `heard` gets each."""
        effort = self._task.effort
        if len(self._packing.sheets) > 1:
            part = effort.share(_SPREAD)
            self._packing = self._search.improve(
                self._packing, part, lambda packing: heard(self._filled(packing))
            )
            effort.spend(part)
        self._shorten(effort, heard)
        return self._filled(self._packing)

    def _shorten(self, effort: Effort, heard: Heard) -> None:
        """Shorten the only length, or the emptiest of several."""
        filled = [sheet for sheet in self._packing.sheets if sheet.placed]
        if not filled:
            return
        last = min(filled, key=lambda sheet: (sheet.is_kept, sheet.area))
        best = last

        def found(sheet: Sheet, length: int) -> None:
            nonlocal best
            if length >= reach(self._task, best):
                return
            sheet.area, sheet.number, sheet.seated = last.area, last.number, last.seated
            best = sheet
            sheets = tuple(best if old is last else old for old in self._packing.sheets)
            heard(self._filled(Packing(sheets, self._packing.unplaced)))

        strip = last.emptied() if last.is_kept else blank(*self._room)
        items = [placed[0] for placed in last.placed]
        shortest(self._task, items, strip, effort, tighter=self._tighter, found=found)
        sheets = tuple(best if old is last else old for old in self._packing.sheets)
        self._packing = Packing(sheets, self._packing.unplaced)

    def _sold(self, length: int) -> int:
        """The length to buy for so much reached by grown pieces: whole steps, as far as they go."""
        return min(-(-(length + self._lost) // self._step) * self._step, place_um(self._roll.longest_mm))

    def _tighter(self, length: int) -> int:
        """The longest that grown pieces may reach for one step less."""
        return -(-(length + self._lost) // self._step) * self._step - self._step - self._lost

    def _filled(self, packing: Packing) -> Filled:
        layouts = [
            layout_from(
                self._task, sheet, Size(self._roll.width_mm, to_mm(self._sold(reach(self._task, sheet))))
            )
            for sheet in packing.sheets
            if sheet.placed or sheet.is_kept
        ]
        return Filled(tuple(layouts), packing.unplaced)
