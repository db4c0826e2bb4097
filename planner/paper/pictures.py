"""Pictures for papers: small enough to print well and no larger, made once each."""

import io

import numpy as np
from PIL import Image
from reportlab.lib.utils import ImageReader

from planner.job.document import Artwork
from planner.paper.print_sheet import Inks

PAPER_PPI = 200
"""Finer than an office printer shows."""
LIGHT_INK = 0.7
"""Average lightness of ink, from 0 (black) to 1 (white), above which white paper hides it."""


class Pictures:
    """Gives artworks at the size a paper shows them.

    An artwork's full picture is decoded once and let go; a middling copy is kept for all the papers.
    """

    def __init__(self, inks: Inks, longest_px: int = 2400) -> None:
        self.inks = inks
        self._longest_px = longest_px
        self._kept: dict[str, Image.Image] = {}
        self._sized: dict[tuple[str, int], ImageReader] = {}

    def at(
        self, artwork: Artwork, width_points: float, height_points: float, data: bytes | None = None
    ) -> ImageReader:
        """The artwork as reportlab draws it, with no more dots than the printed size needs.

        `data` is its file, where no job holds that.
        """
        key = artwork.model_dump_json()
        kept = self._kept.get(key)
        if kept is None:
            size = _inside(*artwork.size_px, self._longest_px, enlarge=True)
            kept = self._kept[key] = _within(self._decoded(artwork, size, data), self._longest_px)
        # Steps of a third keep the number of different sizes of one artwork small.
        wanted = max(width_points, height_points) / 72 * PAPER_PPI
        longest = max(48, _stepped(wanted))
        if (key, longest) not in self._sized:
            self._sized[key, longest] = _drawable(_within(kept, longest))
        return self._sized[key, longest]

    def _decoded(self, artwork: Artwork, size: tuple[int, int], data: bytes | None) -> Image.Image:
        if data is None:
            return self.inks.picture(artwork, size)
        return self.inks.picture_of_file(data, artwork, size)

    def is_light(self, artwork: Artwork) -> bool:
        """Whether the artwork's ink is so light that it is hardly seen on white paper."""
        self.at(artwork, 1, 1)
        kept = self._kept[artwork.model_dump_json()]
        grey, alpha = (
            np.asarray(band.resize((64, 64), Image.Resampling.BOX), np.float64)
            for band in (kept.convert("L"), kept.getchannel("A"))
        )
        return float((grey * alpha).sum()) > LIGHT_INK * 255 * max(1.0, float(alpha.sum()))


def _drawable(picture: Image.Image) -> ImageReader:
    """Opaque pictures as JPEG: on an office printer nobody sees it, and a packet stays small to send."""
    if picture.getchannel("A").getextrema() != (255, 255):
        return ImageReader(picture)
    buffer = io.BytesIO()
    picture.convert("RGB").save(buffer, "JPEG", quality=88, subsampling=0)
    buffer.seek(0)
    return ImageReader(buffer)


def _stepped(wanted: float) -> int:
    size = 48.0
    while size < wanted:
        size *= 4 / 3
    return round(size)


def _inside(width: int, height: int, longest: int, *, enlarge: bool = False) -> tuple[int, int]:
    """The size with its longer side at `longest`, or as it is where that is smaller already."""
    scale = longest / max(width, height)
    if scale >= 1 and not enlarge:
        return width, height
    return max(1, round(width * scale)), max(1, round(height * scale))


def _within(picture: Image.Image, longest: int) -> Image.Image:
    size = _inside(*picture.size, longest)
    return picture if size == picture.size else picture.resize(size, Image.Resampling.LANCZOS)
