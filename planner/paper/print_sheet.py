"""What a sheet file shows: pictures at places on a sheet, laid on the transfer printer's own grid of dots.

Places and sizes are rounded to whole dots once, here, so that the PDF and the PNG of a sheet carry the
same dots, an artwork at the sheet's own resolution is never resampled, and all copies are alike. At
300 ppi that moves an edge by 0.042 mm at most, which is less than a dot.
"""

import math
from dataclasses import dataclass
from typing import Protocol

from PIL import Image

from planner.artwork.page_items import PageItems
from planner.job.document import Artwork, Job
from planner.job.pieces import group_of_piece, print_of_piece, print_size
from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout
from planner.measures.lengths import MM_PER_INCH

MOST_DRAWN_PX = 60_000_000
"""Vector artwork becomes no more pixels than this."""


class Inks(Protocol):
    """Where sheet files and papers get pictures from."""

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        """The artwork upright with its fixes applied, RGBA in sRGB, at its own resolution.

        `size_px` is what is wanted of vector artwork, which has no resolution of its own; what comes may
        be a pixel off, and other artwork heeds it not.
        """

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        """As `picture`, from a file that no job holds."""

    def plain_file(self, artwork: Artwork) -> bytes | None:
        """The JPEG or PNG file whose picture can go into a PDF untouched, else None."""

    def vector_page(self, artwork: Artwork) -> bytes | None:
        """An artwork's `page_form.form_page`, which can go into a PDF as vectors, else None."""

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        """What stands on the first page of a sheet PDF that holds artwork as vectors."""


@dataclass(frozen=True, slots=True)
class PrintPiece:
    """One picture on a sheet."""

    artwork: Artwork
    box: Rect
    """Upright box it covers after turning, in millimetres from the sheet's top left."""
    size: Size
    """Its size before turning."""
    turned_deg: float = 0
    """Clockwise."""

    @property
    def quarters(self) -> int | None:
        """Clockwise quarter turns, or None where it lies at another angle."""
        turns = self.turned_deg % 360 / 90
        return int(turns) if turns.is_integer() else None


@dataclass(frozen=True, slots=True)
class PrintSheet:
    """One sheet as the transfer printer prints it."""

    size: Size
    ppi: float
    pieces: tuple[PrintPiece, ...]
    title: str = ""
    mirrored: bool = False
    """Left and right exchanged, for printers whose process asks for it."""
    white_ground: bool = False
    """White instead of clear where nothing is printed."""


@dataclass(frozen=True, slots=True)
class DotBox:
    """A box in whole dots from the sheet's top left."""

    left: int
    top: int
    width: int
    height: int


def whole_dots(length_mm: float, ppi: float) -> int:
    """A length in dots, halves upwards."""
    # The small addend undoes what mm-to-inch arithmetic loses: 0.5 must not become 0.49999999.
    return math.floor(length_mm * ppi / MM_PER_INCH + 0.5 + 1e-7)


def sheet_dots(sheet: PrintSheet) -> tuple[int, int]:
    """Width and height of the sheet in dots."""
    return max(1, whole_dots(sheet.size.width_mm, sheet.ppi)), max(
        1, whole_dots(sheet.size.height_mm, sheet.ppi)
    )


def dots_of(piece: PrintPiece, ppi: float) -> DotBox:
    """Where a piece lies on the grid; its size does not depend on its place."""
    box = piece.box
    return DotBox(
        whole_dots(box.x_mm, ppi),
        whole_dots(box.y_mm, ppi),
        max(1, whole_dots(box.width_mm, ppi)),
        max(1, whole_dots(box.height_mm, ppi)),
    )


def artwork_of_piece(job: Job, piece_key: str) -> Artwork:
    """The artwork of a print's or an extra's piece."""
    for extra in job.extras:
        if extra.key == piece_key:
            return job.artwork(extra.artwork)
    return job.artwork(job.print_of(print_of_piece(piece_key)).artwork)


def piece_size(job: Job, piece_key: str) -> Size:
    """Size in millimetres of a piece before it is turned."""
    for extra in job.extras:
        if extra.key == piece_key:
            return print_size(job.artwork(extra.artwork), extra.width_mm)
    print_, group = job.print_of(print_of_piece(piece_key)), group_of_piece(piece_key)
    width_mm = print_.width_for(group) if group else print_.width_mm
    return print_size(job.artwork(print_.artwork), width_mm)


def print_sheet(job: Job, layout: Layout, *, ppi: float, title: str = "") -> PrintSheet:
    """A layout of a job as the sheet to be printed."""
    pieces = tuple(
        PrintPiece(
            artwork_of_piece(job, placement.print),
            placement.box,
            piece_size(job, placement.print),
            placement.turned_deg,
        )
        for placement in layout.placements
    )
    return PrintSheet(layout.sheet, ppi, pieces, title)


def finest_px(sheet: PrintSheet, artwork: Artwork) -> tuple[int, int] | None:
    """At which size in pixels vector artwork is drawn where it cannot stay vector; None for other artwork.

    Twice the sheet's resolution at the largest of its copies, so that a printer may be finer than asked.
    """
    if not artwork.stays_vector:
        return None
    sizes = [piece.size for piece in sheet.pieces if piece.artwork == artwork]
    largest = max(sizes, key=lambda size: size.width_mm)
    width, height = (whole_dots(side, 2 * sheet.ppi) for side in (largest.width_mm, largest.height_mm))
    too_many = math.sqrt(max(1.0, width * height / MOST_DRAWN_PX))
    return max(1, int(width / too_many)), max(1, int(height / too_many))
