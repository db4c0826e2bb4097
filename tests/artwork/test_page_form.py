"""A page made ready for a sheet draws what it drew, and reaches nothing beside itself."""

import io

import numpy as np
import pikepdf
import pypdfium2
import pytest
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name, Pdf

from planner.artwork import page_form
from planner.artwork.decoding import InProcess
from planner.artwork.page_form import form_of
from planner.artwork.read import UnreadableArtwork, artwork_from
from tests.hostile.traps import traps

ELSEWHERE = "fetched-from-elsewhere.pdf"


def seen(pdf: bytes, page: int = 0) -> NDArray[np.int64]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return np.asarray(document[page].render(scale=2).to_pil().convert("RGB")).astype(np.int64)
    finally:
        document.close()


def form_page(data: bytes, page: int, name: str) -> bytes:
    made = page_form.form_page(data, page, name)
    assert made is not None
    return made


def written(pdf: Pdf) -> bytes:
    buffer = io.BytesIO()
    pdf.save(buffer, compress_streams=False)
    return buffer.getvalue()


def two_pages(rotate: int) -> bytes:
    """A green page, and one with a blue corner, cropped, drawn through a form whose names are odd."""
    with Pdf.new() as pdf:
        pdf.add_blank_page(page_size=(60, 60))
        pdf.add_blank_page(page_size=(120, 80))
        pdf.pages[0].obj.Contents = pdf.make_stream(b"0 1 0 rg 0 0 60 60 re f")
        form = pdf.make_stream(b"0 0 1 rg 20 20 30 40 re f", BBox=Array([0, 0, 120, 80]))
        form.Type, form.Subtype = Name.XObject, Name.Form
        page = pdf.pages[1].obj
        # The keys that are taken from streams are no worse than others as names of parts.
        page.Resources = Dictionary(XObject=Dictionary(F=form, Ref=form))
        page.Contents = pdf.make_stream(b"/F Do 1 0 0 1 40 10 cm /Ref Do")
        page.CropBox, page.Rotate = Array([10, 5, 110, 75]), rotate
        return written(pdf)


@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_the_page_shows_what_it_showed(rotate: int) -> None:
    data = two_pages(rotate)
    made = form_page(data, 1, "mark.pdf")
    wanted, shown = seen(data, 1), seen(made)
    assert shown.shape == wanted.shape
    assert (shown != 255).any()
    assert np.abs(shown - wanted).max() <= 2
    with pikepdf.open(io.BytesIO(made)) as pdf:
        assert len(pdf.pages) == 1
        assert list(pdf.pages[0].obj.Resources.XObject.keys()) == ["/Form"]


def layered(**settings: object) -> bytes:
    """A page whose left half is green, and its right half red on a layer of its own."""
    with Pdf.new() as pdf:
        pdf.add_blank_page(page_size=(100, 50))
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Cut line"))
        named = {key: Array([layer]) if value == "the layer" else value for key, value in settings.items()}
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary(named))
        page = pdf.pages[0].obj
        page.Resources = Dictionary(Properties=Dictionary(L=layer))
        page.Contents = pdf.make_stream(b"0 1 0 rg 0 0 50 50 re f /OC /L BDC 1 0 0 rg 50 0 50 50 re f EMC")
        return written(pdf)


@pytest.mark.parametrize(
    "settings",
    [{"/OFF": "the layer"}, {"/BaseState": Name.OFF}, {"/AS": "the layer"}],
)
def test_a_page_with_hidden_layers_is_printed_as_the_pixels_that_are_seen(
    settings: dict[str, object],
) -> None:
    data = layered(**settings)
    here = InProcess()
    artwork = artwork_from(here.imported(data, "mark.pdf"), "a1")
    assert here.vector_page(data, artwork) is None
    hidden = "/AS" not in settings
    for picture in (here.picture(data, artwork, 200), here.printed(data, artwork, (200, 100))):
        assert picture.getpixel((50, 50)) == (0, 255, 0, 255)
        assert picture.getpixel((150, 50)) == ((0, 0, 0, 0) if hidden else (255, 0, 0, 255))


def test_a_page_whose_layers_all_show_stays_vectors() -> None:
    data = layered()
    assert np.abs(seen(form_page(data, 0, "mark.pdf")) - seen(data)).max() <= 2


def reaching() -> bytes:
    """A page whose parts name other files, a print server's pictures, notes of programs, and PostScript."""
    with Pdf.new() as pdf:
        pdf.add_blank_page(page_size=(100, 50))
        box = Array([0, 0, 100, 50])
        elsewhere = Dictionary(Type=Name.Filespec, F=ELSEWHERE)
        form = pdf.make_stream(b"1 0 0 rg 0 0 50 50 re f", BBox=box, Ref=Dictionary(F=elsewhere, Page=0))
        form.Type, form.Subtype = Name.XObject, Name.Form
        form.OPI = Dictionary({"/2.0": Dictionary(F=elsewhere)})
        form.PieceInfo = Dictionary(Maker=Dictionary(LastModified="D:2020", Private=ELSEWHERE))
        form.Metadata = pdf.make_stream(ELSEWHERE.encode())
        outside = pdf.make_stream(b"", BBox=box, F=elsewhere, FFilter=Name.FlateDecode)
        outside.Type, outside.Subtype = Name.XObject, Name.Form
        run = pdf.make_stream(ELSEWHERE.encode(), Type=Name.XObject, Subtype=Name.PS)
        run_too = pdf.make_stream(ELSEWHERE.encode(), BBox=box, Subtype=Name.Form, Subtype2=Name.PS)
        page = pdf.pages[0].obj
        page.Resources = Dictionary(XObject=Dictionary(A=form, B=outside, C=run, D=run_too))
        page.Contents = pdf.make_stream(b"/A Do /B Do /C Do /D Do")
        return written(pdf)


def test_nothing_that_reaches_beyond_the_page_is_kept() -> None:
    data = reaching()
    assert data.count(ELSEWHERE.encode()) >= 6
    with pikepdf.open(io.BytesIO(form_page(data, 0, "mark.pdf"))) as made, Pdf.new() as sheet:
        form, _ = form_of(sheet, written(made))
        sheet.Root.Kept = form
        plain = written(sheet)
    assert ELSEWHERE.encode() not in plain
    for key in (b"/Ref", b"/OPI", b"/PieceInfo", b"/Metadata", b"/FFilter", b"/PS"):
        assert key not in plain
    # What the page draws itself is still there: its left half red.
    shown = seen(form_page(data, 0, "mark.pdf"))
    assert tuple(shown[50, 50]) == (255, 0, 0)
    assert tuple(shown[50, 150]) == (255, 255, 255)


@pytest.mark.parametrize("name", ["form-loop.pdf", "form-laughs.pdf", "inflates.pdf"])
def test_a_page_without_end_is_refused(name: str) -> None:
    with pytest.raises(UnreadableArtwork, match="would not end"):
        form_page(traps()[name], 0, name)


def test_a_damaged_file_and_a_page_that_is_not_there_are_refused_with_the_file_s_name() -> None:
    for data, page in ((b"%PDF-1.7 nothing", 0), (two_pages(0), 2)):
        with pytest.raises(UnreadableArtwork, match=r"mark\.pdf"):
            form_page(data, page, "mark.pdf")
