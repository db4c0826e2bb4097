"""Semi-transparent ink beyond what anti-aliased edges need."""

import numpy as np

from planner.artwork.facts import SoftLevel
from planner.artwork.opencv import opencv
from planner.artwork.planes import FAINT, SOLID, Plane, Planes, strips
from planner.artwork.regions import Grid
from planner.work.ticket import Ticket

WIDTHS_PX = (3, 5, 9, 17, 33)


def soft_levels(planes: Planes, ticket: Ticket | None = None) -> tuple[SoftLevel, ...]:
    """How much partly transparent ink there is in ramps as wide as each of `WIDTHS_PX`, and where.

    An opening by a square keeps what the square fits in, so that edges' narrow ramps drop out.
    """
    if planes.alpha is None:
        return ()
    cv2 = opencv()
    areas = dict.fromkeys(WIDTHS_PX, 0)
    grids = {width: Grid(planes.width, planes.height) for width in WIDTHS_PX}
    halo = WIDTHS_PX[-1]
    for strip, start, end, top in strips(planes.alpha, halo, ticket, rows=256):
        semi = cv2.inRange(strip, FAINT, SOLID - 1)
        if not semi.any():
            continue
        for width in WIDTHS_PX:
            square: Plane = np.ones((width, width), np.uint8)
            # The border counts as clear: a ramp that the picture's edge cuts off is not narrower for it.
            opened = cv2.morphologyEx(semi, cv2.MORPH_OPEN, square, borderType=cv2.BORDER_REFLECT)
            core = np.asarray(opened[start:end], np.uint8)
            found = cv2.countNonZero(core)
            if not found:
                break
            areas[width] += found
            grids[width].add(core, top)
    return tuple(
        SoftLevel(wider_than_px=width, area_px=areas[width], regions=grids[width].regions())
        for width in WIDTHS_PX
        if areas[width]
    )
