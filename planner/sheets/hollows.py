"""Fewer fixed sheets for outlines: the emptiest sheet's pieces brought into the others' hollows.

The goal-driven search of `planner.sheets.search`, with outlines put on a lattice of places instead of boxes
into free rectangles: it sees the room that boxes hide. Where that is stuck, single sheets are nested with
more on them than before.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from math import ceil
from random import Random

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.sheets.effort import Effort
from planner.sheets.lattice import Bed, Lattice, Spot
from planner.sheets.lots import Lot, Lots
from planner.sheets.patterns import Patterns
from planner.sheets.problem import Piece
from planner.sheets.validate import is_sound, placed_outline

_LATE = 50
"""Late acceptance: an attempt may be as bad as the state so many attempts ago."""
_RUINED = (1, 1, 1, 1, 2, 2, 2)
"""So many sheets are emptied at once, each as often as it stands here."""
_PARTLY = 0.5
"""How often a sheet is not emptied wholly,"""
_STAYS = 0.6
"""and how likely each of its lots then stays."""
_MEASURES = (0, 0, 1, 2)
"""What pieces are put in order by, each measure as often as it is to be drawn."""
_NOISE = (0.9, 0.6, 0.2)
"""How far that is blurred at most."""
_IN_ROUND = 200
"""Attempts in a round of the effort; each takes about as long as a few of those with boxes."""
_AFRESH = 0.5
"""Share of the effort for laying everything down anew."""
_PATTERNS = 0.3
"""Share of the effort for finding out which sheets to use how often,"""
_FEW_SHEETS = 4
"""where there are no fewer than this."""
_PRICED, _ENOUGH, _STALE = 40, 8, 100
"""Sheets tried before worths are told anew, sooner with so many good ones; and so often in vain."""
_TURNED = 0.5
"""How often the first lot on a blank sheet lies as chance has it, not as it reaches least far."""
_POWERS = (0.5, 0.8, 1.0, 1.0, 1.2)
"""A lot's worth is held against its area to this power, each as often as it is to be drawn."""
_WHOLE, _WHOLE_S, _WHOLE_NODES = 0.1, 0.5, 500
"""Share of the effort, time and branches at most for making numbers of sheets whole."""
_LATTICE, _LATTICE_S = 0.3, 1.5
"""Share of counted effort, or time, on the lattice before anything else is tried."""
_WORTH_NESTING_S = 1.0
"""With less time than this the child process that nests would hardly have started."""
_NESTING_S, _NESTING_EACH_S = 1.0, 0.1
"""Time to nest one sheet in: once, and for each piece."""
_TINY = 1e-6
_FULLEST = 0.95
"""More of a sheet than this is hardly ever covered."""

Nest = Callable[[Sequence[Lot], Effort], Layout | None]
"""Nests lots on one sheet, None where that was not found in time."""


@dataclass(slots=True)
class _Filled:
    """One sheet's pieces that may be moved."""

    lots: tuple[Lot, ...]
    placements: tuple[Placement, ...]
    area: float
    """What they and the pinned ones cover."""
    number: int = -1
    """Which of the layouts with pinned pieces this is, -1 for none."""
    spots: tuple[Spot, ...] = ()
    """Where the placements are on the lattice, lot by lot; none where they come from elsewhere."""
    is_checked: bool = False
    """Whether the validator has found nothing wrong with it."""


