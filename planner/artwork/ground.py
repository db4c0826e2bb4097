"""An opaque ground around a motif, told from a photograph that is meant to be a rectangle."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.artwork.colour import ciede2000, hex_of_rgb, lab_of
from planner.artwork.facts import Ground, InkBox
from planner.artwork.opencv import opencv
from planner.artwork.planes import SOLID, Planes

_RING_SOLID = 0.985
_RING_SAME = 0.95
"""Share of the edge that must be of one colour; a motif may touch it here and there."""
_SAME_DE = 4.0
_SMOOTH_DE = 3.0
"""How near a gradient's edge must come to a plane through its colours."""
_LEAST_SHARE = 0.08


@dataclass(frozen=True, slots=True)
class Edges:
    """What the four edges of the ink box say."""

    rectangle: bool
    ground: Ground | None


def edges_of(planes: Planes, ink: InkBox) -> Edges:
    """Whether the ink ends in four straight edges, and whether they are those of a flat ground."""
    colours, places = _ring(planes, ink)
    if planes.alpha is not None and float(np.mean(colours[:, 3] >= SOLID)) < _RING_SOLID:
        return Edges(rectangle=False, ground=None)
    solid = colours[:, 3] >= SOLID
    lab = lab_of(colours[solid, :3])
    middle = np.median(colours[solid, :3], axis=0)
    near = ciede2000(lab, lab_of(middle)) <= _SAME_DE
    if float(near.mean()) >= _RING_SAME:
        share = _share(planes, ink, lambda _x, _y, rgb: ciede2000(lab_of(rgb), lab_of(middle)))
        if share >= _LEAST_SHARE:
            return Edges(True, Ground(hex=hex_of_rgb(np.round(middle)), share=round(share, 4)))
        return Edges(True, None)
    return Edges(True, _gradient(planes, ink, colours[solid, :3], places[solid]))


def _ring(planes: Planes, ink: InkBox) -> tuple[NDArray[np.uint8], NDArray[np.float64]]:
    """Colours on the ink box's edge, one pixel in from it where there is room, and their places."""
    inset = 1 if min(ink.width_px, ink.height_px) > 8 else 0
    left, top = ink.left_px + inset, ink.top_px + inset
    right, bottom = ink.left_px + ink.width_px - inset, ink.top_px + ink.height_px - inset
    picture = planes.picture
    sides = (
        ((left, top, right, top + 1), 0),
        ((left, bottom - 1, right, bottom), 0),
        ((left, top, left + 1, bottom), 1),
        ((right - 1, top, right, bottom), 1),
    )
    colours, places = [], []
    for box, axis in sides:
        pixels = np.asarray(picture.crop(box).convert("RGBA")).reshape(-1, 4)
        every = max(1, len(pixels) // 1000)
        along = np.arange(0, len(pixels), every)
        colours.append(pixels[::every])
        x = box[0] + (along if axis == 0 else 0 * along)
        y = box[1] + (along if axis == 1 else 0 * along)
        places.append(np.stack([x, y], axis=1))
    return np.concatenate(colours), np.concatenate(places).astype(np.float64)


def _gradient(
    planes: Planes, ink: InkBox, colours: NDArray[np.uint8], places: NDArray[np.float64]
) -> Ground | None:
    """A ground whose colours run evenly across, so that a plane through the edge's colours meets them."""
    origin = np.array([ink.left_px, ink.top_px])
    extent = np.array([ink.width_px, ink.height_px], dtype=np.float64)

    def terms(where: NDArray[np.float64]) -> NDArray[np.float64]:
        u = (where - origin) / extent
        return np.column_stack([np.ones(len(u)), u])

    fit, *_ = np.linalg.lstsq(terms(places), colours.astype(np.float64), rcond=None)
    if not _meets(terms(places) @ fit, colours):
        return None

    def distance(
        x: NDArray[np.float64], y: NDArray[np.float64], rgb: NDArray[np.uint8]
    ) -> NDArray[np.float64]:
        expected = np.clip(terms(np.column_stack([x, y])) @ fit, 0, 255)
        return ciede2000(lab_of(rgb), lab_of(expected))

    share = _share(planes, ink, distance)
    if share < 2 * _LEAST_SHARE:
        return None
    middle = np.clip(np.round(terms((origin + extent / 2)[None, :]) @ fit), 0, 255)
    return Ground(hex=hex_of_rgb(middle), share=round(share, 4), gradient=True)


def _meets(expected: NDArray[np.float64], colours: NDArray[np.uint8]) -> bool:
    apart = ciede2000(lab_of(np.clip(expected, 0, 255)), lab_of(colours))
    return float(np.mean(apart <= _SMOOTH_DE)) >= _RING_SAME


def _share(planes: Planes, ink: InkBox, distance: object) -> float:
    """Share of the ink box that looks like the ground and hangs together with its edge."""
    cv2 = opencv()
    step = planes.step
    rows = slice(ink.top_px // step, max(ink.top_px // step + 1, (ink.top_px + ink.height_px) // step))
    columns = slice(ink.left_px // step, max(ink.left_px // step + 1, (ink.left_px + ink.width_px) // step))
    box = planes.sample[rows, columns]
    coarse = max(1, int((box.shape[0] * box.shape[1] / 40_000) ** 0.5))
    box = box[::coarse, ::coarse]
    y, x = np.mgrid[: box.shape[0], : box.shape[1]]
    x_px = (ink.left_px + x.ravel() * step * coarse + step // 2).astype(np.float64)
    y_px = (ink.top_px + y.ravel() * step * coarse + step // 2).astype(np.float64)
    assert callable(distance)
    apart = np.asarray(distance(x_px, y_px, box[..., :3].reshape(-1, 3))).reshape(box.shape[:2])
    like = ((apart <= _SAME_DE + 2) & (box[..., 3] >= SOLID)).astype(np.uint8)
    framed = cv2.copyMakeBorder(like, 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=1)
    _, labels = cv2.connectedComponents(framed, connectivity=4)
    inside = labels[1:-1, 1:-1] == labels[0, 0]
    return float(np.mean(inside & (like > 0)))
