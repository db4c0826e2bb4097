"""SVG artwork stays vector on a sheet PDF where that looks like its pixels, and becomes pixels where not."""

import hashlib
import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2
import pytest

from planner.artwork import svg_vectors
from planner.artwork.decoding import InProcess
from planner.artwork.guarded import Guarded
from planner.artwork.read import artwork_from, import_artwork
from planner.artwork.svg_vectors import LEVELS_APART, pixels_apart, svg_page
from planner.measures.geometry import Rect, Size
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.export import SHEET_PDFS, export
from planner.paper.image_streams import ImageStore
from planner.paper.pictures import Pictures
from planner.paper.print_sheet import PrintPiece, PrintSheet, artwork_of_piece
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import placed_pixels
from planner.paper.verify import verify_pdf
from planner.shop.document import changed
from tests.paper.scenes import logo
from tests.paper.test_export import small_papers

DOT_MM = 25.4 / 300
GRADIENT = '<stop stop-color="#fff"/><stop offset="1" stop-color="#204080"/>'
BOX = '<rect width="100" height="100"'
DRAWINGS = {
    "curves and holes": '<path fill-rule="evenodd" d="M50 5 80 95 5 35 95 35 20 95Z" fill="#0a0"/>'
    '<path d="M10 10C60 0 90 60 90 90Q40 95 10 60Z" fill="none" stroke="#036" stroke-width="3"/>',
    "dashes": '<path d="M10 50C20 10 80 90 90 50" fill="none" stroke="#222" stroke-width="6" '
    'stroke-dasharray="10 4 2 4" stroke-linecap="round"/>',
    "hairline": '<path d="M5 5 95 95" stroke="#000" stroke-width=".3"/>',
    "transforms": '<g transform="translate(50 50) rotate(30) scale(1.2 .7) skewX(20)">'
    '<rect x="-30" y="-30" width="60" height="60" fill="#906"/></g>',
    "linear gradient": f'<linearGradient id="g" y2="1">{GRADIENT}</linearGradient>{BOX} fill="url(#g)"/>',
    "radial gradient": f'<radialGradient id="g" fx=".3">{GRADIENT}</radialGradient>{BOX} fill="url(#g)"/>',
    "fading gradient": '<linearGradient id="g"><stop stop-color="#f00"/><stop offset="1" stop-color="#f00" '
    f'stop-opacity="0"/></linearGradient>{BOX} fill="url(#g)"/>',
    "clip": f'<clipPath id="c"><circle cx="50" cy="50" r="35"/></clipPath>{BOX} clip-path="url(#c)"/>',
    "mask": '<mask id="m"><circle cx="50" cy="50" r="40" fill="#fff"/><circle cx="50" cy="50" r="20"/></mask>'
    f'{BOX} fill="#084" mask="url(#m)"/>',
    "opacity": '<g opacity=".5"><circle cx="40" cy="50" r="30" fill="red"/>'
    '<circle cx="60" cy="50" r="30" fill="blue"/></g><circle cx="20" cy="20" r="15" fill-opacity=".3"/>',
    "copies": '<defs><path id="s" d="M0 0h20v20z"/></defs><use href="#s" x="10"/>'
    '<use href="#s" transform="translate(60 60) rotate(45)"/>',
    "pattern": '<pattern id="p" width="10" height="10" patternUnits="userSpaceOnUse">'
    f'<circle cx="5" cy="5" r="3"/></pattern>{BOX} fill="url(#p)"/>',
    "style sheet": '<style>.a{fill:#a0f;stroke:#000;stroke-width:2}</style><circle class="a" r="80"/>',
}
UNLIKE = {
    "repeated gradient": f'<linearGradient id="g" x2=".2" spreadMethod="repeat">{GRADIENT}</linearGradient>'
    f'{BOX} fill="url(#g)"/>',
    "blur": '<filter id="f"><feGaussianBlur stdDeviation="4"/></filter><circle r="50" filter="url(#f)"/>',
}


