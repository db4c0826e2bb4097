"""What the window asks of artwork files, whoever does it: this process, or one that may break down."""

from pathlib import Path
from typing import Protocol

from PIL import Image

from planner.artwork import check, measure, pixels, read
from planner.artwork.facts import ArtworkFacts
from planner.artwork.read import Imported, UnreadableArtwork
from planner.artwork.source import MOST_BYTES
from planner.job.document import Artwork
from planner.work.ticket import Ticket


class Decoder(Protocol):
    """Reads artwork files.

    Each method raises `UnreadableArtwork`, or `Cancelled` once the ticket is stopped.
    """

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None) -> Imported:
        """What a new file is."""

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

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None) -> Imported:
        return read.import_artwork(data, name)

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
            return pixels.thumbnail(data, most_px=most_px, page=artwork.page)
        made = pixels.picture(artwork, data)
        # Reducing mixes colours: clear pixels must lend none, hence premultiplied.
        small = made.convert("RGBa")
        small.thumbnail((most_px, most_px), Image.Resampling.BOX)
        return small.convert("RGBA")
