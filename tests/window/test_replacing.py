"""Another file put behind an artwork in the real window: what stays, and what is said to have changed."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu, QPushButton
from pytestqt.qtbot import QtBot

from planner.artwork.fixes import suggest_trim
from planner.artwork.read import Imported, artwork_from, import_artwork
from planner.job import edits
from planner.job.document import GarmentLine, Job, Print
from planner.job.findings import FindingKind
from planner.job.fixes import OutlineInk, Recolour, Trim
from planner.shop.cloth import Swatch
from planner.window.artwork import words
from planner.window.artwork.pages import PageList
from planner.work.ticket import Ticket
from tests.artwork import samples
from tests.builders import A_DAY
from tests.window.rig import Rig, click, png_in


def small_and_boxed() -> bytes:
    return samples.encoded(samples.on_ground(samples.logo(), (255, 255, 255)))


def large_and_clear() -> bytes:
    return samples.encoded(samples.logo(2400, 1200))


def open_job(rig: Rig, qtbot: QtBot) -> None:
    data = small_and_boxed()
    artwork = artwork_from(import_artwork(data, "badge.png"), "a1")
    job = Job(
        quoted_on=A_DAY,
        artworks=(artwork,),
        lines=(GarmentLine(key="g1"),),
        prints=(Print(key="p1", artwork="a1", line="g1", width_mm=100),),
    )
    rig.desk.open(job, {artwork.sha256: data}, None)
    rig.settle(qtbot)


def told(rig: Rig) -> str:
    note = rig.window.artwork.cards["a1"].replaced
    return note.told.text() if note.isVisible() else ""


def replace(rig: Rig, qtbot: QtBot, path: Path) -> None:
    rig.answers.files = (path,)
    rig.window.door.replace("a1")
    rig.settle(qtbot)


def test_a_replaced_file_keeps_prints_and_decisions_and_shows_what_changed(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    open_job(rig, qtbot)
    assert told(rig) == ""
    faint = next(one for one in rig.window.plan.findings if one.kind is FindingKind.LOW_CONTRAST)
    rig.desk.apply("Decide", edits.decide(rig.desk.job, faint, "The ground is wanted."))
    before = rig.desk.job
    replace(rig, qtbot, png_in(tmp_path, "large badge.png", large_and_clear()))
    after = rig.desk.job
    assert (after.prints, after.decisions) == (before.prints, before.decisions)
    lines = told(rig).splitlines()
    assert lines[0] == "File: badge.png → large badge.png"
    assert lines[1] == "Pixels: 600 × 400 px → 2,400 × 1,200 px"
    assert words.OTHER_SHAPE in lines
    assert any(line.endswith("152 ppi → 610 ppi") for line in lines)
    assert lines[-1].startswith("Findings gone: too coarse, box around the motif")
    rig.desk.undo_stack.undo()
    rig.settle(qtbot)
    assert told(rig) == ""
    rig.desk.undo_stack.redo()
    rig.settle(qtbot)
    assert told(rig).splitlines() == lines


def test_what_changed_goes_once_it_was_seen(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    open_job(rig, qtbot)
    replace(rig, qtbot, png_in(tmp_path, "large badge.png", large_and_clear()))
    note = rig.window.artwork.cards["a1"].replaced
    click(note.findChild(QPushButton))
    assert told(rig) == ""


def test_new_findings_are_told_too(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    open_job(rig, qtbot)
    clear = png_in(tmp_path, "clear.png", samples.encoded(samples.logo()))
    replace(rig, qtbot, clear)
    replace(rig, qtbot, png_in(tmp_path, "faint.png", samples.encoded(faint())))
    assert "new: " in told(rig).splitlines()[-1]


def faint() -> Image.Image:
    return samples.with_shadow(samples.logo(), 20)


def two_pages() -> bytes:
    """A PDF with a small page and a wide one."""
    from reportlab.pdfgen.canvas import Canvas

    made = BytesIO()
    canvas = Canvas(made, pagesize=(144, 144), invariant=1)
    canvas.rect(20, 20, 100, 100, fill=1)
    canvas.showPage()
    canvas.setPageSize((288, 144))
    canvas.circle(144, 72, 60, fill=1)
    canvas.save()
    return made.getvalue()


def test_a_page_of_a_document_is_chosen_by_its_picture(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    rig.window.door.take((png_in(tmp_path, "drawing.pdf", two_pages()),))
    rig.settle(qtbot)
    card = rig.window.artwork.cards["a1"]
    click(card.pages)
    rig.settle(qtbot)
    (pages,) = rig.window.findChildren(PageList)
    shown = pages.pages
    assert [shown.item(at).text() for at in range(shown.count())] == ["page 1", "page 2"]
    small = [shown.item(at).icon().pixmap(96, 96).toImage() for at in (0, 1)]
    assert all(one.pixelColor(48, 48).lightness() < 10 for one in small)
    # The second page is twice as wide as high: above and below it the ground shows.
    assert small[0].pixelColor(20, 20).lightness() < 10
    assert small[1].pixelColor(48, 12).lightness() > 100
    QTest.keyClick(shown, Qt.Key.Key_Right)
    QTest.keyClick(shown, Qt.Key.Key_Return)
    rig.settle(qtbot)
    artwork = rig.desk.job.artwork("a1")
    assert (artwork.page, artwork.size_px) == (1, (1200, 600))
    assert card.about.text().startswith(f"PDF · {words.VECTOR}, page 2")
    pages = rig.window.artwork.open_pages("a1")
    rig.settle(qtbot)
    assert pages.pages.currentRow() == 1
    first = pages.pages.visualItemRect(pages.pages.item(0)).center()
    QTest.mouseClick(pages.pages.viewport(), Qt.MouseButton.LeftButton, pos=first)
    rig.settle(qtbot)
    assert rig.desk.job.artwork("a1").page == 0
    rig.desk.undo_stack.undo()
    assert rig.desk.job.artwork("a1").page == 1


def test_artwork_of_one_page_offers_no_other(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    rig.window.door.take((png_in(tmp_path, "badge.png", samples.encoded(samples.logo())),))
    rig.settle(qtbot)
    card = rig.window.artwork.cards["a1"]
    assert not card.pages.isVisible()
    menu = QMenu()
    card.fill_more(menu)
    assert words.CHOOSE_PAGE not in [action.text() for action in menu.actions()]


def with_margins(scale: int) -> bytes:
    """A badge in the middle of a file twice as wide and high."""
    badge = samples.logo(150 * scale, 100 * scale)
    wide = Image.new("RGBA", (300 * scale, 200 * scale))
    wide.paste(badge, (75 * scale, 50 * scale))
    return samples.encoded(wide)


def mended_job(rig: Rig, qtbot: QtBot) -> None:
    """A badge trimmed and outlined by half a millimetre."""
    data = with_margins(4)
    artwork = artwork_from(import_artwork(data, "badge.png"), "a1")
    job = Job(
        quoted_on=A_DAY,
        artworks=(artwork,),
        lines=(GarmentLine(key="g1"), GarmentLine(key="g2", colour=Swatch(name="black", hex="#17171a"))),
        prints=(
            Print(key="p1", artwork="a1", line="g1", width_mm=100),
            Print(key="p2", artwork="a1", line="g2", width_mm=100),
        ),
    )
    rig.desk.open(job, {artwork.sha256: data}, None)
    rig.settle(qtbot)
    trim = suggest_trim(rig.window.gallery.facts(rig.desk.job)["a1"])
    assert trim is not None
    rig.gestures().mend_artwork("a1", trim)
    rig.settle(qtbot)
    rig.gestures().mend_artwork("a1", OutlineInk(by_px=12, colour="#ffffff"))
    rig.settle(qtbot)


def all_is_ink(rig: Rig) -> bool:
    """Whether ink reaches the artwork's edges, but for the faint rim of an outline."""
    facts = rig.window.gallery.facts(rig.desk.job)["a1"]
    assert facts.ink is not None
    return max(facts.width_px - facts.ink.width_px, facts.height_px - facts.ink.height_px) <= 2