def drawing(inside: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100">{inside}</svg>'.encode()


def sheet_of(data: bytes) -> tuple[PrintSheet, ArtworkInks]:
    """The drawing at 400 dots, upright and turned by a quarter."""
    artwork = artwork_from(import_artwork(data, "crest.svg"), "crest")
    size = Size(400 * DOT_MM, 400 * DOT_MM)
    pieces = tuple(
        PrintPiece(artwork, Rect(left * DOT_MM, 10 * DOT_MM, size.width_mm, size.height_mm), size, turned)
        for left, turned in ((10, 0), (450, 90))
    )
    return PrintSheet(Size(900 * DOT_MM, 450 * DOT_MM), 300, pieces), ArtworkInks(
        {hashlib.sha256(data).hexdigest(): data}.__getitem__
    )


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_stays_vector_and_looks_like_its_pixels(name: str, tmp_path: Path) -> None:
    # PDFium draws the sheet, resvg the pixels: two libraries that know nothing of each other.
    sheet, inks = sheet_of(drawing(DRAWINGS[name]))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    assert verify_pdf(path, sheet, inks).worst_dots < 0.01
    with pikepdf.open(path) as pdf:
        assert [str(item.Subtype) for item in pdf.pages[0].obj.Resources.XObject.values()] == ["/Form"]
        assert not [item for item in pdf.objects if isinstance(item, pikepdf.Stream) and "/Width" in item]
    document = pypdfium2.PdfDocument(path)
    seen = np.asarray(document[0].render(scale=300 / 72 - 1e-9).to_pil().convert("RGB"))
    document.close()
    for placed in placed_pixels(sheet, inks):
        box = placed.box
        vectors = seen[box.top : box.top + box.height, box.left : box.left + box.width]
        colours, alpha = placed.pixels[..., :3].astype(int), placed.pixels[..., 3:].astype(int)
        on_white = ((colours * alpha + 255 * (255 - alpha) + 127) // 255).astype(np.uint8)
        assert pixels_apart(on_white, np.ascontiguousarray(vectors)) < 0.005 * box.width * box.height


@pytest.mark.parametrize("name", UNLIKE)
def test_a_drawing_that_would_look_different_becomes_pixels(name: str, tmp_path: Path) -> None:
    sheet, inks = sheet_of(drawing(UNLIKE[name]))
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(inks)))
    with pikepdf.open(path) as pdf:
        assert pdf.pages[0].obj.Resources.XObject.Picture1.Subtype == "/Image"
    verify_pdf(path, sheet, inks)


def test_a_shape_left_out_of_the_vectors_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = drawing(f'{BOX} fill="#fc0"/><circle cx="70" cy="30" r="1" fill="#036"/>')
    page = svg_page(whole, "whole")
    without = svg_page(drawing(f'{BOX} fill="#fc0"/>'), "without")
    assert page is not None
    assert without is not None
    assert svg_vectors._looks_alike(whole, page, "whole")
    assert not svg_vectors._looks_alike(whole, without, "whole")


def test_a_softer_edge_is_no_other_picture_and_a_spot_is() -> None:
    edge = np.zeros((20, 20, 3), np.uint8)
    edge[:, 10:] = 255
    softer = edge.copy()
    softer[:, 10] = 120
    assert pixels_apart(edge, softer) == 0
    spot = edge.copy()
    spot[3:5, 3:5] = LEVELS_APART + 1
    assert pixels_apart(edge, spot) == 4


def test_the_same_drawing_gives_the_same_sheet_bytes() -> None:
    # Two runs of the converter differ in order; what lies in the sheet does not.
    sheet, _ = sheet_of(drawing(DRAWINGS["opacity"]))
    made = {sheet_pdf(sheet, ImageStore(sheet_of(drawing(DRAWINGS["opacity"]))[1])) for _ in range(4)}
    assert len(made) == 1


def test_nothing_outside_the_drawing_reaches_the_page(tmp_path: Path) -> None:
    secret = tmp_path / "secret.png"
    secret.write_bytes(b"\x89PNG")
    page = svg_page(drawing(f'<image href="{secret.as_uri()}" width="9" height="9"/>{BOX}/>'), "a")
    assert page is not None
    assert b"secret" not in page


def test_the_worker_turns_a_drawing_into_vectors_as_this_process_does() -> None:
    data = drawing(DRAWINGS["clip"])
    artwork = artwork_from(import_artwork(data, "crest.svg"), "crest")
    guard = Guarded()
    try:
        assert guard.vector_page(data, artwork) == InProcess().vector_page(data, artwork)
        assert guard.vector_page(data, artwork) is not None
        unlike = drawing(UNLIKE["blur"])
        assert guard.vector_page(unlike, artwork) is None
        drawn = guard.printed(data, artwork, (64, 64))
        assert drawn.size == (64, 64)
        assert not guard.is_plain(data, artwork)
    finally:
        guard.close()


def test_the_export_says_which_artwork_became_pixels(tmp_path: Path) -> None:
    papers = small_papers()
    data = drawing(UNLIKE["blur"])
    (order,) = papers.plan.purchase.orders
    on_sheet = artwork_of_piece(papers.job, order.layouts[0].placements[0].print)
    crest = artwork_from(import_artwork(data, "crest.svg"), on_sheet.key)
    artworks = tuple(crest if held.key == crest.key else held for held in papers.job.artworks)
    png = io.BytesIO()
    logo(90, 60).save(png, "PNG")
    files = {held.sha256: data if held.vector else png.getvalue() for held in artworks}
    noted: list[str] = []
    job = changed(papers.job, artworks=artworks)
    pictures = Pictures(ArtworkInks(files.__getitem__))
    export(replace(papers, job=job, pictures=pictures), tmp_path, (SHEET_PDFS,), noted=noted.append)
    assert noted == ["crest.svg is printed as pixels: as vectors it would look different."]
