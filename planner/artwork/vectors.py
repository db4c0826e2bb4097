"""PDF and SVG artwork: kept as vectors in the job, shown and measured as pixels."""

import math
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

from PIL import Image

from planner.artwork import source
from planner.artwork.framing import WHOLE, Window
from planner.artwork.pdf_forms import refuse_endless
from planner.artwork.pdf_text import text_of
from planner.artwork.source import PDF, SourceNote, UnreadableArtwork

# PDFium keeps process-wide state: one thread at a time.
_pdfium = threading.Lock()
PDFIUM = _pdfium
"""To be held by whoever else uses PDFium."""


@dataclass(frozen=True, slots=True)
class About:
    """What a vector file states of itself."""

    width_pt: float
    """Of the page asked for, in points of 1/72 in, as it is shown upright."""
    height_pt: float
    page_count: int
    notes: frozenset[SourceNote]
    loose_fonts: tuple[str, ...] = ()
    """Names of fonts that its text is set in and that it does not carry, the first few."""


def describe(data: bytes, media: str, *, name: str, page: int = 0) -> About:
    """Size and pages of a vector file, and whether its text depends on fonts.

    Raises:
        UnreadableArtwork: damaged, locked, without that page, or of no size.
    """
    if media != PDF:
        from planner.artwork.svg import describe_svg

        drawing = describe_svg(data, name)
        # An SVG names its fonts; whether they are here, or the same, nobody can tell.
        by_name = {SourceNote.TEXT_NOT_OUTLINED, SourceNote.FONT_NOT_EMBEDDED}
        notes = frozenset(by_name if drawing.has_text else ())
        return About(drawing.width_pt, drawing.height_pt, 1, notes, drawing.fonts)
    with _page_of(data, page, name) as (document, shown):
        width, height, count = shown.get_width(), shown.get_height(), len(document)
        text = text_of(shown)
    if not (0.5 <= width <= 1e6 and 0.5 <= height <= 1e6):
        raise UnreadableArtwork(f"“{name}” states no usable page size. Ask the customer to export it again.")
    found = {
        SourceNote.TEXT_NOT_OUTLINED: text.has_text,
        SourceNote.FONT_NOT_EMBEDDED: bool(text.loose_fonts),
        SourceNote.MORE_PAGES: count > 1,
    }
    notes = frozenset(note for note, is_so in found.items() if is_so)
    return About(width, height, count, notes, text.loose_fonts)


def rasterise(data: bytes, media: str, *, page: int, ppi: float, name: str) -> Image.Image:
    """One page at `ppi` of its stated size, "RGBA", ground transparent.

    Raises:
        UnreadableArtwork: as `describe`, or too large at this ppi.
    """
    about_pt = _size_pt(data, media, page, name)
    return _drawn(data, media, page, ppi / 72.0, about_pt, name)


def rasterise_to(data: bytes, media: str, *, page: int, most_px: int, name: str) -> Image.Image:
    """One page, "RGBA", `most_px` on its longer side.

    Raises:
        UnreadableArtwork: as `describe`.
    """
    size_pt = _size_pt(data, media, page, name)
    return _drawn(data, media, page, most_px / max(size_pt), size_pt, name)


def draw(
    data: bytes, media: str, *, page: int, size_px: tuple[int, int], name: str, window: Window = WHOLE
) -> Image.Image:
    """What a window on one page shows, "RGBA", ground transparent, exactly `size_px`.

    Raises:
        UnreadableArtwork: as `describe`, or too large.
    """
    width, height = size_px
    if width * height > source.MOST_PIXELS:
        raise source.too_large(name, width, height)
    if media != PDF:
        from planner.artwork.svg import draw_svg

        return draw_svg(data, width, height, name, window=window)
    with _page_of(data, page, name) as (_, shown):
        return _window_drawn(shown, size_px, window)


