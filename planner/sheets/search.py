"""Fewest fixed sheets: constructive starts, then ruin and recreate towards one sheet fewer.

After the goal-driven search of S. Gardeyn and T. Wauters, "A goal-driven ruin and recreate heuristic for
the 2D variable-sized bin packing problem with guillotine constraints", European Journal of Operational
Research 301 (2022): take the emptiest sheet away, and until its pieces have found a place elsewhere, empty
a few sheets at random and fill them again in another order, keeping what leaves less without a place.
Straight cuts are searched on slicing trees instead wherever `planner.sheets.slicing_search` can.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.measures.layout import Way
from planner.sheets.draws import largest_first, one_of, some_of
from planner.sheets.effort import Effort
from planner.sheets.filling import Manner, Sheet, Split, blank, fill, try_fill
from planner.sheets.maxrects import Rule
from planner.sheets.shapes import Shapes
from planner.sheets.slicing_search import SlicingSearch

_LATE = 50
"""Late acceptance: an attempt may be as bad as the state so many attempts ago."""
_RUINED = (1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 4, 5, 6)
"""So many sheets are emptied at once, each as often as it stands here."""
_NOISE = (0.2, 0.6, 1.2, 2.0)
"""How far a piece's measure is blurred before the pieces are put in order."""
_MANY = 12
"""Pieces per sheet above which checking every place for straight cuts is mostly too slow."""
_TOO_MANY = 60
"""Pieces per sheet above which it always is."""
_CONCENTRATE = 0.25
"""Share of the effort spent on emptying the last sheet once no fewer sheets are possible."""

_LOOSE = tuple(
    Manner(rule, is_best_fit)
    for rule, often in zip(Rule, (4, 3, 1, 1, 2), strict=True)
    for is_best_fit in (False, True)
    for _ in range(often)
)
"""Manners of filling that are drawn from, each as often as it is to be tried."""
_CHECKED = tuple(replace(manner, is_checked=True) for manner in _LOOSE)
_SPLIT = tuple(
    replace(manner, split=split)
    for split, often in zip(Split, (2, 1, 3, 1, 1), strict=True)
    for manner in _LOOSE
    for _ in range(often)
)


@dataclass(frozen=True, slots=True)
class Packing:
    """Filled sheets, and the kinds (once per copy) that are on none of them."""

    sheets: tuple[Sheet, ...]
    unplaced: tuple[int, ...] = ()


Improved = Callable[[Packing], None]


