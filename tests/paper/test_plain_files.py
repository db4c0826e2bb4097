"""Plain PNG files go into a sheet PDF as they are, and papers decode artwork by whom they are told."""

import io
import struct
import zlib
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from planner.artwork.decoding import InProcess
from planner.artwork.guarded import Guarded
from planner.artwork.pixels import is_plain_png
from planner.artwork.read import artwork_from, import_artwork
from planner.job.document import Artwork
from planner.measures.geometry import Rect, Size
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.image_streams import ImageStore, png_image_data
from planner.paper.pictures import Pictures
from planner.paper.print_sheet import PrintPiece, PrintSheet
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import write_sheet_png
from planner.paper.verify import verify_pdf, verify_png
from tests.hostile.traps import deflated_nothing, png
from tests.paper.scenes import logo, photograph


def png_of(picture: Image.Image, **save: object) -> bytes:
    buffer = io.BytesIO()
    picture.save(buffer, "PNG", **save)
    return buffer.getvalue()


def piece_of(held: Artwork, size: Size) -> PrintPiece:
    return PrintPiece(held, Rect(0, 0, size.width_mm, size.height_mm), size)


@pytest.mark.parametrize("mode", ["RGB", "L"])
def test_an_opaque_png_s_rows_pass_through_untouched(tmp_path: Path, mode: str) -> None:
    # ISO 32000-1, 7.4.4.4: the rows of a PNG file are what FlateDecode with Predictor 15 takes.
    data = png_of(photograph(400, 300).convert(mode), compress_level=7)
    held = artwork_from(import_artwork(data, "photo.png"), "photo")
    inks = ArtworkInks({held.sha256: data}.__getitem__)
    size = Size(400 * 25.4 / 300, 300 * 25.4 / 300)
    sheet = PrintSheet(Size(50.8, 50.8), 300, (piece_of(held, size),))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    with pikepdf.open(path) as pdf:
        image = pdf.pages[0].obj.Resources.XObject.Picture1
        assert image.read_raw_bytes() == png_image_data(data)
        assert image.read_bytes() == photograph(400, 300).convert(mode).tobytes()
    verify_pdf(path, sheet, inks)
    # A third library draws what Pillow reads.
    document = pypdfium2.PdfDocument(path)
    seen = np.asarray(document[0].render(scale=300 / 72 - 1e-9).to_pil().convert("RGB"))[:300, :400]
    document.close()
    wanted = np.asarray(photograph(400, 300).convert(mode).convert("RGB"))
    assert np.abs(seen.astype(int) - wanted.astype(int)).max() <= 1


def rows_of(count: int) -> bytes:
    """A PNG that states 40 × 30 pixels and holds so many rows."""
    return png(40, 30, zlib.compress(bytes(count * 121)), kind=2)


def test_a_png_whose_samples_are_not_what_is_shown_is_packed_anew() -> None:
    picture = photograph(40, 30).convert("RGB")
    info = PngInfo()
    info.add(b"gAMA", struct.pack(">I", 100_000))
    marked = Image.Exif()
    marked[0x0112] = 6
    others = {
        "alpha": png_of(photograph(40, 30)),
        "key": png_of(picture, transparency=(1, 2, 3)),
        "gamma": png_of(picture, pnginfo=info),
        "orientation": png_of(picture, exif=marked),
        "16 bits": png_of(picture.convert("L").convert("I;16")),
        "palette": png_of(picture.quantize(16)),
        "cut short": png_of(picture)[:-20],
        "too few rows": rows_of(29),
        "too many rows": rows_of(31),
        "a gigabyte of rows": png(40, 30, deflated_nothing(1000), kind=2),
        "something behind the rows": png(40, 30, zlib.compress(bytes(30 * 121)) + b"more", kind=2),
    }
    for name, data in others.items():
        held = Artwork(key="a", name=name, sha256="0" * 64, media="image/png", width_px=40, height_px=30)
        assert not is_plain_png(held, data), name
    plain = png_of(picture)
    assert is_plain_png(held, plain)
    assert is_plain_png(held, rows_of(30))
    fixed = Artwork.model_validate({**dict(held), "fixes": ({"step": "flip"},)})
    assert not is_plain_png(fixed, plain)


@pytest.fixture(scope="module")
def guard() -> Iterator[Guarded]:
    guard = Guarded()
    yield guard
    guard.close()


@pytest.mark.parametrize("kind", ["alpha", "PNG", "JPEG"])
def test_papers_and_sheet_files_decode_nothing_in_the_program_itself(
    kind: str, guard: Guarded, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    buffer = io.BytesIO()
    if kind == "alpha":
        data = png_of(logo(90, 60))
    elif kind == "PNG":
        data = png_of(photograph(90, 60).convert("RGB"))
    else:
        photograph(90, 60).convert("RGB").save(buffer, "JPEG")
        data = buffer.getvalue()
    held = artwork_from(import_artwork(data, "a"), "a")
    here = InProcess().printed(data, held)

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("decoded in the program")

    for name in ("picture", "thumbnail", "decode", "is_plain_jpeg", "is_plain_png"):
        monkeypatch.setattr(f"planner.artwork.pixels.{name}", refuse)
    inks = ArtworkInks({held.sha256: data}.__getitem__, guard)
    assert inks.picture(held).tobytes() == here.tobytes()
    sheet = PrintSheet(Size(25.4, 25.4), 300, (piece_of(held, Size(90 * 25.4 / 300, 60 * 25.4 / 300)),))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    assert verify_pdf(path, sheet, inks).pixels == 90 * 60
    placed = write_sheet_png(sheet, inks, tmp_path / "sheet.png")
    verify_png(tmp_path / "sheet.png", sheet, placed)
    assert Pictures(inks).at(held, 20, 20).getSize() != (0, 0)


def test_a_plain_jpeg_of_any_size_that_is_taken_goes_in_untouched() -> None:
    # Pillow's own way to open a file refuses from 179 megapixels on; the planner takes 250.
    buffer = io.BytesIO()
    Image.new("L", (15_000, 15_000), 90).save(buffer, "JPEG")
    data = buffer.getvalue()
    held = Artwork(
        key="a", name="a.jpg", sha256="0" * 64, media="image/jpeg", width_px=15_000, height_px=15_000
    )
    stored = ImageStore(ArtworkInks({held.sha256: data}.__getitem__)).encoded(held)
    assert (stored.width_px, stored.height_px, stored.channels, stored.colours) == (15_000, 15_000, 1, data)
