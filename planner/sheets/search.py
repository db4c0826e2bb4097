"""Fewest fixed sheets: constructive starts, then ruin and recreate towards one sheet fewer."""

from collections.abc import Callable, Sequence
from random import Random

from planner.measures.layout import Way
from planner.sheets.filling import Manner, Sheet, Split, blank, fill
from planner.sheets.maxrects import Rule
from planner.sheets.shapes import Shapes

Measure = tuple[float, ...]


def measures_of(shapes: Shapes) -> tuple[Measure, ...]:
    """What pieces may be ordered by, per kind: area, longer side, sum of sides, shorter side."""
    pairs = list(zip(shapes.widths, shapes.heights, strict=True))
    return (
        tuple(float(area) for area in shapes.areas),
        tuple(float(max(pair)) for pair in pairs),
        tuple(float(sum(pair)) for pair in pairs),
        tuple(float(min(pair)) for pair in pairs),
    )


def constructed(
    shapes: Shapes,
    items: Sequence[int],
    fixed: Sequence[Sheet],
    room: tuple[int, int],
    manner: Manner,
) -> list[Sheet]:
    """Sheets filled in the order given, new ones opened as needed; every item must fit an empty one."""
    sheets = [sheet.emptied() for sheet in fixed]
    left = list(items)
    least = shapes.least
    left = fill(sheets, left, shapes, manner, least)
    while left:
        sheets.append(blank(*room))
        if manner.is_best_fit:
            left = fill(sheets, left, shapes, manner, least)
        else:
            left = fill(sheets[-1:], left, shapes, manner, least)
    return sheets


def starts_for(way: Way) -> list[Manner]:
    """Manners of the first answers, the usually best ones first."""
    if way is Way.STRAIGHT:
        return [
            Manner(rule, is_best_fit=False, split=split)
            for split in (Split.LARGEST_LEFT, Split.ALONG_SHORTER, Split.ROWS)
            for rule in (Rule.SHORT_SIDE, Rule.AREA)
        ]
    return [Manner(rule, is_best_fit=False) for rule in (Rule.SHORT_SIDE, Rule.AREA, Rule.TOP, Rule.LEFT)]


def first_answers(
    shapes: Shapes,
    items: Sequence[int],
    fixed: Sequence[Sheet],
    room: tuple[int, int],
    way: Way,
    is_over: Callable[[], bool],
) -> list[Sheet]:
    """The best of the constructive starts; at least one is tried whatever the clock says."""
    best: list[Sheet] = []
    best_score: tuple[int, int] | None = None
    for manner in starts_for(way):
        for measure in measures_of(shapes):
            order = sorted(items, key=lambda kind, by=measure: -by[kind])  # type: ignore[misc]
            sheets = constructed(shapes, order, fixed, room, manner)
            score = (len(sheets), min((s.area for s in sheets if not s.is_fixed), default=0))
            if best_score is None or score < best_score:
                best, best_score = sheets, score
            if is_over():
                return best
    return best


def random_of(seed: int) -> Random:
    """The search's own chance, so that one seed gives one answer."""
    return Random(seed)
