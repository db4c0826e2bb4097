"""Pictures for papers: small enough to print well and no larger, made once each."""

from PIL import Image

from planner.job.document import Artwork
from planner.paper.print_sheet import Inks

PAPER_PPI = 200
"""Finer than an office printer shows."""


class Pictures:
    """Gives artworks at the size a paper shows them.

    An artwork's full picture is decoded once and let go; a middling copy is kept for all the papers.
    """

    def __init__(self, inks: Inks, longest_px: int = 2400) -> None:
        self.inks = inks
        self._longest_px = longest_px
        self._kept: dict[str, Image.Image] = {}
        self._sized: dict[tuple[str, int, int], Image.Image] = {}

    def at(self, artwork: Artwork, width_points: float, height_points: float) -> Image.Image:
        """The artwork, RGBA, with no more dots than the printed size needs."""
        key = artwork.model_dump_json()
        kept = self._kept.get(key)
        if kept is None:
            kept = self._kept[key] = _within(self.inks.picture(artwork), self._longest_px, self._longest_px)
        # Steps of a third keep the number of different sizes of one artwork small.
        wanted = max(width_points, height_points) / 72 * PAPER_PPI
        longest = max(48, _stepped(wanted))
        sized_key = (key, longest, longest)
        if sized_key not in self._sized:
            self._sized[sized_key] = _within(kept, longest, longest)
        return self._sized[sized_key]


def _stepped(wanted: float) -> int:
    size = 48.0
    while size < wanted:
        size *= 4 / 3
    return round(size)


def _within(picture: Image.Image, width: int, height: int) -> Image.Image:
    scale = min(width / picture.width, height / picture.height)
    if scale >= 1:
        return picture
    size = (max(1, round(picture.width * scale)), max(1, round(picture.height * scale)))
    return picture.resize(size, Image.Resampling.LANCZOS)