class FewestSheets:
    """The search for one kind of fixed sheet with so much `room` for grown pieces."""

    def __init__(self, shapes: Shapes, way: Way, room: tuple[int, int], seed: int) -> None:
        self._shapes = shapes
        self._is_straight = way is Way.STRAIGHT
        self._room = room
        self._chance = Random(seed).random
        self._least = shapes.least
        pairs = list(zip(shapes.widths, shapes.heights, strict=True))
        self._shorter = tuple(min(pair) for pair in pairs)
        self._measures = (
            tuple(float(area) for area in shapes.areas),
            tuple(float(max(pair)) for pair in pairs),
            tuple(float(sum(pair)) for pair in pairs),
            tuple(float(side) for side in self._shorter),
        )
        self._drawn = tuple(
            measure for measure, often in zip(self._measures, (6, 2, 2, 1), strict=True) for _ in range(often)
        )
        """What a filling's order goes by, each measure as often as it is to be drawn."""
        self._slicing = SlicingSearch(shapes, room, self._drawn, self._chance)

    def start(
        self, items: Sequence[int], kept: Sequence[Sheet], most: int | None, is_over: Callable[[], bool]
    ) -> Packing:
        """The best of some constructive fillings; one at least, then as many as `is_over` lets it."""
        best: Packing | None = None
        best_score: tuple[int, int, int] | None = None
        for manner in self._first_manners():
            for measure in self._measures:
                order = sorted(items, key=measure.__getitem__, reverse=True)
                packing = self._constructed(order, kept, most, manner)
                score = (
                    self._area(packing.unplaced),
                    len(packing.sheets),
                    min((s.area for s in packing.sheets if not s.is_kept), default=0),
                )
                if best is None or best_score is None or score < best_score:
                    best, best_score = packing, score
                if most is not None and len(kept) + most == 1 and not packing.unplaced:
                    return packing
                if is_over():
                    return best
        assert best is not None
        return best

    def improve(self, packing: Packing, effort: Effort, improved: Improved) -> Packing:
        """Place what is unplaced, then use ever fewer sheets, then empty the last one as far as it goes."""
        if packing.unplaced:
            packing = self._place_rest(packing, effort)
            improved(packing)
            if packing.unplaced:
                return packing
        bound = self._fewest_possible(packing)
        while len(packing.sheets) > bound and not effort.is_over():
            before = len(packing.sheets)
            packing = self._one_fewer(packing, effort, improved)
            if len(packing.sheets) == before:
                return packing
        if not effort.is_over() and any(not s.is_kept for s in packing.sheets):
            part = effort.share(_CONCENTRATE)
            packing = self._one_fewer(packing, part, improved)
            effort.spend(part)
        return packing

    def may_save(self, packing: Packing) -> int:
        """Sheets more than the proven bound."""
        return max(0, len(packing.sheets) - self._fewest_possible(packing))

    def on_one(self, items: Sequence[int], effort: Effort, sheet: Sheet | None = None) -> Packing:
        """The items on a single sheet (or this one), as far as they find room within the effort."""
        if sheet is None:
            packing = self.start(items, (), 1, effort.is_over)
        else:
            packing = self.start(items, (sheet,), 0, effort.is_over)
        return self._place_rest(packing, effort) if packing.unplaced else packing

    def _first_manners(self) -> list[Manner]:
        rules = (Rule.SHORT_SIDE, Rule.TOP, Rule.AREA, Rule.LEFT)
        if self._is_straight:
            splits = (Split.LARGEST_LEFT, Split.ALONG_SHORTER, Split.ROWS)
            return [Manner(rule, is_best_fit=False, split=split) for split in splits for rule in rules[:3]]
        return [Manner(rule, is_best_fit=False) for rule in rules]

    def _constructed(
        self, order: Sequence[int], kept: Sequence[Sheet], most: int | None, manner: Manner
    ) -> Packing:
        sheets = [sheet.emptied(manner.split is not None) for sheet in kept]
        left = fill(sheets, order, self._shapes, manner, self._least)
        while left and (most is None or len(sheets) - len(kept) < most):
            sheets.append(blank(*self._room))
            before = len(left)
            left = fill(sheets[-1:], left, self._shapes, manner, self._least)
            if len(left) == before:
                sheets.pop()
                break
        return Packing(tuple(sheets), tuple(left))

    def _area(self, items: Sequence[int]) -> int:
        areas = self._shapes.areas
        return sum(areas[kind] for kind in items)

    def _fewest_possible(self, packing: Packing) -> int:
        """A proven bound: by area, and by pieces of which no two fit one sheet."""
        width, height = self._room
        kept = [sheet for sheet in packing.sheets if sheet.is_kept]
        in_kept = sum(s.width * s.height for s in kept)
        area = sum(sheet.area for sheet in packing.sheets) - in_kept
        by_area = -(-area // (width * height))
        large = 0
        for sheet in packing.sheets:
            for kind, *_ in sheet.placed:
                w, h = self._shapes.widths[kind], self._shapes.heights[kind]
                if self._shapes.turns[kind]:
                    large += 2 * min(w, h) > max(width, height)
                else:
                    large += 2 * w > width and 2 * h > height
        return len(kept) + max(0, by_area, 0 if kept else large)

    def _one_fewer(self, packing: Packing, effort: Effort, improved: Improved) -> Packing:
        """The same pieces on one sheet fewer, else on as many with the last one emptier."""
        last = min((s for s in packing.sheets if not s.is_kept), key=lambda sheet: sheet.area, default=None)
        if last is None:
            return packing
        best = packing
        best_area = last.area

        def note(sheets: list[Sheet], unplaced: list[int], area: int) -> None:
            nonlocal best, best_area
            if not unplaced:
                best = Packing(tuple(sheets))
            elif area < best_area:
                tail = self._on_a_blank(unplaced)
                if tail is None:
                    return
                best, best_area = Packing((*sheets, tail)), area
            else:
                return
            improved(best)

        rest = [sheet for sheet in packing.sheets if sheet is not last]
        self._ruin_and_recreate(rest, [kind for kind, *_ in last.placed], effort, note)
        return best

    def _place_rest(self, packing: Packing, effort: Effort) -> Packing:
        """As much as possible of what is unplaced brought on the same sheets."""
        best = packing
        best_area = self._area(packing.unplaced)

        def note(sheets: list[Sheet], unplaced: list[int], area: int) -> None:
            nonlocal best, best_area
            if area < best_area:
                best, best_area = Packing(tuple(sheets), tuple(unplaced)), area

        self._ruin_and_recreate(list(packing.sheets), list(packing.unplaced), effort, note)
        return best

    def _on_a_blank(self, items: Sequence[int]) -> Sheet | None:
        """The items on one empty sheet, if a quick try succeeds."""
        if self._area(items) > self._room[0] * self._room[1]:
            return None
        for manner in self._first_manners():
            for measure in self._measures[:2]:
                sheet = blank(*self._room)
                order = sorted(items, key=measure.__getitem__, reverse=True)
                if not fill([sheet], order, self._shapes, manner, self._least):
                    return sheet
        return None

    def _ruin_and_recreate(
        self,
        sheets: list[Sheet],
        unplaced: list[int],
        effort: Effort,
        note: Callable[[list[Sheet], list[int], int], None],
    ) -> None:
        """Search until nothing is unplaced or the effort is over; `note` hears of every lowest area."""
        if not sheets:
            return
        if self._is_straight and self._slicing.can_take(sheets, unplaced):
            self._slicing.run(sheets, unplaced, effort, note)
            return
        area = lowest = self._area(unplaced)
        late = [area] * _LATE
        attempt = 0
        while unplaced and effort.next_attempt():
            attempt += 1
            chosen = some_of(len(sheets), one_of(_RUINED, self._chance), self._chance)
            order = unplaced[:]
            for number in chosen:
                order += [placed[0] for placed in sheets[number].placed]
            manner = self._manner(len(order) / len(chosen))
            trial = [sheets[number].emptied(manner.split is not None) for number in chosen]
            bearable = max(area, late[attempt % _LATE])
            least = min(map(self._shorter.__getitem__, order), default=1)
            left = try_fill(trial, self._shuffled(order), self._shapes, manner, least, bearable)
            if left is not None:
                area, unplaced = self._area(left), left
                for number, sheet in zip(chosen, trial, strict=True):
                    sheets[number] = sheet
            late[attempt % _LATE] = area
            if area < lowest:
                lowest = area
                note(sheets[:], unplaced, area)

    def _shuffled(self, items: list[int]) -> list[int]:
        """Largest first by a random measure, with random noise."""
        chance = self._chance
        return largest_first(items, one_of(self._drawn, chance), one_of(_NOISE, chance), chance)

    def _manner(self, pieces_per_sheet: float) -> Manner:
        chance = self._chance
        manners = _LOOSE
        if self._is_straight:
            manners = _SPLIT
            if pieces_per_sheet < _TOO_MANY and chance() < (0.9 if pieces_per_sheet <= _MANY else 0.2):
                manners = _CHECKED
        return one_of(manners, chance)
