"""Files taken in: what they are, and what is said of those that cannot be used."""

import random
from base64 import b64decode

import pytest
from PIL import Image

from planner.artwork import source
from planner.artwork.pixels import decode, is_plain_jpeg, thumbnail
from planner.artwork.read import SourceNote, UnreadableArtwork, artwork_from, import_artwork
from tests.artwork import samples

A_HEIC = b64decode(
    "AAAAHGZ0eXBoZWljAAAAAG1pZjFoZWljbWlhZgAAAX1tZXRhAAAAAAAAACFoZGxyAAAAAAAAAABwaWN0AAAAAAAAAAAA"
    "AAAAAAAAACJpbG9jAAAAAERAAAEAAQAAAAABoQABAAAAAAAAAFcAAAAjaWluZgAAAAAAAQAAABVpbmZlAgAAAAABAABo"
    "dmMxAAAAAA5waXRtAAAAAAABAAAA/WlwcnAAAADdaXBjbwAAAHZodmNDAQNwAAAAkAAAAAAAHvAA/P34+AAADwNgAAEA"
    "GEABDAH//wNwAAADAJAAAAMAAAMAHroCQGEAAQAqQgEBA3AAAAMAkAAAAwAAAwAeoCCBBZbq5Ka5uAhoMCAAAAMDIAAA"
    "AwAhYgABAAZEAcFzwIkAAAATY29scm5jbHgAAQANAAaAAAAAFGlzcGUAAAAAAAAAQAAAAEAAAAAoY2xhcAAAAEAAAAAB"
    "AAAAMAAAAAEAAAAAAAAAAv////AAAAACAAAAEHBpeGkAAAAAAwgICAAAABhpcG1hAAAAAAAAAAEAAQWBAgMFhAAAAF9t"
    "ZGF0AAAAUygBrxOA9SeBP//lnUV/5SOr/mMrMSre5Ox/+cHuL+ayZ24DHOEXTaf7xDIq47JQq1CCm2yok6qC0nhPDtOT"
    "fZCZftY1xRI4x1DmHltxsZyhu772"
)
FORMATS = ("PNG", "JPEG", "TIFF", "WEBP", "GIF", "BMP", "AVIF")


def _sample(format_name: str) -> bytes:
    picture = samples.logo(90, 60)
    opaque = samples.on_ground(picture, (240, 240, 240))
    return samples.encoded(opaque if format_name in ("JPEG", "BMP", "GIF") else picture, format_name)


@pytest.mark.parametrize("format_name", FORMATS)
def test_each_format_is_known_by_its_content_under_any_name(format_name: str) -> None:
    imported = import_artwork(_sample(format_name), f"logo.{format_name.lower()}")
    assert imported.media == f"image/{format_name.lower()}"
    assert (imported.width_px, imported.height_px) == (90, 60)
    assert SourceNote.MISLABELLED not in imported.notes
    renamed = import_artwork(_sample(format_name), "logo.heic")
    assert renamed.media == imported.media
    assert SourceNote.MISLABELLED in renamed.notes


def test_a_name_without_extension_promises_nothing() -> None:
    assert SourceNote.MISLABELLED not in import_artwork(_sample("PNG"), "logo").notes


def test_an_import_becomes_an_artwork_of_the_job() -> None:
    artwork = artwork_from(import_artwork(_sample("PNG"), "logo.png"), "logo")
    assert (artwork.width_px, artwork.height_px, artwork.media) == (90, 60, "image/png")
    assert len(artwork.sha256) == 64


def test_a_phones_photograph_is_read() -> None:
    # 64 × 48 pixels, blue left and red right, drawn for this test and encoded once: no HEVC encoder here.
    imported = import_artwork(A_HEIC, "IMG_1.HEIC")
    assert (imported.media, imported.width_px, imported.height_px) == ("image/heic", 64, 48)
    seen = decode(A_HEIC)
    for x, wanted in ((10, (30, 60, 200)), (54, (230, 40, 40))):
        assert all(abs(a - b) < 12 for a, b in zip(seen.getpixel((x, 24)), wanted, strict=False))
    with pytest.raises(UnreadableArtwork):
        decode(A_HEIC[:300])


def test_the_first_frame_of_an_animation_is_used_and_noted() -> None:
    frames = [Image.new("RGB", (20, 10), colour) for colour in ("red", "blue")]
    data = samples.encoded(frames[0], "GIF", save_all=True, append_images=frames[1:])
    assert SourceNote.FIRST_FRAME in import_artwork(data, "moving.gif").notes
    assert decode(data).getpixel((5, 5)) == (255, 0, 0, 255)