def test_fixes_fit_a_smaller_file(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    mended_job(rig, qtbot)
    before = rig.desk.job.artwork("a1")
    replace(rig, qtbot, png_in(tmp_path, "small.png", with_margins(2)))
    after = rig.desk.job.artwork("a1")
    assert [fix.step for fix in after.fixes] == ["trim", "outline"]
    trim, outline = after.fixes
    assert isinstance(trim, Trim)
    assert isinstance(outline, OutlineInk)
    # Half as many pixels: the same motif, the same line in millimetres.
    assert trim.width_px == pytest.approx(before.fixes[0].width_px / 2, abs=2)
    assert outline.by_px == pytest.approx(6, abs=0.2)
    assert all_is_ink(rig)
    rig.desk.undo_stack.undo()
    assert rig.desk.job.artwork("a1") == before


def test_a_drawing_in_place_of_pixels_is_drawn_finely_for_their_fixes(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    mended_job(rig, qtbot)
    before = rig.desk.job.artwork("a1")
    replace(rig, qtbot, png_in(tmp_path, "drawing.pdf", two_pages()))
    after = rig.desk.job.artwork("a1")
    assert [fix.step for fix in after.fixes] == ["trim", "outline"]
    widest_in = max(print_.width_mm for print_ in rig.desk.job.prints) / 25.4
    assert 590 < after.size_px[0] / widest_in < 1300
    line_mm = [one.fixes[1].by_px * 25.4 * widest_in / one.size_px[0] for one in (before, after)]
    assert line_mm[1] == pytest.approx(line_mm[0], rel=0.1)
    rig.window.intake.take_page("a1", 1)
    rig.settle(qtbot)
    other = rig.desk.job.artwork("a1")
    assert (other.page, [fix.step for fix in other.fixes]) == (1, ["trim", "outline"])
    assert 590 < other.size_px[0] / widest_in < 1300


def test_a_trim_follows_the_ink_of_another_shape(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    mended_job(rig, qtbot)
    off = Image.new("RGBA", (900, 300))
    off.paste(samples.logo(450, 150), (20, 140))
    replace(rig, qtbot, png_in(tmp_path, "off.png", samples.encoded(off)))
    assert all_is_ink(rig)


def test_a_print_set_apart_is_mended_alone_and_replaced_with_the_others(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    mended_job(rig, qtbot)
    before = rig.desk.job
    rig.gestures().mend_artwork("a1", Recolour(colour="#000000", to="#ffffff"), "p2")
    rig.settle(qtbot)
    job = rig.desk.job
    own = job.artwork(job.print_of("p2").artwork)
    assert job.print_of("p1").artwork == "a1"
    assert job.artwork("a1") == before.artwork("a1")
    assert own.fixes == (*before.artwork("a1").fixes, Recolour(colour="#000000", to="#ffffff"))
    replace(rig, qtbot, png_in(tmp_path, "small.png", with_margins(2)))
    assert len({artwork.sha256 for artwork in rig.desk.job.artworks}) == 1
    assert [len(artwork.fixes) for artwork in rig.desk.job.artworks] == [2, 3]
    rig.desk.undo_stack.undo()
    rig.desk.undo_stack.undo()
    assert rig.desk.job == before


def test_what_is_mended_while_a_file_is_read_is_fitted_too(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    mended_job(rig, qtbot)
    read = rig.window.intake._decoder.imported
    flipped: list[bool] = []

    def and_flip(data: bytes, name: str, ticket: Ticket | None = None, *, page: int = 0) -> Imported:
        if name == "small.png" and not flipped:
            flipped.append(True)
            rig.gestures().flip_artwork("a1")
        return read(data, name, ticket, page=page)

    rig.window.intake._decoder.imported = and_flip
    replace(rig, qtbot, png_in(tmp_path, "small.png", with_margins(2)))
    artwork = rig.desk.job.artwork("a1")
    assert artwork.name == "small.png"
    assert [fix.step for fix in artwork.fixes] == ["trim", "outline", "flip"]
