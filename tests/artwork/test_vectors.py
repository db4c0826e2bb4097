"""PDF and SVG artwork: sizes, transparent grounds, fonts, and nothing fetched from outside."""

import os
from io import BytesIO
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from planner.artwork import svg
from planner.artwork.check import judge_file
from planner.artwork.pixels import decode, thumbnail
from planner.artwork.read import SourceNote, UnreadableArtwork, artwork_from, import_artwork
from planner.job.findings import FindingKind, Seriousness
from planner.paper.fonts import REGULAR, register


def a_pdf(*, pages: int = 1, text: str = "", password: str = "") -> bytes:
    """A red square of 1 in on a page of 4 × 3 in, its lower left corner at (1 in, 1 in)."""
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(288, 216), invariant=1)
    for _ in range(pages):
        canvas.setFillColorRGB(1, 0, 0)
        canvas.rect(72, 72, 72, 72, stroke=0, fill=1)
        if text:
            canvas.drawString(20, 20, text)
        canvas.showPage()
    canvas.save()
    if not password:
        return buffer.getvalue()
    locked = BytesIO()
    with pikepdf.open(buffer) as document:
        document.save(locked, encryption=pikepdf.Encryption(owner=password, user=password))
    return locked.getvalue()


def an_svg(body: str, attributes: str = 'width="4in" height="3in" viewBox="0 0 400 300"') -> bytes:
    namespaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {namespaces} {attributes}>{body}</svg>".encode()


GOTHIC = "<g style=\"font-family: 'Harbour Gothic', serif\"><text y='40'>Harbour</text></g>"
USE = '<use href="#g{}"/>'
SQUARE = '<rect x="100" y="100" width="100" height="100" fill="#ff0000"/>'


def test_a_pdf_is_vector_artwork_of_its_page_size() -> None:
    imported = import_artwork(a_pdf(), "logo.pdf")
    assert imported.vector
    assert (imported.width_px, imported.height_px) == (1200, 900)
    assert artwork_from(imported, "a").vector
    assert SourceNote.TEXT_NOT_OUTLINED not in imported.notes


def test_a_pdf_is_drawn_exactly_on_a_clear_ground() -> None:
    drawn = decode(a_pdf(), ppi=72)
    assert drawn.size == (288, 216)
    alpha = np.asarray(drawn)[..., 3]
    assert np.argwhere(alpha).min(axis=0).tolist() == [72, 72]
    assert np.argwhere(alpha).max(axis=0).tolist() == [143, 143]
    assert drawn.getpixel((100, 100)) == (255, 0, 0, 255)
    assert max(thumbnail(a_pdf(), most_px=100).size) == 100


def test_pages_are_counted_and_chosen() -> None:
    data = a_pdf(pages=3)
    imported = import_artwork(data, "logo.pdf")
    assert imported.page_count == 3
    assert SourceNote.MORE_PAGES in imported.notes
    assert decode(data, page=2, ppi=72).size == (288, 216)
    with pytest.raises(UnreadableArtwork, match="no page 4"):
        decode(data, page=3)


def test_text_in_a_font_that_is_not_in_the_file_is_noted() -> None:
    # Helvetica is one of the fonts a PDF need not carry (ISO 32000-1, 9.6.2.2).
    notes = import_artwork(a_pdf(text="Harbour Lights"), "logo.pdf").notes
    assert {SourceNote.TEXT_NOT_OUTLINED, SourceNote.FONT_NOT_EMBEDDED} <= notes
    kinds = {finding.kind for finding in judge_file(a_pdf(text="Harbour"), "logo.pdf", 100).findings}
    assert FindingKind.TEXT_NOT_OUTLINED in kinds


def with_own_font(text: str = "Harbour Lights", mode: int = 0) -> bytes:
    """A page set in an embedded font; its writer lists Helvetica too, though no text uses it."""
    register()
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(288, 216), invariant=1)
    written = canvas.beginText(20, 20)
    written.setFont(REGULAR if mode == 0 else "Helvetica", 20)
    written.setTextRenderMode(mode)
    written.textLine(text)
    canvas.drawText(written)
    canvas.save()
    return buffer.getvalue()


