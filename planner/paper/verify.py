"""Sheet files read back by other libraries than wrote them, and compared with what was to be printed.

PDF: qpdf (through pikepdf) undoes streams and gives page and colours, pdfium finds the places. PNG: Pillow
reads the pixels, of sheets too large to hold those of a strip of rows at a time.
"""

import io
import struct
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import BinaryIO

import numpy as np
import pikepdf
from PIL import Image
from PIL.PngImagePlugin import PngImageFile

from planner.artwork.page_form import PageFrame, frame_in
from planner.artwork.page_items import page_items
from planner.job.document import Artwork
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_size
from planner.paper import file_words as words
from planner.paper.cut_marks import MARK
from planner.paper.print_sheet import DotBox, Inks, PrintSheet, dots_of, finest_px, sheet_dots
from planner.paper.sheet_pdf import INSET_DOTS, POINTS_PER_INCH
from planner.paper.sheet_png import (
    SIGNATURE,
    STRIP_BYTES,
    Pixels,
    PlacedPixels,
    over_white,
    pixels_per_metre,
)

PAGE_TOLERANCE_MM = 0.005
PLACE_TOLERANCE_DOTS = 0.01
UNIT_SQUARE = PageFrame(0, 0, 1, 1, 0)
"""What images fill (ISO 32000-1, 8.9.5.1)."""
HELD_AT_ONCE = 60_000_000
"""Pixels of a sheet that Pillow may decode whole: 240 MB."""


class SheetFileDiffers(Exception):
    """A sheet file is not what the plan says; the message is a sentence for the shop."""

    def __init__(self, path: Path, what: str) -> None:
        super().__init__(words.differs(path.name, what))
        self.what = what


@dataclass(frozen=True, slots=True)
class Verified:
    """What was compared and found equal."""

    path: Path
    width_mm: float
    height_mm: float
    ppi: float
    pieces: int
    worst_dots: float
    """Largest distance of a piece's edge from its place."""
    pixels: int
    """Pixels whose colour and alpha were compared."""

    def sentence(self, unit: LengthUnit) -> str:
        size = format_size(self.width_mm, self.height_mm, unit)
        return words.verified(self.path.name, size, self.pieces, self.worst_dots, self.ppi, self.pixels)


def verify_pdf(path: Path, sheet: PrintSheet, inks: Inks) -> Verified:
    """Compare a sheet PDF with its sheet.

    Raises:
        SheetFileDiffers: page, places, pictures or alpha are not as planned.
    """
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0]
        unit = float(page.obj.get("/UserUnit", 1))
        box = [float(side) for side in page.mediabox]
        per_mm = POINTS_PER_INCH / MM_PER_INCH / unit
        width_mm, height_mm = (box[2] - box[0]) / per_mm, (box[3] - box[1]) / per_mm
        _check_size(path, sheet, width_mm, height_mm, PAGE_TOLERANCE_MM)
        if len(pdf.pages) != 1:
            raise SheetFileDiffers(path, words.pages(len(pdf.pages)))
        pixels = _check_pictures(path, pdf, sheet, inks)
    worst = _check_places(path, sheet, inks, unit, box[3])
    return Verified(path, width_mm, height_mm, sheet.ppi, _count(sheet), worst, pixels)


def _count(sheet: PrintSheet) -> int:
    """Pieces, marks and labels beside them not counted."""
    return sum(1 for piece in sheet.pieces if not piece.artwork.key.startswith(MARK))


def _check_size(path: Path, sheet: PrintSheet, width_mm: float, height_mm: float, by_mm: float) -> None:
    planned = sheet.size
    if abs(width_mm - planned.width_mm) > by_mm or abs(height_mm - planned.height_mm) > by_mm:
        there = words.other_size((width_mm, height_mm), (planned.width_mm, planned.height_mm))
        raise SheetFileDiffers(path, there)


