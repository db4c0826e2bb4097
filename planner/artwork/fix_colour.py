"""Fixes that go by colour: knock out a ground, exchange a flat colour."""

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork.colour import ciede2000, lab_of, rgb_of_hex
from planner.artwork.opencv import opencv
from planner.artwork.planes import FAINT, Plane
from planner.artwork.strip_work import in_strips
from planner.job.fixes import KnockOut, Recolour

_BITS = 6
_EDGE_PX = 2
"""How far an anti-aliased edge reaches beyond what was knocked out."""
_NEAR = 3
"""Within so many pixels an edge pixel's own ink is looked for."""
_OWN_INK = 0.97


def _distances(hex_colour: str) -> NDArray[np.float32]:
    """CIEDE2000 to one colour for all colours, in cells of four levels; the colour itself is at 0.

    A table, since the formula on every pixel of a large picture would take a minute.
    """
    colour = rgb_of_hex(hex_colour)
    cell = 1 << 8 - _BITS
    levels = [np.arange(0, 256, cell) + channel % cell for channel in colour]
    grid = np.stack(np.meshgrid(*levels, indexing="ij"), axis=-1)
    return ciede2000(lab_of(grid), lab_of(colour)).astype(np.float32).ravel()


def _cells(strip: Plane) -> NDArray[np.int32]:
    high = (strip[..., :3] >> 8 - _BITS).astype(np.int32)
    return (high[..., 0] << 2 * _BITS) | (high[..., 1] << _BITS) | high[..., 2]


def knocked_out(picture: Image.Image, step: KnockOut) -> Image.Image:
    """One colour made clear; edge pixels that were mixed with it get their own ink and a part of alpha."""
    like = _alike(picture, step)
    gone = _from_edges(like, picture) if step.from_edges else like
    ground = np.array(rgb_of_hex(step.colour), np.float64)
    halo = _EDGE_PX + _NEAR

    def clear(strip: Plane, top: int) -> Plane:
        return _cleared(strip, gone[top : top + strip.shape[0]], ground)

    return in_strips(picture, halo, clear)


def _alike(picture: Image.Image, step: KnockOut) -> Plane:
    """255 where the colour is near enough."""
    distances = _distances(step.colour)
    width, height = picture.size
    like = np.zeros((height, width), np.uint8)
    for top in range(0, height, 256):
        bottom = min(height, top + 256)
        strip = np.asarray(picture.crop((0, top, width, bottom)))
        like[top:bottom] = np.where(distances[_cells(strip)] <= step.tolerance_de, 255, 0)
    return like


def _from_edges(like: Plane, picture: Image.Image) -> Plane:
    """Of what is alike, that which hangs together with the picture's edge or with clear parts."""
    cv2 = opencv()
    clear = np.asarray(picture.getchannel("A")) < FAINT
    open_ = cv2.copyMakeBorder(np.where(clear, 255, like), 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=255)
    cv2.floodFill(open_, None, (0, 0), 128)
    reached = open_[1:-1, 1:-1] == 128
    return np.where(reached & (like > 0), 255, 0).astype(np.uint8)


def _cleared(strip: Plane, gone: Plane, ground: NDArray[np.float64]) -> Plane:
    cv2 = opencv()
    strip[..., 3][gone > 0] = 0
    side = 2 * _EDGE_PX + 1
    beside = cv2.dilate(gone, np.ones((side, side), np.uint8))
    y, x = np.nonzero((beside > 0) & (gone == 0) & (strip[..., 3] >= FAINT))
    if len(y) == 0:
        return strip
    seen = strip[y, x, :3].astype(np.float64) - ground
    ink = _own_ink(strip, gone, y, x, ground)
    along = np.einsum("ij,ij->i", seen, ink) / np.maximum(1e-9, np.einsum("ij,ij->i", ink, ink))
    cover = np.clip(along, 0.0, 1.0)
    mixed = cover < _OWN_INK
    y, x, cover, ink = y[mixed], x[mixed], cover[mixed], ink[mixed]
    strip[y, x, :3] = np.clip(np.round(ink + ground), 0, 255).astype(np.uint8)
    strip[y, x, 3] = np.round(strip[y, x, 3] * cover).astype(np.uint8)
    return strip


def _own_ink(
    strip: Plane, gone: Plane, y: NDArray[np.intp], x: NDArray[np.intp], ground: NDArray[np.float64]
) -> NDArray[np.float64]:
    """For each place the colour around it that is farthest from the ground, as difference from it."""
    height, width = gone.shape
    best = strip[y, x, :3].astype(np.float64) - ground
    farthest = np.einsum("ij,ij->i", best, best)
    for dy in range(-_NEAR, _NEAR + 1):
        for dx in range(-_NEAR, _NEAR + 1):
            near_y, near_x = np.clip(y + dy, 0, height - 1), np.clip(x + dx, 0, width - 1)
            colour = strip[near_y, near_x, :3].astype(np.float64) - ground
            far = np.where(gone[near_y, near_x] > 0, 0.0, np.einsum("ij,ij->i", colour, colour))
            better = far > farthest
            best[better], farthest[better] = colour[better], far[better]
    return best


def recoloured(picture: Image.Image, step: Recolour) -> Image.Image:
    """One flat colour exchanged; what blends into it is shifted in proportion, so that edges stay smooth."""
    distances = _distances(step.colour)
    shift = np.array(rgb_of_hex(step.to), np.float32) - np.array(rgb_of_hex(step.colour), np.float32)
    reach = max(step.tolerance_de, 1e-6)
    weights = np.clip((2 * reach - distances) / reach, 0.0, 1.0)

    def exchange(strip: Plane, _top: int) -> Plane:
        weight = weights[_cells(strip)]
        y, x = np.nonzero(weight)
        moved = strip[y, x, :3].astype(np.float32) + weight[y, x, None] * shift
        strip[y, x, :3] = np.clip(np.round(moved), 0, 255).astype(np.uint8)
        return strip

    return in_strips(picture, 0, exchange)
