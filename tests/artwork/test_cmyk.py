"""CMYK with a profile: one written here by the ICC's format, so that the expected colours are arithmetic.

The profile states CIELAB for the sixteen overprints of four inks, as a Neugebauer model does; between them
LittleCMS interpolates. Expected sRGB: scikit-image's Lab → sRGB for white D50, by the CIE's formulas.
"""

import itertools
import struct
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms
from skimage import color

from planner.artwork.colour import ciede2000, lab_of
from planner.artwork.pixels import decode, is_plain_jpeg, thumbnail
from planner.artwork.read import SourceNote, artwork_from, import_artwork
from tests.artwork import samples

PRESS_PROFILE = Path("/usr/share/color/icc/ghostscript/default_cmyk.icc")
"""A printing press's profile with tables both ways, from Debian's libgs-common; not shipped with us."""

PAPER = np.array([100.0, 0.0, 0.0])
INKS = {0: (60.0, -30.0, -40.0), 1: (50.0, 60.0, 0.0), 2: (90.0, -5.0, 70.0), 3: (0.0, 0.0, 0.0)}


def lab_of_overprint(on: tuple[int, ...]) -> np.ndarray:
    """Lightness multiplies, chroma adds at half weight: invented inks, but in gamut and all different."""
    lab = PAPER.copy()
    for ink in np.flatnonzero(on):
        lightness, a, b = INKS[int(ink)]
        lab = np.array([lab[0] * lightness / 100, (lab[1] + a) / (1 + (lab[1] != 0)), (lab[2] + b) / 2])
    return np.array([0.0, 0.0, 0.0]) if on[3] else lab


def a_cmyk_profile() -> bytes:
    """An output profile with 8-bit tables by ICC.1:2010, 10.9: two grid points for each ink."""
    straight = bytes(range(256))
    table = b"".join(
        bytes((round(lightness * 2.55), round(a) + 128, round(b) + 128))
        for lightness, a, b in map(lab_of_overprint, itertools.product((0, 1), repeat=4))
    )
    unit = struct.pack(">9i", *(65536 if at % 4 == 0 else 0 for at in range(9)))
    lut = b"mft1\0\0\0\0" + bytes((4, 3, 2, 0)) + unit + straight * 4 + table + straight * 3
    text = b"made\0"
    bodies = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(78),
        b"cprt": b"text\0\0\0\0" + text,
        b"wtpt": b"XYZ \0\0\0\0" + struct.pack(">3i", 63190, 65536, 54061),
        b"A2B0": lut,
        b"A2B1": lut,
    }
    tags, data, at = struct.pack(">I", len(bodies)), b"", 132 + 12 * len(bodies)
    for signature, body in bodies.items():
        body += bytes(-len(body) % 4)
        tags += struct.pack(">4sII", signature, at + len(data), len(body))
        data += body
    header = struct.pack(">I4sI4s4s4s", at + len(data), bytes(4), 0x02400000, b"prtr", b"CMYK", b"Lab ")
    header += struct.pack(">6H4s", 2020, 1, 1, 0, 0, 0, b"acsp") + bytes(28)
    header += struct.pack(">3i", 63190, 65536, 54061)
    return header + bytes(128 - len(header)) + tags + data


def patches() -> tuple[Image.Image, np.ndarray]:
    """A patch of 16 × 16 pixels for each overprint in gamut, and its sRGB."""
    found = []
    for on in itertools.product((0, 1), repeat=4):
        rgb = color.xyz2rgb(adapted(color.lab2xyz(np.round(lab_of_overprint(on)), illuminant="D50")))
        if (rgb.min() > 0.002 and rgb.max() < 0.998) or sum(on) == 0 or on[3]:
            found.append((on, rgb * 255))
    ink = np.array([[255 * level for level in on] for on, _ in found], np.uint8)
    wide = np.repeat(np.repeat(ink[None], 16, axis=0), 16, axis=1)
    return Image.fromarray(wide, "CMYK"), np.array([rgb for _, rgb in found])


def adapted(xyz: np.ndarray) -> np.ndarray:
    """From D50 to D65 by Bradford (the matrix of ICC.1:2010, annex E, inverted)."""
    to_d65 = np.linalg.inv(
        np.array(
            [
                [1.0478112, 0.0228866, -0.0501270],
                [0.0295424, 0.9904844, -0.0170491],
                [-0.0092345, 0.0150436, 0.7521316],
            ]
        )
    )
    return np.asarray(xyz @ to_d65.T)


def middles(picture: Image.Image) -> np.ndarray:
    return np.asarray(picture.convert("RGB"))[8, 8::16].astype(float)


