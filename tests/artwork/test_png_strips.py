"""Plain PNGs in strips of rows: every filter and every cut come out as Pillow has them, spoiled ones do not.

The files are written here, filters chosen row by row as the W3C PNG specification gives them (9.2); Pillow,
which has an inflater and filters of its own, decides what is right.
"""

import itertools
import struct
import tracemalloc
import zlib
from collections.abc import Iterator, Sequence
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from planner.artwork import png_strips, quick_png

NONE, SUB, UP, AVERAGE, PAETH = range(5)
filters = st.lists(st.sampled_from((NONE, SUB, UP, AVERAGE, PAETH)), min_size=1, max_size=24)


@pytest.fixture(autouse=True)
def _small_strips_of_small_files(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(quick_png, "_LEAST_BYTES", 0)
    monkeypatch.setattr(png_strips, "_STRIP_BYTES", 700)
    monkeypatch.setattr(png_strips, "_FED_BYTES", 61)
    monkeypatch.setattr(png_strips, "_MOST_STORED", 251)


def some_pixels(width: int, height: int, seed: int = 3) -> np.ndarray:
    """Noise above, a gentle run below, so that filters meet small and large differences."""
    rng = np.random.default_rng(seed)
    pixels = rng.integers(0, 256, (height, width, 4), dtype=np.uint8)
    run = np.add.outer(np.arange(height), np.arange(width))[..., None] + np.array([0, 60, 120, 250])
    pixels[height // 2 :] = run[height // 2 :].astype(np.uint8)
    return pixels


def filtered(pixels: np.ndarray, kinds: Sequence[int]) -> bytes:
    """W3C PNG, 9.2: each byte less what its filter foretells from the bytes left, above and above left."""
    x = pixels.astype(np.int16)
    left = np.zeros_like(x)
    left[:, 1:] = x[:, :-1]
    above = np.zeros_like(x)
    above[1:] = x[:-1]
    corner = np.zeros_like(x)
    corner[1:, 1:] = x[:-1, :-1]
    p = left + above - corner
    pa, pb, pc = abs(p - left), abs(p - above), abs(p - corner)
    paeth = np.where((pa <= pb) & (pa <= pc), left, np.where(pb <= pc, above, corner))
    foretold = (np.zeros_like(x), left, above, (left + above) // 2, paeth)
    rows = []
    for row in range(len(x)):
        kind = kinds[row % len(kinds)]
        rows.append(bytes([kind]) + ((x[row] - foretold[kind][row]) % 256).astype(np.uint8).tobytes())
    return b"".join(rows)


def chunk(kind: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))


def a_png(width: int, height: int, stream: bytes, cuts: Sequence[int] = (), behind: bytes = b"") -> bytes:
    """An 8-bit "RGBA" file; its stream is cut into chunks at `cuts`."""
    edges = [0, *sorted(cut % (len(stream) + 1) for cut in cuts), len(stream)]
    idat = b"".join(chunk(b"IDAT", stream[start:end]) for start, end in itertools.pairwise(edges))
    header = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 6, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + idat + behind + chunk(b"IEND", b"")


def quickly(data: bytes, size: tuple[int, int] | None = None) -> Image.Image | None:
    with Image.open(BytesIO(data)) as opened:
        return quick_png.decoded(data, opened, size)


def by_pillow(data: bytes) -> bytes | None:
    try:
        with Image.open(BytesIO(data)) as opened:
            return opened.tobytes()
    except (OSError, SyntaxError, ValueError):
        return None


@settings(max_examples=150, deadline=None)
@given(
    kinds=filters,
    width=st.integers(1, 90),
    height=st.integers(1, 60),
    level=st.integers(0, 9),
    cuts=st.lists(st.integers(0, 5000), max_size=5),
)
def test_all_filters_sizes_and_cuts_come_out_as_they_went_in(
    kinds: list[int], width: int, height: int, level: int, cuts: list[int]
) -> None:
    pixels = some_pixels(width, height)
    data = a_png(width, height, zlib.compress(filtered(pixels, kinds), level), cuts)
    quick = quickly(data)
    assert quick is not None
    assert quick.size == (width, height)
    assert quick.tobytes() == pixels.tobytes() == by_pillow(data)


@settings(max_examples=150, deadline=None)
@given(
    kinds=filters,
    at=st.integers(0, 10_000),
    flip=st.integers(1, 255),
    cut=st.booleans(),
)
def test_a_spoiled_stream_is_never_read_otherwise_than_by_pillow(
    kinds: list[int], at: int, flip: int, cut: bool
) -> None:
    stream = bytearray(zlib.compress(filtered(some_pixels(31, 29), kinds)))
    at %= len(stream)
    stream[at] ^= flip
    data = a_png(31, 29, bytes(stream[:at] if cut else stream))
    quick = quickly(data)
    assert quick is None or quick.tobytes() == by_pillow(data)


@pytest.mark.parametrize("lost", [1, 4, 5, 300])
def test_a_stream_without_its_end_is_for_pillow_to_judge(lost: int) -> None:
    stream = zlib.compress(filtered(some_pixels(40, 30), (PAETH, UP)))
    assert quickly(a_png(40, 30, stream)) is not None
    assert quickly(a_png(40, 30, stream[:-lost])) is None


def test_a_wrong_sum_of_the_pixels_is_noticed() -> None:
    stream = bytearray(zlib.compress(filtered(some_pixels(40, 30), (SUB,))))
    stream[-1] ^= 1
    assert quickly(a_png(40, 30, bytes(stream))) is None


@pytest.mark.parametrize("more", [b"\0", bytes(161), bytes(100_000)])
def test_more_rows_than_the_header_says_are_no_plain_file(more: bytes) -> None:
    rows = filtered(some_pixels(40, 30), (UP,))
    assert quickly(a_png(40, 30, zlib.compress(rows + more))) is None
    assert quickly(a_png(40, 30, zlib.compress(rows) + more)) is None


def test_a_row_filtered_as_no_filter_does_is_for_pillow_to_judge() -> None:
    rows = bytearray(filtered(some_pixels(40, 30), (NONE,)))
    rows[161 * 17] = 5
    assert quickly(a_png(40, 30, zlib.compress(bytes(rows)))) is None


@pytest.mark.parametrize("name", [b"iCCP", b"gAMA", b"PLTE", b"IDAT"])
def test_what_stands_behind_the_pixels_and_may_change_them_is_for_pillow_to_judge(name: bytes) -> None:
    stream = zlib.compress(filtered(some_pixels(40, 30), (UP,)))
    behind = chunk(b"tEXt", b"Comment\0as usual")
    assert quickly(a_png(40, 30, stream, behind=behind)) is not None
    assert quickly(a_png(40, 30, stream, behind=behind + chunk(name, b""))) is None


def test_a_second_header_is_for_pillow_to_judge() -> None:
    data = a_png(40, 30, zlib.compress(filtered(some_pixels(40, 30), (UP,))))
    assert quickly(data[:33] + data[8:33] + data[33:]) is None


@settings(max_examples=60, deadline=None)
@given(
    width=st.integers(1, 120), height=st.integers(1, 120), wide=st.integers(1, 120), high=st.integers(1, 120)
)
def test_a_thinned_picture_has_the_pixels_that_pillow_takes(
    width: int, height: int, wide: int, high: int
) -> None:
    size = min(width, wide), min(height, high)
    pixels = some_pixels(width, height)
    quick = quickly(a_png(width, height, zlib.compress(filtered(pixels, (PAETH, SUB)))), size)
    assert quick is not None
    assert quick.tobytes() == Image.fromarray(pixels).resize(size, Image.Resampling.NEAREST).tobytes()


def a_bomb(rows: int) -> Iterator[bytes]:
    """The compressed bytes of so many clear rows of 1000 pixels."""
    packer = zlib.compressobj(9)
    for _ in range(rows):
        yield packer.compress(bytes(4001))
    yield packer.flush()


def test_a_bomb_is_not_unfolded_beyond_its_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(png_strips, "_FED_BYTES", 32_768)
    data = a_png(1000, 20, b"".join(a_bomb(30_000)))
    tracemalloc.start()
    try:
        assert quickly(data) is None
        assert tracemalloc.get_traced_memory()[1] < 2_000_000
    finally:
        tracemalloc.stop()


def test_thinning_never_holds_the_whole_picture(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(png_strips, "_STRIP_BYTES", 40_000)
    monkeypatch.setattr(png_strips, "_FED_BYTES", 32_768)
    monkeypatch.setattr(png_strips, "_MOST_STORED", 65_535)
    data = a_png(1000, 3000, b"".join(a_bomb(3000)))
    tracemalloc.start()
    try:
        assert quickly(data, (100, 300)) is not None
        assert tracemalloc.get_traced_memory()[1] < 1_000_000
    finally:
        tracemalloc.stop()
