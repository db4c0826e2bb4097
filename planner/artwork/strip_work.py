"""Work on a picture in strips of rows, each seen with a halo of its neighbours."""

from collections.abc import Callable

import numpy as np
from PIL import Image

from planner.artwork.planes import Plane

_ROWS = 512


def in_strips(picture: Image.Image, halo: int, work: Callable[[Plane, int], Plane]) -> Image.Image:
    """A new "RGBA" picture from `work(strip, first row)`; it returns its strip, of the same shape.

    Rows outside the picture are not there: a strip at the border has less halo.
    """
    width, height = picture.size
    made = Image.new("RGBA", (width, height))
    for top in range(0, height, _ROWS):
        above, below = max(0, top - halo), min(height, top + _ROWS + halo)
        bottom = min(height, top + _ROWS)
        strip = np.array(picture.crop((0, above, width, below)))
        core = work(strip, above)[top - above : bottom - above]
        made.paste(Image.fromarray(np.ascontiguousarray(core)), (0, top))
    return made


def alpha_of(picture: Image.Image) -> Plane:
    """The whole alpha channel of an "RGBA" picture, writable."""
    return np.array(picture.getchannel("A"))
