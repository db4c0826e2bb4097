"""Pieces that the offer cannot print: said on the sheets page, in the sidebar and after arranging."""

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.job.document import Print
from planner.shop.garments import Location
from tests.window.rig import Rig


def widen(rig: Rig, width_mm: float) -> None:
    rig.desk.apply("widen", edits.change_print(rig.desk.job, "p1", width_mm=width_mm))


def test_where_nothing_fits_the_page_says_what_is_too_large_and_what_to_do(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    widen(job_rig, 2000)
    empty = window.sheets.empty
    assert empty.isVisible()
    assert empty.title.text() == "Nothing here fits this offer"
    assert "measures 78.74 ×" in empty.words.text()
    assert "this offer prints 21.61 × 23.61 in at most" in empty.words.text()
    assert "Print it smaller" in empty.words.text()
    assert "prints every piece singly" not in empty.words.text()
    assert "transfers are not in these figures" in window.costs._hint.text()
    widen(job_rig, 100)
    assert "not in these figures" not in window.costs._hint.text()


def test_what_is_too_large_beside_other_prints_is_told_over_the_sheets(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    widen(job_rig, 2000)
    job = edits.add_print(
        job_rig.desk.job, Print(key="p2", artwork="a1", line="g1", location=Location.NAPE, width_mm=80)
    )
    job_rig.desk.apply("add", job)
    assert "measures 78.74 ×" in window.sheets.bar.sentence
    assert "all pieces on the sheets" not in window.sheets.info.words.text()
    QTest.mouseClick(window.sheets.arrange.arrange, Qt.MouseButton.LeftButton)
    job_rig.settle(qtbot)
    assert "fit no sheet of the offer" in window.foot.text.text()


def test_the_strip_begins_at_the_left_again_after_it_was_empty(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    left = window.sheets.strip.cards[0].x()
    widen(job_rig, 2000)
    widen(job_rig, 100)
    qtbot.waitUntil(lambda: window.sheets.strip.cards[0].x() == left)
