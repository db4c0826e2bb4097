"""Sheet files are exact: page, places, resolution, alpha, in the eyes of other programs."""

import dataclasses
import io
import shutil
import struct
import subprocess
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from planner.measures.geometry import Rect, Size
from planner.paper.cut_marks import MarkedInks, with_marks
from planner.paper.image_streams import ImageStore
from planner.paper.print_sheet import PrintPiece, PrintSheet, dots_of, whole_dots
from planner.paper.sheet_pdf import sheet_pdf, user_unit
from planner.paper.sheet_png import pixels_per_metre, write_sheet_png
from planner.paper.verify import SheetFileDiffers, verify_pdf, verify_png
from planner.work.ticket import Cancelled, Ticket
from tests.paper.scenes import HeldInks, artwork, logo, photograph

DOT_MM = 25.4 / 300
LOGO = logo(300, 210)
INK = Image.merge("RGBA", (*[Image.new("L", LOGO.size)] * 3, LOGO.getchannel("A")))
"""Black, so that what a renderer paints on white tells the alpha."""


def piece(key: str, picture: Image.Image, left: int, top: int, turned_deg: int = 0) -> PrintPiece:
    """A picture at its own resolution on whole dots of 300 ppi."""
    size = Size(picture.width * DOT_MM, picture.height * DOT_MM)
    lying = size.turned() if turned_deg % 180 else size
    box = Rect(left * DOT_MM, top * DOT_MM, lying.width_mm, lying.height_mm)
    return PrintPiece(artwork(key, picture), box, size, turned_deg)


def turned_sheet(size: Size = Size(114.3, 101.6)) -> PrintSheet:  # noqa: B008 - frozen
    spots = ((20, 20, 0), (400, 30, 90), (700, 41, 180), (1050, 60, 270), (33, 400, 0), (401, 477, 90))
    return PrintSheet(size, 300, tuple(piece("ink", INK, *spot) for spot in spots), "turned")


INKS = HeldInks({"ink": INK, "logo": LOGO, "photo": photograph(400, 300)})


def by_pdftoppm(path: Path) -> np.ndarray:
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    stem = path.with_suffix("")
    subprocess.run(["pdftoppm", "-r", "300", "-gray", "-singlefile", path, stem], check=True)
    with Image.open(stem.with_suffix(".pgm")) as picture:
        return 255 - np.asarray(picture)


def by_pdfium(path: Path) -> np.ndarray:
    document = pypdfium2.PdfDocument(path)
    # A hair under the exact scale: pdfium rounds pages up, and the exact one gives a dot too many.
    picture = document[0].render(scale=300 / 72 - 1e-9).to_pil().convert("L")
    document.close()
    return 255 - np.asarray(picture)


