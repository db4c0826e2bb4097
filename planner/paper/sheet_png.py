"""A sheet as a PNG at the offer's resolution, written strip by strip so that memory stays bounded.

Own writer: Pillow holds the whole picture, OpenCV and imagecodecs write no pHYs. Rows are filtered by
the row above (W3C PNG, filter type 2), which NumPy does at once, and zlib packs them.
"""

import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.job.document import Artwork
from planner.paper.marks import MADE_BY
from planner.paper.print_sheet import (
    DotBox,
    Inks,
    PrintPiece,
    PrintSheet,
    dots_of,
    sheet_dots,
    whole_dots,
)
from planner.work.ticket import Ticket

STRIP_BYTES = 8 << 20
SIGNATURE = b"\x89PNG\r\n\x1a\n"
DEFLATE_LEVEL = 1
UP = 2

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class PlacedPixels:
    """A piece's pixels, turned and at the sheet's resolution, and where they go."""

    box: DotBox
    pixels: Pixels
    """(height, width, 4)."""


def pixels_per_metre(ppi: float) -> int:
    """The figure of the pHYs chunk (W3C PNG, 11.3.4.3): 300 ppi is 11811."""
    return round(ppi / 0.0254)


def placed_pixels(sheet: PrintSheet, inks: Inks) -> tuple[PlacedPixels, ...]:
    """All pieces at the sheet's resolution; copies share their pixels."""
    upright: dict[tuple[Artwork, int, int], Pixels] = {}
    placed = []
    for piece in sheet.pieces:
        box = dots_of(piece, sheet.ppi)
        if piece.quarters is None:
            placed.append(_at_an_angle(piece, sheet, inks))
            continue
        size = (box.height, box.width) if piece.quarters % 2 else (box.width, box.height)
        key = (piece.artwork, *size)
        if key not in upright:
            upright[key] = resampled(inks.picture(piece.artwork, size), size)
        # rot90 turns anticlockwise; the result is a view, copies cost nothing.
        placed.append(PlacedPixels(box, np.rot90(upright[key], -piece.quarters)))
    return tuple(placed)


def resampled(picture: Image.Image, size: tuple[int, int]) -> Pixels:
    """The picture at a size in pixels; at its own size its very pixels.

    Pillow resamples RGBA with alpha multiplied in, so that hidden colours do not bleed into edges.
    """
    if picture.size != size:
        picture = picture.resize(size, Image.Resampling.LANCZOS)
    return np.asarray(picture)


def _at_an_angle(piece: PrintPiece, sheet: PrintSheet, inks: Inks) -> PlacedPixels:
    size = (whole_dots(piece.size.width_mm, sheet.ppi), whole_dots(piece.size.height_mm, sheet.ppi))
    upright = Image.fromarray(resampled(inks.picture(piece.artwork, size), size)).convert("RGBa")
    turned = upright.rotate(-piece.turned_deg, Image.Resampling.BICUBIC, expand=True).convert("RGBA")
    box = dots_of(piece, sheet.ppi)
    left = box.left + (box.width - turned.width) // 2
    top = box.top + (box.height - turned.height) // 2
    return PlacedPixels(DotBox(left, top, turned.width, turned.height), np.asarray(turned))


def strips(
    width: int, height: int, placed: tuple[PlacedPixels, ...], rows_each: int
) -> Iterator[tuple[int, Pixels]]:
    """The sheet from the top: first row and pixels of each strip. Ground is transparent black."""
    for top in range(0, height, rows_each):
        rows = min(rows_each, height - top)
        strip = np.zeros((rows, width, 4), np.uint8)
        for piece in placed:
            paint(strip, top, piece)
        yield top, strip


def paint(strip: Pixels, strip_top: int, piece: PlacedPixels) -> None:
    """Put the part of a piece that lies in a strip into it; what sticks out of the sheet is cut off."""
    rows, width = strip.shape[:2]
    first, last = max(piece.box.top, strip_top), min(piece.box.top + piece.box.height, strip_top + rows)
    left, right = max(piece.box.left, 0), min(piece.box.left + piece.box.width, width)
    if first >= last or left >= right:
        return
    source = piece.pixels[
        first - piece.box.top : last - piece.box.top, left - piece.box.left : right - piece.box.left
    ]
    target = strip[first - strip_top : last - strip_top, left:right]
    # Boxes of pieces cut by outline may overlap though their inks do not: keep what is there already.
    taken = target[..., 3] > 0
    if taken.any():
        np.copyto(target, source, where=((source[..., 3] > 0) & ~taken)[..., None])
    else:
        target[...] = source


def over_white(pixels: Pixels) -> Pixels:
    """The pixels on white ground, opaque."""
    alpha = pixels[..., 3:].astype(np.uint16)
    mixed = pixels[..., :3] * alpha + 255 * (255 - alpha)
    opaque = np.full_like(pixels, 255)
    opaque[..., :3] = (mixed + 127) // 255
    return opaque


class PngWriter:
    """Writes an RGBA picture of known size from the top, some rows at a time."""

    def __init__(self, file: BinaryIO, width: int, height: int, ppi: float, level: int) -> None:
        self._file = file
        self._packer = zlib.compressobj(level)
        self._above = np.zeros((1, width * 4), np.uint8)
        self._write(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0), signature=True)
        self._write(b"sRGB", b"\x00")  # rendering intent: perceptual
        per_metre = pixels_per_metre(ppi)
        self._write(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))
        self._write(b"tEXt", b"Software\x00" + MADE_BY.encode("latin-1"))

    def add(self, pixels: Pixels) -> None:
        """Append rows of shape (rows, width, 4)."""
        rows = pixels.reshape(len(pixels), -1)
        filtered = np.empty((len(rows), 1 + rows.shape[1]), np.uint8)
        filtered[:, 0] = UP
        np.subtract(rows[:1], self._above, out=filtered[:1, 1:])
        np.subtract(rows[1:], rows[:-1], out=filtered[1:, 1:])
        self._above = rows[-1:].copy()
        packed = self._packer.compress(filtered.data)
        if packed:
            self._write(b"IDAT", packed)

    def finish(self) -> None:
        self._write(b"IDAT", self._packer.flush())
        self._write(b"IEND", b"")

    def _write(self, kind: bytes, data: bytes, *, signature: bool = False) -> None:
        if signature:
            self._file.write(SIGNATURE)
        self._file.write(struct.pack(">I", len(data)) + kind)
        self._file.write(data)
        self._file.write(struct.pack(">I", zlib.crc32(data, zlib.crc32(kind))))


def write_sheet_png(
    sheet: PrintSheet,
    inks: Inks,
    path: Path,
    *,
    level: int = DEFLATE_LEVEL,
    ticket: Ticket | None = None,
) -> tuple[PlacedPixels, ...]:
    """Write the sheet with its alpha; gives the pieces' pixels, to compare the file with.

    Raises:
        Cancelled: somebody stopped the ticket; the file is then incomplete.
    """
    width, height = sheet_dots(sheet)
    placed = placed_pixels(sheet, inks)
    rows_each = max(1, STRIP_BYTES // (4 * width))
    with path.open("wb") as file:
        writer = PngWriter(file, width, height, sheet.ppi, level)
        for top, strip in strips(width, height, placed, rows_each):
            if ticket is not None:
                ticket.step(top, height)
            shown = over_white(strip) if sheet.white_ground else strip
            writer.add(np.ascontiguousarray(np.fliplr(shown) if sheet.mirrored else shown))
        writer.finish()
    return placed
