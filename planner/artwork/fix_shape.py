"""Fixes that go by shape, which is to say by alpha."""

import math

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork.colour import rgb_of_hex
from planner.artwork.opencv import opencv
from planner.artwork.planes import FAINT, INK, SOLID, Plane
from planner.artwork.specks import SPECK_ALPHA, speck_boxes
from planner.artwork.strip_work import alpha_of, in_strips
from planner.job.fixes import Halftone, HardenEdges, OutlineInk, RemoveSpecks, Thicken

_SCREEN_STEPS = 1024


def without_specks(picture: Image.Image, step: RemoveSpecks) -> Image.Image:
    """Isolated bits smaller than the step says made clear, with the faint rim around them."""
    cv2 = opencv()
    alpha = alpha_of(picture)
    most = math.ceil(step.smaller_than_px) - 1
    for left, top, width, height in speck_boxes(alpha, most) if most >= 1 else ():
        around = alpha[max(0, top - 1) : top + height + 1, max(0, left - 1) : left + width + 1]
        ink = cv2.threshold(around, SPECK_ALPHA - 1, 1, cv2.THRESH_BINARY)[1]
        _, labels = cv2.connectedComponents(ink, connectivity=8)
        y, x = min(top, 1), min(left, 1)
        inside = labels[y : y + height, x : x + width]
        # Another bit's corner may reach into the box: the speck is the one that fills it.
        speck = int(np.bincount(inside[inside > 0]).argmax())
        rim = cv2.dilate((labels == speck).astype(np.uint8), np.ones((3, 3), np.uint8))
        around[(labels == speck) | ((rim > 0) & (ink == 0))] = 0
    mended = picture.copy()
    mended.putalpha(Image.fromarray(alpha))
    return mended


def hardened(picture: Image.Image, step: HardenEdges) -> Image.Image:
    """Every pixel solid or clear."""
    mended = picture.copy()
    mended.putalpha(picture.getchannel("A").point([255 if a >= step.threshold else 0 for a in range(256)]))
    return mended


def halftoned(picture: Image.Image, step: Halftone) -> Image.Image:
    """Broad semi-transparent areas as solid dots, of which as much is ink as was opaque before.

    Narrow ramps along edges stay: dots would only fray them.
    """
    levels = _screen_levels()
    turn = math.radians(step.angle_deg)
    cos, sin = math.cos(turn) / step.cell_px, math.sin(turn) / step.cell_px

    def screened(strip: Plane, top: int) -> Plane:
        cv2 = opencv()
        alpha = strip[..., 3]
        semi = cv2.inRange(alpha, FAINT, SOLID - 1)
        broad = cv2.dilate(
            cv2.morphologyEx(semi, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8)), np.ones((3, 3), np.uint8)
        )
        y, x = np.nonzero(broad & semi)
        u, v = x * cos + (y + top) * sin, (y + top) * cos - x * sin
        height = (np.cos(2 * np.pi * u) + np.cos(2 * np.pi * v)) / 4 + 0.5
        level = levels[np.minimum((height * _SCREEN_STEPS).astype(np.intp), _SCREEN_STEPS - 1)]
        alpha[y, x] = np.where(alpha[y, x] / 255.0 > level, 255, 0)
        return strip

    return in_strips(picture, 8, screened)


def _screen_levels() -> NDArray[np.float64]:
    """For each height of the dot's profile, from 0 to 1, the share of a cell that lies above it."""
    phase = (np.arange(256) + 0.5) / 256
    heights = (np.cos(2 * np.pi * phase)[:, None] + np.cos(2 * np.pi * phase)[None, :]) / 4 + 0.5
    counts, _ = np.histogram(heights, bins=_SCREEN_STEPS, range=(0, 1))
    return np.asarray(1.0 - (np.cumsum(counts) - counts / 2) / counts.sum())


def thickened(picture: Image.Image, step: Thicken) -> Image.Image:
    """The ink grown outwards, each new pixel in the colour of the ink nearest to it."""

    def grown(strip: Plane, _top: int) -> Plane:
        cv2 = opencv()
        outside = cv2.threshold(strip[..., 3], INK - 1, 1, cv2.THRESH_BINARY_INV)[1]
        if not outside.any() or outside.all():
            return strip
        distance, labels = cv2.distanceTransformWithLabels(
            outside, cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL
        )
        y, x = np.nonzero((outside > 0) & (distance < step.by_px + 1))
        nearest = _place_of_label(labels, outside)[labels[y, x]]
        cover = np.clip(step.by_px + 1 - distance[y, x], 0, 1)
        strip[y, x, :3] = strip[..., :3].reshape(-1, 3)[nearest]
        strip[y, x, 3] = np.maximum(strip[y, x, 3], np.round(255 * cover).astype(np.uint8))
        inner_y, inner_x = np.nonzero((outside == 0) & (strip[..., 3] < SOLID))
        rim = cv2.dilate(outside, np.ones((5, 5), np.uint8))[inner_y, inner_x] > 0
        strip[inner_y[rim], inner_x[rim], 3] = 255
        return strip

    return in_strips(picture, math.ceil(step.by_px) + 3, grown)


def _place_of_label(labels: NDArray[np.int32], outside: Plane) -> NDArray[np.intp]:
    """Index of the ink pixel that each label of OpenCV's distance transform stands for."""
    ink = np.flatnonzero(outside.ravel() == 0)
    places = np.zeros(int(labels.max()) + 1, np.intp)
    places[labels.ravel()[ink]] = ink
    return places


def outlined(picture: Image.Image, step: OutlineInk) -> Image.Image:
    """A line of one colour around the ink; the picture grows by its width on every side."""
    margin = round(step.by_px)
    wide = Image.new("RGBA", (picture.width + 2 * margin, picture.height + 2 * margin))
    wide.paste(picture, (margin, margin))
    colour = np.array(rgb_of_hex(step.colour), np.float32)

    def lined(strip: Plane, _top: int) -> Plane:
        cv2 = opencv()
        outside = cv2.threshold(strip[..., 3], INK - 1, 1, cv2.THRESH_BINARY_INV)[1]
        if outside.all():
            return strip
        distance = cv2.distanceTransform(outside, cv2.DIST_L2, 5)
        y, x = np.nonzero((distance < step.by_px + 1) & (strip[..., 3] < 255))
        cover = np.clip(step.by_px + 1 - distance[y, x], 0, 1)
        over = strip[y, x, 3] / 255.0
        both = over + cover * (1 - over)
        mixed = strip[y, x, :3] * over[:, None] + colour * (cover * (1 - over))[:, None]
        strip[y, x, :3] = np.round(mixed / np.maximum(both, 1e-9)[:, None]).astype(np.uint8)
        strip[y, x, 3] = np.round(255 * both).astype(np.uint8)
        return strip

    return in_strips(wide, math.ceil(step.by_px) + 3, lined)