@pytest.mark.parametrize("render", [by_pdftoppm, by_pdfium])
def test_pieces_and_their_alpha_land_on_their_very_dots_in_two_renderers(tmp_path: Path, render) -> None:
    sheet = turned_sheet()
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    expected = np.zeros((1200, 1350), np.uint8)
    for placed in sheet.pieces:
        box = dots_of(placed, 300)
        alpha = np.rot90(np.asarray(INK)[..., 3], -int(placed.turned_deg) // 90)
        expected[box.top : box.top + box.height, box.left : box.left + box.width] = alpha
    seen = render(path)
    assert seen.shape == expected.shape
    assert int(np.abs(seen.astype(int) - expected).max()) == 0


@pytest.mark.parametrize("render", [by_pdftoppm, by_pdfium])
def test_png_and_pdf_of_a_sheet_are_the_same_dots(tmp_path: Path, render) -> None:
    sheet = turned_sheet()
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    write_sheet_png(sheet, INKS, tmp_path / "sheet.png")
    with Image.open(tmp_path / "sheet.png") as png:
        assert np.array_equal(np.asarray(png)[..., 3], render(tmp_path / "sheet.pdf"))


def test_the_page_has_the_sheet_s_size_in_points(tmp_path: Path) -> None:
    # ISO 32000-1, 8.3.2.3: a unit is 1/72 in. 11.5 × 18 in is 828 × 1296 units.
    sheet = PrintSheet(Size(292.1, 457.2), 300, (piece("logo", LOGO, 5, 5),))
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    assert pypdfium2.PdfDocument(tmp_path / "sheet.pdf")[0].get_size() == (828, 1296)
    with pikepdf.open(tmp_path / "sheet.pdf") as pdf:
        assert [float(side) for side in pdf.pages[0].mediabox] == [0, 0, 828, 1296]
        assert "/UserUnit" not in pdf.pages[0].obj


def test_a_roll_longer_than_200_inches_gets_a_user_unit(tmp_path: Path) -> None:
    # ISO 32000-1, Annex C, Table C.1: 14,400 units at most; Table 30: UserUnit in 1/72 in.
    sheet = PrintSheet(Size(22 * 25.4, 240 * 25.4), 300, (piece("logo", LOGO, 5, 71_000),))
    path = tmp_path / "roll.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    with pikepdf.open(path) as pdf:
        page = pdf.pages[0]
        width, height = (float(side) for side in page.mediabox[2:])
        assert page.obj.UserUnit == 2
        assert (width * 2 / 72, height * 2 / 72) == pytest.approx((22, 240))
        assert max(width, height) <= 14_400
        assert str(pdf.pdf_version) >= "1.6"
    assert verify_pdf(path, sheet, INKS).worst_dots < 0.01


def test_user_unit_starts_right_above_200_inches() -> None:
    assert user_unit(100, 200 * 25.4) == 1
    assert user_unit(100, 200 * 25.4 + 0.1) == 2


def test_copies_share_one_image_object_with_the_exact_alpha(tmp_path: Path) -> None:
    pieces = tuple(piece("logo", LOGO, 10 + 320 * at, 10) for at in range(4))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(PrintSheet(Size(114.3, 50.8), 300, pieces), ImageStore(INKS)))
    with pikepdf.open(path) as pdf:
        objects = [item for item in pdf.objects if isinstance(item, pikepdf.Stream)]
        images = [item for item in objects if item.get("/Subtype") == "/Image"]
        coloured = [item for item in images if "/SMask" in item]
        assert len(images) == 2  # colours and their mask
        assert len(coloured) == 1
        assert coloured[0].SMask.read_bytes() == LOGO.getchannel("A").tobytes()
        assert coloured[0].read_bytes() == LOGO.convert("RGB").tobytes()
        assert coloured[0].ColorSpace[0] == "/ICCBased"
        profile = coloured[0].ColorSpace[1].read_bytes()
        assert profile[36:40] == b"acsp"
        assert profile[16:20] == b"RGB "


def test_twelve_artworks_on_a_sheet_are_told_apart(tmp_path: Path) -> None:
    pictures = {f"art{at}": Image.new("RGBA", (60, 40), (20 * at, 0, 0, 255 - at)) for at in range(12)}
    pieces = tuple(piece(key, picture, 70 * at, 10) for at, (key, picture) in enumerate(pictures.items()))
    sheet = PrintSheet(Size(114.3, 50.8), 300, pieces)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(HeldInks(pictures))))
    verify_pdf(path, sheet, HeldInks(pictures))