def _check_pictures(path: Path, pdf: pikepdf.Pdf, sheet: PrintSheet, inks: Inks) -> int:
    """Each artwork is there once, with its very pixels and alpha; gives how many were compared."""
    resources = pdf.pages[0].obj.Resources.get("/XObject", pikepdf.Dictionary())
    # Dictionaries come back in the order of their letters, pictures are numbered in that of the pieces.
    images = [resources[name] for name in sorted(resources.keys(), key=lambda name: (len(name), name))]
    artworks = list({piece.artwork.key: piece.artwork for piece in sheet.pieces}.values())
    if len(images) != len(artworks):
        raise SheetFileDiffers(path, words.pictures(len(images), len(artworks)))
    return sum(
        _check_picture(path, image, artwork, inks, finest_px(sheet, artwork))
        for image, artwork in zip(images, artworks, strict=True)
    )


def _check_picture(
    path: Path, image: pikepdf.Object, artwork: Artwork, inks: Inks, size_px: tuple[int, int] | None
) -> int:
    if inks.vector_page(artwork) is not None:
        if image.get("/Subtype") != "/Form":
            raise SheetFileDiffers(path, words.no_vectors(artwork.name))
        return 0
    if image.get("/Filter") == "/DCTDecode":
        if image.read_raw_bytes() != inks.plain_file(artwork):
            raise SheetFileDiffers(path, words.other_jpeg(artwork.name))
        return int(image.Width) * int(image.Height)
    picture = inks.picture(artwork, size_px)
    if (int(image.Width), int(image.Height)) != picture.size:
        raise SheetFileDiffers(path, words.other_pixel_count(artwork.name))
    alpha = picture.getchannel("A")
    if not _same_colours(image, picture, alpha):
        raise SheetFileDiffers(path, words.other_colours(artwork.name))
    mask = image.get("/SMask")
    opaque = alpha.getextrema() == (255, 255)
    if (mask is None) != opaque or (mask is not None and mask.read_bytes() != alpha.tobytes()):
        raise SheetFileDiffers(path, words.other_transparency(artwork.name))
    return picture.width * picture.height


def _same_colours(image: pikepdf.Object, picture: Image.Image, alpha: Image.Image) -> bool:
    """Whether every pixel that is seen at all has its colour."""
    mode = "L" if image.get("/ColorSpace") == "/DeviceGray" else "RGB"
    seen = np.frombuffer(image.read_bytes(), np.uint8)
    wanted = np.asarray(picture.convert(mode))
    if seen.size != wanted.size:
        return False
    apart = seen.reshape(wanted.shape) != wanted
    return not (apart.reshape(*apart.shape[:2], -1).any(axis=2) & (np.asarray(alpha) > 0)).any()


def _check_places(path: Path, sheet: PrintSheet, inks: Inks, unit: float, page_height: float) -> float:
    """Every piece stands on its dots, the right way up; gives the largest distance in dots."""
    # PDFium looks into forms even to find where they stand, and those are the customers' own operators.
    vectors = any(inks.vector_page(piece.artwork) is not None for piece in sheet.pieces)
    seen = path.read_bytes()
    items = inks.page_items(seen, path.name) if vectors else page_items(seen)
    found = items.pictures
    if items.paths != sheet.white_ground:
        raise SheetFileDiffers(path, words.OTHER_GROUND)
    if len(found) != len(sheet.pieces):
        raise SheetFileDiffers(path, words.pieces(len(found), len(sheet.pieces)))
    per_dot = POINTS_PER_INCH / sheet.ppi / unit
    width_dots = sheet.size.width_mm / MM_PER_INCH * sheet.ppi
    frames: dict[str, PageFrame] = {}
    worst = 0.0
    for matrix, piece in zip(found, sheet.pieces, strict=True):
        if piece.quarters is None:
            continue
        key = piece.artwork.key
        if key not in frames:
            source = inks.vector_page(piece.artwork)
            frames[key] = UNIT_SQUARE if source is None else frame_in(source)
        places = _corners_in_dots(matrix, frames[key], per_dot, page_height)
        if sheet.mirrored:
            places = [(width_dots - x, y) for x, y in places]
        off = _off_by(places, dots_of(piece, sheet.ppi), piece.quarters)
        if off > PLACE_TOLERANCE_DOTS:
            raise SheetFileDiffers(path, words.off_its_place(piece.artwork.name, off))
        worst = max(worst, off)
    return worst


