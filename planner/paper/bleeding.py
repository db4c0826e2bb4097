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
    cv2 = opencv()
    colours = np.empty((*pixels.shape[:2], 3), np.uint8)
    for top in range(0, len(pixels), _ROWS_EACH):
        first, last = max(0, top - REACH_PX), min(len(pixels), top + _ROWS_EACH + REACH_PX)
        rows = slice(top - first, min(top + _ROWS_EACH, last) - first)
        part = _bled(pixels[first:last], rows)
        cv2.cvtColor(part, cv2.COLOR_RGBA2RGB, dst=colours[top : top + _ROWS_EACH])
    return colours


def _bled(part: Pixels, rows: slice) -> Pixels:
    """Some rows with bled colours, RGBA still, alpha bled too; `part` has a rim of rows around them."""
    cv2 = opencv()
    clear = cv2.compare(cv2.extractChannel(part, 3), 0, cv2.CMP_EQ)
    if not cv2.hasNonZero(clear[rows]) or cv2.minMaxLoc(clear)[0] > 0:
        return part[rows]
    apart, nearest = cv2.distanceTransformWithLabels(
        clear, cv2.DIST_L2, cv2.DIST_MASK_3, labelType=cv2.DIST_LABEL_PIXEL
    )
    near = np.flatnonzero(cv2.inRange(apart[rows], 0.5, REACH_PX))
    # Each pixel of ink has a label of its own, in the order of rows: so labels count through them.
    ink = np.flatnonzero(clear == 0)
    # Four bytes as one number: picked several times faster than three.
    whole = np.ascontiguousarray(part).view(np.uint32).reshape(-1)
    found = np.ascontiguousarray(part[rows]).copy()
    found.view(np.uint32).reshape(-1)[near] = whole[ink[nearest[rows].reshape(-1)[near] - 1]]
    return found