@pytest.mark.parametrize(
    ("data", "name", "word"),
    [
        (b"", "empty.png", "empty"),
        (b"8BPS\0\1" + bytes(60), "art.psd", "layered"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n", "art.eps", "PostScript"),
        (b"gimp xcf v011\0", "art.xcf", "layered"),
        (b"RIFF\x10\0\0\0CDRv" + bytes(30), "art.bin", "drawing program"),
        (b"\x00\xffKA" + bytes(30), "art.afdesign", "drawing program"),
        (b"LA:crest     \rST:  1234\r" + bytes(500), "crest.dst", "embroidery"),
        (b"PK\x03\x04" + bytes(30), "letter.docx", "office document"),
        (b"II*\0\x10\0\0\0" + bytes(60), "regatta.nef", "raw"),
        (b"\0\0\0\x20ftypisom" + bytes(60), "regatta.mp4", "film"),
        (b"<!doctype html><html><svg></svg></html>", "page.html", "web page"),
        (b"dear shop, please print our logo", "logo.png", "no picture"),
        (b"dear shop", "logo.ai", "PostScript"),
    ],
)
def test_what_is_no_picture_is_refused_with_a_sentence_that_helps(data: bytes, name: str, word: str) -> None:
    with pytest.raises(UnreadableArtwork) as caught:
        import_artwork(data, name)
    sentence = str(caught.value)
    assert word in sentence
    assert name in sentence
    assert "Ask the customer" in sentence
    assert "\n" not in sentence


@pytest.mark.parametrize(
    ("data", "name", "doing"),
    [
        (b"\x1f\x8b\x08\0" + bytes(30), "art.svgz", "Unpack"),
        (b"PK\x03\x04" + bytes(30), "art.zip", "Unpack"),
        (b"PK\x03\x04" + bytes(30), "sizes.xlsx", "Counts of sizes"),
    ],
)
def test_what_the_shop_can_settle_itself_is_told_to_the_shop(data: bytes, name: str, doing: str) -> None:
    with pytest.raises(UnreadableArtwork, match=doing):
        import_artwork(data, name)


def test_a_tiff_is_no_raw_file_and_a_drawing_no_web_page() -> None:
    tiff = samples.encoded(Image.new("RGB", (20, 10)), "TIFF")
    assert import_artwork(tiff, "art.tif").media == "image/tiff"
    svg = b'<!DOCTYPE svg><svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">'
    drawing = svg + b'<path d="M0 0h9v9z"/></svg>'
    assert import_artwork(drawing, "art.svg").media == "image/svg+xml"


def test_a_bomb_is_refused_before_it_is_decoded(monkeypatch: pytest.MonkeyPatch) -> None:
    data = samples.encoded(Image.new("L", (4000, 3000)))
    monkeypatch.setattr(source, "MOST_PIXELS", 10_000_000)
    with pytest.raises(UnreadableArtwork, match="4,000 × 3,000"):
        import_artwork(data, "bomb.png")


def test_a_picture_over_pillows_own_limit_is_read_without_a_warning() -> None:
    width, height = 9600, 9600  # 92 megapixels; Pillow warns from 89 on.
    data = samples.encoded(Image.new("1", (width, height)))
    imported = import_artwork(data, "roll.png")
    assert (imported.width_px, imported.height_px) == (width, height)


@pytest.mark.parametrize("format_name", FORMATS)
def test_cut_or_garbled_files_give_a_picture_or_a_sentence(format_name: str) -> None:
    data = _sample(format_name)
    rng = random.Random(f"cut {format_name}")
    for round_ in range(120):
        damaged = bytearray(data)
        if round_ % 3 == 0:
            damaged = damaged[: rng.randrange(1, len(data))]
        else:
            for _ in range(rng.choice((1, 1, 3, 10))):
                damaged[rng.randrange(len(damaged))] ^= 1 << rng.randrange(8)
        for read in (decode, lambda data: thumbnail(data, most_px=32)):
            try:
                picture = read(bytes(damaged))
            except UnreadableArtwork:
                continue
            assert picture.mode == "RGBA"


@pytest.mark.parametrize("format_name", ["PNG", "JPEG", "WEBP", "BMP"])
def test_a_file_cut_in_half_is_refused(format_name: str) -> None:
    data = _sample(format_name)
    with pytest.raises(UnreadableArtwork, match="cut short"):
        import_artwork(data[: len(data) // 2], "logo")


def test_only_upright_srgb_jpegs_without_fixes_pass_as_they_are() -> None:
    rgb = samples.photograph()
    exif = Image.Exif()
    exif[0x0112] = 6
    cases = {
        True: [samples.encoded(rgb, "JPEG"), samples.encoded(rgb, "JPEG", progressive=True)],
        False: [
            samples.encoded(rgb, "JPEG", exif=exif.tobytes()),
            samples.encoded(rgb.convert("CMYK"), "JPEG"),
            samples.encoded(rgb, "PNG"),
        ],
    }
    for expected, files in cases.items():
        for data in files:
            artwork = artwork_from(import_artwork(data, "photo"), "a")
            assert is_plain_jpeg(artwork, data) is expected