def _corners_in_dots(
    matrix: tuple[float, ...], frame: PageFrame, per_dot: float, page_height: float
) -> list[tuple[float, float]]:
    """Where the picture's upper left, and the corner across from it, lie on the sheet, y downwards."""
    a, b, c, d, e, f = matrix
    x, y = frame.upper_left
    across = (frame.left + frame.right - x, frame.bottom + frame.top - y)
    return [
        ((a * u + c * v + e) / per_dot, (page_height - (b * u + d * v + f)) / per_dot)
        for u, v in ((x, y), across)
    ]


def _off_by(places: list[tuple[float, float]], box: DotBox, quarters: int) -> float:
    """Distance in dots of those two corners from where a piece turned by quarters has them."""
    left, top, right, bottom = box.left, box.top, box.left + box.width, box.top + box.height
    clockwise = ((left, top), (right, top), (right, bottom), (left, bottom))
    planned = (clockwise[quarters], clockwise[(quarters + 2) % 4])
    apart = [
        abs(seen - wanted)
        for place, corner in zip(places, planned, strict=True)
        for seen, wanted in zip(place, corner, strict=True)
    ]
    return max(0.0, max(apart) - INSET_DOTS)


def verify_png(path: Path, sheet: PrintSheet, placed: tuple[PlacedPixels, ...]) -> Verified:
    """Compare a sheet PNG with its pieces: each lies on its dots, pixel for pixel, and nothing else does.

    Raises:
        SheetFileDiffers: size, resolution, or any pixel is not as planned.
    """
    width, height = sheet_dots(sheet)
    with path.open("rb") as file:
        seen_size, per_metre = _header(file, path)
        if seen_size != (width, height):
            raise SheetFileDiffers(path, words.other_size_px(seen_size, (width, height)))
        if per_metre != pixels_per_metre(sheet.ppi):
            raise SheetFileDiffers(path, words.says_resolution(per_metre))
        rows = _by_pillow(path) if width * height <= HELD_AT_ONCE else _by_strips(file, path, width)
        overlapping = any(piece.quarters is None for piece in sheet.pieces)
        shown_as = over_white if sheet.white_ground else np.asarray
        last = 0
        try:
            for top, strip in rows:
                shown = np.fliplr(strip) if sheet.mirrored else strip
                _check_strip(path, top, shown, placed, shown_as, overlapping=overlapping)
                last = top + len(strip)
        except (OSError, SyntaxError, zlib.error, struct.error) as error:
            raise SheetFileDiffers(path, words.DAMAGED) from error
        if last != height:
            raise SheetFileDiffers(path, words.ends_early(last, height))
    dot_mm = MM_PER_INCH / sheet.ppi
    return Verified(path, width * dot_mm, height * dot_mm, sheet.ppi, _count(sheet), 0.0, width * height)


def _header(file: BinaryIO, path: Path) -> tuple[tuple[int, int], int]:
    """Size in pixels and pixels per metre."""
    start = file.read(8 + 25)
    if not start.startswith(b"\x89PNG") or start[12:16] != b"IHDR":
        raise SheetFileDiffers(path, words.NO_PNG)
    size = struct.unpack_from(">II", start, 16)
    while True:
        length, kind = struct.unpack(">I4s", file.read(8))
        if kind == b"pHYs":
            per_metre, _, _ = struct.unpack(">IIB", file.read(9))
            file.seek(8 + 25)
            return (size[0], size[1]), per_metre
        if kind == b"IDAT":
            raise SheetFileDiffers(path, words.NO_RESOLUTION)
        file.seek(length + 4, io.SEEK_CUR)


def _by_pillow(path: Path) -> Iterator[tuple[int, Pixels]]:
    with Image.open(path) as picture:
        yield 0, np.array(picture)


