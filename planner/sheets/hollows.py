"""Fewer fixed sheets for outlines: the emptiest sheet's pieces brought into the others' hollows.

The goal-driven search of `planner.sheets.search`, with outlines put on a lattice of places instead of boxes
into free rectangles: it sees the room that boxes hide.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, sheets_with
from planner.sheets.effort import Effort
from planner.sheets.lattice import Bed, Lattice, Spot
from planner.sheets.outline import covered_area
from planner.sheets.problem import Piece
from planner.sheets.validate import is_sound, placed_outline

_LATE = 50
"""Late acceptance: an attempt may be as bad as the state so many attempts ago."""
_RUINED = (1, 1, 1, 1, 2, 2, 2)
"""So many sheets are emptied at once, each as often as it stands here."""
_NOISE = (0.9, 0.6, 0.2)
"""How far a piece's area is blurred at most before the pieces are put in order."""

Lot = tuple[str, ...]
"""Keys of copies that go on one sheet: mostly a single one."""


@dataclass(slots=True)
class _Filled:
    """One sheet's pieces that may be moved, and those that stay."""

    lots: tuple[Lot, ...]
    placements: tuple[Placement, ...]
    area: float
    number: int = -1
    """Which of the layouts with pinned pieces this is, -1 for none."""
    is_checked: bool = False
    """Whether the validator has found nothing wrong with it."""


