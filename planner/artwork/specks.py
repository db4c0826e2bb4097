"""Isolated bits of ink, by size."""

import numpy as np
from numpy.typing import NDArray

from planner.artwork.facts import Specks
from planner.artwork.opencv import opencv
from planner.artwork.planes import Plane, Planes, strips
from planner.artwork.regions import Grid
from planner.work.ticket import Ticket

MOST_PX = 64
"""Larger bits are no specks at any print size that makes sense."""
MOST_FOUND = 100_000
"""A picture with so many specks is noise: the rest is not looked at, there are at least so many."""
_BUSY = 0.05
"""Share of pixels unlike their neighbour from where on following contours costs more than labelling."""
SPECK_ALPHA = 32
"""Even faint dust gets its underbase and adhesive."""
STEPS_PX = (*range(1, 17), 18, 20, 23, 26, 29, 32, 36, 40, 45, 51, 57, 64)


def specks_of(planes: Planes, ticket: Ticket | None = None) -> tuple[Specks, ...]:
    """Specks by size, smallest first; each step counts all smaller ones too."""
    if planes.alpha is None:
        return ()
    boxes = speck_boxes(planes.alpha, MOST_PX, ticket)
    across = boxes[:, 2:].max(axis=1) if len(boxes) else np.empty(0, np.int64)
    found = []
    grid = Grid(planes.width, planes.height)
    below = 0
    for step in STEPS_PX:
        here = (across > below) & (across <= step)
        if here.any():
            grid.add_points(
                boxes[here, 0] + boxes[here, 2] // 2,
                boxes[here, 1] + boxes[here, 3] // 2,
            )
            count = int(np.count_nonzero(across <= step))
            found.append(Specks(across_px=step, count=count, regions=grid.regions()))
        below = step
    return tuple(found)


def speck_boxes(alpha: Plane, most_px: int, ticket: Ticket | None = None) -> NDArray[np.int64]:
    """Left, top, width, height of each bit of ink no larger than `most_px` either way.

    Of more than `MOST_FOUND`, those further up.
    """
    cv2 = opencv()
    width = alpha.shape[1]
    found: list[tuple[int, int, int, int]] = []
    for strip, start, end, top in strips(alpha, most_px + 2, ticket, rows=384):
        ink = cv2.threshold(strip, SPECK_ALPHA - 1, 255, cv2.THRESH_BINARY)[1]
        rows = strip.shape[0]
        cut_above, cut_below = top - start > 0, top - start + rows < alpha.shape[0]
        for x, y, w, h in _boxes(ink).tolist():
            if max(w, h) > most_px or not start <= y < end:
                continue
            if (cut_above and y == 0) or (cut_below and y + h == rows) or w == width:
                continue
            found.append((x, y - start + top, w, h))
        if len(found) >= MOST_FOUND:
            break
    return np.array(found, np.int64).reshape(-1, 4)


def _boxes(ink: Plane) -> NDArray[np.int32]:
    """Left, top, width, height of each piece that hangs together, corners included."""
    cv2 = opencv()
    some = ink[::8]
    if np.count_nonzero(some[:, 1:] != some[:, :-1]) > _BUSY * some.size:
        _, _, stats, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
        return np.asarray(stats[1:, :4], np.int32)
    contours, levels = cv2.findContours(ink, cv2.RETR_CCOMP, cv2.CHAIN_APPROX_SIMPLE)
    outermost = np.flatnonzero(levels[0][:, 3] == -1) if contours else ()
    return np.array([cv2.boundingRect(contours[at]) for at in outermost], np.int32).reshape(-1, 4)
