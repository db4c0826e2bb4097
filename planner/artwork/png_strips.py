"""Pixels of a plain PNG, a few rows at a time: inflated by zlib-ng, their filters undone by libspng.

Each is the quickest at its half. libspng reads whole files only, so every strip of rows becomes one:
deflate's stored blocks carry the filtered bytes as they are (RFC 1951, 3.2.4), led by the row above,
unfiltered, since filters look at it (W3C PNG, 9.2).
"""

import struct
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray
from zlib_ng import zlib_ng

Span = tuple[int, int]
"""Start and length of a stretch of bytes."""

# Its stubs take the class for an instance.
_Damaged: type[Exception] = zlib_ng.error  # type: ignore[assignment]
_CHANNELS = 4
_STRIP_BYTES = 400_000
"""Filtered bytes undone at once: few enough that a core's cache holds all the copies made of them."""
_FED_BYTES = 32_768
"""Compressed bytes given at once: what is left of them is copied each time."""
_MOST_STORED = 65_535
"""The longest stored block."""
_STORED = struct.Struct("<BHH")
_LAST_BLOCK = _STORED.pack(1, 0, 0xFFFF)
_ZLIB_HEAD = b"\x78\x01"
_UNCHECKED = bytes(4)
"""In a checksum's place: pyspng passes over them, and zlib-ng has checked the file's own."""
_NO_FILTER = b"\0"


class BadStream(Exception):
    """The compressed bytes are no whole stream of just the rows that there should be."""


def strips(data: bytes, idat: Sequence[Span], width: int, height: int) -> Iterator[NDArray[np.uint8]]:
    """The rows of an 8-bit "RGBA" picture without interlacing, from the top: arrays of shape (n, width, 4).

    `idat` says where its compressed bytes lie in `data`.

    Raises:
        BadStream: damaged, cut short, or more than these rows; maybe only after the last strip.
    """
    import pyspng

    row_bytes = 1 + _CHANNELS * width
    rows_at_once = max(1, _STRIP_BYTES // row_bytes)
    stream = _Stream(data, idat)
    above: list[bytes] = []
    for top in range(0, height, rows_at_once):
        rows = min(rows_at_once, height - top)
        led = len(above)
        small_file = _small_file(width, led + rows, above + stream.pieces(rows * row_bytes))
        try:
            pixels = pyspng.load(small_file, format="RGBA")
        except (RuntimeError, ValueError) as error:
            raise BadStream from error
        if pixels.shape != (led + rows, width, _CHANNELS) or pixels.dtype != np.uint8:
            raise BadStream
        yield pixels[led:]
        above = [_NO_FILTER + pixels[-1].tobytes()]
    stream.end()


class _Stream:
    """A zlib stream that lies in several stretches; never holds more of it than was asked for."""

    def __init__(self, data: bytes, idat: Sequence[Span]) -> None:
        self._inflating = zlib_ng.decompressobj()
        self._fed = _fed(data, idat)
        self._waiting: memoryview | bytes = b""

    def pieces(self, size: int) -> list[bytes]:
        """The next so many bytes.

        Raises:
            BadStream: damaged, or at its end before.
        """
        pieces = []
        while size:
            piece = self._next(min(size, _MOST_STORED))
            if not piece:
                raise BadStream
            pieces.append(piece)
            size -= len(piece)
        return pieces

    def end(self) -> None:
        """Nothing more follows, and the checksum fits.

        Raises:
            BadStream: it is not so.
        """
        if self._next(1) or self._inflating.unused_data or any(self._fed):
            raise BadStream

    def _next(self, most: int) -> bytes:
        """Up to so many bytes, none at the end."""
        inflating = self._inflating
        try:
            while not inflating.eof:
                made = inflating.decompress(self._waiting, most)
                self._waiting = inflating.unconsumed_tail
                if made:
                    return made
                if not self._waiting and not inflating.eof:
                    self._waiting = next(self._fed)
        except (_Damaged, StopIteration) as error:
            raise BadStream from error
        return b""


def _fed(data: bytes, idat: Sequence[Span]) -> Iterator[memoryview]:
    view = memoryview(data)
    for start, length in idat:
        end = start + length
        for at in range(start, end, _FED_BYTES):
            yield view[at : min(at + _FED_BYTES, end)]


def _small_file(width: int, height: int, filtered: Sequence[bytes]) -> bytes:
    """A PNG of these filtered rows, its checksums left out."""
    parts = [_ZLIB_HEAD]
    for piece in filtered:
        for at in range(0, len(piece), _MOST_STORED):
            block = piece[at : at + _MOST_STORED]
            parts += [_STORED.pack(0, len(block), len(block) ^ 0xFFFF), block]
    parts += [_LAST_BLOCK, _UNCHECKED]
    header = struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0)
    chunks = (_chunk(b"IHDR", [header]), _chunk(b"IDAT", parts), _chunk(b"IEND", []))
    return b"".join([b"\x89PNG\r\n\x1a\n", *(part for chunk in chunks for part in chunk)])


def _chunk(kind: bytes, content: Sequence[bytes]) -> list[bytes]:
    return [struct.pack(">I", sum(map(len, content))), kind, *content, _UNCHECKED]
