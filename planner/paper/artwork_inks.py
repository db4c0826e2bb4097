"""Pictures for sheet files and papers from the artwork files that a job holds."""

from collections import OrderedDict
from collections.abc import Callable

from PIL import Image

from planner.artwork import pixels
from planner.job.document import Artwork

KEPT_BYTES = 256 << 20
"""How much decoded pictures may take; the one used last is kept whatever it takes."""


class ArtworkInks:
    """Decodes artworks when asked; `data_of` gives a file's bytes by its SHA-256.

    Keeps the pictures used last: each sheet of a job asks for the same few again.
    """

    def __init__(self, data_of: Callable[[str], bytes], kept_bytes: int = KEPT_BYTES) -> None:
        self._data_of = data_of
        self._kept_bytes = kept_bytes
        self._kept: OrderedDict[tuple[Artwork, tuple[int, int] | None], Image.Image] = OrderedDict()

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        # Fixes are measured in pixels of the artwork's stated size: with them, that size it is.
        wanted = size_px if artwork.vector and not artwork.fixes else None
        key = (artwork, wanted)
        if key not in self._kept:
            data = self._data_of(artwork.sha256)
            if wanted:
                drawn = pixels.thumbnail(data, most_px=max(wanted), page=artwork.page)
            else:
                drawn = pixels.picture(artwork, data)
            self._make_room(4 * drawn.width * drawn.height)
            self._kept[key] = drawn
        self._kept.move_to_end(key)
        return self._kept[key]

    def _make_room(self, wanted_bytes: int) -> None:
        """Let go of what was not used for longest until a picture of so many bytes fits."""
        taken = sum(4 * picture.width * picture.height for picture in self._kept.values())
        while self._kept and taken + wanted_bytes > self._kept_bytes:
            _, gone = self._kept.popitem(last=False)
            taken -= 4 * gone.width * gone.height

    def plain_jpeg(self, artwork: Artwork) -> bytes | None:
        if artwork.media != "image/jpeg":
            return None
        data = self._data_of(artwork.sha256)
        return data if pixels.is_plain_jpeg(artwork, data) else None

    def vector_page(self, artwork: Artwork) -> bytes | None:
        is_page = artwork.vector and artwork.media == "application/pdf" and not artwork.fixes
        return self._data_of(artwork.sha256) if is_page else None
