"""TIFF files in the layouts that programs write, against the samples they were written from by tifffile."""

from io import BytesIO

import numpy as np
import pytest
import tifffile

from planner.artwork.pixels import decode
from planner.artwork.read import SourceNote, import_artwork

RNG = np.random.default_rng(21)
GREY8 = RNG.integers(0, 256, (30, 41), dtype=np.uint8)
RGB8 = RNG.integers(0, 256, (30, 41, 3), dtype=np.uint8)
ALPHA = RNG.integers(0, 256, (30, 41), dtype=np.uint8)
GREY16 = RNG.integers(0, 65536, (30, 41), dtype=np.uint16)
RGB16 = RNG.integers(0, 65536, (30, 41, 3), dtype=np.uint16)


def written(samples: np.ndarray, **options: object) -> bytes:
    buffer = BytesIO()
    tifffile.imwrite(buffer, samples, **options)  # type: ignore[arg-type]
    return buffer.getvalue()


def _seen(data: bytes) -> np.ndarray:
    return np.asarray(decode(data)).astype(float)


@pytest.mark.parametrize("order", ["<", ">"], ids=["little", "big"])
@pytest.mark.parametrize("tile", [None, (16, 16)], ids=["strips", "tiles"])
@pytest.mark.parametrize("compression", [None, "zlib"])
def test_grey_and_rgb_in_strips_and_tiles(
    order: str, tile: tuple[int, int] | None, compression: str | None
) -> None:
    options = {"byteorder": order, "tile": tile, "compression": compression}
    grey = _seen(written(GREY8, photometric="minisblack", **options))
    assert (grey[..., :3] == GREY8[..., None]).all()
    rgb = _seen(written(RGB8, photometric="rgb", **options))
    assert (rgb[..., :3] == RGB8).all()
    assert (rgb[..., 3] == 255).all()


def test_inverted_grey_is_put_right() -> None:
    assert (_seen(written(GREY8, photometric="miniswhite"))[..., 0] == 255 - GREY8).all()


@pytest.mark.parametrize("order", ["<", ">"])
def test_sixteen_bits_are_scaled(order: str) -> None:
    grey = written(GREY16, photometric="minisblack", byteorder=order)
    assert np.abs(_seen(grey)[..., 0] - GREY16 / 257).max() <= 0.51
    rgb = written(RGB16, photometric="rgb", byteorder=order)
    assert np.abs(_seen(rgb)[..., :3] - RGB16 / 257).max() <= 1
    assert SourceNote.DEPTH_REDUCED in import_artwork(grey, "a.tif").notes
    assert SourceNote.DEPTH_REDUCED in import_artwork(rgb, "a.tif").notes


def test_floating_point_grey_from_0_to_1_is_scaled() -> None:
    values = (GREY8 / 255).astype(np.float32)
    assert np.abs(_seen(written(values, photometric="minisblack"))[..., 0] - GREY8).max() <= 0.51


def test_straight_alpha_is_kept_and_premultiplied_alpha_is_undone() -> None:
    straight = np.dstack([RGB8, ALPHA])
    assert (_seen(written(straight, photometric="rgb", extrasamples=["unassalpha"])) == straight).all()
    multiplied = np.dstack([np.round(RGB8 * (ALPHA[..., None] / 255)).astype(np.uint8), ALPHA])
    seen = _seen(written(multiplied, photometric="rgb", extrasamples=["assocalpha"]))
    assert (seen[..., 3] == ALPHA).all()
    solid = ALPHA > 127
    assert np.abs(seen[..., :3] - RGB8)[solid].max() <= 3


def test_cmyk_without_a_profile_is_read_as_ink() -> None:
    ink = np.zeros((4, 4, 4), np.uint8)
    ink[:2, :, 2] = 255
    seen = _seen(written(ink, photometric="separated"))
    assert seen[0, 0].tolist() == [255, 255, 0, 255]
    assert seen[3, 0].tolist() == [255, 255, 255, 255]


def test_the_first_of_several_pages_is_used_and_noted() -> None:
    pages = written(np.stack([RGB8, 255 - RGB8]), photometric="rgb")
    assert (_seen(pages)[..., :3] == RGB8).all()
    assert SourceNote.FIRST_FRAME in import_artwork(pages, "a.tif").notes
