"""What goes on a sheet as one: mostly a single copy, or all copies of a set that must stay together."""

from collections import Counter
from collections.abc import Iterable, Sequence

from planner.measures.layout import Layout, Placement, sheets_with
from planner.sheets.outline import covered_area
from planner.sheets.problem import Piece

Lot = tuple[str, ...]
"""Keys of copies that go on one sheet."""


class Lots:
    """Copies by what must stay together, given what is pinned on some numbered sheets."""

    def __init__(self, pieces: Iterable[Piece], pinned: Sequence[Sequence[Placement]]) -> None:
        self._pieces = {piece.key: piece for piece in pieces}
        self._areas = {key: covered_area(piece) for key, piece in self._pieces.items()}
        self._pinned_areas = [sum(self._areas.get(p.print, 0.0) for p in placed) for placed in pinned]
        self._homes: dict[str, set[int]] = {}
        """The sheets on which a set's pinned pieces are."""
        for number, placed in enumerate(pinned):
            for word in {self._word(placement.print) for placement in placed} - {None}:
                self._homes.setdefault(str(word), set()).add(number)
        self.measures: tuple[dict[Lot, float], ...] = ({}, {}, {})
        """Of each lot: its area, its longest side, and all its sides in sum."""

    def of(self, keys: Iterable[str]) -> tuple[Lot, ...]:
        """What is on one sheet as lots."""
        lots: list[Lot] = []
        sets: dict[str, list[str]] = {}
        for key in keys:
            word = self._word(key)
            # Where pinned pieces have parted a set already, its others may go to any of their sheets.
            if word is None or len(self._homes.get(word, ())) > 1:
                lots.append((key,))
            else:
                sets.setdefault(word, []).append(key)
        lots += (tuple(together) for together in sets.values())
        for lot in lots:
            self._measure(lot)
        return tuple(lots)

    def area(self, lots: Iterable[Lot]) -> float:
        """What all of them cover."""
        areas = self.measures[0]
        return sum(areas[lot] for lot in lots)

    def pinned_area(self, number: int) -> float:
        """What pinned pieces cover on a numbered sheet; none on others."""
        return 0.0 if number < 0 else self._pinned_areas[number]

    def may_go(self, lot: Lot, number: int) -> bool:
        """Whether the lot may go on a sheet: where pieces of its set are pinned, on no others."""
        homes = self._homes.get(self._word(lot[0]) or "")
        return homes is None or number in homes

    def are_no_more_parted(self, layouts: Sequence[Layout], before: Sequence[Layout]) -> bool:
        """Whether no set is on more sheets than before."""
        sets: dict[str, set[str]] = {}
        for piece in self._pieces.values():
            if piece.together is not None:
                sets.setdefault(piece.together, set()).add(piece.key)
        return all(sheets_with(keys, layouts) <= sheets_with(keys, before) for keys in sets.values())

    def _word(self, key: str) -> str | None:
        piece = self._pieces.get(key)
        return None if piece is None else piece.together

    def _measure(self, lot: Lot) -> None:
        areas, longest, girths = self.measures
        if lot not in areas:
            pieces = [self._pieces[key] for key in lot]
            areas[lot] = sum(self._areas[key] for key in lot)
            longest[lot] = max(max(piece.width_mm, piece.height_mm) for piece in pieces)
            girths[lot] = sum(piece.width_mm + piece.height_mm for piece in pieces)


def counted(lots: Iterable[Lot]) -> Counter[str]:
    """How many copies of each piece lots hold."""
    return Counter(key for lot in lots for key in lot)
