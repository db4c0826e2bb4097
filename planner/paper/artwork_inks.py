"""Pictures for sheet files and papers from the artwork files that a job holds."""

from collections import OrderedDict
from collections.abc import Callable

from PIL import Image

from planner.artwork.decoding import Decoder, InProcess
from planner.artwork.page_items import PageItems
from planner.job.document import Artwork

_PLAIN = ("image/jpeg", "image/png")
KEPT_BYTES = 256 << 20
"""How much decoded pictures may take; the one used last is kept whatever it takes."""


class ArtworkInks:
    """Has artworks decoded when asked; `data_of` gives a file's bytes by its SHA-256.

    Without a decoder this process decodes: for tests, and where every file is trusted.

    Keeps the pictures used last: each sheet of a job asks for the same few again.
    """

    def __init__(
        self,
        data_of: Callable[[str], bytes],
        decoder: Decoder | None = None,
        *,
        kept_bytes: int = KEPT_BYTES,
    ) -> None:
        self._data_of = data_of
        self._decoder = decoder or InProcess()
        self._kept_bytes = kept_bytes
        self._plain: dict[Artwork, bool] = {}
        self._pages: dict[Artwork, bytes | None] = {}
        self._kept: OrderedDict[tuple[Artwork, tuple[int, int] | None], Image.Image] = OrderedDict()

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        key = (artwork, size_px if artwork.stays_vector else None)
        if key not in self._kept:
            drawn = self._decoder.printed(self._data_of(artwork.sha256), *key)
            self._make_room(4 * drawn.width * drawn.height)
            self._kept[key] = drawn
        self._kept.move_to_end(key)
        return self._kept[key]

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        return self._decoder.printed(data, artwork, size_px)

    def _make_room(self, wanted_bytes: int) -> None:
        """Let go of what was not used for longest until a picture of so many bytes fits."""
        taken = sum(4 * picture.width * picture.height for picture in self._kept.values())
        while self._kept and taken + wanted_bytes > self._kept_bytes:
            _, gone = self._kept.popitem(last=False)
            taken -= 4 * gone.width * gone.height

    def plain_file(self, artwork: Artwork) -> bytes | None:
        if artwork.media not in _PLAIN or artwork.fixes:
            return None
        data = self._data_of(artwork.sha256)
        if artwork not in self._plain:
            self._plain[artwork] = self._decoder.is_plain(data, artwork)
        return data if self._plain[artwork] else None

    def vector_page(self, artwork: Artwork) -> bytes | None:
        if not artwork.stays_vector:
            return None
        if artwork not in self._pages:
            self._pages[artwork] = self._decoder.vector_page(self._data_of(artwork.sha256), artwork)
        return self._pages[artwork]

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        return self._decoder.page_items(pdf, name)
