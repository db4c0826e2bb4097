"""Every colour mode comes out as upright 8-bit sRGB, checked against LittleCMS and scikit-image."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageCms, ImageOps
from skimage.color import lab2rgb

from planner.artwork.pixels import decode, thumbnail
from planner.artwork.read import SourceNote, import_artwork
from tests.artwork import samples


def _rgb(picture: Image.Image) -> np.ndarray:
    return np.asarray(picture)[..., :3].astype(int)


def test_plain_rgb_and_rgba_come_through_untouched() -> None:
    logo = samples.logo()
    assert decode(samples.encoded(logo)).tobytes() == logo.tobytes()
    photo = samples.photograph()
    assert (_rgb(decode(samples.encoded(photo))) == _rgb(photo)).all()
    assert decode(samples.encoded(photo)).getpixel((0, 0))[3] == 255


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("format_name", ["JPEG", "PNG", "WEBP", "TIFF"])
def test_orientation_is_obeyed(orientation: int, format_name: str) -> None:
    photo = samples.photograph("chelsea.png").resize((120, 80))
    exif = Image.Exif()
    exif[0x0112] = orientation
    options = {"lossless": True} if format_name == "WEBP" else {}
    data = samples.encoded(photo, format_name, exif=exif.tobytes(), **options)
    with Image.open(BytesIO(data)) as opened:
        expected = _rgb(ImageOps.exif_transpose(opened).convert("RGB"))
    assert (_rgb(decode(data)) == expected).all()
    imported = import_artwork(data, "a")
    assert (imported.width_px, imported.height_px) == expected.shape[1::-1]
    small = thumbnail(data, most_px=60)
    assert (small.width > small.height) == (expected.shape[1] > expected.shape[0])
    assert np.abs(_rgb(small.resize((6, 6))) - _rgb(decode(data).convert("RGB").resize((6, 6)))).mean() < 12


def test_grey_and_black_and_white_and_palette_come_out_alike() -> None:
    grey = samples.photograph("camera.png").convert("L")
    expected = np.repeat(np.asarray(grey)[..., None], 3, axis=2)
    assert (_rgb(decode(samples.encoded(grey))) == expected).all()
    two = grey.convert("1")
    assert set(np.unique(_rgb(decode(samples.encoded(two))))) == {0, 255}
    palette = samples.photograph().quantize(64)
    assert (_rgb(decode(samples.encoded(palette))) == _rgb(palette.convert("RGB"))).all()


def test_palette_transparency_is_kept_exactly() -> None:
    palette = Image.new("P", (8, 1))
    palette.putpalette([value for index in range(8) for value in (index * 30, 10, 200)])
    palette.putdata(range(8))
    alphas = bytes([0, 3, 60, 128, 200, 254, 255, 255])
    seen = np.asarray(decode(samples.encoded(palette, transparency=alphas)))
    assert seen[0, :, 3].tolist() == list(alphas)
    assert seen[0, :, 0].tolist() == [index * 30 for index in range(8)]


@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_a_single_transparent_colour_is_obeyed(mode: str) -> None:
    picture = Image.new(mode, (2, 1), "white")
    picture.putpixel((1, 0), (1, 2, 3) if mode == "RGB" else 7)
    data = samples.encoded(picture, transparency=(1, 2, 3) if mode == "RGB" else 7)
    assert np.asarray(decode(data))[0, :, 3].tolist() == [255, 0]


def test_alpha_in_every_level_is_kept_exactly() -> None:
    for format_name, options in (("PNG", {}), ("WEBP", {"lossless": True, "exact": True}), ("TIFF", {})):
        pixels = np.zeros((16, 16, 4), np.uint8)
        pixels[..., 3] = np.arange(256).reshape(16, 16)
        pixels[..., 0] = 90
        seen = np.asarray(decode(samples.encoded(Image.fromarray(pixels), format_name, **options)))
        assert (seen == pixels).all()


def test_sixteen_bits_are_scaled_not_cut() -> None:
    values = np.linspace(0, 65535, 512).round().astype(np.uint16).reshape(16, 32)
    data = samples.encoded(Image.fromarray(values))
    expected = values / 65535 * 255
    assert np.abs(_rgb(decode(data))[..., 0] - expected).max() <= 0.51
    assert SourceNote.DEPTH_REDUCED in import_artwork(data, "a.png").notes


def test_cmyk_jpegs_are_read_the_right_way_up() -> None:
    cmyk = Image.new("CMYK", (16, 16), (0, 0, 0, 0))
    cmyk.paste((255, 0, 0, 0), (8, 0, 16, 16))
    data = samples.encoded(cmyk, "JPEG", quality=100)
    assert b"Adobe" in data[:200]
    seen = _rgb(decode(data))
    assert seen[8, 2].min() > 250
    assert seen[8, 13, 0] < 10
    assert seen[8, 13, 1:].min() > 240
    notes = import_artwork(data, "a.jpg").notes
    assert {SourceNote.FROM_CMYK, SourceNote.CMYK_WITHOUT_PROFILE} <= notes
    # Without the marker the ink is not stored upside down, so the very same bytes mean the opposite.
    marker = data.index(b"\xff\xee")
    length = int.from_bytes(data[marker + 2 : marker + 4], "big")
    unmarked = data[:marker] + data[marker + 2 + length :]
    assert _rgb(decode(unmarked))[8, 2].max() < 10


def test_lab_files_match_scikit_image() -> None:
    lab = np.zeros((9, 9, 3))
    lab[..., 0] = np.linspace(30, 80, 9)[:, None]
    lab[..., 1] = np.linspace(-25, 25, 9)[None, :]
    lab[..., 2] = 12
    stored = (
        np.stack([lab[..., 0] * 2.55, lab[..., 1] + 128, lab[..., 2] + 128], axis=-1).round().astype(np.uint8)
    )
    # Pillow's "LAB" keeps a* and b* as signed bytes.
    stored[..., 1:] = (stored[..., 1:].astype(int) - 128).astype(np.int8).view(np.uint8)
    picture = Image.frombytes("LAB", (9, 9), stored.tobytes())
    seen = _rgb(decode(samples.encoded(picture, "TIFF")))
    # Both take the white of the file for the white of the screen.
    assert np.abs(seen - lab2rgb(lab) * 255).mean() < 4


def test_an_embedded_srgb_profile_changes_nothing_and_is_not_noted() -> None:
    photo = samples.photograph()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    data = samples.encoded(photo, icc_profile=profile)
    assert (_rgb(decode(data)) == _rgb(photo)).all()
    assert SourceNote.FROM_PROFILE not in import_artwork(data, "a.png").notes


def test_a_damaged_profile_is_noted_and_the_picture_read_without_it() -> None:
    photo = samples.photograph()
    data = samples.encoded(photo, icc_profile=b"no profile at all" * 20)
    assert (_rgb(decode(data)) == _rgb(photo)).all()
    assert SourceNote.UNUSABLE_PROFILE in import_artwork(data, "a.png").notes


@pytest.mark.parametrize(("size", "most"), [((1200, 300), 256), ((40, 30), 256), ((300, 1200), 100)])
@pytest.mark.parametrize("format_name", ["PNG", "JPEG", "GIF", "TIFF"])
def test_thumbnails_fit_and_look_like_the_picture(size: tuple[int, int], most: int, format_name: str) -> None:
    photo = samples.photograph().resize(size)
    small = thumbnail(samples.encoded(photo, format_name), most_px=most)
    assert small.mode == "RGBA"
    assert max(small.size) == min(most, max(size))
    assert small.width / small.height == pytest.approx(size[0] / size[1], rel=0.05)
    off = np.abs(
        _rgb(small.resize((8, 8), Image.Resampling.BOX)) - _rgb(photo.resize((8, 8), Image.Resampling.BOX))
    )
    assert off.mean() < 10


def test_a_thumbnail_keeps_transparency() -> None:
    small = thumbnail(samples.encoded(samples.logo(1200, 800)), most_px=120)
    assert small.getpixel((2, 2))[3] == 0
    assert small.getpixel((60, 15))[3] == 255