def test_text_in_a_font_that_is_not_here_is_drawn_in_another_one() -> None:
    drawn = decode(an_svg(f'<g font-size="60">{GOTHIC}</g>'), ppi=100)
    ink = np.argwhere(np.asarray(drawn)[..., 3] > 128)
    assert len(ink) > 500
    # Seven letters of 60 px: wider than five, and as high as a capital.
    assert ink[:, 1].max() > 150
    assert ink[:, 0].max() <= 50


def test_a_font_that_is_listed_and_not_used_is_no_trouble() -> None:
    data = with_own_font()
    with pikepdf.open(BytesIO(data)) as document:
        listed = {str(font.BaseFont) for font in document.pages[0].Resources.Font.values()}
    assert "/Helvetica" in listed
    notes = import_artwork(data, "logo.pdf").notes
    assert SourceNote.TEXT_NOT_OUTLINED in notes
    assert SourceNote.FONT_NOT_EMBEDDED not in notes
    (found,) = [
        finding
        for finding in judge_file(data, "logo.pdf", 100).findings
        if finding.kind is FindingKind.TEXT_NOT_OUTLINED
    ]
    assert (found.seriousness, found.needed) == (Seriousness.NOTE, 0)


def test_missing_fonts_are_named() -> None:
    for data, name, font in (
        (a_pdf(text="Harbour"), "logo.pdf", "Helvetica"),
        (an_svg(GOTHIC), "a.svg", "Harbour Gothic"),
    ):
        (found,) = [
            finding
            for finding in judge_file(data, name, 100).findings
            if finding.kind is FindingKind.TEXT_NOT_OUTLINED
        ]
        assert (found.seriousness, found.detail) == (Seriousness.LOOK, font)


def test_text_in_a_form_counts_and_invisible_text_does_not() -> None:
    buffer = BytesIO()
    canvas = Canvas(buffer, pagesize=(288, 216), invariant=1)
    canvas.beginForm("badge")
    canvas.drawString(20, 20, "Harbour Lights")
    canvas.endForm()
    canvas.doForm("badge")
    canvas.save()
    assert SourceNote.FONT_NOT_EMBEDDED in import_artwork(buffer.getvalue(), "form.pdf").notes
    # ISO 32000-1, 9.3.6: render mode 3 draws nothing.
    assert SourceNote.TEXT_NOT_OUTLINED not in import_artwork(with_own_font(mode=3), "scan.pdf").notes


def test_a_locked_or_broken_pdf_is_refused_with_a_sentence() -> None:
    with pytest.raises(UnreadableArtwork, match="password"):
        import_artwork(a_pdf(password="secret"), "logo.pdf")
    with pytest.raises(UnreadableArtwork, match=r"damaged|no pages"):
        import_artwork(b"%PDF-1.4\nnothing in here", "logo.pdf")


def test_vector_artwork_is_never_coarse() -> None:
    kinds = {finding.kind for finding in judge_file(a_pdf(), "logo.pdf", 3000).findings}
    assert FindingKind.TOO_COARSE not in kinds
    assert FindingKind.LOOKS_ENLARGED not in kinds


@pytest.mark.parametrize(
    ("attributes", "size_pt"),
    [
        ('width="4in" height="3in"', (288, 216)),
        ('width="96" height="48px"', (72, 36)),
        ('width="25.4mm" height="2.54cm"', (72, 72)),
        ('viewBox="0 0 96 48"', (72, 36)),
        ('width="144pt" viewBox="0 0 2 1"', (144, 72)),
        ('width="100%" height="100%" viewBox="0,0,96,96"', (72, 72)),
    ],
)
def test_an_svg_states_its_size_in_many_ways(attributes: str, size_pt: tuple[float, float]) -> None:
    drawing = svg.describe_svg(an_svg(SQUARE, attributes), "a.svg")
    width, height, has_text = drawing.width_pt, drawing.height_pt, drawing.has_text
    assert (width, height) == pytest.approx(size_pt)
    assert not has_text


