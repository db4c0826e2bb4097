"""Room that is left filled with extras, the most valuable first."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from planner.measures.layout import Layout, Way
from planner.sheets.filling import Manner, Split, fill
from planner.sheets.lattice import FINE_CELLS, Lattice, filled_around
from planner.sheets.maxrects import Rule
from planner.sheets.outline import covered_area
from planner.sheets.problem import Arrangement, Piece, Request
from planner.sheets.shapes import Placed, Shapes, layout_of, shapes_of
from planner.sheets.task import kept_sheet
from planner.sheets.validate import is_sound, placed_outline


def with_extras(request: Request, arrangement: Arrangement) -> Arrangement:
    """The arrangement with as much value of extras as was found to fit beside what is placed already."""
    shapes = shapes_of(request.extras, gap_mm=request.gap_mm, margin_mm=request.margin_mm)
    counts = [piece.count for piece in request.extras]
    layouts = []
    for layout in arrangement.layouts:
        placed = _best_filling(shapes, counts, layout, request.way)
        filled = layout_of(shapes, placed, layout.sheet, layout.placements)
        if request.way is Way.OUTLINE:
            filled = _better_by_outline(request, counts, layout, filled)
        have = Counter(placement.print for placement in filled.placements[len(layout.placements) :])
        counts = [count - have[piece.key] for count, piece in zip(counts, request.extras, strict=True)]
        layouts.append(replace(filled, runs=layout.runs))
    return Arrangement(tuple(layouts), arrangement.left_over)


def _better_by_outline(request: Request, counts: Sequence[int], layout: Layout, boxes: Layout) -> Layout:
    """The sheet with extras in the hollows of its outlines, or as filled by boxes where that holds more."""
    values = {piece.key: piece.value for piece in request.extras}
    outlines = {piece.key: piece.outline for piece in (*request.pieces, *request.extras)}
    if not any(outlines.values()):
        return boxes
    gap_mm, margin_mm = request.gap_mm, request.margin_mm

    def worth(filled: Layout) -> float:
        return sum(values[placement.print] for placement in filled.placements[len(layout.placements) :])

    lattice = Lattice(request.extras, layout.sheet, gap_mm=gap_mm, margin_mm=margin_mm, cells=FINE_CELLS)
    taken = [lattice.fixed(placed_outline(p, outlines.get(p.print))) for p in layout.placements]
    sound = partial(is_sound, pieces=(*request.pieces, *request.extras), gap_mm=gap_mm, margin_mm=margin_mm)
    best = boxes if sound(boxes) else layout
    extras = [replace(piece, count=count) for piece, count in zip(request.extras, counts, strict=True)]
    by_area: list[Piece] = sorted(extras, key=lambda piece: -piece.value / covered_area(piece))
    by_value: list[Piece] = sorted(extras, key=lambda piece: -piece.value)
    for order in (by_area,) if by_area == by_value else (by_area, by_value):
        filled = replace(layout, placements=(*layout.placements, *filled_around(lattice, taken, order)))
        if worth(filled) > worth(best) and sound(filled):
            best = filled
    return best


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
