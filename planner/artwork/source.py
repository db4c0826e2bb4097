"""What an artwork file really is, and how it is opened without harm.

Content decides, never the name. Pictures are opened by Pillow's readers one by one: its general
opener guards against bombs by a setting of the whole process, ours by `MOST_PIXELS`.
"""

import threading
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from enum import StrEnum
from importlib import import_module
from io import BytesIO
from pathlib import PurePath
from typing import Any

from PIL import Image, ImageFile

from planner.artwork import quick_png
from planner.measures.figures import whole

MOST_PIXELS = 250_000_000
"""Our own rolls reach some 150 megapixels; more is a mistake or a bomb."""
MOST_BYTES = 600_000_000


class UnreadableArtwork(ValueError):
    """The file cannot be used; the message says what it is and what to ask the customer for."""


class SourceNote(StrEnum):
    """What a person should know about the file. Kept with the facts: never rename one."""

    MISLABELLED = "mislabelled"
    """The file's name says another format than its content."""
    FIRST_FRAME = "first frame"
    """An animation or several pictures: the first one is used."""
    MORE_PAGES = "more pages"
    TURNED = "turned"
    """An orientation tag was obeyed."""
    FROM_CMYK = "from CMYK"
    CMYK_WITHOUT_PROFILE = "CMYK without profile"
    """Its colours on screen are a guess."""
    FROM_PROFILE = "from profile"
    """An embedded profile other than sRGB was converted."""
    OUT_OF_SRGB = "outside sRGB"
    """Some of its colours were stronger than sRGB can hold."""
    UNUSABLE_PROFILE = "unusable profile"
    FROM_LAB = "from Lab"
    DEPTH_REDUCED = "more than 8 bits"
    TEXT_NOT_OUTLINED = "text not outlined"
    FONT_NOT_EMBEDDED = "font not embedded"


PNG, JPEG, TIFF, WEBP = "image/png", "image/jpeg", "image/tiff", "image/webp"
GIF, BMP, HEIC, AVIF = "image/gif", "image/bmp", "image/heic", "image/avif"
PDF, SVG = "application/pdf", "image/svg+xml"

VECTOR_MEDIA = frozenset({PDF, SVG})
_SUFFIXES = {
    PNG: {".png", ".apng"},
    JPEG: {".jpg", ".jpeg", ".jpe", ".jfif"},
    TIFF: {".tif", ".tiff"},
    WEBP: {".webp"},
    GIF: {".gif"},
    BMP: {".bmp", ".dib"},
    HEIC: {".heic", ".heif", ".hif"},
    AVIF: {".avif"},
    PDF: {".pdf", ".ai"},
    SVG: {".svg"},
}
_READERS = {
    PNG: ("PIL.PngImagePlugin", "PngImageFile"),
    JPEG: ("PIL.JpegImagePlugin", "JpegImageFile"),
    TIFF: ("PIL.TiffImagePlugin", "TiffImageFile"),
    WEBP: ("PIL.WebPImagePlugin", "WebPImageFile"),
    GIF: ("PIL.GifImagePlugin", "GifImageFile"),
    BMP: ("PIL.BmpImagePlugin", "BmpImageFile"),
    AVIF: ("PIL.AvifImagePlugin", "AvifImageFile"),
    HEIC: ("pi_heif", "HeifImageFile"),
}
ASK = "Ask the customer for a PNG with a transparent ground, 300 ppi at print size, or a PDF."


