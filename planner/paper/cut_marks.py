"""What may be printed beside the pieces: marks at their corners, and their labels.

Both lie in the gap around a piece, outside its box, and are cut off with it. They are pictures like any
artwork, so that sheet files place, share and verify them the same way.
"""

import functools
from dataclasses import replace

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from planner.artwork.page_items import PageItems
from planner.job.document import Artwork
from planner.measures.geometry import Rect, Size
from planner.measures.lengths import MM_PER_INCH
from planner.paper import fonts
from planner.paper.print_sheet import (
    DotBox,
    Inks,
    PrintPiece,
    PrintSheet,
    dots_of,
    sheet_dots,
    whole_dots,
)

MARK = "mark:"
_CUT, _LABEL = f"{MARK}cut", f"{MARK}label:"
MARK_MM, FREE_MM = 1.4, 0.4
"""How far marks reach from a corner, and how much is left free at the piece."""
LEAST_GAP_MM = 2.0 * MARK_MM
"""In a smaller gap the marks of two pieces would meet."""
LABEL_MM = 1.8
DRAWN_PPI = 600


def with_marks(
    sheet: PrintSheet, labels: tuple[str, ...], gap_mm: float, *, cut_marks: bool, piece_labels: bool
) -> PrintSheet:
    """The sheet with marks and labels added where the gap is wide enough; `labels` in the pieces' order."""
    if gap_mm < LEAST_GAP_MM:
        return sheet
    wanted: list[PrintPiece] = []
    for piece, label in zip(sheet.pieces, labels, strict=True):
        box = dots_of(piece, sheet.ppi)
        if cut_marks:
            wanted += _corner_marks(box, sheet.ppi)
        if piece_labels:
            wanted.append(_label(box, label, sheet.ppi))
    return replace(sheet, pieces=(*sheet.pieces, *_free(sheet, wanted)))


def _free(sheet: PrintSheet, wanted: list[PrintPiece]) -> list[PrintPiece]:
    """Those that lie on the sheet and touch neither a piece nor an earlier mark."""
    width, height = sheet_dots(sheet)
    taken = np.array([_edges(dots_of(piece, sheet.ppi)) for piece in sheet.pieces])
    free = []
    for mark in wanted:
        left, top, right, bottom = edges = _edges(dots_of(mark, sheet.ppi))
        meets = (taken[:, 0] < right) & (taken[:, 2] > left) & (taken[:, 1] < bottom) & (taken[:, 3] > top)
        if left >= 0 and top >= 0 and right <= width and bottom <= height and not meets.any():
            free.append(mark)
            taken = np.vstack([taken, edges])
    return free


def _edges(box: DotBox) -> tuple[int, int, int, int]:
    return box.left, box.top, box.left + box.width, box.top + box.height


def _in_mm(left: int, top: int, width: int, height: int, ppi: float) -> Rect:
    dot_mm = MM_PER_INCH / ppi
    return Rect(left * dot_mm, top * dot_mm, width * dot_mm, height * dot_mm)


def _corner_marks(box: DotBox, ppi: float) -> list[PrintPiece]:
    """Four angles, each in the quarter outside its corner; the one drawn is that at the upper left."""
    side = whole_dots(MARK_MM, ppi)
    left, top, right, bottom = _edges(box)
    corners = ((left - side, top - side), (right, top - side), (right, bottom), (left - side, bottom))
    size = Size(side * MM_PER_INCH / ppi, side * MM_PER_INCH / ppi)
    artwork = _mark(_CUT, size)
    return [
        PrintPiece(artwork, _in_mm(x, y, side, side, ppi), size, 90 * number)
        for number, (x, y) in enumerate(corners)
    ]


def _label(box: DotBox, label: str, ppi: float) -> PrintPiece:
    """The label below the piece, right of its left corner's mark."""
    width_px, height_px = _label_picture(label).size
    height = whole_dots(LABEL_MM, ppi)
    width = max(1, round(height * width_px / height_px))
    free = whole_dots(FREE_MM, ppi)
    spot = _in_mm(box.left + free, box.top + box.height + free, width, height, ppi)
    size = Size(spot.width_mm, spot.height_mm)
    return PrintPiece(_mark(f"{_LABEL}{label}", size), spot, size)


def _mark(key: str, size: Size) -> Artwork:
    per_mm = DRAWN_PPI / MM_PER_INCH
    return Artwork(
        key=key,
        name=key,
        sha256="0" * 64,
        width_px=max(1, round(size.width_mm * per_mm)),
        height_px=max(1, round(size.height_mm * per_mm)),
    )


@functools.cache
def _cut_picture() -> Image.Image:
    """Two hairlines that end short of the lower right corner, where the piece begins."""
    side = round(MARK_MM / MM_PER_INCH * DRAWN_PPI)
    long = round((MARK_MM - FREE_MM) / MM_PER_INCH * DRAWN_PPI)
    picture = Image.new("RGBA", (side, side))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((side - 3, 0, side - 1, long), fill="black")
    draw.rectangle((0, side - 3, long, side - 1), fill="black")
    return picture


@functools.cache
def _label_picture(label: str) -> Image.Image:
    size = round(LABEL_MM / MM_PER_INCH * DRAWN_PPI)
    font = ImageFont.truetype(str(fonts.file_of(fonts.STRONG)), size)
    picture = Image.new("RGBA", (max(1, round(font.getlength(label))) + 4, size))
    ImageDraw.Draw(picture).text((2, size / 2), label, font=font, fill="black", anchor="lm")
    return picture


class MarkedInks:
    """Gives marks and labels their pictures, and leaves artwork to others."""

    def __init__(self, inks: Inks) -> None:
        self._inks = inks

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        if artwork.key == _CUT:
            return _cut_picture()
        if artwork.key.startswith(_LABEL):
            return _label_picture(artwork.key.removeprefix(_LABEL))
        return self._inks.picture(artwork, size_px)

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        return self._inks.picture_of_file(data, artwork, size_px)

    def plain_file(self, artwork: Artwork) -> bytes | None:
        return None if artwork.key.startswith(MARK) else self._inks.plain_file(artwork)

    def vector_page(self, artwork: Artwork) -> bytes | None:
        return None if artwork.key.startswith(MARK) else self._inks.vector_page(artwork)

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        return self._inks.page_items(pdf, name)
