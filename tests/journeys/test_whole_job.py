"""A whole job in one sitting, in the real window, with real mouse and keys."""

from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from planner.job.edits import layouts_at
from planner.plan.model import Missing
from planner.shop.garments import Location
from planner.storage.job_file import read_job
from tests.builders import png_bytes
from tests.window.rig import Rig, click, drop_files, pick, png_in, typed


def test_from_an_empty_window_to_the_packet(threaded_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig, window = threaded_rig, threaded_rig.window
    rig.desk.set_shop(rig.desk.shop.model_copy(update={"search_s": 0.3}))
    assert window.plan.missing[0] is Missing.CUSTOMER

    typed(window.bar.title, "Summer fair", end=Qt.Key.Key_Tab)
    typed(window.bar.customer, "Riverside allotments", end=Qt.Key.Key_Tab)
    typed(window.bar.due, "dec 18")
    pick(window.garments.add.menu(), "Empty line")
    form = window.garments.forms["g1"]
    typed(form.style_field, "Cotton T-shirt", end=Qt.Key.Key_Tab)
    typed(form.colour.name, "navy", end=Qt.Key.Key_Tab)
    typed(form.fibres, "100 % cotton")
    typed(form.cost, "3.60")
    for size, count in (("S", "6"), ("M", "12"), ("L", "8")):
        typed(form.sizes.counts[size], count, end=Qt.Key.Key_Tab)

    # 3300 px wide: 11 in at 300 ppi (common practice).
    drop_files(window.artwork, [png_in(tmp_path, "fair.png", png_bytes(3300, 1800))])
    rig.settle(qtbot)
    pick(window.artwork.cards["a1"].put_on.menu(), "navy T-shirt")
    row = window.artwork.cards["a1"].rows["p1"]
    typed(row.print_width, "280 mm")
    assert rig.desk.job.print_of("p1").location is Location.FULL_FRONT
    assert rig.desk.job.print_of("p1").width_mm == pytest.approx(280)
    assert row.meter.accessibleName().startswith("299 ppi")

    gang = next(offer for offer in rig.desk.shop.offers if offer.key == "film-sheet")
    at = window.bar.offer.findText(gang.name)
    window.bar.offer.setCurrentIndex(at)
    window.bar.offer.activated.emit(at)
    assert window.plan.provisional
    click(window.bar.arrange)
    rig.settle(qtbot)
    assert window.pages.currentWidget() is window.sheets
    arranged = layouts_at(rig.desk.job, "film-sheet")
    assert sum(layout.count_of("p1") for layout in arranged) >= 26
    assert not window.plan.provisional
    assert Missing.ARRANGE not in window.plan.missing

    _undo_and_redo(rig)
    _drag_a_piece(rig, qtbot)
    _save_and_reopen(rig, tmp_path, qtbot)
    _export(rig, tmp_path, qtbot)


def _undo_and_redo(rig: Rig) -> None:
    arranged = rig.desk.job
    QTest.keyClick(rig.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert layouts_at(rig.desk.job, "film-sheet") == ()
    assert rig.window.plan.provisional
    rig.desk.undo_stack.redo()
    assert rig.desk.job == arranged


def _drag_a_piece(rig: Rig, qtbot: QtBot) -> None:
    """One drag with the mouse is one step, and undo puts the piece back."""
    canvas = rig.window.sheets.canvas
    before, steps = layouts_at(rig.desk.job, "film-sheet"), rig.desk.undo_stack.count()
    placed = before[0].placements[0]
    origin = rig.window.sheets.bench.spots[0].origin
    centre = placed.box
    at = canvas.mapFromScene(
        origin.x() + centre.x_mm + centre.width_mm / 2, origin.y() + centre.y_mm + centre.height_mm / 2
    )
    view = canvas.viewport()
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=at)
    for step in range(1, 6):
        QTest.mouseMove(view, at + QPoint(4 * step, 3 * step))
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=at + QPoint(20, 15))
    assert rig.desk.undo_stack.count() == steps + 1
    assert layouts_at(rig.desk.job, "film-sheet") != before
    rig.desk.undo_stack.undo()
    assert layouts_at(rig.desk.job, "film-sheet") == before


def _save_and_reopen(rig: Rig, folder: Path, qtbot: QtBot) -> None:
    path = folder / "fair.transferjob"
    rig.answers.save = rig.answers.open = path
    QTest.keyClick(rig.window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    rig.settle(qtbot)
    saved = rig.desk.job
    assert read_job(path).job == saved
    QTest.keyClick(rig.window, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    assert rig.desk.job.lines == ()
    QTest.keyClick(rig.window, Qt.Key.Key_O, Qt.KeyboardModifier.ControlModifier)
    rig.settle(qtbot)
    assert rig.desk.job == saved
    assert rig.window.bar.title.text() == "Summer fair"


def _export(rig: Rig, folder: Path, qtbot: QtBot) -> None:
    rig.answers.folder = folder / "out"
    click(rig.window.bar.export)
    rig.settle(qtbot)
    written = sorted((folder / "out").iterdir())
    assert any(path.suffix == ".png" for path in written)
    packet = next(path for path in written if "packet" in path.name.lower())
    with pikepdf.open(packet) as pdf:
        assert len(pdf.pages) >= 3
    document = pypdfium2.PdfDocument(packet)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    assert "Riverside allotments" in text
    assert str(folder / "out") in rig.window.foot.text.text()