def test_a_plain_jpeg_s_bytes_pass_through_untouched(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    photograph(400, 300).convert("RGB").save(buffer, "JPEG", quality=80)
    inks = HeldInks({"photo": photograph(400, 300)}, {"photo": buffer.getvalue()})
    sheet = PrintSheet(Size(50.8, 50.8), 300, (piece("photo", photograph(400, 300), 0, 0),))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    with pikepdf.open(path) as pdf:
        image = pdf.pages[0].obj.Resources.XObject.Picture1
        assert image.Filter == "/DCTDecode"
        assert image.read_raw_bytes() == buffer.getvalue()
    verify_pdf(path, sheet, inks)


def test_300_ppi_is_11811_pixels_per_metre(tmp_path: Path) -> None:
    # W3C PNG, 11.3.4.3 pHYs: pixels per metre, unit 1.
    assert pixels_per_metre(300) == 11_811
    write_sheet_png(turned_sheet(), INKS, tmp_path / "sheet.png")
    data = (tmp_path / "sheet.png").read_bytes()
    at = data.index(b"pHYs")
    assert struct.unpack(">IIB", data[at + 4 : at + 13]) == (11_811, 11_811, 1)
    with Image.open(tmp_path / "sheet.png") as png:
        assert png.size == (1350, 1200)
        assert png.info["dpi"] == pytest.approx((300, 300), abs=0.01)
        assert "srgb" in png.info


def test_native_artwork_keeps_its_very_pixels_and_other_sizes_are_resampled_without_fringes(
    tmp_path: Path,
) -> None:
    red = np.zeros((100, 100, 4), np.uint8)
    red[..., :3] = (0, 255, 0)  # hidden under clear pixels: must not bleed into the red
    red[20:80, 20:80] = (255, 0, 0, 255)
    picture = Image.fromarray(red)
    inks = HeldInks({"logo": LOGO, "red": picture})
    small = PrintPiece(artwork("red", picture), Rect(40, 5, 10, 10), Size(10, 10))
    sheet = PrintSheet(Size(60, 30), 300, (piece("logo", LOGO, 7, 9), small))
    write_sheet_png(sheet, inks, tmp_path / "sheet.png")
    with Image.open(tmp_path / "sheet.png") as png:
        pixels = np.asarray(png)
    assert np.array_equal(pixels[9:219, 7:307], np.asarray(LOGO))
    box = dots_of(small, 300)
    shrunk = pixels[box.top : box.top + box.height, box.left : box.left + box.width].astype(int)
    seen = shrunk[..., 3] > 16
    assert seen.any()
    assert shrunk[seen][:, 1].max() <= 16


def test_a_sheet_written_in_many_strips_is_the_sheet_written_in_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_sheet_png(turned_sheet(), INKS, tmp_path / "one.png")
    monkeypatch.setattr("planner.paper.sheet_png.STRIP_BYTES", 4 * 1350 * 7)
    write_sheet_png(turned_sheet(), INKS, tmp_path / "many.png")
    with Image.open(tmp_path / "one.png") as one, Image.open(tmp_path / "many.png") as many:
        assert np.array_equal(np.asarray(one), np.asarray(many))


def test_the_same_sheet_gives_the_same_bytes(tmp_path: Path) -> None:
    sheet = turned_sheet()
    assert sheet_pdf(sheet, ImageStore(INKS)) == sheet_pdf(sheet, ImageStore(INKS))
    write_sheet_png(sheet, INKS, tmp_path / "a.png")
    write_sheet_png(sheet, INKS, tmp_path / "b.png")
    assert (tmp_path / "a.png").read_bytes() == (tmp_path / "b.png").read_bytes()


@pytest.mark.parametrize("held_at_once", [60_000_000, 1])
def test_reading_back_agrees_with_what_was_planned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, held_at_once: int
) -> None:
    # Whole through Pillow, and in strips as for long rolls.
    monkeypatch.setattr("planner.paper.verify.HELD_AT_ONCE", held_at_once)
    sheet = turned_sheet()
    placed = write_sheet_png(sheet, INKS, tmp_path / "sheet.png")
    verified = verify_png(tmp_path / "sheet.png", sheet, placed)
    assert (verified.pieces, verified.pixels) == (6, 1350 * 1200)
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    assert verify_pdf(tmp_path / "sheet.pdf", sheet, INKS).worst_dots < 0.01


def moved(sheet: PrintSheet, at: int, by_mm: float) -> PrintSheet:
    pieces = list(sheet.pieces)
    box = pieces[at].box
    pieces[at] = dataclasses.replace(pieces[at], box=dataclasses.replace(box, x_mm=box.x_mm + by_mm))
    return dataclasses.replace(sheet, pieces=tuple(pieces))


