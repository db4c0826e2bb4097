"""Ruin and recreate on slicing trees: parts of sheets are taken out and their pieces put in again elsewhere.

The goal is that of `planner.sheets.search`, all pieces on so many sheets, and so is what is kept: whatever
leaves less without a place. But a sheet need not be emptied whole, and no cut is fixed before its time.
"""

from collections.abc import Callable, Sequence

from planner.sheets.draws import Chance, largest_first, one_of, some_of
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet
from planner.sheets.shapes import Shapes
from planner.sheets.slicing import (
    Part,
    Slot,
    Tree,
    add_kinds,
    add_parts,
    pruned,
    put_down,
    sliced,
    slots_of,
    with_piece,
)
from planner.sheets.slots import Fit, Ways, best_slot
from planner.sheets.task import placed_box

_LATE = 20
"""Late acceptance: an attempt may be as bad as the state so many attempts ago. 5 to 50 differ little."""
_RUINED = (1, 1, 1, 2, 2, 2, 3, 3, 4)
"""So many sheets are ruined at once, each as often as it stands here."""
_FEW = 10
"""Pieces per sheet up to which sheets are best emptied."""
_SHARES = (0.1, 0.2, 0.35, 0.6, 1.0)
"""Elsewhere: how much of them is taken out, as a share of their parts."""
_MOST_RUINED = 60
"""About as many pieces at most are taken out in one attempt, so that an attempt stays quick."""
_NOISE = (0.1, 0.25, 0.45, 0.75)
"""How far a piece's measure is blurred before the pieces are put in order."""
_FITS = (Fit.TIGHTER_SIDE, *Fit)
"""Where a piece is put, each as often as it is to be tried."""
_FIRST_SHEET = 0.25
"""How often a piece goes on the first sheet with room for it rather than on that where it fits best."""
_MOST_PIECES = 120
"""Pieces per sheet above which an attempt would take too long: every slot is looked at for every piece."""
_DEEPEST = 300
"""Levels that no tree may exceed: Python's own limit on functions that call themselves is 1,000."""

Note = Callable[[list[Sheet], list[int], int], None]
"""Hears of sheets, what is unplaced, and the area of that."""


