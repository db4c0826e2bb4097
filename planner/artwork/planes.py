"""A decoded picture as arrays, a few rows at a time: the whole as numpy would cost it three times over."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork.opencv import opencv
from planner.work.ticket import Cancelled, Ticket

STRIP_ROWS = 64
_SAMPLE_PIXELS = 400_000
SOLID = 248
"""From this alpha on a pixel is as good as solid."""
FAINT = 8
"""Below this alpha a pixel is as good as clear."""
INK = 128
"""From this alpha on a pixel belongs to a shape."""

Plane = NDArray[np.uint8]


@dataclass(frozen=True)
class Planes:
    """What the measurements work on."""

    picture: Image.Image
    """ "RGB" or "RGBA"."""
    alpha: Plane | None
    """Whole, or None where every pixel is opaque."""
    sample: Plane
    """About every `step`-th pixel of every `step`-th row, red to alpha: no colour in it is mixed."""
    step: int

    @cached_property
    def half(self) -> Plane:
        """Alpha at half the size."""
        return self._reduced(2)

    @cached_property
    def cells(self) -> Plane:
        """Alpha by cells of four pixels."""
        return self._reduced(4)

    def _reduced(self, by: int) -> Plane:
        cv2 = opencv()
        assert self.alpha is not None
        size = (-(-self.width // by), -(-self.height // by))
        return np.asarray(cv2.resize(self.alpha, size, interpolation=cv2.INTER_AREA), np.uint8)

    @property
    def width(self) -> int:
        return self.picture.width

    @property
    def height(self) -> int:
        return self.picture.height


def heed(ticket: Ticket | None) -> None:
    """Leave off if somebody asked to; how far the work is, only the whole of it can tell.

    Raises:
        Cancelled: the ticket was stopped.
    """
    if ticket is not None and ticket.is_stopped:
        raise Cancelled


def planes_of(picture: Image.Image, ticket: Ticket | None = None) -> Planes:
    """Alpha and sample of an "RGB" or "RGBA" picture."""
    width, height = picture.size
    step = max(1, round((width * height / _SAMPLE_PIXELS) ** 0.5))
    size = (max(1, width // step), max(1, height // step))
    sample = np.asarray(picture.resize(size, Image.Resampling.NEAREST).convert("RGBA"))
    if picture.mode == "RGB":
        return Planes(picture, None, sample, step)
    alpha = np.empty((height, width), np.uint8)
    for top in range(0, height, STRIP_ROWS):
        heed(ticket)
        bottom = min(height, top + STRIP_ROWS)
        alpha[top:bottom] = np.asarray(picture.crop((0, top, width, bottom)).getchannel("A"))
    opaque = int(alpha.min(initial=255)) == 255
    return Planes(picture, None if opaque else alpha, sample, step)


def strips(
    plane: Plane, halo: int, ticket: Ticket | None = None, rows: int = STRIP_ROWS
) -> Iterator[tuple[Plane, int, int, int]]:
    """Rows with up to `halo` more on both sides: the strip, its core's first and last row in it, and in all.

    Each is (strip, core start within the strip, core end within the strip, core start in the plane).
    """
    height = plane.shape[0]
    for top in range(0, height, rows):
        heed(ticket)
        bottom = min(height, top + rows)
        above, below = max(0, top - halo), min(height, bottom + halo)
        yield plane[above:below], top - above, bottom - above, top
