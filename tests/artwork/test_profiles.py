"""Embedded profiles: a wide colour space written here by the ICC's format, and what must come of it.

The space has the primaries and the gamma of opRGB (IEC 61966-2-5), adapted to D50 as ICC.1:2010 asks;
the expected colours follow from the published matrices, not from LittleCMS, which does the converting.
"""

import struct

import numpy as np
import pytest
from PIL import Image

from planner.artwork.check import import_measured
from planner.artwork.pixels import decode, is_plain_jpeg, thumbnail
from planner.artwork.read import SourceNote, artwork_from, import_artwork
from tests.artwork import samples

GAMMA = 563 / 256
# Columns: red, green and blue primary in XYZ, D50.
TO_D50 = np.array([[0.60974, 0.20528, 0.14919], [0.31111, 0.62567, 0.06322], [0.01947, 0.06087, 0.74457]])
# D50 XYZ to linear sRGB: the inverse of the sRGB primaries adapted to D50 by Bradford.
SRGB_TO_D50 = np.array(
    [[0.43607, 0.38515, 0.14307], [0.22249, 0.71687, 0.06061], [0.01392, 0.09708, 0.71410]]
)


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def a_wide_profile() -> bytes:
    """Of a screen; its green reaches far beyond sRGB's."""
    return a_matrix_profile(TO_D50, b"mntr")


def a_matrix_profile(to_d50: np.ndarray, device: bytes) -> bytes:
    """A matrix profile by ICC.1:2010: header (7.2), tag table (7.3), XYZ and curve tags (10.31, 10.5)."""
    text = b"wide\0"
    bodies = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(78),
        b"cprt": b"text\0\0\0\0" + text,
        b"wtpt": b"XYZ \0\0\0\0" + b"".join(map(_fixed, (0.9642, 1.0, 0.8249))),
    }
    for channel, name in enumerate((b"r", b"g", b"b")):
        bodies[name + b"XYZ"] = b"XYZ \0\0\0\0" + b"".join(map(_fixed, to_d50[:, channel]))
        bodies[name + b"TRC"] = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(GAMMA * 256)) + b"\0\0"
    table, data, at = struct.pack(">I", len(bodies)), b"", 128 + 4 + 12 * len(bodies)
    for signature, body in bodies.items():
        body += bytes(-len(body) % 4)
        table += struct.pack(">4sII", signature, at + len(data), len(body))
        data += body
    size = at + len(data)
    header = struct.pack(">I4sI4s4s4s", size, bytes(4), 0x02400000, device, b"RGB ", b"XYZ ")
    header += struct.pack(">6H4s", 2020, 1, 1, 0, 0, 0, b"acsp") + bytes(28)
    header += b"".join(map(_fixed, (0.9642, 1.0, 0.8249)))
    return header + bytes(128 - len(header)) + table + data


def _expected(rgb: np.ndarray) -> np.ndarray:
    linear = (rgb / 255.0) ** GAMMA @ TO_D50.T @ np.linalg.inv(SRGB_TO_D50).T
    linear = np.clip(linear, 0, 1)
    coded = np.where(linear > 0.0031308, 1.055 * linear ** (1 / 2.4) - 0.055, 12.92 * linear)
    return coded * 255


@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
def test_a_wide_space_is_converted_and_alpha_kept(mode: str) -> None:
    rng = np.random.default_rng(2)
    rgb = rng.integers(40, 216, (40, 50, 3), dtype=np.uint8)
    alpha = rng.integers(0, 256, (40, 50), dtype=np.uint8)
    picture = Image.fromarray(rgb if mode == "RGB" else np.dstack([rgb, alpha]))
    data = samples.encoded(picture, icc_profile=a_wide_profile())
    seen = np.asarray(decode(data)).astype(float)
    assert np.abs(seen[..., :3] - _expected(rgb)).max() <= 2
    assert (seen[..., 3] == (255 if mode == "RGB" else alpha)).all()
    assert SourceNote.FROM_PROFILE in import_artwork(data, "a.png").notes


def test_colours_that_srgb_cannot_hold_are_noted_and_others_are_not() -> None:
    strong = Image.new("RGB", (60, 60), (0, 255, 0))
    notes = import_artwork(samples.encoded(strong, icc_profile=a_wide_profile()), "a.png").notes
    assert SourceNote.OUT_OF_SRGB in notes
    mild = Image.new("RGB", (60, 60), (120, 130, 110))
    notes = import_artwork(samples.encoded(mild, icc_profile=a_wide_profile()), "a.png").notes
    assert SourceNote.OUT_OF_SRGB not in notes
    assert SourceNote.FROM_PROFILE in notes


def test_how_much_srgb_cannot_hold_is_measured_and_where() -> None:
    # The left quarter is the wide space's own green, far outside sRGB; the rest is well inside.
    picture = Image.new("RGB", (400, 200), (120, 130, 110))
    picture.paste((0, 255, 0), (0, 0, 100, 200))
    exif = Image.Exif()
    exif[0x0112] = 6  # EXIF 2.32, 4.6.4 A: to be turned by a quarter, so that left comes on top.
    for tag, (x, y, width, height) in ((None, (0, 0, 0.25, 1)), (exif, (0, 0, 1, 0.25))):
        data = samples.encoded(picture, icc_profile=a_wide_profile(), **({"exif": tag} if tag else {}))
        _, facts = import_measured(data, "a.png")
        assert facts.out_of_srgb is not None
        assert facts.out_of_srgb.share == pytest.approx(0.25, abs=0.02)
        (region,) = facts.out_of_srgb.regions
        assert (region.x, region.y) == (x, y)
        assert region.width == pytest.approx(width, abs=0.02)
        assert region.height == pytest.approx(height, abs=0.02)
    # What is clear does not count.
    clear = picture.convert("RGBA")
    clear.paste((120, 130, 110, 0), (200, 0, 400, 200))
    _, facts = import_measured(samples.encoded(clear, icc_profile=a_wide_profile()), "a.png")
    assert facts.out_of_srgb is not None
    assert facts.out_of_srgb.share == pytest.approx(0.5, abs=0.03)


def test_a_jpeg_in_a_wide_space_may_not_be_printed_as_it_is() -> None:
    photo = samples.photograph()
    data = samples.encoded(photo, "JPEG", icc_profile=a_wide_profile())
    assert not is_plain_jpeg(artwork_from(import_artwork(data, "a.jpg"), "a"), data)


def test_thumbnails_are_converted_too() -> None:
    picture = Image.new("RGB", (300, 200), (200, 60, 90))
    data = samples.encoded(picture, icc_profile=a_wide_profile())
    seen = thumbnail(data, most_px=50).getpixel((20, 20))
    assert np.abs(np.array(seen[:3]) - _expected(np.array([200, 60, 90]))).max() <= 2