@pytest.mark.parametrize("held_at_once", [60_000_000, 1])
def test_reading_back_finds_a_piece_one_dot_off_and_a_pixel_too_many(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, held_at_once: int
) -> None:
    monkeypatch.setattr("planner.paper.verify.HELD_AT_ONCE", held_at_once)
    sheet = turned_sheet()
    wrong = moved(sheet, 3, DOT_MM)
    path = tmp_path / "sheet.png"
    write_sheet_png(wrong, INKS, path)
    placed = write_sheet_png(sheet, INKS, tmp_path / "right.png")
    with pytest.raises(SheetFileDiffers, match="other pixels"):
        verify_png(path, sheet, placed)
    fewer = dataclasses.replace(sheet, pieces=sheet.pieces[:-1])
    with pytest.raises(SheetFileDiffers, match="nothing should be"):
        verify_png(tmp_path / "right.png", fewer, placed[:-1])
    pdf = tmp_path / "sheet.pdf"
    pdf.write_bytes(sheet_pdf(wrong, ImageStore(INKS)))
    with pytest.raises(SheetFileDiffers, match="px from its place"):
        verify_pdf(pdf, sheet, INKS)


def test_reading_back_finds_another_size_other_colours_and_another_transparency(tmp_path: Path) -> None:
    sheet = turned_sheet()
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    with pytest.raises(SheetFileDiffers, match=r"instead of 114\.40 × 101\.60 mm"):
        verify_pdf(path, turned_sheet(Size(114.4, 101.6)), INKS)
    tinted = Image.merge("RGBA", (*[Image.new("L", INK.size, 9)] * 3, INK.getchannel("A")))
    with pytest.raises(SheetFileDiffers, match="other colours"):
        verify_pdf(path, sheet, HeldInks({"ink": tinted}))
    fainter = INK.copy()
    fainter.putpixel((150, 100), (0, 0, 0, 254 if INK.getpixel((150, 100))[3] == 255 else 255))
    with pytest.raises(SheetFileDiffers, match="another transparency"):
        verify_pdf(path, sheet, HeldInks({"ink": fainter}))


@pytest.mark.parametrize("held_at_once", [60_000_000, 1])
def test_a_damaged_png_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, held_at_once: int) -> None:
    monkeypatch.setattr("planner.paper.verify.HELD_AT_ONCE", held_at_once)
    sheet = turned_sheet()
    path = tmp_path / "sheet.png"
    placed = write_sheet_png(sheet, INKS, path)
    data = bytearray(path.read_bytes())
    data[data.index(b"IDAT") + 40] ^= 1
    path.write_bytes(data)
    with pytest.raises(SheetFileDiffers, match="damaged"):
        verify_png(path, sheet, placed)


def test_writing_a_sheet_can_be_stopped(tmp_path: Path) -> None:
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        write_sheet_png(turned_sheet(), INKS, tmp_path / "sheet.png", ticket=ticket)


@pytest.mark.parametrize("white_ground", [False, True])
def test_mirrored_sheets_are_mirrored_and_white_ground_is_white_in_both_files(
    tmp_path: Path, white_ground: bool
) -> None:
    sheet = dataclasses.replace(turned_sheet(), mirrored=True, white_ground=white_ground)
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(INKS)))
    placed = write_sheet_png(sheet, INKS, tmp_path / "sheet.png")
    verify_png(tmp_path / "sheet.png", sheet, placed)
    verify_pdf(path, sheet, INKS)
    other = dataclasses.replace(sheet, white_ground=not white_ground)
    with pytest.raises(SheetFileDiffers, match="ground"):
        verify_pdf(path, other, INKS)
    with pytest.raises(SheetFileDiffers):
        verify_png(tmp_path / "sheet.png", other, placed)
    with Image.open(tmp_path / "sheet.png") as png:
        shown = np.asarray(png)
    ink = 255 - shown[..., 0] if white_ground else shown[..., 3]
    assert np.array_equal(ink, by_pdfium(path))
    assert (shown[..., 3] == 255).all() == white_ground