class Hollows:
    """The search on sheets of one size, some of which may hold pinned pieces."""

    def __init__(
        self,
        pieces: Sequence[Piece],
        size: Size,
        *,
        gap_mm: float,
        margin_mm: float,
        seed: int,
        kept: Sequence[Layout] = (),
    ) -> None:
        self._pieces = {piece.key: piece for piece in pieces}
        self._areas = {piece.key: covered_area(piece) for piece in pieces}
        self._size, self._gap_mm, self._margin_mm = size, gap_mm, margin_mm
        self._random = Random(seed)
        self._lattice = Lattice(pieces, size, gap_mm=gap_mm, margin_mm=margin_mm)
        self._kept = tuple(kept)
        self._pinned = [tuple(p for p in layout.placements if p.pinned) for layout in kept]
        self._fixed = [[self._fixed_spot(p) for p in pinned] for pinned in self._pinned]
        self._homes = self._homes_of_sets()
        self._lot_areas: dict[Lot, float] = {}

    def run(
        self, layouts: Sequence[Layout], effort: Effort, found: Callable[[list[Layout]], None]
    ) -> list[Layout]:
        """Ever fewer sheets for as long as the effort lasts; `found` hears of each success.

        Layouts with pinned pieces come first in what is found, and none of them is ever taken away.
        """
        best = [*self._kept, *layouts]
        sheets = self._sheets(best)
        afresh = self._filled_afresh(sheets, effort)
        if afresh is not None:
            sheets = afresh
            if len(afresh) < len(best):
                fewer = self._checked(afresh, best)
                if fewer is None:
                    return best
                best = fewer
                found(best)
        while len(best) > max(1, len(self._kept)) and not effort.is_over():
            if sum(sheet.area for sheet in sheets) > (len(sheets) - 1) * self._size.area_mm2:
                return best
            last = self._emptiest(sheets)
            sheets = [sheet for sheet in sheets if sheet is not last]
            if not self._spread(sheets, list(last.lots), effort):
                return best
            fewer = self._checked(sheets, best)
            if fewer is None:
                return best
            best = fewer
            found(best)
        return best

    def _emptiest(self, sheets: Sequence[_Filled]) -> _Filled:
        """Of those that may be taken away."""
        return min((sheet for sheet in sheets if sheet.number < 0), key=lambda sheet: sheet.area)

    def _filled_afresh(self, sheets: Sequence[_Filled], effort: Effort) -> list[_Filled] | None:
        """All that may be moved, large ones first, sheet by sheet; None where that needs more sheets."""
        left = sorted((lot for s in sheets for lot in s.lots), key=lambda lot: -self._lot_areas[lot])
        afresh: list[_Filled] = []
        while left or len(afresh) < len(self._kept):
            if len(afresh) == len(sheets) or effort.is_over():
                return None
            number = len(afresh) if len(afresh) < len(self._kept) else -1
            bed, here, left = self._packed(left, number, is_across=False)
            afresh.append(self._taken_up(bed, here, number))
        if len(afresh) == len(sheets) and self._emptiest(afresh).area >= self._emptiest(sheets).area:
            return None
        return afresh

    def _sheets(self, layouts: Sequence[Layout]) -> list[_Filled]:
        kept = [
            self._filled(layout.placements, number)
            for number, layout in enumerate(layouts[: len(self._kept)])
        ]
        own = [self._filled(one.placements) for one in layouts[len(self._kept) :] for _ in range(one.runs)]
        return [*kept, *own]

    def _filled(self, placements: Sequence[Placement], number: int = -1) -> _Filled:
        free = tuple(placement for placement in placements if number < 0 or not placement.pinned)
        lots = self._lots([placement.print for placement in free])
        return _Filled(lots, free, self._lots_area(lots) + self._pinned_area(number), number)

    def _lots(self, keys: Sequence[str]) -> tuple[Lot, ...]:
        """What is on one sheet, by what must stay together."""
        lots: list[Lot] = []
        sets: dict[str, list[str]] = {}
        for key in keys:
            word = self._pieces[key].together
            # Where pinned pieces have parted a set already, its others may go to any of their sheets.
            if word is None or len(self._homes.get(word, ())) > 1:
                lots.append((key,))
            else:
                sets.setdefault(word, []).append(key)
        lots += (tuple(together) for together in sets.values())
        for lot in lots:
            self._lot_areas[lot] = sum(self._areas[key] for key in lot)
        return tuple(lots)

    def _homes_of_sets(self) -> dict[str, set[int]]:
        """The sheets on which a set's pinned pieces are."""
        homes: dict[str, set[int]] = {}
        for number, pinned in enumerate(self._pinned):
            for placement in pinned:
                piece = self._pieces.get(placement.print)
                if piece is not None and piece.together is not None:
                    homes.setdefault(piece.together, set()).add(number)
        return homes

    def _may_go(self, lot: Lot, number: int) -> bool:
        homes = self._homes.get(self._pieces[lot[0]].together or "")
        return homes is None or number in homes

    def _lots_area(self, lots: Sequence[Lot]) -> float:
        return sum(self._lot_areas[lot] for lot in lots)

    def _pinned_area(self, number: int) -> float:
        return 0.0 if number < 0 else sum(self._areas.get(p.print, 0.0) for p in self._pinned[number])

    def _fixed_spot(self, placement: Placement) -> Spot:
        piece = self._pieces.get(placement.print)
        return self._lattice.fixed(placed_outline(placement, None if piece is None else piece.outline))

    def _all_on(self, sheet: _Filled) -> tuple[Placement, ...]:
        return sheet.placements if sheet.number < 0 else (*self._pinned[sheet.number], *sheet.placements)

    def _checked(self, sheets: Sequence[_Filled], before: Sequence[Layout]) -> list[Layout] | None:
        """The layouts, or None where they break a rule or a set is on more sheets than before."""
        layouts = []
        for sheet in sheets:
            layout = Layout(self._size, self._all_on(sheet))
            if not sheet.is_checked and not self._is_sound(layout):
                return None
            sheet.is_checked = True
            layouts.append(layout)
        sets: dict[str, set[str]] = {}
        for piece in self._pieces.values():
            if piece.together is not None:
                sets.setdefault(piece.together, set()).add(piece.key)
        if any(sheets_with(keys, layouts) > sheets_with(keys, before) for keys in sets.values()):
            return None
        return layouts

    def _is_sound(self, layout: Layout) -> bool:
        return is_sound(layout, self._pieces.values(), gap_mm=self._gap_mm, margin_mm=self._margin_mm)

    def _spread(self, sheets: list[_Filled], unplaced: list[Lot], effort: Effort) -> bool:
        """Whether all that is unplaced was brought onto the sheets in time."""
        chance = self._random
        area = self._lots_area(unplaced)
        late = [area] * _LATE
        attempt = 0
        while unplaced:
            if not effort.next_attempt():
                return False
            attempt += 1
            # The emptier a sheet, the likelier there is something to gain on it.
            ranked = sorted(range(len(sheets)), key=lambda at: sheets[at].area * chance.uniform(0.6, 1))
            chosen = ranked[: chance.choice(_RUINED)]
            pool = unplaced + [lot for at in chosen for lot in sheets[at].lots]
            noise = chance.choice(_NOISE)
            left = sorted(pool, key=lambda lot: -self._lot_areas[lot] * chance.uniform(noise, 1))
            trial = []
            for at in chosen:
                bed, here, left = self._packed(left, sheets[at].number, is_across=chance.random() < 0.5)
                trial.append((bed, here))
            left_area = self._lots_area(left)
            if left_area <= max(area, late[attempt % _LATE]):
                area, unplaced = left_area, left
                for at, (bed, lots) in zip(chosen, trial, strict=True):
                    sheets[at] = self._taken_up(bed, lots, sheets[at].number)
            late[attempt % _LATE] = area
        return True

    def _packed(
        self, lots: Sequence[Lot], number: int, *, is_across: bool
    ) -> tuple[Bed, tuple[Lot, ...], list[Lot]]:
        """One sheet filled with the lots in the order given: which are on it, and which are not."""
        bed = Bed(self._lattice, is_across=is_across, spots=self._fixed[number] if number >= 0 else ())
        here: list[Lot] = []
        left: list[Lot] = []
        for lot in lots:
            (here if self._may_go(lot, number) and _is_laid(bed, lot) else left).append(lot)
        return bed, tuple(here), left

    def _taken_up(self, bed: Bed, lots: tuple[Lot, ...], number: int) -> _Filled:
        fixed = len(self._fixed[number]) if number >= 0 else 0
        placements = tuple(self._lattice.placement(spot) for spot in bed.spots[fixed:])
        return _Filled(lots, placements, self._lots_area(lots) + self._pinned_area(number), number)


def _is_laid(bed: Bed, lot: Lot) -> bool:
    """Whether all of a lot found room; else none of it is laid down."""
    for number, key in enumerate(lot):
        if not bed.put(key):
            bed.take_back(number)
            return False
    return True
