"""Pictures for sheet files and papers from the artwork files that a job holds."""

from collections.abc import Callable

from PIL import Image

from planner.artwork import pixels
from planner.job.document import Artwork


class ArtworkInks:
    """Decodes artworks when asked; `data_of` gives a file's bytes by its SHA-256.

    Keeps the picture used last: papers and sheets ask for one artwork several times in a row.
    """

    def __init__(self, data_of: Callable[[str], bytes]) -> None:
        self._data_of = data_of
        self._last: tuple[Artwork, tuple[int, int] | None, Image.Image] | None = None

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        # Fixes are measured in pixels of the artwork's stated size: with them, that size it is.
        wanted = size_px if artwork.vector and not artwork.fixes else None
        if self._last is None or self._last[:2] != (artwork, wanted):
            data = self._data_of(artwork.sha256)
            if wanted:
                drawn = pixels.thumbnail(data, most_px=max(wanted), page=artwork.page)
            else:
                drawn = pixels.picture(artwork, data)
            self._last = (artwork, wanted, drawn)
        return self._last[2]

    def plain_jpeg(self, artwork: Artwork) -> bytes | None:
        if artwork.media != "image/jpeg":
            return None
        data = self._data_of(artwork.sha256)
        return data if pixels.is_plain_jpeg(artwork, data) else None

    def vector_page(self, artwork: Artwork) -> bytes | None:
        is_page = artwork.vector and artwork.media == "application/pdf" and not artwork.fixes
        return self._data_of(artwork.sha256) if is_page else None