def _by_strips(file: BinaryIO, path: Path, width: int) -> Iterator[tuple[int, Pixels]]:
    """Rows of a PNG of any height, a strip at a time: zlib inflates them, Pillow makes pixels of them."""
    row_bytes = 1 + 4 * width
    unpacker = zlib.decompressobj()
    # Above the first row all is 0 (W3C PNG, 9.2); a row of filter type 0 is its own bytes.
    above = bytes(row_bytes)
    waiting, top = b"", 0
    for chunk in chain(_image_chunks(file, path), (None,)):
        waiting += unpacker.flush() if chunk is None else unpacker.decompress(chunk)
        rows = len(waiting) // row_bytes
        if rows == 0 or (rows * row_bytes < STRIP_BYTES and chunk is not None):
            continue
        strip = _pixels_of(above + waiting[: rows * row_bytes], width, 1 + rows)[1:]
        yield top, strip
        above = b"\0" + strip[-1].tobytes()
        waiting, top = waiting[rows * row_bytes :], top + rows


def _pixels_of(filtered: bytes, width: int, rows: int) -> Pixels:
    """Filtered rows as Pillow reads them: as a PNG of their own, packed at level 0, which copies them."""
    parts = (
        (b"IHDR", struct.pack(">IIBBBBB", width, rows, 8, 6, 0, 0, 0)),
        (b"IDAT", zlib.compress(filtered, 0)),
        (b"IEND", b""),
    )
    png = SIGNATURE + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(data, zlib.crc32(kind)))
        for kind, data in parts
    )
    with PngImageFile(io.BytesIO(png)) as picture:
        return np.array(picture)


def _image_chunks(file: BinaryIO, path: Path) -> Iterator[bytes]:
    while True:
        length, kind = struct.unpack(">I4s", file.read(8))
        data = file.read(length)
        (check,) = struct.unpack(">I", file.read(4))
        if zlib.crc32(data, zlib.crc32(kind)) != check:
            raise SheetFileDiffers(path, words.DAMAGED)
        if kind == b"IDAT":
            yield data
        if kind == b"IEND":
            return


def _check_strip(
    path: Path,
    top: int,
    strip: Pixels,
    placed: tuple[PlacedPixels, ...],
    shown_as: Callable[[Pixels], Pixels],
    *,
    overlapping: bool,
) -> None:
    """The part of every piece in these rows is there; what is left is bare ground."""
    ground = shown_as(np.zeros((1, 1, 4), np.uint8))[0, 0]
    left_over = strip.copy()
    for piece in placed:
        seen, planned = _common(strip, top, piece), _planned(strip, top, piece)
        if seen is None or planned is None:
            continue
        inked = planned[..., 3] > 0
        wanted = shown_as(planned)
        equal = np.array_equal(seen[inked], wanted[inked]) if overlapping else np.array_equal(seen, wanted)
        if not equal:
            raise SheetFileDiffers(path, words.other_pixels(piece.box.left, piece.box.top))
        rest = _common(left_over, top, piece)
        assert rest is not None
        rest[...] = np.where(inked[..., None], ground, rest) if overlapping else ground
    if (left_over != ground).any():
        raise SheetFileDiffers(path, words.STRAY)


def _clip(shape: tuple[int, ...], top: int, box: DotBox) -> tuple[int, int, int, int] | None:
    """First and last row, left and right column of a box on the sheet, within a strip; None outside."""
    first, last = max(box.top, top), min(box.top + box.height, top + shape[0])
    left, right = max(box.left, 0), min(box.left + box.width, shape[1])
    return (first, last, left, right) if first < last and left < right else None


def _common(strip: Pixels, top: int, piece: PlacedPixels) -> Pixels | None:
    part = _clip(strip.shape, top, piece.box)
    return None if part is None else strip[part[0] - top : part[1] - top, part[2] : part[3]]


def _planned(strip: Pixels, top: int, piece: PlacedPixels) -> Pixels | None:
    part = _clip(strip.shape, top, piece.box)
    if part is None:
        return None
    box = piece.box
    return piece.pixels[part[0] - box.top : part[1] - box.top, part[2] - box.left : part[3] - box.left]
