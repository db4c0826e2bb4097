"""How often to use which sheets found so far: a linear programme over their patterns, and what it tells.

A pattern is what lies on one sheet, however it lies. After P. C. Gilmore and R. E. Gomory, "A linear
programming approach to the cutting-stock problem", Operations Research 9 (1961): the programme's prices tell
what one more of each lot is worth, and a sheet that holds more than one sheet's worth makes it cheaper.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Generic, TypeVar

import numpy as np

from planner.sheets.lots import Lot
from planner.work.solver import Programme, solve

_LP_S = 5.0
"""Never needed; the solver wants a limit."""
_TINY = 1e-6

Found = TypeVar("Found")
Pattern = frozenset[tuple[Lot, int]]


class Patterns(Generic[Found]):
    """Sheets by what is on them, held against how many of each lot are wanted."""

    def __init__(self, wanted: Mapping[Lot, int]) -> None:
        self.wanted = dict(wanted)
        """How many of each lot."""
        self._rows = {lot: row for row, lot in enumerate(self.wanted)}
        self._sheets: dict[Pattern, Found] = {}
        self.least = float(len(self.wanted))
        """Sheets that the patterns make do with where parts of a sheet count."""

    def add(self, lots: Iterable[Lot], sheet: Found) -> bool:
        """Note a sheet; False where one with the same pattern is known."""
        pattern = frozenset(Counter(lots).items())
        if pattern in self._sheets:
            return False
        self._sheets[pattern] = sheet
        return True

    def worths(self) -> dict[Lot, float]:
        """What part of a sheet one of each lot is worth. The patterns must hold every lot."""
        answer = solve(self._programme(self.wanted, is_whole=False), budget_s=_LP_S)
        if not len(answer.worths):
            return dict.fromkeys(self.wanted, 0.0)
        self.least = answer.least
        return dict(zip(self.wanted, answer.worths.tolist(), strict=True))

    def rounded(self) -> tuple[list[Found], Counter[Lot]] | None:
        """Few sheets that hold all lots, and what they hold too many: the programme solved again and again
        for what is left, each time whole uses taken, or the one that is nearest to whole.
        """
        left = Counter(self.wanted)
        sheets: list[Found] = []
        held: Counter[Lot] = Counter()
        while left:
            answer = solve(self._programme(left, is_whole=False), budget_s=_LP_S)
            if not len(answer.values):
                return None
            uses = dict(zip(self._sheets, answer.values.tolist(), strict=True))
            taken = {pattern: int(times + _TINY) for pattern, times in uses.items() if times > 1 - _TINY}
            for pattern, times in (taken or {max(uses, key=uses.__getitem__): 1}).items():
                sheets += [self._sheets[pattern]] * times
                for lot, count in pattern:
                    held[lot] += times * count
            left = Counter(self.wanted) - held
        return sheets, held - Counter(self.wanted)

    def whole(self, *, budget_s: float, most_nodes: int) -> tuple[list[Found], Counter[Lot]] | None:
        """The fewest sheets that hold all lots, and what they hold too many; None where none were found."""
        programme = self._programme(self.wanted, is_whole=True)
        answer = solve(programme, budget_s=budget_s, most_nodes=most_nodes)
        if not len(answer.values):
            return None
        sheets: list[Found] = []
        held: Counter[Lot] = Counter()
        for (pattern, sheet), uses in zip(self._sheets.items(), answer.values.round(), strict=True):
            sheets += [sheet] * int(uses)
            for lot, count in pattern:
                held[lot] += int(uses) * count
        return sheets, held - Counter(self.wanted)

    def _programme(self, wanted: Mapping[Lot, int], *, is_whole: bool) -> Programme:
        holds = np.zeros((len(self._rows), len(self._sheets)))
        for column, pattern in enumerate(self._sheets):
            for lot, count in pattern:
                holds[self._rows[lot], column] = count
        low = np.array([wanted.get(lot, 0) for lot in self._rows], dtype=float)
        return Programme(
            costs=np.ones(len(self._sheets)),
            rows=holds,
            low=low,
            high=np.full(len(low), np.inf),
            most=np.full(len(self._sheets), low.max(initial=1.0)),
            whole=is_whole,
        )
