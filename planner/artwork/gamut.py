"""Colours of a file that sRGB cannot hold: how many, and where."""

from dataclasses import dataclass
from io import BytesIO
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageCms

from planner.artwork.colour import ciede2000
from planner.artwork.regions import Grid
from planner.job.findings import Region

_PROBE_PX = 96
_CUT_OFF_DE = 4.0
_FAINT = 8


@dataclass(frozen=True, slots=True)
class BeyondSrgb:
    """What was cut off on the way to sRGB."""

    share: float
    """Of what is not clear."""
    mask: NDArray[np.uint8]
    """Of a small copy: not zero where the colour was cut off."""

    @property
    def regions(self) -> tuple[Region, ...]:
        height, width = self.mask.shape
        grid = Grid(width, height)
        grid.add(self.mask, 0)
        return grid.regions()


def lab_values(picture: Image.Image) -> NDArray[np.float64]:
    """CIELAB of a picture in Pillow's "LAB", which keeps a* and b* as signed bytes."""
    stored = np.asarray(picture)
    return np.stack(
        [stored[..., 0] / 2.55, stored[..., 1].view(np.int8), stored[..., 2].view(np.int8)], axis=-1
    )


def beyond_srgb(picture: Image.Image, profile: bytes) -> BeyondSrgb | None:
    """Which colours of a picture in a profile's own space are stronger than sRGB can hold; None if none is.

    A small copy goes to CIELAB straight, and by way of sRGB: what differs was cut off on the way.
    """
    if picture.mode not in ("RGB", "RGBA", "CMYK"):
        return None
    mode = picture.mode.removesuffix("A")
    longer = max(picture.size)
    size = tuple(max(1, round(side * min(1.0, _PROBE_PX / longer))) for side in picture.size)
    small = picture.resize((size[0], size[1]), Image.Resampling.NEAREST)
    seen = (
        np.asarray(small.getchannel("A")) >= _FAINT if picture.mode == "RGBA" else np.ones(size[::-1], bool)
    )
    try:
        apart = _cut_off_de(small.convert(mode), profile)
    except (ImageCms.PyCMSError, ValueError, TypeError):
        return None
    cut_off = (apart > _CUT_OFF_DE) & seen
    share = float(cut_off.sum()) / max(1, int(seen.sum()))
    return BeyondSrgb(share, cut_off.astype(np.uint8)) if share else None


def _cut_off_de(small: Image.Image, profile: bytes) -> NDArray[np.float64]:
    source, lab = ImageCms.ImageCmsProfile(BytesIO(profile)), ImageCms.createProfile("LAB")
    srgb = ImageCms.createProfile("sRGB")
    straight = _through(small, source, lab, "LAB")
    by_way = _through(_through(small, source, srgb, "RGB"), srgb, lab, "LAB")
    return ciede2000(lab_values(straight), lab_values(by_way))


def _through(picture: Image.Image, source: Any, to: Any, mode: str) -> Image.Image:
    """Between two profiles of Pillow's, nothing adapted but what cannot be held."""
    intent = ImageCms.Intent.ABSOLUTE_COLORIMETRIC
    transform = ImageCms.buildTransform(source, to, picture.mode, mode, renderingIntent=intent)
    converted = ImageCms.applyTransform(picture, transform)
    assert converted is not None
    return converted
