"""What a roll and a group have in common: few lengths first, then what is there made tighter."""

from abc import ABC, abstractmethod
from collections.abc import Sequence
from typing import ClassVar

from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet
from planner.sheets.search import FewestSheets, Packing
from planner.sheets.task import Filled, Heard, Task


class Stretched(ABC):
    """A medium whose sheets are as large as their pieces need, in one sheet where they fit."""

    spread: ClassVar[float]
    """Share of the effort for using fewer sheets where one is too small."""

    def __init__(self, task: Task, room: tuple[int, int], kept: Sequence[Sheet]) -> None:
        self._task = task
        self._room = room
        self._kept = kept
        self._lost = 2 * task.shapes.margin - task.shapes.gap
        self._search = FewestSheets(task.shapes, task.way, room, task.seed)
        self._packing = Packing(())

    def start(self, items: Sequence[int]) -> Filled:
        """A first answer, at once."""
        self._packing = self._search.start(items, self._kept, None, self._task.effort.is_late)
        return self._filled(self._packing)

    def hand_on(self) -> None:
        """Forget what is unplaced: another medium has it now."""
        self._packing = Packing(self._packing.sheets)

    @property
    def may_gain(self) -> float:
        """Area in µm² that better answers might save at most: all that is paid for and free."""
        paid = sum(layout.sheet.area_mm2 for layout in self._filled(self._packing).layouts) * 1e6
        return max(0.0, paid - sum(sheet.area for sheet in self._packing.sheets))

    def improve(self, effort: Effort, heard: Heard) -> Filled:
        """Ever better answers until the effort is over; `heard` gets each."""
        if len(self._packing.sheets) > 1:
            part = effort.share(self.spread)
            self._packing = self._search.improve(
                self._packing, part, lambda packing: heard(self._filled(packing))
            )
            effort.spend(part)
        self._packing = self._tightened(self._packing, effort, heard)
        return self._filled(self._packing)

    @abstractmethod
    def _tightened(self, packing: Packing, effort: Effort, heard: Heard) -> Packing:
        """The packing on less of the medium, as far as the effort allows."""

    @abstractmethod
    def _filled(self, packing: Packing) -> Filled:
        """The packing as layouts on what is to be paid for."""
