"""Another file put behind an artwork in the real window: what stays, and what is said to have changed."""

from io import BytesIO
from pathlib import Path

from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu, QPushButton
from pytestqt.qtbot import QtBot

from planner.artwork.read import artwork_from, import_artwork
from planner.job import edits
from planner.job.document import GarmentLine, Job, Print
from planner.job.findings import FindingKind
from planner.window.artwork import words
from planner.window.artwork.pages import PageList
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
