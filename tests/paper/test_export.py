"""Export writes whole files with telling names and loses nobody's."""

import hashlib
import io
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from planner.job.document import Artwork
from planner.measures.lengths import LengthUnit
from planner.paper.artwork_inks import ArtworkInks
from planner.paper.export import NAMES, SHEET_PDFS, SHEET_PNGS, export
from planner.paper.names import safe_stem
from planner.paper.papers import Papers
from planner.paper.pictures import Pictures
from planner.paper.print_files import SheetWishes
from planner.paper.verify import SheetFileDiffers
from planner.paper.writing import ExportRefused
from planner.shop.document import changed
from planner.work.ticket import Cancelled, Ticket
from tests.paper.scenes import HeldInks, a_plan, a_shop, choir_job, choir_papers, logo, photograph


def small_papers(title: str = "Harbour Lights winter concert") -> Papers:
    """One layout only, so that tests stay quick."""
    papers = choir_papers()
    (order,) = papers.plan.purchase.orders
    layout = order.layouts[1]
    pieces = tuple(changed(piece, ordered=layout.count_of(piece.piece)) for piece in order.pieces)
    order = changed(order, layouts=(layout,), pieces=pieces)
    plan = changed(papers.plan, purchase=changed(papers.plan.purchase, orders=(order,)))
    return replace(papers, plan=plan, job=changed(papers.job, title=title))


def test_names_tell_job_sheet_and_runs_and_every_sheet_is_verified(tmp_path: Path) -> None:
    said: list[str] = []
    paths = export(small_papers(), tmp_path / "new" / "out", (SHEET_PDFS, SHEET_PNGS), said=said.append)
    stem = "harbour-lights-winter-concert_gang_sheet-1-of-1_print-4x"
    assert [path.name for path in paths] == [f"{stem}.pdf", f"{stem}.png"]
    assert all(path.stat().st_size for path in paths)
    assert [sentence.partition(":")[0] for sentence in said] == [f"{stem}.pdf", f"{stem}.png"]
    assert all("verified, 11.5 × 18 in, 21 pieces at most 0.00 px off at 300 ppi" in s for s in said)


def test_guides_at_true_size_come_beside_the_packet_unasked(tmp_path: Path) -> None:
    names = [path.name for path in export(small_papers(), tmp_path)]
    assert "harbour-lights-winter-concert_placement-guides.pdf" in names


def test_the_order_names_each_file_with_its_sha_256(tmp_path: Path) -> None:
    *sheets, order = export(small_papers(), tmp_path, ("order", SHEET_PDFS, SHEET_PNGS))
    pages = pypdfium2.PdfDocument(order)
    text = "".join("".join(page.get_textpage().get_text_bounded() for page in pages).split())
    assert len(sheets) == 2
    for path in sheets:
        assert hashlib.sha256(path.read_bytes()).hexdigest() in text
        assert path.stem in text


def test_papers_and_orders_are_written_as_the_shop_s_region_does(tmp_path: Path) -> None:
    """Unicode CLDR: in Germany a comma sets decimals apart, and the currency stands behind."""
    papers = small_papers()
    papers = replace(papers, shop=changed(papers.shop, region="DE", unit=LengthUnit.INCH))
    said: list[str] = []
    *_, order, quote = export(papers, tmp_path, (SHEET_PDFS, "order", "quote"), said=said.append)
    assert "11,5 × 18 in, 21 pieces at most 0,00 px off" in said[0]
    for path, amount in (
        (order, papers.plan.purchase.orders[0].cost if papers.plan.purchase else None),
        (quote, papers.plan.quote.total),
    ):
        text = "".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(path))
        assert f"{amount:.2f}".replace(".", ",") in text.replace(".", "")
        # The scene's own charge is a text of the plan, and this plan was made in the US.
        assert not re.search(r"\d\.\d\d\b", text.replace("at 9.00", ""))


