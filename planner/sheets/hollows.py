"""Fewer fixed sheets for outlines: the emptiest sheet's pieces brought into the others' hollows.

The goal-driven search of `planner.sheets.search`, with outlines put on a grid instead of boxes into free
rectangles: much slower an attempt, but it sees the room that boxes hide.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.sheets.around import Ground
from planner.sheets.effort import Effort
from planner.sheets.outline import covered_area
from planner.sheets.problem import Piece
from planner.sheets.validate import is_sound

_CELLS = 16_000
"""Of a sheet's grid: coarse, for the number of attempts decides."""
_LATE = 20


@dataclass(slots=True)
class _Filled:
    """One sheet's pieces."""

    placements: tuple[Placement, ...]
    area: float


class Hollows:
    """The search on sheets of one size."""

    def __init__(
        self, pieces: Sequence[Piece], size: Size, *, gap_mm: float, margin_mm: float, seed: int
    ) -> None:
        self._pieces = {piece.key: replace(piece, count=1) for piece in pieces}
        self._areas = {piece.key: covered_area(piece) for piece in pieces}
        self._size, self._gap_mm, self._margin_mm = size, gap_mm, margin_mm
        self._random = Random(seed)
        self._ground = Ground(size, gap_mm=gap_mm, margin_mm=margin_mm, taken=(), cells=_CELLS)

    def run(
        self, layouts: Sequence[Layout], effort: Effort, found: Callable[[list[Layout]], None]
    ) -> list[Layout]:
        """Ever fewer sheets for as long as the effort lasts; `found` hears of each success."""
        best = list(layouts)
        room = self._size.area_mm2
        while len(best) > 1 and not effort.is_over():
            sheets = [self._filled(layout.placements) for layout in best for _ in range(layout.runs)]
            if sum(sheet.area for sheet in sheets) > (len(sheets) - 1) * room:
                return best
            last = min(sheets, key=lambda sheet: sheet.area)
            sheets.remove(last)
            if not self._spread(sheets, [placement.print for placement in last.placements], effort):
                return best
            fewer = [Layout(self._size, sheet.placements) for sheet in sheets]
            if not all(self._is_sound(layout) for layout in fewer):
                return best
            best = fewer
            found(best)
        return best

    def _filled(self, placements: tuple[Placement, ...]) -> _Filled:
        return _Filled(placements, sum(self._areas[placement.print] for placement in placements))

    def _is_sound(self, layout: Layout) -> bool:
        return is_sound(layout, self._pieces.values(), gap_mm=self._gap_mm, margin_mm=self._margin_mm)

    def _spread(self, sheets: list[_Filled], unplaced: list[str], effort: Effort) -> bool:
        """Whether all that is unplaced was brought onto the sheets in time."""
        chance = self._random
        area = sum(self._areas[key] for key in unplaced)
        late = [area] * _LATE
        attempt = 0
        while unplaced:
            if effort.is_over():
                return False
            attempt += 1
            # The emptier a sheet, the likelier there is something to gain on it.
            ranked = sorted(range(len(sheets)), key=lambda at: sheets[at].area * chance.uniform(0.6, 1))
            chosen = ranked[: chance.choice((1, 1, 2))]
            pool = unplaced + [p.print for at in chosen for p in sheets[at].placements]
            trial, left = self._packed(pool, len(chosen))
            left_area = sum(self._areas[key] for key in left)
            if left_area <= max(area, late[attempt % _LATE]):
                area, unplaced = left_area, left
                for at, sheet in zip(chosen, trial, strict=True):
                    sheets[at] = sheet
            late[attempt % _LATE] = area
        return True

    def _packed(self, keys: Sequence[str], sheets: int) -> tuple[list[_Filled], list[str]]:
        """As many of the pieces as go on so many sheets, the large ones first with some noise."""
        chance = self._random
        noise = chance.choice((0.9, 0.6, 0.2))
        left = sorted(keys, key=lambda key: -self._areas[key] * chance.uniform(noise, 1))
        trial = []
        for _ in range(sheets):
            ground = self._ground.emptied(is_across=chance.random() < 0.5)
            placed = []
            rest = []
            for key in left:
                placement = ground.put(self._pieces[key])
                if placement is None:
                    rest.append(key)
                else:
                    placed.append(placement)
            trial.append(self._filled(tuple(placed)))
            left = rest
        return trial, left
