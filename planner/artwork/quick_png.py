"""The trade's most usual file, a plain transparent PNG, decoded in less than half of Pillow's time.

Only what both decode to the same pixels without a thought is taken; Pillow has the last word on all else,
on damaged files too.
"""

import struct
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork.png_strips import BadStream, Span, strips

_RGBA_8_BITS = (8, 6, 0, 0, 0)
"""Depth, colour type, compression, filter and interlace of such a file (W3C PNG, 11.2.1)."""
_NOT_PLAIN = frozenset({b"acTL", b"eXIf"})
_TEXTS = frozenset({b"tEXt", b"zTXt", b"iTXt"})
_BEHIND_PIXELS = frozenset({b"tIME", b"IEND"}) | _TEXTS
"""What may follow the pixels and says nothing of their colours (W3C PNG, 5.6)."""
_PROFILE_TEXT = b"Raw profile type"
"""Keyword under which some programs hide an orientation tag."""
_LEAST_BYTES = 100_000
"""Below this either decoder is done before anybody looks."""
_WIDEST_PX = 50_000
"""Rows are held whole several times over; such a wide one tells that the file is none of the usual ones."""


def decoded(
    data: bytes, opened: Image.Image, thinned_to: tuple[int, int] | None = None
) -> Image.Image | None:
    """The pixels of a PNG that Pillow has opened but not decoded; None where that is for Pillow to do.

    `thinned_to` is a smaller size: of evenly spread rows and columns only, as Pillow's NEAREST takes them,
    and without ever holding the whole picture.
    """
    if opened.mode != "RGBA" or len(data) < _LEAST_BYTES or opened.width > _WIDEST_PX:
        return None
    idat = _idat_of_plain(data)
    if idat is None:
        return None
    size = thinned_to or opened.size
    try:
        pixels = _pixels(strips(data, idat, opened.width, opened.height), opened.size, size)
    except BadStream:
        return None
    picture = Image.frombuffer("RGBA", size, pixels, "raw", "RGBA", 0, 1)
    picture.info, picture.format = dict(opened.info), opened.format
    return picture


def _pixels(
    strips: Iterator[NDArray[np.uint8]], whole: tuple[int, int], size: tuple[int, int]
) -> NDArray[np.uint8]:
    pixels = np.empty((size[1], size[0], 4), np.uint8)
    columns, rows = (_taken(*lengths) for lengths in zip(whole, size, strict=True))
    top = done = 0
    for strip in strips:
        bottom = top + len(strip)
        if size == whole:
            pixels[top:bottom] = strip
        else:
            here = rows[done : np.searchsorted(rows, bottom)]
            # Pixel by pixel, not channel by channel.
            pixels[done : done + len(here)].view(np.uint32)[:] = strip[here - top].view(np.uint32)[:, columns]
            done += len(here)
        top = bottom
    return pixels


def _taken(length: int, count: int) -> NDArray[np.int32]:
    """Which `count` of so many pixels in a row Pillow's NEAREST takes."""
    every = Image.fromarray(np.arange(length, dtype=np.int32)[None, :])
    return np.asarray(every.resize((count, 1), Image.Resampling.NEAREST), np.int32).reshape(-1)


def _idat_of_plain(data: bytes) -> list[Span] | None:
    """Where the compressed pixels lie, if the file is one whole 8-bit "RGBA" picture that no tag turns."""
    before, idat = b"", list[Span]()
    for kind, start, size in _chunks(data):
        if (kind == b"IHDR") != (before == b""):
            return None
        if kind == b"IHDR" and tuple(data[start + 8 : start + size]) != _RGBA_8_BITS:
            return None
        if kind in _NOT_PLAIN or (kind in _TEXTS and data.startswith(_PROFILE_TEXT, start)):
            return None
        if kind == b"IDAT":
            if idat and before != b"IDAT":
                return None
            idat.append((start, size))
        elif idat and kind not in _BEHIND_PIXELS:
            return None
        before = kind
    return idat if before == b"IEND" and idat else None


def _chunks(data: bytes) -> Iterator[tuple[bytes, int, int]]:
    """Name, start and size of each chunk's content (W3C PNG, 5.3), up to the last whole one or the end."""
    at = 8
    while at + 12 <= len(data):
        size, kind = struct.unpack_from(">I4s", data, at)
        if at + 12 + size > len(data):
            return
        yield kind, at + 8, size
        if kind == b"IEND":
            return
        at += 12 + size
