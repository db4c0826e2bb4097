"""Pieces on a roll: the shortest length, in the steps that the roll is sold by."""

from collections.abc import Sequence

from planner.measures.geometry import Size
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet, blank
from planner.sheets.micrometres import place_um, to_mm
from planner.sheets.problem import Roll
from planner.sheets.search import Packing
from planner.sheets.stretched import Stretched
from planner.sheets.strips import reach, shortest
from planner.sheets.task import Filled, Heard, Task, layout_from


class RollLengths(Stretched):
    """One roll being filled with items of a task, in one length where they fit."""

    spread = 0.6

    def __init__(self, task: Task, roll: Roll, kept: Sequence[Sheet]) -> None:
        lost = 2 * task.shapes.margin - task.shapes.gap
        super().__init__(task, (place_um(roll.width_mm) - lost, place_um(roll.longest_mm) - lost), kept)
        self._roll = roll
        self._step = max(1, place_um(roll.step_mm))

    def _tightened(self, packing: Packing, effort: Effort, heard: Heard) -> Packing:
        """Shorten the only length, or the emptiest of several."""
        filled = [sheet for sheet in packing.sheets if sheet.placed]
        if not filled:
            return packing
        last = min(filled, key=lambda sheet: (sheet.is_kept, sheet.area))
        best = last

        def with_best() -> Packing:
            sheets = tuple(best if old is last else old for old in packing.sheets)
            return Packing(sheets, packing.unplaced)

        def found(sheet: Sheet, length: int) -> None:
            nonlocal best
            if length >= reach(self._task, best):
                return
            sheet.area, sheet.number, sheet.seated = last.area, last.number, last.seated
            best = sheet
            heard(self._filled(with_best()))

        strip = last.emptied() if last.is_kept else blank(*self._room)
        items = [placed[0] for placed in last.placed]
        shortest(self._task, items, strip, effort, tighter=self._tighter, found=found)
        return with_best()

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
