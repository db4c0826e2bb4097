"""Pieces at odd angles are printed exactly where they were arranged: ink stays inside the placed outline."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw
from shapely import contains_xy
from shapely.ops import unary_union

from planner.artwork.outline import at_size, outline_of
from planner.artwork.planes import planes_of
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way, placed_about
from planner.paper.image_streams import ImageStore
from planner.paper.print_sheet import PrintPiece, PrintSheet
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import write_sheet_png
from planner.sheets.arrange import arrange
from planner.sheets.problem import Piece, Request, Roll
from planner.sheets.validate import placed_outline
from tests.paper.scenes import HeldInks, artwork
from tests.paper.test_sheet_files import by_pdfium, by_pdftoppm

DOT_MM = 25.4 / 300
SIZE = Size(600 * DOT_MM, 400 * DOT_MM)


def fin() -> Image.Image:
    """A lopsided black fin in the right lower part of a clear picture."""
    picture = Image.new("RGBA", (600, 400), (0, 0, 0, 0))
    ImageDraw.Draw(picture).polygon([(180, 350), (560, 380), (500, 90), (400, 240)], fill="#000000")
    return picture


def printed_as_png(sheet: PrintSheet, folder: Path) -> np.ndarray:
    write_sheet_png(sheet, INKS, folder / "sheet.png")
    with Image.open(folder / "sheet.png") as png:
        return np.asarray(png)[..., 3]


INKS = HeldInks({"fin": fin()})
OUTLINE = at_size(outline_of(planes_of(fin())), SIZE.width_mm, SIZE.height_mm)


def sheet_of(layout: Layout) -> PrintSheet:
    pieces = tuple(PrintPiece(artwork("fin", fin()), p.box, SIZE, p.turned_deg) for p in layout.placements)
    return PrintSheet(layout.sheet, 300, pieces, "odd")


def assert_inside(layout: Layout, seen: np.ndarray) -> None:
    """No ink outside the outlines, a quarter of a millimetre allowed, and as much ink as the pieces have."""
    outlines = unary_union([placed_outline(p, OUTLINE) for p in layout.placements]).buffer(3 * DOT_MM)
    rows, columns = np.nonzero(seen > 128)
    assert contains_xy(outlines, (columns + 0.5) * DOT_MM, (rows + 0.5) * DOT_MM).all()
    ink = np.count_nonzero(np.asarray(fin())[..., 3])
    assert rows.size == pytest.approx(len(layout.placements) * ink, rel=0.01)


def test_png_and_pdf_keep_turned_ink_inside_its_outline(tmp_path: Path) -> None:
    spots = ((30, 30, 0), (85, 35, 33.3), (30, 90, 90), (85, 95, 200.5), (140, 60, 314.0))
    placements = tuple(placed_about("fin", SIZE, (x, y), deg) for x, y, deg in spots)
    layout = Layout(Size(190, 130), placements)
    sheet = sheet_of(layout)
    assert_inside(layout, printed_as_png(sheet, tmp_path))
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    assert_inside(layout, by_pdfium(tmp_path / "sheet.pdf"))
    assert_inside(layout, by_pdftoppm(tmp_path / "sheet.pdf"))


def test_what_was_nested_at_any_angle_prints_apart(tmp_path: Path) -> None:
    piece = Piece("fin", SIZE.width_mm, SIZE.height_mm, 5, outline=OUTLINE, any_angle=True)
    request = Request((piece,), (Roll(90, 600, 1),), 2, 3, Way.OUTLINE, budget_s=2)
    (layout,) = arrange(request).layouts
    assert any(p.turned_deg % 90 for p in layout.placements)
    assert_inside(layout, printed_as_png(sheet_of(layout), tmp_path))
