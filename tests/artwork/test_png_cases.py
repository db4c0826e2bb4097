"""Every colour type and depth that PNG allows, in the manner of the public PNG test pictures.

The files are written here sample by sample, as the W3C PNG specification lays them out (sections 7.2, 8,
11.3.2.1); what must come out follows from its rescaling of samples (13.12), and OpenCV reads along.
"""

import struct
import zlib
from collections.abc import Iterator

import cv2
import numpy as np
import pytest

from planner.artwork.pixels import decode

WIDTH, HEIGHT = 37, 23
GREY, RGB, PALETTE, GREY_ALPHA, RGBA = 0, 2, 3, 4, 6
CHANNELS = {GREY: 1, RGB: 3, PALETTE: 1, GREY_ALPHA: 2, RGBA: 4}
CASES = [
    *((GREY, depth) for depth in (1, 2, 4, 8, 16)),
    *((PALETTE, depth) for depth in (1, 2, 4, 8)),
    *((colour, depth) for colour in (RGB, GREY_ALPHA, RGBA) for depth in (8, 16)),
]
# PNG 8.2: first column, first row, step right, step down of the seven passes.
ADAM7 = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def _rows(samples: np.ndarray, depth: int) -> Iterator[bytes]:
    for row in samples:
        flat = row.ravel()
        if depth == 16:
            yield b"\0" + flat.astype(">u2").tobytes()
        elif depth == 8:
            yield b"\0" + flat.astype(np.uint8).tobytes()
        else:
            bits = ((flat[:, None] >> np.arange(depth)[::-1]) & 1).astype(np.uint8)
            yield b"\0" + np.packbits(bits.ravel()).tobytes()


def a_png(samples: np.ndarray, colour: int, depth: int, *, interlaced: bool, extra: bytes = b"") -> bytes:
    """A PNG of samples of shape (rows, columns, channels); `extra` chunks stand before the pixels."""
    height, width = samples.shape[:2]
    parts = [samples]
    if interlaced:
        parts = [samples[y::down, x::right] for x, y, right, down in ADAM7]
    packed = zlib.compress(b"".join(b"".join(_rows(part, depth)) for part in parts if part.size))
    header = struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, int(interlaced))
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", header)
        + extra
        + _chunk(b"IDAT", packed)
        + _chunk(b"IEND", b"")
    )


def _samples(colour: int, depth: int) -> np.ndarray:
    rng = np.random.default_rng(colour * 100 + depth)
    return rng.integers(0, 1 << depth, (HEIGHT, WIDTH, CHANNELS[colour]))


def _palette(depth: int) -> np.ndarray:
    return np.random.default_rng(depth).integers(0, 256, (1 << depth, 3), dtype=np.uint8)


def _expected(samples: np.ndarray, colour: int, depth: int) -> np.ndarray:
    if colour == PALETTE:
        rgb = _palette(depth)[samples[..., 0]].astype(float)
        return np.dstack([rgb, np.full(samples.shape[:2], 255.0)])
    scaled = samples * 255.0 / ((1 << depth) - 1)
    if colour == GREY:
        return np.dstack([scaled[..., 0]] * 3 + [np.full(samples.shape[:2], 255.0)])
    if colour == GREY_ALPHA:
        return np.dstack([scaled[..., 0]] * 3 + [scaled[..., 1]])
    if colour == RGB:
        return np.dstack([scaled, np.full(samples.shape[:2], 255.0)])
    return scaled


@pytest.mark.parametrize("interlaced", [False, True], ids=["plain", "interlaced"])
@pytest.mark.parametrize(("colour", "depth"), CASES)
def test_each_colour_type_and_depth_comes_out_as_the_specification_says(
    colour: int, depth: int, interlaced: bool
) -> None:
    samples = _samples(colour, depth)
    extra = _chunk(b"PLTE", _palette(depth).tobytes()) if colour == PALETTE else b""
    data = a_png(samples, colour, depth, interlaced=interlaced, extra=extra)
    seen = np.asarray(decode(data)).astype(float)
    assert seen.shape == (HEIGHT, WIDTH, 4)
    # Sixteen bits may be rounded or cut: less than a level either way.
    assert np.abs(seen - _expected(samples, colour, depth)).max() <= (1 if depth == 16 else 0.5)
    other = cv2.imdecode(np.frombuffer(data, np.uint8), cv2.IMREAD_COLOR)
    assert np.abs(other[..., ::-1].astype(float) - seen[..., :3]).max() <= (1 if depth == 16 else 0)


@pytest.mark.parametrize(("colour", "depth"), [case for case in CASES if case[0] in (GREY, RGB)])
def test_the_one_transparent_colour_is_found_at_every_depth(colour: int, depth: int) -> None:
    samples = _samples(colour, depth)
    key = samples[7, 11]
    data = a_png(samples, colour, depth, interlaced=False, extra=_chunk(b"tRNS", key.astype(">u2").tobytes()))
    clear = np.asarray(decode(data))[..., 3] == 0
    assert clear[7, 11]
    if depth < 16 or colour == GREY:
        assert (clear == (samples == key).all(axis=2)).all()


def test_partly_transparent_palettes_are_padded_with_opaque() -> None:
    samples = _samples(PALETTE, 4)
    alphas = bytes([0, 51, 255])
    extra = _chunk(b"PLTE", _palette(4).tobytes()) + _chunk(b"tRNS", alphas)
    data = a_png(samples, PALETTE, 4, interlaced=False, extra=extra)
    wanted = np.array([*alphas, *[255] * 13])[samples[..., 0]]
    assert (np.asarray(decode(data))[..., 3] == wanted).all()


def test_a_wrong_checksum_in_the_pixels_is_not_taken_for_a_picture_of_another_kind() -> None:
    data = bytearray(a_png(_samples(RGB, 8), RGB, 8, interlaced=False))
    data[16] ^= 0x40  # The width's first byte: the header's checksum no longer fits.
    from planner.artwork.read import UnreadableArtwork

    with pytest.raises(UnreadableArtwork):
        decode(bytes(data))
