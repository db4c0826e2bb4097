"""PDF artwork stays vector on a sheet PDF, in its place and the right way up."""

import dataclasses
import hashlib
import io
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from planner.artwork import page_items as reading_back
from planner.artwork.guarded import Guarded
from planner.job.document import Artwork
from planner.job.fixes import Flip, QuarterTurn, Thicken, Trim
from planner.measures.geometry import Rect, Size
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.image_streams import ImageStore
from planner.paper.print_sheet import PrintPiece, PrintSheet, dots_of
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import write_sheet_png
from planner.paper.verify import SheetFileDiffers, verify_pdf, verify_png

DOT_MM = 25.4 / 300


def a_page(rotate: int = 0, crop: tuple[float, float, float, float] | None = None) -> bytes:
    """100 × 50 units: black but for a white quarter at the upper left as drawn; a stray trim box."""
    buffer = io.BytesIO()
    canvas = Canvas(buffer, (100, 50), invariant=1)
    canvas.rect(0, 0, 100, 50, stroke=0, fill=1)
    canvas.setFillGray(1)
    canvas.rect(0, 25, 50, 25, stroke=0, fill=1)
    canvas.save()
    changed = io.BytesIO()
    with pikepdf.open(buffer) as pdf:
        pdf.pages[0].obj.Rotate = rotate
        pdf.pages[0].trimbox = pikepdf.Array([10, 10, 60, 40])
        if crop:
            pdf.pages[0].cropbox = pikepdf.Array(list(crop))
        pdf.save(changed)
    return changed.getvalue()


def sheet_of(data: bytes) -> tuple[PrintSheet, ArtworkInks]:
    """The page four times, once each way round."""
    page = pypdfium2.PdfDocument(data)[0]
    width_pt, height_pt = page.get_size()
    artwork = Artwork(
        key="mark",
        name="mark.pdf",
        sha256=hashlib.sha256(data).hexdigest(),
        media="application/pdf",
        width_px=round(width_pt * 300 / 72),
        height_px=round(height_pt * 300 / 72),
        vector=True,
    )
    return four_ways(artwork, height_pt / width_pt), ArtworkInks({artwork.sha256: data}.__getitem__)


def four_ways(artwork: Artwork, high: float) -> PrintSheet:
    """An artwork `high` times as high as wide on a sheet, once each way round."""
    size = Size(400 * DOT_MM, 400 * DOT_MM * high)
    pieces = []
    for at in range(4):
        lying = size if at % 2 == 0 else size.turned()
        box = Rect((20 + at * 850) * DOT_MM, 30 * DOT_MM, lying.width_mm, lying.height_mm)
        pieces.append(PrintPiece(artwork, box, size, 90 * at))
    return PrintSheet(Size(3600 * DOT_MM, 900 * DOT_MM), 300, tuple(pieces))


def assert_shown_as_vector(sheet: PrintSheet, inks: ArtworkInks, folder: Path) -> None:
    """The sheet's PDF has one form, in its place, that shows what the artwork's pixels show."""
    path = folder / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    with pikepdf.open(path) as pdf:
        objects = pdf.pages[0].obj.Resources.XObject
        assert [str(item.Subtype) for item in objects.values()] == ["/Form"]
    assert verify_pdf(path, sheet, inks).worst_dots < 0.01
    placed = write_sheet_png(sheet, inks, folder / "sheet.png")
    verify_png(folder / "sheet.png", sheet, placed)
    document = pypdfium2.PdfDocument(path)
    seen = np.asarray(document[0].render(scale=300 / 72 - 1e-9).to_pil().convert("L")).astype(int)
    document.close()
    for piece, pixels in zip(sheet.pieces, placed, strict=True):
        box = dots_of(piece, 300)
        vector = seen[box.top : box.top + box.height, box.left : box.left + box.width]
        # Edges of the white quarter fall between dots.
        assert np.mean(np.abs(vector - pixels.pixels[..., 0].astype(int)) > 8) < 0.02
        assert vector.min() < 8


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
@pytest.mark.parametrize("crop", [None, (0, 0, 80, 50)])
def test_a_pdf_page_is_one_form_that_shows_what_its_pixels_show(
    tmp_path: Path, rotate: int, crop: tuple[float, float, float, float] | None
) -> None:
    sheet, inks = sheet_of(a_page(rotate, crop))
    assert_shown_as_vector(sheet, inks, tmp_path)


