"""Help for a hand that moves pieces among outlines: contact at the gap, and the nearest good spot.

Which moves bring one outline into another is the Minkowski sum of the resting outline and the moving one
mirrored; kept a gap apart, that sum grown by the gap (the no-fit polygon of the cutting literature). Only
the part of it near the hand is made, for the nearest good spot mostly is a few millimetres away.
"""

from collections.abc import Sequence
from math import cos, hypot, pi

import numpy as np
import numpy.typing as npt
import shapely
from shapely import affinity
from shapely.errors import GEOSException
from shapely.geometry import MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from planner.measures.geometry import Size
from planner.sheets.around import Ground
from planner.sheets.validate import OUTLINE_TOLERANCE_MM

_SLACK_MM = OUTLINE_TOLERANCE_MM / 2
"""Taken off the gap, so that a hollow that fits exactly is found: half of what the validator lets pass."""
_NEAR_MM = 6.0
"""How far the exact answer is looked for; farther off a grid finds the room, and the last bit is exact."""
_DEEPEST_MM = 1.0
"""How deep outlines may lie in each other to be pushed apart under a moving hand, which waits for no more
than a frame."""
_ARC_STEPS = 16
_MOST_STEPS = 40
"""Towards a contact straight across or down: grazing past an outline takes ever smaller ones."""
_GRID_MM = 0.001
"""What shapes are joined on where floats upset the arithmetic: slower, hence not from the outset."""

_Corners = npt.NDArray[np.float64]


def nearest_good_move(
    moving: Sequence[Polygon],
    resting: Sequence[Polygon],
    sheet: Size,
    *,
    gap_mm: float,
    margin_mm: float,
) -> tuple[float, float] | None:
    """The shortest move (right, down) in mm after which nothing is in the way of the outlines, or None.

    Outlines are as they lie on the sheet, without holes; those that move keep their places among each
    other. (0, 0) where they are well already. A move into a hollow counts as any other.
    """
    left, top, right, bottom = shapely.total_bounds(list(moving))
    inside = (
        margin_mm - left - _SLACK_MM,
        margin_mm - top - _SLACK_MM,
        sheet.width_mm - margin_mm - right + _SLACK_MM,
        sheet.height_mm - margin_mm - bottom + _SLACK_MM,
    )
    if inside[2] < inside[0] or inside[3] < inside[1]:
        return None
    home = min(max(0.0, inside[0]), inside[2]), min(max(0.0, inside[1]), inside[3])
    reach_mm = hypot(*home) + _NEAR_MM
    found = _free_move(moving, resting, _around((0.0, 0.0), reach_mm, inside), gap_mm)
    if found is not None and hypot(*found) <= reach_mm:
        return found
    ground = Ground(sheet, gap_mm=gap_mm, margin_mm=margin_mm, taken=resting)
    far = ground.nearest_move(MultiPolygon(moving))
    if far is None:
        return found
    return _free_move(moving, resting, _around(far, 2 * ground.cell_mm, inside), gap_mm) or far


def contact_move(
    moving: MultiPolygon, resting: Sequence[Polygon], *, gap_mm: float, reach_mm: float
) -> tuple[float, float] | None:
    """The shortest move (right, down) that brings outlines just the gap from the nearest that rests.

    (0, 0) where they are there already; None where nothing is within reach. What is too near goes apart,
    unless it lies deep in another.
    """
    near = _near(moving, resting, gap_mm + reach_mm)
    if not near:
        return None
    distances = shapely.distance(moving, near)
    nearest = int(distances.argmin())
    distance = float(distances[nearest])
    if distance < gap_mm - _SLACK_MM:
        return _push(moving, near, gap_mm, min(reach_mm, gap_mm + _DEEPEST_MM))
    # Two shapes moved towards each other along their shortest distance are nearer by just the move.
    share = (distance - gap_mm) / distance if distance > 0 else 0.0
    own, other = nearest_points(moving, near[nearest])
    move = (other.x - own.x) * share, (other.y - own.y) * share
    is_free = float(shapely.distance(affinity.translate(moving, *move), near).min()) >= gap_mm - _SLACK_MM
    return move if is_free and hypot(*move) <= reach_mm else None


def _push(
    moving: MultiPolygon, near: Sequence[Polygon], gap_mm: float, most_mm: float
) -> tuple[float, float] | None:
    """The shortest move apart, if it is no longer than so much."""
    # Where both hold the same disc, no move shorter than its width and the gap parts them.
    disc_mm = max(0.0, most_mm - gap_mm)
    shared = shapely.intersection(moving, near)
    if not shapely.is_empty(shapely.buffer(shared, -max(disc_mm / 2, _GRID_MM))).all():
        return None
    found = _free_move(list(moving.geoms), near, box(-most_mm, -most_mm, most_mm, most_mm), gap_mm)
    return found if found is not None and hypot(*found) <= most_mm else None