def _window_drawn(shown: Any, size_px: tuple[int, int], window: Window) -> Image.Image:
    """By a matrix: PDFium's plain call knows whole pixels only."""
    import pypdfium2
    from pypdfium2 import raw

    left, top, width, height = window
    across = size_px[0] / (width * shown.get_width())
    down = size_px[1] / (height * shown.get_height())
    matrix = raw.FS_MATRIX(across, 0, 0, down, -left * size_px[0] / width, -top * size_px[1] / height)
    bitmap = pypdfium2.PdfBitmap.new_native(*size_px, raw.FPDFBitmap_BGRA, rev_byteorder=True)
    try:
        bitmap.fill_rect((0, 0, 0, 0), 0, 0, *size_px)
        everything = raw.FS_RECTF(0, 0, *size_px)
        raw.FPDF_RenderPageBitmapWithMatrix(bitmap, shown, matrix, everything, raw.FPDF_REVERSE_BYTE_ORDER)
        drawn: Image.Image = bitmap.to_pil().convert("RGBA").copy()
    finally:
        bitmap.close()
    return drawn


def rasterise_on(page: bytes, size_px: tuple[int, int], ground: str, *, name: str) -> Image.Image:
    """The first page of a PDF on a ground, "RGB", stretched to a size in pixels.

    Raises:
        UnreadableArtwork: as `describe`.
    """
    with _page_of(page, 0, name) as (_, shown):
        level = {"white": 255, "black": 0}[ground]
        bitmap = shown.render(
            scale=size_px[0] / shown.get_width() * (1 - 1e-9),
            fill_color=(level, level, level, 255),
            rev_byteorder=True,
        )
        drawn: Image.Image = bitmap.to_pil().convert("RGB")
        bitmap.close()
    return drawn if drawn.size == size_px else drawn.resize(size_px)


def _size_pt(data: bytes, media: str, page: int, name: str) -> tuple[float, float]:
    if media != PDF:
        from planner.artwork.svg import describe_svg

        drawing = describe_svg(data, name)
        return drawing.width_pt, drawing.height_pt
    with _page_of(data, page, name) as (_, shown):
        return shown.get_width(), shown.get_height()


def _drawn(
    data: bytes, media: str, page: int, scale: float, size_pt: tuple[float, float], name: str
) -> Image.Image:
    # PDFium rounds sizes up; a hair less keeps 8.25 in at 300 ppi from becoming 2476 pixels.
    scale *= 1 - 1e-9
    width, height = (math.ceil(side * scale) for side in size_pt)
    if width * height > source.MOST_PIXELS:
        raise source.too_large(name, width, height)
    if media != PDF:
        from planner.artwork.svg import draw_svg

        return draw_svg(data, width, height, name)
    with _page_of(data, page, name) as (_, shown):
        bitmap = shown.render(
            scale=scale,
            fill_color=(0, 0, 0, 0),
            rev_byteorder=True,
            may_draw_forms=False,
            draw_annots=False,
        )
        drawn: Image.Image = bitmap.to_pil().convert("RGBA").copy()
        bitmap.close()
    return drawn


@contextmanager
def _page_of(data: bytes, page: int, name: str) -> Iterator[tuple[Any, Any]]:
    """The open document and its page; PDFium is ours while it lasts."""
    import pypdfium2

    # Before PDFium loads the page: it unfolds it even to learn its size.
    refuse_endless(data, page, name)
    with _pdfium, source.reading(name):
        try:
            document = pypdfium2.PdfDocument(data)
        except pypdfium2.PdfiumError as error:
            if "password" in str(error).lower():
                raise UnreadableArtwork(
                    f"“{name}” is locked with a password. Ask the customer for the PDF without one."
                ) from error
            raise
        try:
            count = len(document)
            if count == 0:
                raise UnreadableArtwork(f"“{name}” has no pages. Ask the customer to export it again.")
            if not 0 <= page < count:
                raise UnreadableArtwork(
                    f"“{name}” has {count} pages, there is no page {page + 1}. Choose another page."
                )
            shown = document[page]
            try:
                yield document, shown
            finally:
                shown.close()
        finally:
            document.close()
