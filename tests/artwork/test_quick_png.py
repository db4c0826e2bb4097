"""Plain transparent PNGs take a quicker way to the same pixels; anything else takes Pillow's."""

import struct
import zlib
from io import BytesIO
from typing import Any

import numpy as np
import pytest
from PIL import Image

from planner.artwork import quick_png
from planner.artwork.pixels import decode
from planner.artwork.read import SourceNote, UnreadableArtwork, import_artwork
from tests.artwork import samples
from tests.artwork.test_profiles import a_wide_profile


def a_busy_picture(width: int = 331, height: int = 257) -> Image.Image:
    rng = np.random.default_rng(5)
    return Image.fromarray(rng.integers(0, 256, (height, width, 4), dtype=np.uint8))


def quickly(data: bytes) -> Image.Image | None:
    with Image.open(BytesIO(data)) as opened:
        return quick_png.decoded(data, opened)


def with_chunk(data: bytes, kind: bytes, content: bytes) -> bytes:
    """One more chunk ahead of the last one, as programs append their tags."""
    chunk = struct.pack(">I", len(content)) + kind + content + struct.pack(">I", zlib.crc32(kind + content))
    return data[:-12] + chunk + data[-12:]


@pytest.mark.parametrize("options", [{}, {"compress_level": 0}, {"icc_profile": a_wide_profile()}])
def test_the_quick_way_gives_the_pixels_that_pillow_gives(options: dict[str, Any]) -> None:
    data = samples.encoded(a_busy_picture(), **options)
    quick = quickly(data)
    assert quick is not None
    with Image.open(BytesIO(data)) as opened:
        assert quick.tobytes() == opened.tobytes()
        assert quick.info.get("icc_profile") == opened.info.get("icc_profile")


def test_every_row_filter_is_undone_alike() -> None:
    photo = samples.photograph("coffee.png").convert("RGBA")
    photo.putalpha(samples.photograph("camera.png").convert("L").resize(photo.size))
    data = samples.encoded(photo)
    quick = quickly(data)
    assert quick is not None
    with Image.open(BytesIO(data)) as opened:
        assert quick.tobytes() == opened.tobytes()


def test_an_orientation_tag_behind_the_pixels_is_obeyed() -> None:
    picture = a_busy_picture()
    tag = Image.Exif()
    tag[0x0112] = 6
    data = with_chunk(samples.encoded(picture), b"eXIf", tag.tobytes().removeprefix(b"Exif\0\0"))
    assert quickly(data) is None
    assert decode(data).size == (picture.height, picture.width)
    assert SourceNote.TURNED in import_artwork(data, "a.png").notes


@pytest.mark.parametrize("mode", ["RGB", "LA", "P"])
def test_other_kinds_of_png_are_left_to_pillow(mode: str) -> None:
    assert quickly(samples.encoded(a_busy_picture().convert(mode), compress_level=0)) is None


def test_an_animation_is_left_to_pillow() -> None:
    frames = [a_busy_picture(), Image.new("RGBA", (331, 257), (9, 9, 9, 255))]
    assert quickly(samples.encoded(frames[0], save_all=True, append_images=frames[1:])) is None


def test_a_damaged_file_is_still_refused() -> None:
    whole = samples.encoded(a_busy_picture())
    assert quickly(whole[: len(whole) // 2]) is None
    with pytest.raises(UnreadableArtwork):
        import_artwork(whole[: len(whole) // 2], "a.png")


def test_spoiled_pixels_are_for_pillow_to_judge() -> None:
    photo = samples.photograph().convert("RGBA")
    whole = bytearray(samples.encoded(photo))
    middle = len(whole) // 2
    whole[middle : middle + 2000] = b"\xff" * 2000
    assert quickly(bytes(whole)) is None
