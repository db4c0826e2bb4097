"""What is asked of artwork files, whoever does it: this process, or one that may break down."""

from pathlib import Path
from typing import Protocol

from PIL import Image

from planner.artwork import check, measure, pixels, read, source
from planner.artwork.facts import ArtworkFacts
from planner.artwork.framing import framing_of
from planner.artwork.page_items import PageItems, page_items
from planner.artwork.read import Imported, UnreadableArtwork
from planner.artwork.source import MOST_BYTES, PDF, SVG
from planner.job.document import Artwork
from planner.shop.offers import PrintProfile
from planner.work.ticket import Ticket


class Decoder(Protocol):
    """Reads artwork files.

    Each method raises `UnreadableArtwork`, or `Cancelled` once the ticket is stopped.
    """

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None, *, page: int = 0) -> Imported:
        """What a new file is; of a document, this page."""

    def import_measured(
        self, data: bytes, name: str, ticket: Ticket | None = None
    ) -> tuple[Imported, ArtworkFacts]:
        """What a new file is and what was measured of it, with a single decode."""

    def measured(self, data: bytes, artwork: Artwork, ticket: Ticket | None = None) -> ArtworkFacts:
        """What judging needs to know of the artwork with its fixes."""

    def picture(
        self, data: bytes, artwork: Artwork, most_px: int, ticket: Ticket | None = None
    ) -> Image.Image:
        """The artwork with its fixes, "RGBA", at most `most_px` on its longer side."""

    def printed(self, data: bytes, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        """What is printed: the artwork with its fixes, "RGBA", at its own resolution.

        Vector artwork that stays so has none: it comes with the longer side as in `size_px`.
        """

    def is_plain(self, data: bytes, artwork: Artwork) -> bool:
        """Whether the pictures in the file's own bytes may be printed as they are."""

    def vector_page(self, data: bytes, artwork: Artwork) -> bytes | None:
        """A `page_form.form_page` that shows the artwork as vectors; None where only pixels do."""

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        """What stands on the first page of a sheet PDF that holds artwork as vectors."""

    def print_profile(self, data: bytes, name: str) -> PrintProfile:
        """What a transfer printer's ICC profile does to colours."""


def bytes_of(path: Path) -> bytes:
    """A file's bytes, unless it is larger than any artwork that is taken.

    Raises:
        UnreadableArtwork: too large, or no file at all (a device, a pipe).
        OSError: it cannot be read.
    """
    if path.exists() and not path.is_file():
        raise UnreadableArtwork(f"“{path.name}” is no file. Choose the pictures themselves.")
    size = path.stat().st_size
    if size > MOST_BYTES:
        raise UnreadableArtwork(
            f"“{path.name}” has {size // 1_000_000} megabytes, the planner takes up to "
            f"{MOST_BYTES // 1_000_000}. Ask the customer for the artwork at print size, 300 ppi."
        )
    return path.read_bytes()


class InProcess:
    """Reads artwork right here: for files that are trusted, for tests, and inside the guarded worker."""

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None, *, page: int = 0) -> Imported:
        return read.import_artwork(data, name, page=page)

    def import_measured(
        self, data: bytes, name: str, ticket: Ticket | None = None
    ) -> tuple[Imported, ArtworkFacts]:
        return check.import_measured(data, name, ticket)

    def measured(self, data: bytes, artwork: Artwork, ticket: Ticket | None = None) -> ArtworkFacts:
        return measure.measure(data, artwork, ticket)

    def picture(
        self, data: bytes, artwork: Artwork, most_px: int, ticket: Ticket | None = None
    ) -> Image.Image:
        if not artwork.fixes:
            # By the file's own size: pages of a document may have others than the artwork's.
            return pixels.thumbnail(data, most_px=most_px, page=artwork.page, name=artwork.name)
        if artwork.stays_vector:
            return pixels.drawn_to(artwork, data, most_px)
        made = pixels.picture(artwork, data)
        # Reducing mixes colours: clear pixels must lend none, hence premultiplied.
        small = made.convert("RGBa")
        small.thumbnail((most_px, most_px), Image.Resampling.BOX)
        return small.convert("RGBA")

    def printed(self, data: bytes, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        # Other fixes are measured in pixels of the artwork's own: with them, these it is.
        if size_px is None or not artwork.stays_vector:
            return pixels.picture(artwork, data)
        return pixels.drawn_to(artwork, data, max(size_px))

    def is_plain(self, data: bytes, artwork: Artwork) -> bool:
        return pixels.is_plain_jpeg(artwork, data) or pixels.is_plain_png(artwork, data)

    def vector_page(self, data: bytes, artwork: Artwork) -> bytes | None:
        if not artwork.stays_vector or artwork.media not in (PDF, SVG):
            return None
        # The papers' libraries: whoever only measures starts without them.
        from planner.artwork.page_form import form_page
        from planner.artwork.svg_vectors import svg_page

        page = data if artwork.media == PDF else svg_page(data, artwork.name)
        return None if page is None else form_page(page, artwork.page, artwork.name, framing_of(artwork))

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        with source.reading(name):
            return page_items(pdf)

    def print_profile(self, data: bytes, name: str) -> PrintProfile:
        from planner.artwork.print_profile import read_print_profile

        return read_print_profile(data, name)