@dataclass(frozen=True, slots=True)
class _Fuller:
    """A sheet to be nested with more on it, and what is on none then."""

    at: int
    lots: tuple[Lot, ...]
    unplaced: list[Lot]


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
        nest: Nest | None = None,
    ) -> None:
        self._pieces = {piece.key: piece for piece in pieces}
        self._size, self._gap_mm, self._margin_mm = size, gap_mm, margin_mm
        self._room = max(1.0, (size.width_mm - 2 * margin_mm) * (size.height_mm - 2 * margin_mm))
        self._random = Random(seed)
        self._lattice = Lattice(pieces, size, gap_mm=gap_mm, margin_mm=margin_mm)
        self._kept = tuple(kept)
        self._pinned = [tuple(p for p in layout.placements if p.pinned) for layout in kept]
        self._fixed = [[self._fixed_spot(p) for p in pinned] for pinned in self._pinned]
        self._lots = Lots(pieces, self._pinned)
        self._nest = nest
        self._vain: set[tuple[Lot, ...]] = set()
        """What could not be nested on one sheet."""
        self._patterns: Patterns[_Filled] | None = None
        self._is_priced_out = False
        """Whether no more patterns were found that are worth it."""

    def run(
        self, layouts: Sequence[Layout], effort: Effort, found: Callable[[list[Layout]], None]
    ) -> list[Layout]:
        """Ever fewer sheets for as long as the effort lasts; `found` hears of each success.

        Layouts with pinned pieces come first in what is found, and none of them is ever taken away.
        """
        best = [*self._kept, *layouts]
        sheets = self._sheets(best)
        # Many pieces take long to be seen first; then boxes are where to go on from.
        part = effort.share(_AFRESH)
        sheets = self._filled_afresh(sheets, part) or sheets
        while True:
            if len(sheets) < len(best):
                fewer = self._checked(sheets, best)
                if fewer is None:
                    return best
                best = fewer
                found(best)
            if len(best) <= max(1, len(self._kept)) or effort.is_over():
                return best
            # A little more than the room may be covered by pieces that are pinned over the margin.
            if sum(sheet.area for sheet in sheets) > (len(sheets) - 1) * self._size.area_mm2:
                return best
            last = self._emptiest(sheets)
            sheets = [sheet for sheet in sheets if sheet is not last]
            if not self._is_spread(sheets, list(last.lots), effort):
                return best

    def _is_spread(self, sheets: list[_Filled], unplaced: list[Lot], effort: Effort) -> bool:
        """Whether all that is unplaced was brought onto the sheets in time."""
        while unplaced and not effort.is_over():
            # What is nested depends on the clock: not where only rounds count.
            is_nesting = self._nest is not None and not effort.is_counted and effort.left_s > _WORTH_NESTING_S
            has_patterns = self._may_repeat(sheets)
            part = effort.share(self._on_lattice(effort) if is_nesting or has_patterns else 1.0)
            if part.is_over():
                part = effort.share(1.0)
            unplaced = self._ruined_and_recreated(sheets, unplaced, part)
            effort.spend(part)
            if unplaced and has_patterns:
                fewer = self._of_patterns(sheets, unplaced, effort)
                if fewer is not None:
                    sheets[:] = fewer
                    return True
            if unplaced and is_nesting:
                unplaced = self._nested_fuller(sheets, unplaced, effort)
        return not unplaced

    def _on_lattice(self, effort: Effort) -> float:
        """Share of the effort on the lattice before something else is tried."""
        return _LATTICE if effort.is_counted else min(1.0, _LATTICE_S / max(_TINY, effort.left_s))

    def _emptiest(self, sheets: Sequence[_Filled]) -> _Filled:
        """Of those that may be taken away."""
        return min((sheet for sheet in sheets if sheet.number < 0), key=lambda sheet: sheet.area)

    def _filled_afresh(self, sheets: Sequence[_Filled], effort: Effort) -> list[_Filled] | None:
        """All that may be moved, large ones first, sheet by sheet; None where that needs more sheets."""
        left = self._in_order([lot for sheet in sheets for lot in sheet.lots], 0, 1.0)
        afresh: list[_Filled] = []
        while left or len(afresh) < len(self._kept):
            if len(afresh) == len(sheets) or effort.is_over():
                return None
            number = len(afresh) if len(afresh) < len(self._kept) else -1
            filled, left = self._packed(left, _Filled((), (), 0.0, number), is_across=False)
            afresh.append(filled())
        if len(afresh) == len(sheets) and self._emptiest(afresh).area >= self._emptiest(sheets).area:
            return None
        return afresh

    def _may_repeat(self, sheets: Sequence[_Filled]) -> bool:
        """Whether patterns may do with fewer sheets: many are worth to be alike, and none holds a pin."""
        if self._kept or len(sheets) < _FEW_SHEETS:
            return False
        if self._patterns is None:
            return True
        return not self._is_priced_out or self._patterns.least <= len(sheets) + _TINY

    def _of_patterns(
        self, before: Sequence[_Filled], unplaced: Sequence[Lot], effort: Effort
    ) -> list[_Filled] | None:
        """Everything on no more sheets than those, many of them alike; None where that was not found."""
        patterns = self._known_patterns(before, unplaced)
        if patterns is None:
            return None
        worths = patterns.worths()
        in_vain = 0
        part = effort.share(_PATTERNS)
        while in_vain < _STALE and not part.is_over():
            in_vain = 0 if self._priced(patterns, worths, part) else in_vain + 1
            worths = patterns.worths()
        effort.spend(part)
        self._is_priced_out = in_vain == _STALE
        if ceil(patterns.least - _TINY) > len(before):
            return None
        found = patterns.rounded()
        if (found is None or len(found[0]) > len(before)) and not effort.is_over():
            budget_s = effort.left_s if effort.is_counted else min(_WHOLE_S, _WHOLE * effort.left_s)
            found = patterns.whole(budget_s=budget_s, most_nodes=_WHOLE_NODES)
        return self._rid_of(*found) if found is not None and len(found[0]) <= len(before) else None

    def _known_patterns(self, sheets: Sequence[_Filled], unplaced: Sequence[Lot]) -> Patterns[_Filled] | None:
        """Those found before and the given ones, which hold every lot; None where the lattice has no room."""
        known = [*sheets]
        rest = [*unplaced]
        while rest:
            filled, left = self._packed(rest, _Filled((), (), 0.0), is_across=False)
            if len(left) == len(rest):
                return None
            known.append(filled())
            rest = left
        if self._patterns is None:
            self._patterns = Patterns(Counter(lot for sheet in known for lot in sheet.lots))
        for sheet in known:
            self._patterns.add(sheet.lots, sheet)
        return self._patterns

    def _priced(self, patterns: Patterns[_Filled], worths: Mapping[Lot, float], effort: Effort) -> bool:
        """Whether sheets of more than one sheet's worth were found."""
        chance, areas, wanted = self._random, self._lots.measures[0], patterns.wanted
        best, most, found = _Filled((), (), 0.0), 0.0, 0
        for _ in range(_PRICED):
            if found == _ENOUGH or not effort.next_attempt(_IN_ROUND):
                break
            power, noise = chance.choice(_POWERS), chance.choice(_NOISE)
            ranks = {lot: worths[lot] / areas[lot] ** power * chance.uniform(noise, 1) for lot in wanted}
            ranked = sorted(wanted, key=lambda lot: (-ranks[lot], -areas[lot]))
            stays = self._staying(best)
            if not stays.lots and chance.random() < _TURNED:
                stays = self._begun(ranked[0])
            have = Counter(stays.lots)
            order = [lot for lot in ranked for _ in range(wanted[lot] - have[lot])]
            sheet = self._packed(order, stays, is_across=chance.random() < 0.5)[0]()
            worth = sum(worths[lot] for lot in sheet.lots)
            if worth >= most:
                best, most = sheet, worth
            if worth > 1 + _TINY and patterns.add(sheet.lots, sheet):
                found += 1
        return found > 0

    def _begun(self, lot: Lot) -> _Filled:
        """A sheet with the lot in its corner, lying as chance has it; blank for a lot of several pieces."""
        stamps = self._lattice.stamps_of[lot[0]]
        if len(lot) > 1 or not stamps:
            return _Filled((), (), 0.0)
        return _Filled((lot,), (), 0.0, spots=((self._random.choice(stamps), 0, 0),))

    def _rid_of(self, sheets: Sequence[_Filled], surplus: Counter[Lot]) -> list[_Filled]:
        """The sheets without what they hold too many, taken from the emptiest that hold it."""
        rid = sorted((replace(sheet) for sheet in sheets), key=lambda sheet: sheet.area)
        for lot, count in sorted(surplus.items()):
            for sheet in rid:
                while count and lot in sheet.lots:
                    self._take_off(sheet, lot)
                    count -= 1
        return rid

    def _take_off(self, sheet: _Filled, lot: Lot) -> None:
        placements, spots = list(sheet.placements), list(sheet.spots)
        for key in lot:
            at = next(at for at, placement in enumerate(placements) if placement.print == key)
            del placements[at]
        if spots:
            first = sum(len(other) for other in sheet.lots[: sheet.lots.index(lot)])
            del spots[first : first + len(lot)]
        sheet.lots = tuple(_without(sheet.lots, (lot,)))
        sheet.placements, sheet.spots = tuple(placements), tuple(spots)
        sheet.area -= self._lots.area((lot,))

    def _sheets(self, layouts: Sequence[Layout]) -> list[_Filled]:
        kept, own = layouts[: len(self._kept)], layouts[len(self._kept) :]
        numbered = [self._filled(layout, number) for number, layout in enumerate(kept)]
        return [*numbered, *(self._filled(layout) for layout in own for _ in range(layout.runs))]

    def _filled(self, layout: Layout, number: int = -1) -> _Filled:
        free = tuple(placement for placement in layout.placements if number < 0 or not placement.pinned)
        lots = self._lots.of(placement.print for placement in free)
        return _Filled(lots, free, self._lots.area(lots) + self._lots.pinned_area(number), number)

    def _fixed_spot(self, placement: Placement) -> Spot:
        piece = self._pieces.get(placement.print)
        return self._lattice.fixed(placed_outline(placement, None if piece is None else piece.outline))

    def _checked(self, sheets: Sequence[_Filled], before: Sequence[Layout]) -> list[Layout] | None:
        """The layouts, or None where they break a rule or a set is on more sheets than before."""
        layouts = []
        for sheet in sheets:
            pinned = self._pinned[sheet.number] if sheet.number >= 0 else ()
            layout = Layout(self._size, (*pinned, *sheet.placements))
            if not sheet.is_checked and not self._is_sound(layout):
                return None
            sheet.is_checked = True
            layouts.append(layout)
        return layouts if self._lots.are_no_more_parted(layouts, before) else None

    def _is_sound(self, layout: Layout) -> bool:
        return is_sound(layout, self._pieces.values(), gap_mm=self._gap_mm, margin_mm=self._margin_mm)

    def _ruined_and_recreated(self, sheets: list[_Filled], unplaced: list[Lot], effort: Effort) -> list[Lot]:
        """What is still unplaced when nothing is, or the effort is over; the sheets become the best ones."""
        chance = self._random
        area = self._lots.area(unplaced)
        late = [area] * _LATE
        lowest, best = area, (sheets[:], unplaced)
        attempt = 0
        while unplaced and effort.next_attempt(_IN_ROUND):
            attempt += 1
            # The emptier a sheet, the likelier there is something to gain on it.
            ranked = sorted(range(len(sheets)), key=lambda at: sheets[at].area * chance.uniform(0.6, 1))
            chosen = ranked[: chance.choice(_RUINED)]
            staying = [self._staying(sheets[at]) for at in chosen]
            pool = [*unplaced]
            for at, stays in zip(chosen, staying, strict=True):
                pool += _without(sheets[at].lots, stays.lots)
            left = self._in_order(pool, chance.choice(_MEASURES), chance.choice(_NOISE))
            trial = []
            for stays in staying:
                filled, left = self._packed(left, stays, is_across=chance.random() < 0.5)
                trial.append(filled)
            left_area = self._lots.area(left)
            if left_area <= max(area, late[attempt % _LATE]):
                area, unplaced = left_area, left
                for at, filled in zip(chosen, trial, strict=True):
                    sheets[at] = filled()
            late[attempt % _LATE] = area
            if area < lowest:
                lowest, best = area, (sheets[:], unplaced)
        sheets[:], unplaced = best
        return unplaced

    def _staying(self, sheet: _Filled) -> _Filled:
        """What of a sheet is not taken away from it."""
        chance = self._random
        lots: list[Lot] = []
        spots: list[Spot] = []
        if sheet.spots and chance.random() < _PARTLY:
            first = 0
            for lot in sheet.lots:
                if chance.random() < _STAYS:
                    lots.append(lot)
                    spots += sheet.spots[first : first + len(lot)]
                first += len(lot)
        return _Filled(tuple(lots), (), 0.0, sheet.number, tuple(spots))

    def _in_order(self, lots: Sequence[Lot], measure: int, noise: float) -> list[Lot]:
        """The large ones first, with some noise."""
        chance, large = self._random, self._lots.measures[measure]
        return sorted(lots, key=lambda lot: -large[lot] * chance.uniform(noise, 1))

    def _packed(
        self, lots: Sequence[Lot], stays: _Filled, *, is_across: bool
    ) -> tuple[Callable[[], _Filled], list[Lot]]:
        """One sheet filled with lots in the order given, beside those that stay; and what is not on it."""
        number = stays.number
        fixed = self._fixed[number] if number >= 0 else []
        bed = Bed(self._lattice, is_across=is_across, spots=(*fixed, *stays.spots))
        here = list(stays.lots)
        left: list[Lot] = []
        for lot in lots:
            (here if self._lots.may_go(lot, number) and _is_laid(bed, lot) else left).append(lot)

        def filled() -> _Filled:
            spots = bed.spots[len(fixed) :]
            placements = tuple(self._lattice.placement(spot) for spot in spots)
            area = self._lots.area(here) + self._lots.pinned_area(number)
            return _Filled(tuple(here), placements, area, number, tuple(spots))

        return filled, left

    def _nested_fuller(self, sheets: list[_Filled], unplaced: list[Lot], effort: Effort) -> list[Lot]:
        """What is unplaced once a sheet was tried to be nested with more on it."""
        assert self._nest is not None
        fuller = max(self._fuller(sheets, unplaced), key=lambda one: one[0], default=None)
        if fuller is None:
            return unplaced
        choice = fuller[1]
        self._vain.add(choice.lots)
        pieces = sum(len(lot) for lot in choice.lots)
        seconds = _NESTING_S + _NESTING_EACH_S * pieces
        # On the only sheet there is nothing else to try.
        part = effort if len(sheets) == 1 else effort.share(min(1.0, seconds / max(seconds, effort.left_s)))
        layout = self._nest(choice.lots, part)
        if layout is None:
            return unplaced
        sheets[choice.at] = self._filled(layout)
        return choice.unplaced

    def _fuller(self, sheets: Sequence[_Filled], unplaced: Sequence[Lot]) -> Iterator[tuple[float, _Fuller]]:
        """Sheets with an unplaced lot added and up to two others taken off, by how promising that is."""
        areas = self._lots.measures[0]
        total = self._lots.area(unplaced)
        if len(sheets) == 1:
            everything = tuple(sorted((*sheets[0].lots, *unplaced)))
            if everything not in self._vain and sheets[0].number < 0:
                yield 1.0, _Fuller(0, everything, [])
            return
        for at, sheet in enumerate(sheets):
            if sheet.number >= 0:
                continue
            for added in dict.fromkeys(unplaced):
                others = _without(unplaced, (added,))
                for off in _few_of(sheet.lots):
                    gain = areas[added] - self._lots.area(off)
                    full = (sheet.area + gain) / self._room
                    if gain <= 0 or full > _FULLEST:
                        continue
                    lots = tuple(sorted((*_without(sheet.lots, off), added)))
                    if lots not in self._vain:
                        worth = gain / total * (1 - full) ** 2 * self._random.uniform(0.5, 1)
                        yield worth, _Fuller(at, lots, [*others, *off])


def _few_of(lots: Sequence[Lot]) -> set[tuple[Lot, ...]]:
    """None, one or two of them."""
    ordered = sorted(lots)
    return {(), *combinations(ordered, 1), *combinations(ordered, 2)}


def _without(lots: Sequence[Lot], some: Sequence[Lot]) -> list[Lot]:
    left = list(lots)
    for lot in some:
        left.remove(lot)
    return left


def _is_laid(bed: Bed, lot: Lot) -> bool:
    """Whether all of a lot found room; else none of it is laid down."""
    for number, key in enumerate(lot):
        if not bed.put(key):
            bed.take_back(number)
            return False
    return True
