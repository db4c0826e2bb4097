"""Edges keep their colour however small a sheet is drawn, and nothing that is seen changes."""

import io
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from planner.measures.geometry import Rect, Size
from planner.paper import bleeding
from planner.paper.bleeding import REACH_PX, bled
from planner.paper.image_streams import ImageStore
from planner.paper.print_sheet import PrintPiece, PrintSheet
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.verify import verify_pdf
from tests.paper.scenes import HeldInks, artwork


def cream_rings() -> Image.Image:
    """Light ink over clear black, as drawing programs save it."""
    picture = Image.new("RGBA", (600, 600), (0, 0, 0, 0))
    for inset in range(20, 280, 40):
        ImageDraw.Draw(picture).ellipse((inset, inset, 600 - inset, 600 - inset), outline="#f8f0d8", width=12)
    return picture


def test_seen_pixels_and_far_clear_ones_keep_their_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    pixels = np.asarray(cream_rings())
    whole = bled(pixels)
    inked = pixels[..., 3] > 0
    assert (whole[inked] == pixels[inked][:, :3]).all()
    assert (whole[:5, :5] == 0).all()
    # One strip or many: the same.
    monkeypatch.setattr(bleeding, "_ROWS_EACH", 37)
    assert (bled(pixels) == whole).all()


def test_a_clear_pixel_takes_the_nearest_ink() -> None:
    pixels = np.zeros((9, 40, 4), np.uint8)
    pixels[4, 5] = (200, 10, 10, 255)
    pixels[4, 15] = (10, 10, 200, 1)
    colours = bled(pixels)
    assert colours[4, 8].tolist() == [200, 10, 10]
    assert colours[4, 12].tolist() == [10, 10, 200]
    assert colours[4, 15 + REACH_PX + 1].tolist() == [0, 0, 0]


@pytest.mark.skipif(not shutil.which("pdftoppm"), reason="poppler is not installed")
def test_light_ink_drawn_small_has_no_dark_rim(tmp_path: Path) -> None:
    picture = cream_rings()
    size = Size(50.8, 50.8)
    sheet = PrintSheet(size, 300, (PrintPiece(artwork("rings", picture), Rect(0, 0, 50.8, 50.8), size),))
    inks = HeldInks({"rings": picture})
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    verify_pdf(path, sheet, inks)
    drawn = subprocess.run(["pdftoppm", "-r", "45", "-png", path], capture_output=True, check=True).stdout
    # On white paper nothing is darker than the ink itself, #f8f0d8, but for rounding.
    darkest = np.asarray(Image.open(io.BytesIO(drawn)).convert("RGB")).min(axis=(0, 1))
    assert (darkest >= np.array([0xF8, 0xF0, 0xD8]) - 3).all()
