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
        self._last: tuple[Artwork, Image.Image] | None = None

    def picture(self, artwork: Artwork) -> Image.Image:
        if self._last is None or self._last[0] != artwork:
            self._last = (artwork, pixels.picture(artwork, self._data_of(artwork.sha256)))
        return self._last[1]

    def plain_jpeg(self, artwork: Artwork) -> bytes | None:
        data = self._data_of(artwork.sha256)
        return data if pixels.is_plain_jpeg(artwork, data) else None