def test_pieces_bought_singly_get_a_file_of_their_own_size_and_stand_in_the_order(tmp_path: Path) -> None:
    papers = small_papers()
    (order,) = papers.plan.purchase.orders
    on_sheets = order.layouts[0].count_of("p2")
    pieces = tuple(
        changed(
            piece, ordered=on_sheets + 7 if piece.piece == "p2" else order.layouts[0].count_of(piece.piece)
        )
        for piece in order.pieces
    )
    purchase = changed(papers.plan.purchase, orders=(changed(order, pieces=pieces),))
    papers = replace(papers, plan=changed(papers.plan, purchase=purchase))
    paths = export(papers, tmp_path, (SHEET_PDFS, "order"))
    stem = "harbour-lights-winter-concert_gang_piece-B_print-7x"
    assert paths[1].name == f"{stem}.pdf"
    width, height = pypdfium2.PdfDocument(paths[1])[0].get_size()
    assert (width, height) == pytest.approx((3.5 * 72, 3.5 * 72 * 2 / 3), abs=0.001)
    text = "".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(paths[-1]))
    assert "Single pieces to print" in text
    assert stem in "".join(text.split())


def test_a_printer_s_wishes_are_carried_out(tmp_path: Path) -> None:
    said: list[str] = []
    wishes = SheetWishes(mirrored=True, white_ground=True, cut_marks=True, labels=True)
    *_, png = export(
        replace(small_papers(), wishes=wishes), tmp_path, (SHEET_PDFS, SHEET_PNGS), said=said.append
    )
    # Marks and labels are no pieces.
    assert all("verified, 11.5 × 18 in, 21 pieces" in sentence for sentence in said)
    with Image.open(png) as picture:
        assert picture.getchannel("A").getextrema() == (255, 255)


def test_exporting_twice_replaces_its_own_files_with_the_same_bytes(tmp_path: Path) -> None:
    names = ("quote", "order", SHEET_PDFS)
    first = {path: path.read_bytes() for path in export(small_papers(), tmp_path, names)}
    second = {path: path.read_bytes() for path in export(small_papers(), tmp_path, names)}
    assert first == second
    assert sorted(tmp_path.iterdir()) == sorted(first)


@pytest.mark.parametrize("what", ["file", "empty file", "folder", "link"])
def test_what_somebody_else_put_there_is_not_lost(tmp_path: Path, what: str) -> None:
    path = tmp_path / "harbour-lights-winter-concert_quote.pdf"
    other = tmp_path / "kept.txt"
    other.write_text("dear to somebody")
    if what == "folder":
        path.mkdir()
    elif what == "link":
        path.symlink_to(other)
    else:
        path.write_bytes(b"%PDF-1.4 mine" if what == "file" else b"")
    before = sorted(tmp_path.iterdir())
    with pytest.raises(ExportRefused, match=r"was not made by the planner\. Move it away"):
        export(small_papers(), tmp_path, ("care card", "quote"))
    assert sorted(tmp_path.iterdir()) == before
    assert other.read_text() == "dear to somebody"