class SlicingSearch:
    """The search on equal sheets with so much `room` each.

    `measures` holds what an order of pieces goes by, each measure as often as it is to be drawn.
    """

    def __init__(
        self, shapes: Shapes, room: tuple[int, int], measures: Sequence[Sequence[float]], chance: Chance
    ) -> None:
        self._shapes = shapes
        self._room = room
        self._measures = measures
        self._chance = chance
        self._ways: tuple[Ways, ...] = tuple(
            ((width, height, False), (height, width, True)) if may_turn else ((width, height, False),)
            for width, height, may_turn in zip(shapes.widths, shapes.heights, shapes.turns, strict=True)
        )
        self._shorter = tuple(map(min, zip(shapes.widths, shapes.heights, strict=True)))

    def can_take(self, sheets: Sequence[Sheet], unplaced: Sequence[int]) -> bool:
        """Whether these are sheets of its room with nothing that must stay; pieces neither many nor thin."""
        if any(sheet.pins or sheet.is_kept or (sheet.width, sheet.height) != self._room for sheet in sheets):
            return False
        kinds = [*unplaced, *(placed[0] for sheet in sheets for placed in sheet.placed)]
        thinnest = min((self._shorter[kind] for kind in kinds), default=1)
        deepest = min(len(kinds), sum(self._room) // thinnest)
        return len(kinds) <= _MOST_PIECES * len(sheets) and deepest <= _DEEPEST

    def run(self, sheets: Sequence[Sheet], unplaced: Sequence[int], effort: Effort, note: Note) -> None:
        """Search until nothing is unplaced or the effort is over; `note` hears of every lowest area."""
        trees, left = self._grown(sheets, unplaced)
        area = self._area(left)
        lowest = self._area(unplaced)
        late = [area] * _LATE
        pieces = len(left) + sum(len(sheet.placed) for sheet in sheets)
        shares = (1.0,) if pieces <= _FEW * len(sheets) else _SHARES
        most = _MOST_RUINED * len(sheets) / max(1, pieces)
        attempt = 0
        while left and effort.next_attempt():
            attempt += 1
            chosen = some_of(len(trees), one_of(_RUINED, self._chance), self._chance)
            share = min(one_of(shares, self._chance), most / len(chosen))
            order = left[:]
            trial = [self._ruined(trees[at], share, order) for at in chosen]
            over = self._recreated(trial, self._shuffled(order), max(area, late[attempt % _LATE]))
            if over is not None:
                left, area = over, self._area(over)
                for at, tree in zip(chosen, trial, strict=True):
                    trees[at] = tree
            late[attempt % _LATE] = area
            if area < lowest:
                lowest = area
                note([self._sheet(tree) for tree in trees], left, area)

    def _grown(self, sheets: Sequence[Sheet], unplaced: Sequence[int]) -> tuple[list[Tree], list[int]]:
        """The sheets as trees; what lies on one that cannot be cut apart is unplaced."""
        trees: list[Tree] = []
        left = list(unplaced)
        for sheet in sheets:
            boxes = [placed_box(self._shapes, placed) for placed in sheet.placed]
            tree = sliced(boxes, [(kind, turned) for kind, _, _, turned in sheet.placed])
            trees.append(tree)
            if tree is None:
                left += [placed[0] for placed in sheet.placed]
        return trees, left

    def _sheet(self, tree: Tree) -> Sheet:
        sheet = Sheet(*self._room)
        if tree is not None:
            put_down(tree, 0, 0, sheet.placed)
        sheet.area = self._area([placed[0] for placed in sheet.placed])
        return sheet

    def _area(self, kinds: Sequence[int]) -> int:
        areas = self._shapes.areas
        return sum([areas[kind] for kind in kinds])

    def _ruined(self, tree: Tree, share: float, kinds: list[int]) -> Tree:
        """A copy without about so large a share of the tree's parts; `kinds` gets what was on them."""
        if tree is None:
            return None
        if share >= 1:
            add_kinds(tree, kinds)
            return None
        chance = self._chance
        parts: list[Part] = []
        add_parts(tree, parts)
        # A tree with n pieces has up to 2n - 1 parts.
        many = max(1, int(share * (len(parts) + 1) / 2 * (0.5 + chance())))
        return pruned(tree, {one_of(parts, chance) for _ in range(many)}, kinds)

    def _shuffled(self, kinds: list[int]) -> list[int]:
        """Largest first by a random measure, with random noise."""
        chance = self._chance
        return largest_first(kinds, one_of(self._measures, chance), one_of(_NOISE, chance), chance)

    def _recreated(self, trees: list[Tree], order: list[int], bearable: int) -> list[int] | None:
        """Put kinds on the trees in the order given; returns those that found no room.

        Gives up and returns None as soon as more than the `bearable` area has found no room.
        """
        fit = one_of(_FITS, self._chance)
        is_first_sheet = self._chance() < _FIRST_SHEET
        width, height = self._room
        ways, areas = self._ways, self._shapes.areas
        least = min([self._shorter[kind] for kind in order])
        slots: list[list[Slot]] = [slots_of(tree, width, height, least) for tree in trees]
        left: list[int] = []
        left_area = 0
        hopeless: set[int] = set()
        for kind in order:
            best = None
            if kind not in hopeless:
                for at, own in enumerate(slots):
                    found = best_slot(own, ways[kind], fit) if own else None
                    if found is not None and (best is None or found[0] < best[0]):
                        best, chosen = found, at
                        if is_first_sheet:
                            break
            if best is not None:
                _, slot, turned = best
                across, down, _ = ways[kind][turned]
                trees[chosen] = tree = with_piece(trees[chosen], slot, Part(across, down, kind, turned))
                slots[chosen] = slots_of(tree, width, height, least)
                continue
            hopeless.add(kind)
            left.append(kind)
            left_area += areas[kind]
            if left_area > bearable:
                return None
        return left
