"""The ladder's page, by keys and mouse, with the work on threads."""

from pathlib import Path

import pypdfium2
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from planner.plan.laddering import price_ladder
from planner.window.preview.making import Maker, Wanted
from tests.builders import a_job
from tests.window.rig import Rig, click, typed


def go_to(rig: Rig) -> None:
    QTest.keyClick(rig.window, Qt.Key.Key_6, Qt.KeyboardModifier.ControlModifier)


def test_quantities_are_planned_when_the_page_is_looked_at(threaded_rig: Rig, qtbot: QtBot) -> None:
    rig = threaded_rig
    job, files = a_job()
    rig.desk.open(job, files, None)
    rig.settle(qtbot)
    panel = rig.window.ladder
    assert not panel.ladder.rungs
    go_to(rig)
    rig.settle(qtbot)
    facts = rig.window.gallery.facts(job)
    assert panel.ladder == price_ladder(job, rig.desk.shop, rig.window.plan, facts=facts)
    assert panel.offer_it.text().startswith("Your price at 24 is lower than at 20 × 24/20: offer it.")
    panel.chart.setFocus()
    QTest.keyClick(panel.chart, Qt.Key.Key_Right)
    assert panel.told.text().startswith("12: ")
    before = panel.ladder
    typed(rig.window.costs.terms.margin, "60")
    qtbot.waitUntil(lambda: panel.ladder != before, timeout=10_000)
    assert panel.ladder.rungs[0].price_each > before.rungs[0].price_each


def test_the_tick_is_kept_in_the_job_and_can_be_undone(job_rig: Rig) -> None:
    go_to(job_rig)
    panel = job_rig.window.ladder
    panel.on_quote.setFocus()
    QTest.keyClick(panel.on_quote, Qt.Key.Key_Space)
    assert job_rig.desk.job.terms.ladder_on_quote
    job_rig.desk.undo_stack.undo()
    assert not panel.on_quote.isChecked()


def test_quantities_lead_to_the_shop_book_and_are_typed_there(job_rig: Rig) -> None:
    go_to(job_rig)
    click(job_rig.window.ladder.quantities)
    book = job_rig.window.book.window
    assert book is not None
    field = book.money.fields["Quantities on a ladder"]
    typed(field, "50 10, 100")
    assert job_rig.desk.shop.ladder == (10, 50, 100)
    typed(field, "ten")
    assert job_rig.desk.shop.ladder == (10, 50, 100)
    book.close()


def test_the_window_s_export_and_preview_show_the_ladder(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    window = job_rig.window
    go_to(job_rig)
    job_rig.settle(qtbot)
    window.ladder.on_quote.setFocus()
    QTest.keyClick(window.ladder.on_quote, Qt.Key.Key_Space)
    job_rig.answers.folder = tmp_path
    shifted = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    QTest.keyClick(window, Qt.Key.Key_E, shifted)
    job_rig.settle(qtbot)
    quote = next(tmp_path.glob("*_quote.pdf")).read_bytes()
    assert "other quantities" in text_of(quote)
    for _, price in window.ladder.ladder.prices:
        assert f"{price:.2f}" in text_of(quote)
    wanted = Wanted("quote", job_rig.desk.job, job_rig.desk.shop, window.plan, window.preview.facts())
    assert Maker(job_rig.desk.file_of).make(wanted).pdf == quote


def text_of(pdf: bytes) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return "".join(document[at].get_textpage().get_text_bounded() for at in range(len(document)))
    finally:
        document.close()