def media_of(data: bytes) -> str | None:
    """Media type by content, or None where the content is none that the planner reads."""
    head = data[:32]
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return PNG
    if head.startswith(b"\xff\xd8\xff"):
        return JPEG
    if head[:4] in (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"):
        return TIFF
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return WEBP
    if head[:6] in (b"GIF87a", b"GIF89a"):
        return GIF
    if head[:2] == b"BM" and len(data) >= 26:
        return BMP
    if head[4:8] == b"ftyp":
        brands = {data[8:12], *(data[at : at + 4] for at in range(16, min(len(data), 64), 4))}
        if brands & {b"avif", b"avis"}:
            return AVIF
        if brands & {b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1"}:
            return HEIC
    if b"%PDF-" in data[:1024]:
        return PDF
    return SVG if _looks_like_svg(data) else None


def _looks_like_svg(data: bytes) -> bool:
    start = data[:4096].replace(b"\0", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n")
    is_web_page = start[:64].lower().startswith((b"<!doctype html", b"<html"))
    return start.startswith(b"<") and b"<svg" in start and not is_web_page


def is_mislabelled(media: str, name: str) -> bool:
    """Whether the name's extension promises another format; a name without extension promises none."""
    suffix = PurePath(name).suffix.lower()
    return any(suffix in known for known in _SUFFIXES.values()) and suffix not in _SUFFIXES[media]


def notes_of(opened: Image.Image, media: str, name: str) -> frozenset[SourceNote]:
    """What the file itself tells before it is decoded."""
    notes = {SourceNote.FIRST_FRAME} if getattr(opened, "is_animated", False) else set()
    return frozenset(notes | ({SourceNote.MISLABELLED} if is_mislabelled(media, name) else set()))


class _Quiet:
    """Keeps Pillow's warnings about odd files to itself, from several threads at once.

    `warnings.catch_warnings` restores a process-wide list; entered by overlapping threads it would
    restore them in the wrong order. So the first one in enters it, and the last one out leaves it.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._inside = 0
        self._caught: Any = None

    def __enter__(self) -> None:
        with self._lock:
            if self._inside == 0:
                self._caught = warnings.catch_warnings()
                self._caught.__enter__()
                warnings.filterwarnings("ignore", module=r"(PIL|pi_heif)\b")
            self._inside += 1

    def __exit__(self, *_: object) -> None:
        with self._lock:
            self._inside -= 1
            if self._inside == 0:
                self._caught.__exit__(None, None, None)


_quiet = _Quiet()


def _reader(media: str) -> Callable[[BytesIO], ImageFile.ImageFile]:
    """Pillow's reader for one media type; imported late, since each costs start-up time."""
    module, reader = _READERS[media]
    found: Callable[[BytesIO], ImageFile.ImageFile] = getattr(import_module(module), reader)
    return found


@contextmanager
def reading(name: str) -> Iterator[None]:
    """Turns whatever a reader trips over into one plain sentence, and keeps its warnings to itself.

    Raises:
        UnreadableArtwork: anything went wrong inside.
    """
    with _quiet:
        try:
            yield
        except UnreadableArtwork:
            raise
        except MemoryError as error:
            raise too_large(name) from error
        except BaseException as error:  # Readers raise anything on a damaged file: struct, zlib, KeyError ...
            # What panics in Rust comes as an exception of PyO3's that is no `Exception`.
            if not isinstance(error, Exception) and type(error).__name__ != "PanicException":
                raise
            raise UnreadableArtwork(
                f"“{name}” cannot be read: it is damaged or cut short, or saved in an unusual way. "
                "Ask the customer to send the original again, as a plain PNG if they can, not a screenshot."
            ) from error


def too_large(name: str, width_px: int = 0, height_px: int = 0) -> UnreadableArtwork:
    size = f" ({whole(width_px)} × {whole(height_px)} pixels)" if width_px else ""
    return UnreadableArtwork(
        f"“{name}” is too large to read safely{size}: the planner takes up to "
        f"{MOST_PIXELS // 1_000_000} megapixels. Ask the customer for the artwork at print size, 300 ppi."
    )


def open_picture(data: bytes, media: str, name: str = "The artwork") -> ImageFile.ImageFile:
    """The file's first picture, not decoded yet: size and mode are known. Call inside `reading`.

    Raises:
        UnreadableArtwork: more pixels than `MOST_PIXELS`, or none.
    """
    picture = _reader(media)(BytesIO(data))
    width, height = picture.size
    if width <= 0 or height <= 0:
        raise UnreadableArtwork(f"“{name}” holds no picture: it is {width} × {height} pixels. {ASK}")
    if width * height > MOST_PIXELS:
        raise too_large(name, width, height)
    return picture


def decoded(data: bytes, opened: Image.Image, *, thinned_to: tuple[int, int] | None = None) -> Image.Image:
    """The picture, decoded already where that is quicker than leaving it to Pillow. Call inside `reading`.

    With `thinned_to` it may come at that smaller size, as NEAREST makes it.
    """
    quick = quick_png.decoded(data, opened, thinned_to) if opened.format == "PNG" else None
    return opened if quick is None else quick