def contact_along(
    moving: MultiPolygon,
    resting: Sequence[Polygon],
    *,
    gap_mm: float,
    reach_mm: float,
    is_across: bool,
) -> float | None:
    """The shortest move straight across (or down) that brings outlines just the gap from one that rests."""
    near = _near(moving, resting, gap_mm + reach_mm)
    if not near:
        return None
    ways = [_way_along(moving, near, gap_mm, reach_mm, is_across, sign) for sign in (1, -1)]
    return min((way for way in ways if way is not None), key=abs, default=None)


def _way_along(
    moving: MultiPolygon,
    near: Sequence[Polygon],
    gap_mm: float,
    reach_mm: float,
    is_across: bool,
    sign: int,
) -> float | None:
    # As far as the clear distance is always safe to go, so no contact is stepped over.
    way = 0.0
    for _ in range(_MOST_STEPS):
        moved = (
            affinity.translate(moving, sign * way, 0)
            if is_across
            else affinity.translate(moving, 0, sign * way)
        )
        clear = float(shapely.distance(moved, near).min()) - gap_mm
        if clear < -_SLACK_MM:
            return None
        if clear <= _SLACK_MM / 2:
            return sign * way
        way += clear
        if way > reach_mm:
            return None
    return None


def _near(moving: MultiPolygon, resting: Sequence[Polygon], within_mm: float) -> list[Polygon]:
    """What rests within so much of the moving outlines' box."""
    left, top, right, bottom = moving.bounds
    window = box(left - within_mm, top - within_mm, right + within_mm, bottom + within_mm)
    return [rest for rest in resting if rest.intersects(window)]


def _around(
    at: tuple[float, float], reach_mm: float, inside: tuple[float, float, float, float]
) -> BaseGeometry:
    """All moves on the sheet that differ from one by no more than the reach on each axis."""
    return box(at[0] - reach_mm, at[1] - reach_mm, at[0] + reach_mm, at[1] + reach_mm).intersection(
        box(*inside)
    )


def _free_move(
    moving: Sequence[Polygon], resting: Sequence[Polygon], near: BaseGeometry, gap_mm: float
) -> tuple[float, float] | None:
    """The shortest good move among those near by."""
    free = near.difference(_barred(moving, resting, near, gap_mm))
    if free.is_empty:
        return None
    _, at = nearest_points(Point(0, 0), free)
    return at.x, at.y


def _barred(
    moving: Sequence[Polygon], resting: Sequence[Polygon], near: BaseGeometry, gap_mm: float
) -> BaseGeometry:
    """All moves near by after which two outlines are nearer than the gap."""
    # Never quite nothing: between shapes that only touch, joining leaves holes that are no room.
    gap_mm = max(_GRID_MM, gap_mm - _SLACK_MM)
    low_x, low_y, high_x, high_y = near.bounds
    window = (low_x - gap_mm, low_y - gap_mm, high_x + gap_mm, high_y + gap_mm)
    parts: list[Polygon] = []
    for mover in moving:
        left, top, right, bottom = mover.bounds
        swept = (left + window[0], top + window[1], right + window[2], bottom + window[3])
        for rest in resting:
            a, b, c, d = rest.bounds
            if a <= swept[2] and swept[0] <= c and b <= swept[3] and swept[1] <= d:
                parts += _colliding(mover, rest, window)
    try:
        met = shapely.union_all(parts)
    except GEOSException:
        met = shapely.union_all(parts, grid_size=_GRID_MM)
    # Arcs are drawn by chords, which must not come nearer than the gap either.
    return met.buffer(gap_mm / cos(pi / 4 / _ARC_STEPS), quad_segs=_ARC_STEPS)


def _colliding(mover: Polygon, rest: Polygon, window: tuple[float, float, float, float]) -> list[Polygon]:
    """Shapes that together cover all moves in the window after which the two share a point.

    Either their edges meet, which for two edges is a parallelogram of moves, or one holds all of the other,
    any of its corners included.
    """
    own, other = _ring(mover), _ring(rest)
    starts = other[:-1, None, :] - own[None, :-1, :]
    along = (other[1:] - other[:-1])[:, None, :]
    back = (own[:-1] - own[1:])[None, :, :]
    quads = np.stack([starts, starts + along, starts + along + back, starts + back], axis=2).reshape(-1, 4, 2)
    low, high = quads.min(axis=1), quads.max(axis=1)
    seen = (low[:, 0] <= window[2]) & (high[:, 0] >= window[0])
    seen &= (low[:, 1] <= window[3]) & (high[:, 1] >= window[1])
    along_x, along_y = (quads[:, 1] - quads[:, 0]).T
    back_x, back_y = (quads[:, 3] - quads[:, 0]).T
    # Edges that run alike make no area; what they bar, their neighbours do too.
    seen &= np.abs(along_x * back_y - along_y * back_x) > _GRID_MM**2
    wholes = [Polygon(other - own[0]), Polygon(other[0] - own)]
    return [*shapely.polygons(quads[seen]), *(whole for whole in wholes if whole.intersects(box(*window)))]


def _ring(shape: Polygon) -> _Corners:
    return np.asarray(shape.exterior.coords, dtype=np.float64)[:, :2]