@pytest.mark.parametrize("format_name", ["TIFF", "JPEG"])
def test_overprints_come_out_as_the_profile_says(format_name: str) -> None:
    picture, expected = patches()
    options = {"quality": 100, "subsampling": 0} if format_name == "JPEG" else {}
    data = samples.encoded(picture, format_name, icc_profile=a_cmyk_profile(), **options)
    assert len(expected) >= 12
    assert np.abs(middles(decode(data)) - expected).max() <= 4
    assert np.abs(middles(thumbnail(data, most_px=picture.width)) - expected).max() <= 4
    notes = import_artwork(data, "a").notes
    assert SourceNote.FROM_CMYK in notes
    assert SourceNote.CMYK_WITHOUT_PROFILE not in notes


def test_a_jpeg_with_ink_upside_down_and_one_without_come_out_alike() -> None:
    picture, expected = patches()
    profile = a_cmyk_profile()
    adobe = samples.encoded(picture, "JPEG", quality=100, subsampling=0, icc_profile=profile)
    assert b"Adobe" in adobe
    plain = without_adobe(
        samples.encoded(inverted(picture), "JPEG", quality=100, subsampling=0, icc_profile=profile)
    )
    assert b"Adobe" not in plain
    assert np.abs(middles(decode(adobe)) - middles(decode(plain))).max() <= 3
    assert np.abs(middles(decode(plain)) - expected).max() <= 4


def inverted(picture: Image.Image) -> Image.Image:
    return Image.fromarray(255 - np.asarray(picture), "CMYK")


def without_adobe(data: bytes) -> bytes:
    """The file without its APP14 segment (ITU-T T.81, B.2.4.6): its ink counts as stored."""
    at = data.index(b"\xff\xee")
    size = struct.unpack_from(">H", data, at + 2)[0]
    return data[:at] + data[at + 2 + size :]


@pytest.mark.skipif(not PRESS_PROFILE.exists(), reason="libgs-common is not installed")
@pytest.mark.parametrize("kind", ["TIFF", "JPEG", "JPEG without Adobe"])
def test_a_round_trip_through_a_press_profile_comes_home(kind: str) -> None:
    """Colours that the press can print go to CMYK by LittleCMS, into a file, and come back as they were."""
    levels = np.arange(0, 256, 17, dtype=np.uint8)
    every = np.stack(np.meshgrid(levels, levels, levels, indexing="ij"), axis=-1).reshape(-1, 3)
    profile = PRESS_PROFILE.read_bytes()
    press, srgb = ImageCms.ImageCmsProfile(BytesIO(profile)), ImageCms.createProfile("sRGB")
    relative, black = ImageCms.Intent.RELATIVE_COLORIMETRIC, ImageCms.Flags.BLACKPOINTCOMPENSATION

    def through(picture: Image.Image, one: object, other: object, mode: str) -> Image.Image:
        transform = ImageCms.buildTransform(one, other, picture.mode, mode, relative, flags=black)
        return ImageCms.applyTransform(picture, transform)

    wide = Image.fromarray(every.reshape(64, 64, 3))
    home = np.asarray(through(through(wide, srgb, press, "CMYK"), press, srgb, "RGB")).reshape(-1, 3)
    apart = ciede2000(lab_of(home), lab_of(every))
    printable = every[apart < 2]
    assert len(printable) > 1000
    count = len(printable) // 64 * 64
    # Blocks of a JPEG's own size, so that its frequencies mix no two colours (ITU-T T.81, A.1.3).
    blocks = np.kron(printable[:count].reshape(-1, 64, 3), np.ones((8, 8, 1), np.uint8))
    ink = through(Image.fromarray(blocks), srgb, press, "CMYK")
    if kind == "TIFF":
        data = samples.encoded(ink, "TIFF", icc_profile=profile)
    elif kind == "JPEG":
        data = samples.encoded(ink, "JPEG", quality=100, subsampling=0, icc_profile=profile)
        assert b"Adobe" in data
    else:
        upside_down = samples.encoded(inverted(ink), "JPEG", quality=100, subsampling=0, icc_profile=profile)
        data = without_adobe(upside_down)
    seen = np.asarray(decode(data).convert("RGB"))[4::8, 4::8].reshape(-1, 3)
    off = ciede2000(lab_of(seen), lab_of(printable[:count]))
    assert off.mean() < 1.5
    assert np.percentile(off, 99) < 3.5


def test_cmyk_files_are_never_printed_as_they_are() -> None:
    picture, _ = patches()
    data = samples.encoded(picture, "JPEG", icc_profile=a_cmyk_profile())
    assert not is_plain_jpeg(artwork_from(import_artwork(data, "a.jpg"), "a"), data)
    with Image.open(BytesIO(data)) as opened:
        assert opened.mode == "CMYK"
