"""A piece's outline as one sound polygon, whatever came in."""

from functools import lru_cache
from math import isfinite

from shapely.geometry import Polygon
from shapely.validation import make_valid

from planner.sheets.problem import Piece

Outline = tuple[tuple[float, float], ...]


@lru_cache(maxsize=1024)
def sound_outline(outline: Outline | None) -> Outline | None:
    """The outline without holes and crossings, or None where the whole rectangle must do.

    What crosses itself, like a bow-tie, becomes its convex hull: all of it is printed, so all must be
    inside. Numbers that are none, fewer than three corners, or no area: None.
    """
    if outline is None or len(set(outline)) < 3 or not all(isfinite(v) for corner in outline for v in corner):
        return None
    shape = Polygon(outline)
    if shape.is_valid and shape.area > 0:
        return outline
    hull = make_valid(shape).convex_hull
    if not isinstance(hull, Polygon) or hull.area <= 0:
        return None
    return corners_of(hull)


def corners_of(shape: Polygon) -> Outline:
    """Corners without the first one said again at the end."""
    return tuple((corner[0], corner[1]) for corner in shape.exterior.coords[:-1])


def rectangle(width_mm: float, height_mm: float, x_mm: float = 0.0, y_mm: float = 0.0) -> Polygon:
    """An upright rectangle from its top left corner."""
    right_mm, bottom_mm = x_mm + width_mm, y_mm + height_mm
    return Polygon([(x_mm, y_mm), (right_mm, y_mm), (right_mm, bottom_mm), (x_mm, bottom_mm)])


def covered_area(piece: Piece) -> float:
    """Area in mm² that one copy covers: inside its outline, of the rectangle where it has none."""
    area_mm2 = _area_inside(piece.outline)
    return piece.width_mm * piece.height_mm if area_mm2 is None else area_mm2


@lru_cache(maxsize=1024)
def _area_inside(outline: Outline | None) -> float | None:
    sound = sound_outline(outline)
    return None if sound is None else float(Polygon(sound).area)