@pytest.mark.parametrize(
    "data",
    [
        b"<svg",
        an_svg(SQUARE, ""),
        an_svg(SQUARE)[:-20],
        b'<svg xmlns="http://www.w3.org/2000/svg" width="1e9" height="1e9"/>',
        an_svg('<g id="a"><use href="#a"/></g>'),
        an_svg("<g>" * 300 + "</g>" * 300),
        an_svg(
            '<g id="g0"><rect width="1" height="1"/></g>'
            + "".join(f'<g id="g{n + 1}">{USE.format(n) * 10}</g>' for n in range(8))
            + '<use href="#g8"/>'
        ),
    ],
    ids=["stub", "no size", "cut", "huge", "loop", "deep", "bomb"],
)
def test_an_svg_that_is_broken_or_a_bomb_is_refused(data: bytes) -> None:
    with pytest.raises(UnreadableArtwork, match="Ask the customer"):
        import_artwork(data, "a.svg")


def test_an_entity_bomb_is_refused() -> None:
    entities = "".join(f'<!ENTITY e{n + 1} "{f"&e{n};" * 10}">' for n in range(9))
    data = f'<!DOCTYPE svg [<!ENTITY e0 "lol">{entities}]>'.encode() + an_svg("<text>&e9;</text>")
    with pytest.raises(UnreadableArtwork):
        import_artwork(data, "a.svg")


def test_what_leads_outside_or_runs_never_reaches_the_renderer() -> None:
    body = (
        '<script>alert(1)</script><image href="https://example.org/a.png" width="9" height="9"/>'
        '<image xlink:href="/etc/passwd" width="9" height="9"/><use href="other.svg#x"/>'
        '<image href="data:image/svg+xml;base64,AAAA" width="9" height="9"/>'
        '<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">hi</p></foreignObject>'
        '<use href="#kept"/><image href="data:image/png;base64,AAAA" width="9" height="9"/>'
    )
    cleaned = svg.ElementTree.tostring(svg._read(an_svg(body), "a.svg"), encoding="unicode")
    for word in ("example.org", "passwd", "other.svg", "alert", "svg+xml;base64", "foreignObject"):
        assert word not in cleaned
    assert "#kept" in cleaned
    assert "data:image/png" in cleaned


def test_an_svg_is_drawn_exactly_on_a_clear_ground(tmp_path: Path) -> None:
    pytest.importorskip("resvg_py")
    imported = import_artwork(an_svg(SQUARE), "a.svg")
    assert imported.vector
    assert (imported.width_px, imported.height_px) == (1200, 900)
    drawn = decode(an_svg(SQUARE), ppi=100)
    alpha = np.asarray(drawn)[..., 3]
    assert drawn.size == (400, 300)
    assert np.argwhere(alpha).min(axis=0).tolist() == [100, 100]
    assert np.argwhere(alpha).max(axis=0).tolist() == [199, 199]
    assert drawn.getpixel((150, 150)) == (255, 0, 0, 255)
    # A picture beside the drawing must not be picked up, wherever the program runs.
    Image.new("RGB", (10, 10), "lime").save(tmp_path / "lure.png")
    here = Path.cwd()
    os.chdir(tmp_path)
    try:
        lured = decode(an_svg('<image href="lure.png" width="400" height="300"/>'), ppi=100)
    finally:
        os.chdir(here)
    assert not np.asarray(lured)[..., 3].any()


def test_text_in_an_svg_is_noted() -> None:
    pytest.importorskip("resvg_py")
    notes = import_artwork(an_svg('<text x="9" y="40">Choir</text>'), "a.svg").notes
    assert {SourceNote.TEXT_NOT_OUTLINED, SourceNote.FONT_NOT_EMBEDDED} <= notes