def test_cut_marks_and_labels_lie_beside_the_pieces_and_change_none(tmp_path: Path) -> None:
    pieces = (piece("logo", LOGO, 60, 60), piece("logo", LOGO, 500, 60, 90))
    plain = PrintSheet(Size(76.2, 50.8), 300, pieces)
    marked = with_marks(plain, ("A", "B12"), 3.0, cut_marks=True, piece_labels=True)
    assert len(marked.pieces) == 2 + 8 + 2
    inks = MarkedInks(INKS)
    path = tmp_path / "marked.pdf"
    path.write_bytes(sheet_pdf(marked, ImageStore(inks)))
    verify_pdf(path, marked, inks)
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages[0].obj.Resources.XObject.keys()) == 4  # logo, mark and two labels
    placed = write_sheet_png(marked, inks, tmp_path / "marked.png")
    verify_png(tmp_path / "marked.png", marked, placed)
    write_sheet_png(plain, INKS, tmp_path / "plain.png")
    with Image.open(tmp_path / "marked.png") as one, Image.open(tmp_path / "plain.png") as other:
        with_them, without = np.asarray(one), np.asarray(other)
    assert (with_them[..., 3] > without[..., 3]).any()
    for whole in (dots_of(each, 300) for each in pieces):
        rows, columns = (
            slice(whole.top, whole.top + whole.height),
            slice(whole.left, whole.left + whole.width),
        )
        assert np.array_equal(with_them[rows, columns], without[rows, columns])
    # The angle at the upper left corner: ink beside the corner, none within 0.4 mm of it.
    box = dots_of(pieces[0], 300)
    assert with_them[box.top - 1, box.left - 12, 3] > 100
    assert with_them[box.top - 12, box.left - 1, 3] > 100
    assert not with_them[box.top - 3 : box.top, box.left - 3 : box.left, 3].any()


@settings(deadline=None, max_examples=40)
@given(
    st.lists(st.tuples(st.floats(0, 60), st.floats(0, 40), st.sampled_from([0, 90])), min_size=1, max_size=6)
)
def test_marks_touch_no_piece_and_no_other_mark(spots: list[tuple[float, float, int]]) -> None:
    tiny = logo(60, 42)
    pieces = tuple(
        dataclasses.replace(placed, box=dataclasses.replace(placed.box, x_mm=x, y_mm=y))
        for x, y, turned in spots
        for placed in [piece("tiny", tiny, 0, 0, turned)]
    )
    sheet = PrintSheet(Size(76.2, 50.8), 300, pieces)
    marked = with_marks(sheet, ("X1",) * len(pieces), 3.0, cut_marks=True, piece_labels=True)
    boxes = [dots_of(each, 300) for each in marked.pieces]
    for at, mark in enumerate(boxes[len(pieces) :], len(pieces)):
        assert 0 <= mark.left <= 900 - mark.width
        assert 0 <= mark.top <= 600 - mark.height
        for other in boxes[:at]:
            apart_x = mark.left >= other.left + other.width or other.left >= mark.left + mark.width
            apart_y = mark.top >= other.top + other.height or other.top >= mark.top + mark.height
            assert apart_x or apart_y


def test_marks_are_left_out_where_the_gap_is_too_narrow() -> None:
    plain = PrintSheet(Size(76.2, 50.8), 300, (piece("logo", LOGO, 60, 60),))
    assert with_marks(plain, ("A",), 1.0, cut_marks=True, piece_labels=True) is plain


@pytest.mark.parametrize(("length_mm", "dots"), [(25.4, 300), (DOT_MM / 2, 1), (0.04, 0), (292.1, 3450)])
def test_lengths_round_to_whole_dots(length_mm: float, dots: int) -> None:
    assert whole_dots(length_mm, 300) == dots


@pytest.mark.parametrize("size", [Size(114.3, 101.6), Size(559, 6096)])
def test_qpdf_finds_nothing_wrong(tmp_path: Path, size: Size) -> None:
    if shutil.which("qpdf") is None:
        pytest.skip("qpdf is not installed")
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(turned_sheet(size), ImageStore(INKS)))
    done = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
