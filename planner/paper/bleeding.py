"""Ink colours carried a little into the clear around them, so that no renderer makes a dark rim of it.

A PDF keeps colours and alpha apart, and who draws a picture smaller mixes each on its own: what stands
under clear pixels, often black, then shows at the edges of ink.
"""

import numpy as np
from numpy.typing import NDArray

from planner.artwork.opencv import opencv

Pixels = NDArray[np.uint8]

REACH_PX = 8
"""As far as a picture of eight times a renderer's resolution mixes."""
_ROWS_EACH = 512
"""A strip's distances and labels take eight bytes a pixel."""


def bled(pixels: Pixels) -> Pixels:
    """The colours of an RGBA picture, (height, width, 3): clear pixels near ink take the nearest ink's.

    Colours of pixels that are seen at all are kept exactly, as are those of clear pixels far from ink.
    """
    colours = np.ascontiguousarray(pixels[..., :3])
    for top in range(0, len(pixels), _ROWS_EACH):
        first, last = max(0, top - REACH_PX), min(len(pixels), top + _ROWS_EACH + REACH_PX)
        rows = slice(top - first, min(top + _ROWS_EACH, last) - first)
        _bleed(pixels[first:last], rows, colours[top : top + _ROWS_EACH])
    return colours


def _bleed(part: Pixels, rows: slice, colours: Pixels) -> None:
    """Write the bled colours of some rows; `part` has a rim of rows around them."""
    cv2 = opencv()
    clear = (part[..., 3] == 0).astype(np.uint8)
    if not clear[rows].any() or clear.all():
        return
    apart, nearest = cv2.distanceTransformWithLabels(
        clear, cv2.DIST_L2, cv2.DIST_MASK_3, labelType=cv2.DIST_LABEL_PIXEL
    )
    near = (clear[rows] > 0) & (apart[rows] <= REACH_PX)
    # Each pixel of ink has a label of its own, in the order of rows: so labels count through them.
    ink = np.flatnonzero(clear == 0)
    colours[near] = part.reshape(-1, 4)[ink[nearest[rows][near] - 1], :3]
