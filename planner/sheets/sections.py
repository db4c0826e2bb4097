"""Long strips that come apart by straight cuts: sections across the strip, a few repacked at a time.

Cuts from edge to edge divide any such strip into sections anyway; working on two or three of them keeps
the question small however long the strip is.
"""

from collections.abc import Callable, Sequence
from random import Random

from planner.sheets.effort import Effort
from planner.sheets.filling import Manner, Sheet, Split, blank, try_fill
from planner.sheets.maxrects import Rule
from planner.sheets.search import FewestSheets
from planner.sheets.shapes import Placed
from planner.sheets.task import Task, placed_box

_PIECES = 10
"""Pieces in a section to begin with."""
_MOST_PIECES = 32
"""More than this are not repacked at once."""
_CHECKED_PIECES = 16
_LATE = 40

_Section = tuple[int, tuple[Placed, ...]]
"""Its length, and its pieces measured from its own top."""


class Sections:
    """The search for one set of pieces on a strip of one width."""

    def __init__(self, task: Task, items: Sequence[int], width: int, longest: int) -> None:
        self._task = task
        self._items = list(items)
        self._width = width
        self._longest = longest
        self._random = Random(task.seed)
        shapes = task.shapes
        self._least = shapes.least
        self._measures = (
            shapes.areas,
            tuple(max(pair) for pair in zip(shapes.widths, shapes.heights, strict=True)),
            tuple(min(pair) for pair in zip(shapes.widths, shapes.heights, strict=True)),
        )

    def run(self, effort: Effort, tighter: Callable[[int], int], found: Callable[[Sheet, int], None]) -> None:
        """Look for ever shorter strips; `found` hears of each that fits and gains what `tighter` asks."""
        sections = self._first(effort)
        if not sections:
            # No start is no strip of length nothing.
            return
        length = sum(section[0] for section in sections)
        wanted = self._longest
        late = [length] * _LATE
        attempt = 0
        while True:
            if length <= wanted:
                found(self._joined(sections), length)
                wanted = tighter(length)
            if not effort.next_attempt():
                return
            attempt += 1
            chosen = self._chosen(sections)
            old = sum(sections[at][0] for at in chosen)
            bearable = max(length, late[attempt % _LATE]) - (length - old)
            pieces = [placed[0] for at in chosen for placed in sections[at][1]]
            sheet = self._repacked(pieces, bearable)
            if sheet is not None:
                new = self._divided(sheet.placed)
                sections = [s for at, s in enumerate(sections) if at not in chosen] + new
                length += sum(section[0] for section in new) - old
            late[attempt % _LATE] = length

    def _first(self, effort: Effort) -> list[_Section]:
        """Sections from filling sheets about as long as a few pieces need."""
        shapes = self._task.shapes
        area = sum(shapes.areas[kind] for kind in self._items)
        tallest = max(
            min(shapes.widths[k], shapes.heights[k]) if shapes.turns[k] else shapes.heights[k]
            for k in set(self._items)
        )
        wide = max(max(shapes.widths[k], shapes.heights[k]) for k in set(self._items))
        usual = round(1.15 * _PIECES * area / len(self._items) / self._width)
        height = min(self._longest, max(tallest, wide, usual))
        search = FewestSheets(shapes, self._task.way, (self._width, height), self._task.seed)
        packing = search.start(self._items, (), None, effort.is_late)
        if packing.unplaced:
            return []
        return [section for sheet in packing.sheets for section in self._divided(sheet.placed)]

    def _chosen(self, sections: Sequence[_Section]) -> list[int]:
        """One to four sections with no more pieces than can be repacked quickly."""
        order = self._random.sample(
            range(len(sections)), min(len(sections), self._random.choice((1, 2, 2, 3, 4)))
        )
        chosen = order[:1]
        pieces = len(sections[chosen[0]][1])
        for at in order[1:]:
            pieces += len(sections[at][1])
            if pieces > _MOST_PIECES:
                break
            chosen.append(at)
        return chosen

    def _repacked(self, pieces: list[int], bearable: int) -> Sheet | None:
        """The pieces in another way within a length, if one attempt finds it."""
        chance = self._random
        measure = chance.choice(self._measures)
        noise = chance.choice((0.2, 0.6, 1.2))
        keyed = [(measure[kind] * (1 + noise * chance.random()), kind) for kind in pieces]
        keyed.sort(reverse=True)
        rule = chance.choice((Rule.SHORT_SIDE, Rule.TOP, Rule.TOP, Rule.AREA, Rule.LONG_SIDE))
        if len(pieces) <= _CHECKED_PIECES and chance.random() < 0.7:
            manner = Manner(rule, is_best_fit=False, is_checked=True)
        else:
            manner = Manner(rule, is_best_fit=False, split=chance.choice(tuple(Split)))
        sheet = blank(self._width, bearable)
        order = [kind for _, kind in keyed]
        if try_fill([sheet], order, self._task.shapes, manner, self._least, 0) is None:
            return None
        return sheet

    def _divided(self, placed: Sequence[Placed]) -> list[_Section]:
        """The pieces parted wherever a cut goes across the whole strip."""
        shapes = self._task.shapes
        sections: list[_Section] = []
        current: list[Placed] = []
        start = end = 0
        for piece in sorted(placed, key=lambda one: one[2]):
            if piece[2] >= end and current:
                sections.append((end - start, tuple(current)))
                current = []
            if not current:
                # What is free above a section goes away with it.
                start = piece[2]
            kind, x, y, turned = piece
            current.append((kind, x, y - start, turned))
            end = max(end, placed_box(shapes, piece)[3])
        if current:
            sections.append((end - start, tuple(current)))
        return sections

    def _joined(self, sections: Sequence[_Section]) -> Sheet:
        """One strip of all sections, the longest first."""
        sheet = blank(self._width, self._longest)
        top = 0
        for length, pieces in sorted(sections, key=lambda section: -section[0]):
            sheet.placed += [(kind, x, y + top, turned) for kind, x, y, turned in pieces]
            top += length
        return sheet
