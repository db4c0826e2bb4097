"""Pictures as PDF image objects: one object a picture, alpha as an exact mask, plain files untouched."""

import struct
import zlib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
import pikepdf
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from PIL import ImageCms

from planner.artwork import source
from planner.artwork.opencv import opencv
from planner.job.document import Artwork
from planner.paper.bleeding import bled
from planner.paper.print_sheet import Inks

Pixels = NDArray[np.uint8]

FLAT_ART = 16
"""Rows that run lengths alone pack to less than this part are flat art: worth a thorough search."""
WORTH_A_SEARCH = 1 << 16
"""Bytes: of less there is nothing to be saved."""


def srgb_profile() -> bytes:
    """LittleCMS's sRGB (IEC 61966-2-1) profile, the same bytes whenever it is made."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # ICC.1, 7.2: bytes 24 to 35 of the header are the date of making; LittleCMS writes today's.
    profile[24:36] = struct.pack(">6H", 2000, 1, 1, 0, 0, 0)
    return bytes(profile)


def packed_rows(plane: Pixels) -> bytes:
    """The rows of a grey or BGR plane as PDF calls FlateDecode with Predictor 15; colours come out RGB.

    A PNG file's IDAT chunks are exactly that (ISO 32000-1, 7.4.4.4), so OpenCV's encoder (libpng) does the
    work. On filtered rows of photographs run lengths pack as well as a search for repeats and take half the
    time; flat art repeats itself, so there the unfiltered rows are searched at the highest level as well.
    """
    cv2 = opencv()
    options = [cv2.IMWRITE_PNG_COMPRESSION, 4, cv2.IMWRITE_PNG_STRATEGY, cv2.IMWRITE_PNG_STRATEGY_RLE]
    done, png = cv2.imencode(".png", plane, options)
    assert done
    packed = png_image_data(png.tobytes())
    if not WORTH_A_SEARCH < len(packed) < plane.nbytes / FLAT_ART:
        return packed
    rows = (plane[..., ::-1] if plane.ndim == 3 else plane).reshape(len(plane), -1)
    # Filter type 0 before each row: the bytes as they are.
    unfiltered = np.concatenate([np.zeros((len(rows), 1), np.uint8), rows], axis=1)
    return min(packed, zlib.compress(unfiltered.data, 9), key=len)


def png_image_data(png: bytes) -> bytes:
    """The IDAT chunks of a PNG file, joined."""
    parts = []
    at = 8
    while at < len(png):
        length, kind = struct.unpack_from(">I4s", png, at)
        if kind == b"IDAT":
            parts.append(png[at + 8 : at + 8 + length])
        at += 12 + length
    return b"".join(parts)


@dataclass(frozen=True, slots=True)
class EncodedPicture:
    """A picture ready to be put into any number of PDFs."""

    width_px: int
    height_px: int
    colours: bytes
    """A JPEG file's bytes, or deflated RGB or grey rows with PNG prediction, a plain PNG’s own too."""
    channels: int
    is_jpeg: bool
    mask: bytes | None
    """Deflated alpha rows with PNG prediction; None where the picture is opaque throughout."""


def encoded(artwork: Artwork, inks: Inks, size_px: tuple[int, int] | None = None) -> EncodedPicture:
    """The picture of an artwork as PDF stream bytes; slow for large pictures, so keep the result."""
    plain = inks.plain_file(artwork)
    if plain is not None:
        return _untouched(plain, artwork.name)
    pixels = np.asarray(inks.picture(artwork, size_px))
    height, width = pixels.shape[:2]
    cv2 = opencv()
    alpha = cv2.extractChannel(pixels, 3)
    if cv2.minMaxLoc(alpha)[0] < 255:
        planes = [cv2.cvtColor(bled(pixels), cv2.COLOR_RGB2BGR), alpha]
    else:
        planes = [cv2.cvtColor(pixels, cv2.COLOR_RGBA2BGR)]
    # Packing leaves the interpreter's lock, so colours and alpha are packed at the same time.
    with ThreadPoolExecutor(len(planes)) as pool:
        colours, *mask = pool.map(packed_rows, planes)
    return EncodedPicture(width, height, colours, 3, False, mask[0] if mask else None)


def _untouched(plain: bytes, name: str) -> EncodedPicture:
    """A JPEG as it is, or a PNG's IDAT chunks: rows as PDF's own (ISO 32000-1, 7.4.4.4)."""
    is_jpeg = source.media_of(plain) == source.JPEG
    # The header alone: the pixels were read by the one that called the file plain.
    with source.reading(name):
        opened = source.open_picture(plain, source.JPEG if is_jpeg else source.PNG, name)
    colours = plain if is_jpeg else png_image_data(plain)
    return EncodedPicture(*opened.size, colours, len(opened.getbands()), is_jpeg, None)


class ImageStore:
    """Encoded pictures by artwork: each is encoded once, however many sheets it lies on."""

    def __init__(self, inks: Inks) -> None:
        self.inks = inks
        self._encoded: dict[str, EncodedPicture] = {}

    def encoded(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> EncodedPicture:
        key = f"{size_px} {artwork.model_dump_json()}"
        if key not in self._encoded:
            self._encoded[key] = encoded(artwork, self.inks, size_px)
        return self._encoded[key]


def image_object(pdf: Pdf, picture: EncodedPicture, rgb_space: pikepdf.Object) -> pikepdf.Object:
    """The picture as an image object of a PDF (ISO 32000-1, 8.9.5)."""

    def image(rows: bytes, channels: int, space: pikepdf.Object, **more: pikepdf.Object) -> pikepdf.Object:
        parameters = Dictionary(Predictor=15, Colors=channels, BitsPerComponent=8, Columns=picture.width_px)
        form: dict[str, object] = {"Filter": Name.FlateDecode, "DecodeParms": parameters}
        if picture.is_jpeg:
            form = {"Filter": Name.DCTDecode}
        stream = Stream(
            pdf,
            rows,
            Type=Name.XObject,
            Subtype=Name.Image,
            Width=picture.width_px,
            Height=picture.height_px,
            BitsPerComponent=8,
            ColorSpace=space,
            **form,
            **more,
        )
        return pdf.make_indirect(stream)

    masks = {}
    if picture.mask is not None:
        masks["SMask"] = image(picture.mask, 1, Name.DeviceGray)
    space = rgb_space if picture.channels == 3 else Name.DeviceGray
    return image(picture.colours, picture.channels, space, **masks)


def srgb_space(pdf: Pdf) -> pikepdf.Object:
    """The sRGB colour space as an ICC-based one (ISO 32000-1, 8.6.5.5)."""
    profile = pdf.make_indirect(Stream(pdf, srgb_profile(), N=3, Alternate=Name.DeviceRGB))
    return pdf.make_indirect(Array([Name.ICCBased, profile]))