def test_titles_cannot_lead_out_of_the_folder(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    for title in ("../../etc/passwd", "C:\\temp\\x", "..", "a/b\x00c", "con", "   ", "名前", "x" * 120):
        for path in export(small_papers(title), inside, ("pick list",)):
            assert path.parent == inside
            assert path.exists()
    assert [path.name for path in tmp_path.iterdir()] == ["inside"]


@pytest.mark.parametrize(
    ("text", "stem"),
    [
        ("Harbour Lights: winter / concert!", "harbour-lights-winter-concert"),
        ("Χορωδία Λιμανιού", "χορωδία-λιμανιού"),
        ("CON", "con-job"),
        ("../..", "job"),
        ("", "job"),
    ],
)
def test_stems_are_safe(text: str, stem: str) -> None:
    assert safe_stem(text) == stem


def test_an_unknown_paper_is_refused_with_the_names_there_are(tmp_path: Path) -> None:
    with pytest.raises(ExportRefused, match="no paper called “invoice”") as refused:
        export(small_papers(), tmp_path, ("invoice",))
    assert all(name in str(refused.value) for name in NAMES)


def test_two_offers_never_write_over_each_other(tmp_path: Path) -> None:
    papers = small_papers()
    (order,) = papers.plan.purchase.orders
    alike = changed(papers.plan.purchase, orders=(order, changed(order, offer="Gang!")))
    papers = replace(papers, plan=changed(papers.plan, purchase=alike))
    with pytest.raises(ExportRefused, match="keys too alike"):
        export(papers, tmp_path, ("order",))
    assert list(tmp_path.iterdir()) == []


def test_a_file_in_the_folder_s_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("not a folder")
    with pytest.raises(ExportRefused, match="Choose another folder"):
        export(small_papers(), tmp_path / "out", ("quote",))


class _Forgetful(HeldInks):
    """Gives another picture when asked again, as if a file had changed on the way."""

    def __init__(self) -> None:
        super().__init__({"logo": logo(), "photo": photograph()})
        self.asked = 0

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        self.asked += 1
        pixels = np.array(super().picture(artwork))
        pixels[0, 0] = self.asked
        return Image.fromarray(pixels)


def test_a_sheet_that_differs_when_read_back_is_not_kept(tmp_path: Path) -> None:
    papers = replace(small_papers(), pictures=Pictures(_Forgetful()))
    with pytest.raises(SheetFileDiffers, match=r"sheet-1-of-1_print-4x\.pdf was written but"):
        export(papers, tmp_path, (SHEET_PDFS,))
    assert list(tmp_path.iterdir()) == []


def test_progress_only_rises_and_ends_with_the_last_file(tmp_path: Path) -> None:
    steps: list[tuple[int, int]] = []
    ticket = Ticket(lambda done, of: steps.append((done, of)))
    export(small_papers(), tmp_path, ("quote", "pick list", SHEET_PDFS, SHEET_PNGS), ticket=ticket)
    assert steps == [(0, 4), (1, 4), (2, 4), (3, 4)]


def test_an_export_stopped_in_the_middle_of_a_sheet_leaves_no_half(tmp_path: Path) -> None:
    ticket = Ticket(lambda done, _of: ticket.stop() if done == 1 else None)
    with pytest.raises(Cancelled):
        export(small_papers(), tmp_path, (SHEET_PDFS, SHEET_PNGS), ticket=ticket)
    assert [path.suffix for path in tmp_path.iterdir()] == [".pdf"]


def test_a_stopped_export_leaves_no_halves(tmp_path: Path) -> None:
    ticket = Ticket()
    ticket.stop()
    with pytest.raises(Cancelled):
        export(small_papers(), tmp_path, ticket=ticket)
    assert list(tmp_path.iterdir()) == []


def test_every_paper_can_be_made_of_an_empty_job(tmp_path: Path) -> None:
    job = changed(choir_job(), title="", prints=(), lines=(), artworks=(), offer=None)
    shop = a_shop()
    plan = changed(a_plan(job, shop), findings=())
    papers = Papers(job, shop, plan, Pictures(HeldInks({})))
    assert export(papers, tmp_path, NAMES)


def test_pictures_are_kept_within_a_limit_and_the_last_one_always() -> None:
    files = {}
    artworks = []
    for at in range(3):
        buffer = io.BytesIO()
        Image.new("RGBA", (100, 100), (at, 0, 0, 255)).save(buffer, "PNG")
        digest = hashlib.sha256(buffer.getvalue()).hexdigest()
        files[digest] = buffer.getvalue()
        artworks.append(Artwork(key=f"a{at}", name="a.png", sha256=digest, width_px=100, height_px=100))
    asked: list[str] = []

    def data_of(sha256: str) -> bytes:
        asked.append(sha256)
        return files[sha256]

    inks = ArtworkInks(data_of, kept_bytes=2 * 40_000)
    first, second, third = artworks
    for artwork in (first, second, first, third, first, second):
        assert inks.picture(artwork).size == (100, 100)
    # The third took the second's room; the first was used in between and stayed.
    assert asked == [first.sha256, second.sha256, third.sha256, second.sha256]
    assert ArtworkInks(data_of, kept_bytes=1).picture(first).getpixel((0, 0)) == (0, 0, 0, 255)
