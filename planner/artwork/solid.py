"""Unbroken solid areas, by the square that fits into them: what feels heavy and creases."""

import numpy as np

from planner.artwork.facts import SolidLevel
from planner.artwork.opencv import opencv
from planner.artwork.planes import SOLID, Planes
from planner.artwork.regions import Grid

_WORK_SIDE = 512
_SIDES = tuple(sorted({round(2 ** (half / 2)) for half in range(4, 18)}))
"""In cells of the reduced picture: 4 to 362."""


def solid_levels(planes: Planes) -> tuple[SolidLevel, ...]:
    """How much solid ink there is in blocks of at least each side, smallest side first."""
    cv2 = opencv()
    opaque = (planes.sample[..., 3] >= SOLID).astype(np.uint8)
    rows, columns = opaque.shape
    scale = max(1.0, max(rows, columns) / _WORK_SIDE)
    size = (max(1, round(columns / scale)), max(1, round(rows / scale)))
    reduced = cv2.resize(opaque * 255, size, interpolation=cv2.INTER_AREA)
    solid = cv2.threshold(reduced, 240, 1, cv2.THRESH_BINARY)[1]
    cell_px = planes.width / size[0]
    cell_area = cell_px * (planes.height / size[1])
    found = []
    for side in _SIDES:
        square = np.ones((side, side), np.uint8)
        opened = cv2.morphologyEx(
            solid, cv2.MORPH_OPEN, square, borderType=cv2.BORDER_CONSTANT, borderValue=0
        )
        cells = cv2.countNonZero(opened)
        if not cells:
            break
        grid = Grid(size[0], size[1])
        grid.add(np.asarray(opened, np.uint8), 0)
        found.append(
            SolidLevel(
                side_px=round(side * cell_px, 1), area_px=round(cells * cell_area), regions=grid.regions(4)
            )
        )
    return tuple(found)
