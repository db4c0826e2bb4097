"""Room that is left filled with extras, the most valuable first."""

from collections.abc import Sequence

from planner.measures.layout import Layout, Way
from planner.sheets.filling import Manner, Split, fill
from planner.sheets.maxrects import Rule
from planner.sheets.problem import Arrangement, Request
from planner.sheets.shapes import Placed, Shapes, layout_of, shapes_of
from planner.sheets.task import kept_sheet


def with_extras(request: Request, arrangement: Arrangement) -> Arrangement:
    """The arrangement with as much value of extras as was found to fit beside what is placed already."""
    shapes = shapes_of(request.extras, gap_mm=request.gap_mm, margin_mm=request.margin_mm)
    counts = [piece.count for piece in request.extras]
    layouts = []
    for layout in arrangement.layouts:
        placed = _best_filling(shapes, counts, layout, request.way)
        for kind, *_ in placed:
            counts[kind] -= 1
        layouts.append(layout_of(shapes, placed, layout.sheet, layout.placements))
    return Arrangement(tuple(layouts), arrangement.left_over)


def _best_filling(shapes: Shapes, counts: Sequence[int], layout: Layout, way: Way) -> list[Placed]:
    """The most valuable of several greedy fillings of one sheet's free room."""
    sheet = kept_sheet(shapes, layout, 0)
    by_area = [piece.value / area for piece, area in zip(shapes.pieces, shapes.areas, strict=True)]
    by_value = [piece.value for piece in shapes.pieces]
    best: list[Placed] = []
    best_value = 0.0
    room = max(0, sheet.width) * max(0, sheet.height)
    for worth in (by_area, by_value):
        order = [
            kind
            for kind in sorted(range(len(counts)), key=worth.__getitem__, reverse=True)
            for _ in range(min(counts[kind], room // shapes.areas[kind]))
        ]
        for manner in _manners(way):
            trial = sheet.emptied(manner.split is not None)
            fill([trial], order, shapes, manner, shapes.least)
            value = sum(by_value[kind] for kind, *_ in trial.placed)
            if value > best_value:
                best, best_value = trial.placed, value
    return best


def _manners(way: Way) -> list[Manner]:
    rules = (Rule.SHORT_SIDE, Rule.TOP, Rule.LEFT, Rule.AREA)
    if way is Way.STRAIGHT:
        return [
            *(Manner(rule, is_best_fit=False, is_checked=True) for rule in rules),
            Manner(Rule.SHORT_SIDE, is_best_fit=False, split=Split.LARGEST_LEFT),
        ]
    return [Manner(rule, is_best_fit=False) for rule in rules]