def test_a_page_s_own_blending_stays_inside_it(tmp_path: Path) -> None:
    # ISO 32000-1, 11.6.6: the page's isolated group blends its parts with each other, not with the sheet.
    page = io.BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page(page_size=(100, 50))
        drawn = pdf.pages[0].obj
        drawn.Group = pikepdf.Dictionary(
            Type=pikepdf.Name.Group, S=pikepdf.Name.Transparency, CS=pikepdf.Name.DeviceRGB, I=True
        )
        multiply = pikepdf.Dictionary(BM=pikepdf.Name.Multiply, ca=0.5)
        drawn.Resources = pikepdf.Dictionary(ExtGState=pikepdf.Dictionary(G=multiply))
        # A yellow half, and cyan at half strength multiplied over all of it.
        drawn.Contents = pdf.make_stream(b"1 1 0 rg 0 0 50 50 re f /G gs 0 1 1 rg 0 0 100 50 re f")
        pdf.save(page)
    sheet, inks = sheet_of(page.getvalue())
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    verify_pdf(path, sheet, inks)
    document = pypdfium2.PdfDocument(path)
    seen = document[0].render(scale=300 / 72 - 1e-9).to_pil().convert("RGB")
    document.close()
    box = dots_of(sheet.pieces[0], 300)
    left, right = (
        seen.getpixel((box.left + box.width * part // 4, box.top + box.height // 2)) for part in (1, 3)
    )
    # At half strength yellow (1, 1, 0) becomes (0.5, 1, 0); on clear ground cyan is just half there.
    assert left == pytest.approx((128, 255, 0), abs=2)
    assert right == pytest.approx((128, 255, 255), abs=2)


def test_reading_back_finds_vector_artwork_the_wrong_way_round(tmp_path: Path) -> None:
    sheet, inks = sheet_of(a_page())
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    upside_down = dataclasses.replace(sheet.pieces[0], turned_deg=180)
    with pytest.raises(SheetFileDiffers, match="px from its place"):
        verify_pdf(path, dataclasses.replace(sheet, pieces=(upside_down, *sheet.pieces[1:])), inks)


def test_a_fixed_vector_artwork_becomes_pixels_with_its_fixes(tmp_path: Path) -> None:
    sheet, inks = sheet_of(a_page())
    fixed = Artwork.model_validate({**dict(sheet.pieces[0].artwork), "fixes": (Thicken(by_px=2),)})
    pieces = tuple(dataclasses.replace(piece, artwork=fixed) for piece in sheet.pieces)
    sheet = dataclasses.replace(sheet, pieces=pieces)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    assert inks.vector_page(fixed) is None
    with pikepdf.open(path) as pdf:
        assert pdf.pages[0].obj.Resources.XObject.Picture1.Subtype == "/Image"
    verify_pdf(path, sheet, inks)


def test_trimmed_turned_and_flipped_it_stays_vector_in_its_place(tmp_path: Path) -> None:
    data = a_page()
    plain = sheet_of(data)[0].pieces[0].artwork
    trim = Trim(left_px=20, top_px=0, width_px=plain.width_px - 20, height_px=plain.height_px - 10)
    framed = Artwork.model_validate({**dict(plain), "fixes": (trim, Flip(), QuarterTurn())})
    across, down = framed.size_px
    inks = ArtworkInks({framed.sha256: data}.__getitem__)
    assert_shown_as_vector(four_ways(framed, down / across), inks, tmp_path)


def test_the_program_itself_reads_neither_the_customer_s_pdf_nor_a_sheet_that_holds_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    data = a_page(rotate=90)
    sheet, here = sheet_of(data)
    wanted = sheet_pdf(sheet, ImageStore(here))

    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("read in the program")

    opened, honest = [], pikepdf.open

    def noting(file: io.BytesIO | Path) -> pikepdf.Pdf:
        opened.append(file.getvalue() if isinstance(file, io.BytesIO) else file.read_bytes())
        return honest(file)

    for place in ("planner.artwork.page_form.form_page", "planner.artwork.pdf_forms.refuse_endless"):
        monkeypatch.setattr(place, refuse)
    monkeypatch.setattr(pypdfium2, "PdfDocument", refuse)
    monkeypatch.setattr(pikepdf, "open", noting)
    guard = Guarded()
    try:
        inks = ArtworkInks({sheet.pieces[0].artwork.sha256: data}.__getitem__, guard)
        path = tmp_path / "sheet.pdf"
        path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
        assert path.read_bytes() == wanted
        assert verify_pdf(path, sheet, inks).worst_dots < 0.01
    finally:
        guard.close()
    assert len(opened) >= 3
    assert data not in opened


def test_what_the_worker_tells_of_places_is_what_pdfium_tells_here(tmp_path: Path) -> None:
    sheet, inks = sheet_of(a_page())
    pdf = sheet_pdf(sheet, ImageStore(inks))
    guard = Guarded()
    try:
        told = guard.page_items(pdf, "sheet.pdf")
    finally:
        guard.close()
    assert told == reading_back.page_items(pdf)
    assert (len(told.pictures), told.paths) == (4, 0)
