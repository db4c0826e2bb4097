"""Pictures as PDF image objects: one object a picture, alpha as an exact mask, JPEG bytes untouched."""

import io
import struct
from dataclasses import dataclass

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf, Stream
from PIL import Image, ImageCms

from planner.job.document import Artwork
from planner.paper.print_sheet import Inks

# Level 4 keeps a sheet of customers' PNG files under the sum of the files (tests/bench/papers.py).
DEFLATE_LEVEL = 4


def srgb_profile() -> bytes:
    """LittleCMS's sRGB (IEC 61966-2-1) profile, the same bytes whenever it is made."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    # ICC.1, 7.2: bytes 24 to 35 of the header are the date of making; LittleCMS writes today's.
    profile[24:36] = struct.pack(">6H", 2000, 1, 1, 0, 0, 0)
    return bytes(profile)


def deflated_with_prediction(plane: Image.Image, level: int) -> bytes:
    """The plane's rows PNG-filtered and deflated: what PDF calls FlateDecode with Predictor 15.

    A PNG file's IDAT chunks are exactly that (ISO 32000-1, 7.4.4.4), so Pillow's encoder does the work.
    """
    buffer = io.BytesIO()
    plane.save(buffer, "PNG", compress_level=level)
    return png_image_data(buffer.getvalue())


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
    """A JPEG file's bytes, or deflated RGB or grey rows with PNG prediction."""
    channels: int
    is_jpeg: bool
    mask: bytes | None
    """Deflated alpha rows with PNG prediction; None where the picture is opaque throughout."""


def encoded(artwork: Artwork, inks: Inks, level: int = DEFLATE_LEVEL) -> EncodedPicture:
    """The picture of an artwork as PDF stream bytes; slow for large pictures, so keep the result."""
    jpeg = inks.plain_jpeg(artwork)
    if jpeg is not None:
        with Image.open(io.BytesIO(jpeg)) as opened:
            (width, height), channels = opened.size, len(opened.getbands())
        return EncodedPicture(width, height, jpeg, channels, True, None)
    picture = inks.picture(artwork)
    opaque = picture.getchannel("A").getextrema() == (255, 255)
    alpha = None if opaque else deflated_with_prediction(picture.getchannel("A"), level)
    return EncodedPicture(
        picture.width,
        picture.height,
        deflated_with_prediction(picture.convert("RGB"), level),
        3,
        False,
        alpha,
    )


class ImageStore:
    """Encoded pictures by artwork: each is encoded once, however many sheets it lies on."""

    def __init__(self, inks: Inks, level: int = DEFLATE_LEVEL) -> None:
        self.inks = inks
        self._level = level
        self._encoded: dict[str, EncodedPicture] = {}

    def encoded(self, artwork: Artwork) -> EncodedPicture:
        key = artwork.model_dump_json()
        if key not in self._encoded:
            self._encoded[key] = encoded(artwork, self.inks, self._level)
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
