"""Pieces in one block of the smallest bounding area, for offers priced by area."""

from collections.abc import Hashable, Sequence
from random import Random

from planner.measures.geometry import Size
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet, blank
from planner.sheets.micrometres import to_mm
from planner.sheets.problem import Group
from planner.sheets.search import Packing
from planner.sheets.stretched import Stretched
from planner.sheets.strips import reach, shortest
from planner.sheets.task import Filled, Heard, Task, layout_from, placed_box

_WIDTHS = 24
"""Widths tried before the best few are looked at longer."""
_QUICK = 0.3
"""Share of the effort for trying them."""
_MOST_KEPT = 20_000
_best_widths: dict[Hashable, int] = {}
"""The width of the smallest block by what was asked."""


class Blocks(Stretched):
    """Groups being filled with items of a task, in one block where they fit."""

    spread = 0.4

    def __init__(self, task: Task, group: Group, kept: Sequence[Sheet]) -> None:
        super().__init__(task, task.shapes.room(group.most), kept)

    def _tightened(self, packing: Packing, effort: Effort, heard: Heard) -> Packing:
        """Every block without pinned pieces made as small as the effort allows."""
        sheets = list(packing.sheets)
        for at, old in enumerate(sheets):
            if old.is_kept or not old.placed:
                continue
            part = effort.share(1 / (len(sheets) - at))
            for better in self._smaller(old, part):
                sheets[at] = better
                heard(self._filled(Packing(tuple(sheets), packing.unplaced)))
            effort.spend(part)
        return Packing(tuple(sheets), packing.unplaced)

    def _smaller(self, old: Sheet, effort: Effort) -> list[Sheet]:
        """Ever smaller blocks with the same pieces."""
        items = [placed[0] for placed in old.placed]
        best: list[Sheet] = []
        least = self._area(old)

        def try_width(width: int, part: Effort) -> int | None:
            """The smallest area found at one width."""
            nonlocal least
            lowest: int | None = None

            def found(sheet: Sheet, _: int) -> None:
                nonlocal least, lowest
                area = self._area(sheet)
                lowest = area if lowest is None else min(lowest, area)
                if area < least:
                    least = area
                    sheet.area = old.area
                    best.append(sheet)

            strip = blank(width, self._room[1])
            shortest(self._task, items, strip, part, tighter=lambda length: length - 1, found=found)
            return lowest

        # Without effort the same pieces always end at the same width: curves over quantities ask for the
        # same few blocks thousands of times.
        asked = self._asked(items) if effort.is_over() else None
        if asked is not None and asked in _best_widths:
            try_width(_best_widths[asked], effort)
            return best
        quick = effort.share(_QUICK)
        ranked: list[tuple[int, int]] = []
        widths = self._widths(items)
        for number, width in enumerate(widths):
            part = quick.share(1 / (len(widths) - number))
            area = try_width(width, part)
            quick.spend(part)
            if area is not None:
                ranked.append((area, width))
        effort.spend(quick)
        for number, (_, width) in enumerate(sorted(ranked)[:4]):
            part = effort.share(1 / (4 - number))
            try_width(width, part)
            effort.spend(part)
        if asked is not None and ranked:
            if len(_best_widths) >= _MOST_KEPT:
                _best_widths.clear()
            _best_widths[asked] = min(ranked)[1]
        return best

    def _asked(self, items: Sequence[int]) -> Hashable:
        """All that a tightening without effort depends on."""
        task, shapes = self._task, self._task.shapes
        pieces = tuple(
            (kind, shapes.widths[kind], shapes.heights[kind], shapes.turns[kind]) for kind in items
        )
        return pieces, self._room, shapes.gap, shapes.margin, task.way, task.seed

    def _widths(self, items: Sequence[int]) -> list[int]:
        """Widths worth a try: rows of the largest kinds side by side, and even steps between."""
        shapes = self._task.shapes
        kinds = sorted(set(items), key=lambda kind: -shapes.areas[kind])
        narrowest = max(
            min(shapes.widths[k], shapes.heights[k]) if shapes.turns[k] else shapes.widths[k] for k in kinds
        )
        most = self._room[0]
        rows = {
            count * side
            for kind in kinds[:6]
            for side in {shapes.widths[kind], shapes.heights[kind] if shapes.turns[kind] else 0}
            if side
            for count in range(1, most // side + 1)
        }
        even = {narrowest + (most - narrowest) * part // 11 for part in range(12)}
        widths = [width for width in rows if narrowest <= width <= most]
        if len(widths) > _WIDTHS - len(even):
            widths = Random(self._task.seed).sample(sorted(widths), _WIDTHS - len(even))
        return sorted({*widths, *even})

    def _sides(self, sheet: Sheet) -> tuple[int, int]:
        """Width and height in micrometres of the block, margins included."""
        pieces = (placed_box(self._task.shapes, placed)[2] for placed in sheet.placed)
        width = max((*pieces, *(pin[2] for pin in sheet.pins)), default=0)
        return width + self._lost, reach(self._task, sheet) + self._lost

    def _area(self, sheet: Sheet) -> int:
        width, height = self._sides(sheet)
        return width * height

    def _filled(self, packing: Packing) -> Filled:
        layouts = []
        for sheet in packing.sheets:
            if sheet.placed or sheet.is_kept:
                width, height = self._sides(sheet)
                layouts.append(layout_from(self._task, sheet, Size(to_mm(width), to_mm(height))))
        return Filled(tuple(layouts), packing.unplaced)
