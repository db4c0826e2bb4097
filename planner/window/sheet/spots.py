"""Where a piece let go in a bad spot could lie instead."""

from collections.abc import Mapping, Sequence
from itertools import product

from shapely import total_bounds

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement
from planner.sheets.nudge import nearest_good_spot
from planner.sheets.nudge_outlines import nearest_good_move
from planner.sheets.outline import Outline, rectangle
from planner.sheets.validate import placed_outline

_MOST_PAIRS = 120
"""Beyond so many pairs of moving and resting pieces the moving ones are looked at as one box: the exact
answer would take longer than a hand waits."""
_SLACK_MM = 0.0005
"""Half the micrometre that the validator counts in."""


def nearest_spot(
    moving: Sequence[Placement],
    resting: Sequence[Placement],
    sheet: Size,
    *,
    gap_mm: float,
    margin_mm: float,
    outlines: Mapping[str, Outline] | None = None,
) -> tuple[float, float] | None:
    """The shortest move (right, down) in mm after which nothing is in the way, or None if there is none.

    One piece alone is the arranger's own question (`planner.sheets.nudge`); several keep their places
    among each other. With outlines by piece key those count, so that a hollow is a spot too; else boxes.
    In a good spot nearest to the hand boxes touch (at gap or margin) whatever kept them off the wanted one,
    so it is enough to try those places on each axis.
    """
    if outlines:
        return _among_outlines(moving, resting, sheet, gap_mm, margin_mm, outlines)
    if len(moving) == 1 or len(moving) * len(resting) > _MOST_PAIRS:
        return _as_one(moving, resting, sheet, gap_mm, margin_mm)
    inside = Rect(0, 0, sheet.width_mm, sheet.height_mm).grown(-margin_mm)
    walls = [placement.box.grown(gap_mm) for placement in resting]
    boxes = [placement.box for placement in moving]
    left, right = _reach([(b.x_mm, b.right_mm) for b in boxes], inside.x_mm, inside.right_mm)
    top, bottom = _reach([(b.y_mm, b.bottom_mm) for b in boxes], inside.y_mm, inside.bottom_mm)
    if left > right + _SLACK_MM or top > bottom + _SLACK_MM:
        return None
    across = {min(max(0.0, left), right), left, right}
    down = {min(max(0.0, top), bottom), top, bottom}
    for box, wall in product(boxes, walls):
        across.update((wall.x_mm - box.right_mm, wall.right_mm - box.x_mm))
        down.update((wall.y_mm - box.bottom_mm, wall.bottom_mm - box.y_mm))
    spots = sorted(
        (dx * dx + dy * dy, dx, dy)
        for dx in across
        if left - _SLACK_MM <= dx <= right + _SLACK_MM
        for dy in down
        if top - _SLACK_MM <= dy <= bottom + _SLACK_MM
    )
    return next(((dx, dy) for _, dx, dy in spots if _is_free(boxes, walls, dx, dy)), None)


def _among_outlines(
    moving: Sequence[Placement],
    resting: Sequence[Placement],
    sheet: Size,
    gap_mm: float,
    margin_mm: float,
    outlines: Mapping[str, Outline],
) -> tuple[float, float] | None:
    movers = [placed_outline(placement, outlines.get(placement.print)) for placement in moving]
    if len(moving) > 1 and len(moving) * len(resting) > _MOST_PAIRS:
        left, top, right, bottom = total_bounds(movers)
        movers = [rectangle(right - left, bottom - top, left, top)]
    rest = [placed_outline(placement, outlines.get(placement.print)) for placement in resting]
    return nearest_good_move(movers, rest, sheet, gap_mm=gap_mm, margin_mm=margin_mm)


def _as_one(
    moving: Sequence[Placement], resting: Sequence[Placement], sheet: Size, gap_mm: float, margin_mm: float
) -> tuple[float, float] | None:
    """The answer for the box around all that moves."""
    left, top = min(p.x_mm for p in moving), min(p.y_mm for p in moving)
    right, bottom = max(p.box.right_mm for p in moving), max(p.box.bottom_mm for p in moving)
    layout = Layout(sheet, (*resting, Placement("", left, top, right - left, bottom - top)))
    spot = nearest_good_spot(layout, len(resting), gap_mm=gap_mm, margin_mm=margin_mm)
    return None if spot is None else (spot[0] - left, spot[1] - top)


def _reach(spans: Sequence[tuple[float, float]], start: float, end: float) -> tuple[float, float]:
    """How far all spans may shift, at least and at most, to stay between start and end."""
    return max(start - low for low, _ in spans), min(end - high for _, high in spans)


def _is_free(boxes: Sequence[Rect], walls: Sequence[Rect], dx: float, dy: float) -> bool:
    return not any(
        box.x_mm + dx < wall.right_mm - _SLACK_MM
        and wall.x_mm < box.right_mm + dx - _SLACK_MM
        and box.y_mm + dy < wall.bottom_mm - _SLACK_MM
        and wall.y_mm < box.bottom_mm + dy - _SLACK_MM
        for box in boxes
        for wall in walls
    )
