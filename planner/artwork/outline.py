"""The outline to cut a print out by: one line around all of its ink, with few corners."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPoint, Polygon, box

from planner.artwork.opencv import opencv
from planner.artwork.planes import FAINT, Planes

TOLERANCE = 0.004
"""The outline keeps within this share of the longer side outside the ink it follows, and never inside."""
_LONGEST = 500
"""Blocks along the longer side; a block with any ink in it counts as ink."""
_BRIDGES = (0.01, 0.02, 0.04, 0.08)
"""Gaps bridged so that parts lying apart make one piece, as shares of the longer side."""
_RECTANGLE = 0.97
"""An outline that fills so much of the picture saves nothing over its box."""

Corners = tuple[tuple[float, float], ...]


def outline_of(planes: Planes) -> Corners:
    """Corners as shares of width and height, from the top left; none where the box serves as well."""
    if planes.alpha is None:
        return ()
    step = max(1, -(-max(planes.width, planes.height) // _LONGEST))
    ink = _blocks(planes.alpha, step) >= FAINT
    if not ink.any():
        return ()
    frame = box(0, 0, planes.width / step, planes.height / step)
    longest = max(ink.shape)
    tolerance = TOLERANCE * longest / 2
    # Contours run through the middle of blocks: half a block's diagonal more covers their corners.
    around = _around(ink, longest).buffer(0.75).simplify(tolerance).buffer(tolerance, join_style="mitre")
    clipped = around.intersection(frame)
    outline = clipped if isinstance(clipped, Polygon) else clipped.convex_hull
    if not isinstance(outline, Polygon) or outline.area >= _RECTANGLE * frame.area:
        return ()
    corners = outline.exterior.simplify(tolerance / 4).coords[:-1]
    return tuple((min(1.0, x * step / planes.width), min(1.0, y * step / planes.height)) for x, y in corners)


def at_size(corners: Corners, width_mm: float, height_mm: float) -> Corners:
    """The outline of a print of this size, in millimetres from its top left."""
    return tuple((round(x * width_mm, 3), round(y * height_mm, 3)) for x, y in corners)


def _blocks(alpha: NDArray[np.uint8], step: int) -> NDArray[np.uint8]:
    """The highest alpha of each block."""
    # Whole rows are compared in both directions: along a row numpy takes ten times as long.
    return _highest_rows(np.ascontiguousarray(_highest_rows(alpha, step).T), step).T


def _highest_rows(plane: NDArray[np.uint8], step: int) -> NDArray[np.uint8]:
    """Of each `step` rows the highest values, column by column."""
    return np.stack([plane[row : row + step].max(axis=0) for row in range(0, plane.shape[0], step)])


def _around(ink: NDArray[np.bool_], longest: int) -> Polygon:
    """One polygon through the outermost blocks of all ink."""
    cv2 = opencv()
    margin = int(longest * _BRIDGES[-1]) + 2
    plane = np.pad(ink.astype(np.uint8), margin)
    found = _contours(plane)
    for bridge in _BRIDGES:
        if len(found) == 1:
            break
        across = 2 * max(1, round(bridge * longest / 2)) + 1
        disc = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (across, across))
        found = _contours(cv2.morphologyEx(plane, cv2.MORPH_CLOSE, disc))
    middles = [np.asarray(contour[:, 0, :] - margin + 0.5, np.float64) for contour in found]
    if len(found) == 1 and len(found[0]) >= 4:
        polygon = Polygon(middles[0])
        return polygon if polygon.is_valid else _whole(polygon, middles)
    return _hull(middles)


def _whole(polygon: Polygon, middles: Sequence[NDArray[np.float64]]) -> Polygon:
    """A contour that touches itself, mended by a hair; strokes one block wide are lost by that."""
    mended = polygon.buffer(0.1)
    return mended if isinstance(mended, Polygon) else _hull(middles)


def _hull(middles: Sequence[NDArray[np.float64]]) -> Polygon:
    hull = MultiPoint(np.concatenate(middles)).convex_hull.buffer(0.1)
    assert isinstance(hull, Polygon)
    return hull


def _contours(plane: NDArray[np.uint8]) -> Sequence[NDArray[np.int32]]:
    cv2 = opencv()
    found, _ = cv2.findContours(plane, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    return list(found)
