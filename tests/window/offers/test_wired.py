"""The page of offers in the whole window: what is chosen there becomes an edit that can be undone."""

from decimal import Decimal

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QPushButton
from pytestqt.qtbot import QtBot

from planner.job.document import Print
from planner.job.edits import add_print, layouts_at
from planner.shop.document import changed
from planner.shop.garments import Location
from planner.window.offers import words
from tests.builders import a_job
from tests.buying.offers import an_offer, breaks, by_area, by_piece, inches
from tests.window.offers.setting import ROLL, SHEETS, SINGLES, STRETCH, back_and_leggings, two_prints
from tests.window.rig import Rig, click


def test_an_offer_taken_on_the_page_is_the_jobs_and_undo_takes_it_back(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.offers)
    qtbot.waitUntil(lambda: ROLL in window.offers.offers.rows, timeout=10_000)
    click(window.offers.offers.rows[ROLL].head)
    click(window.offers.offers.rows[ROLL].detail.take)
    assert job_rig.desk.job.offer == ROLL
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job.offer == SHEETS


def test_planning_for_another_quantity_deals_it_out_to_the_sizes(job_rig: Rig) -> None:
    # Twelve M and eight L, thirty in all: eighteen and twelve.
    job_rig.window.offers.quantity_chosen.emit(30)
    assert [size.count for size in job_rig.desk.job.lines[0].sizes] == [18, 12]
    assert job_rig.desk.undo_stack.count() == 1


def test_an_offer_for_one_print_leaves_the_jobs_alone(job_rig: Rig) -> None:
    job_rig.window.offers.offer_chosen.emit(ROLL, "p1")
    assert job_rig.desk.job.offer == SHEETS
    assert job_rig.desk.job.print_of("p1").offer == ROLL


def test_small_copies_ride_along_when_their_button_is_pressed(threaded_rig: Rig, qtbot: QtBot) -> None:
    """One undo step: the extra, and its copies in the room that is left; the cost stays."""
    rig, window = threaded_rig, threaded_rig.window
    job, files = a_job(width_mm=250)
    job = add_print(job, Print(key="p2", artwork="a1", line="g1", location=Location.NAPE, width_mm=50))
    rig.desk.open(job, files, None)
    rig.settle(qtbot)
    window.arrange()
    rig.settle(qtbot)
    cost, steps = window.plan.costs.total, rig.desk.undo_stack.count()
    window.pages.setCurrentWidget(window.offers)
    rig.settle(qtbot)
    labels = {shown.text() for shown in window.offers.findChildren(QLabel)}
    assert any("would fit on the sheets for nothing" in text for text in labels)
    press = next(b for b in window.offers.findChildren(QPushButton) if b.text() == "Let them ride along")
    click(press)
    rig.settle(qtbot)
    (extra,) = rig.desk.job.extras
    layouts = layouts_at(rig.desk.job, "film-sheet")
    assert sum(layout.count_of(extra.key) for layout in layouts) == extra.most
    assert window.plan.costs.total == cost
    assert rig.desk.undo_stack.count() == steps + 1
    labels = {shown.text() for shown in window.offers.findChildren(QLabel)}
    assert any("ride along for nothing" in text for text in labels)
    rig.desk.undo_stack.undo()
    assert rig.desk.job.extras == ()


def test_taken_for_the_whole_job_an_offer_takes_the_prints_bought_elsewhere_too(job_rig: Rig) -> None:
    job_rig.window.offers.offer_chosen.emit(ROLL, "p1")
    job_rig.window.offers.offer_chosen.emit(SINGLES, None)
    job = job_rig.desk.job
    assert {job.offer_of(print_) for print_ in job.prints} == {SINGLES}


def test_prints_are_bought_apart_in_one_click_where_that_costs_less(threaded_rig: Rig, qtbot: QtBot) -> None:
    rig, page = threaded_rig, threaded_rig.window.offers
    _, files = a_job()
    row = (inches(14, 14), 4, breaks((1, "2.00")))
    offers = (
        an_offer(by_area((0, "0.06")), key="area", name="By area", delivery=Decimal(10)),
        an_offer(by_piece(row), key="piece", name="By the piece", delivery=Decimal(10)),
    )
    rig.desk.set_shop(changed(rig.desk.book, offers=offers))
    rig.desk.open(changed(two_prints(), offer="piece"), files, None)
    rig.settle(qtbot)
    rig.window.pages.setCurrentWidget(page)

    def presses() -> list[QPushButton]:
        return [b for b in page.findChildren(QPushButton) if b.text() == words.BUY_BY_PRINT]

    qtbot.waitUntil(lambda: bool(presses()), timeout=20_000)
    before, cost, steps = rig.desk.job, rig.window.plan.purchase, rig.desk.undo_stack.count()
    # What it saves stands at the top, and leads to it.
    assert page.saving.isVisible()
    page.area.verticalScrollBar().setValue(0)
    click(page.saving)
    assert QApplication.focusWidget() is presses()[0]
    saves = page.saving.text()
    click(presses()[0])
    rig.settle(qtbot)
    job, bought = rig.desk.job, rig.window.plan.purchase
    assert (job.offer_of(job.print_of("p1")), job.offer_of(job.print_of("p2"))) == ("area", "piece")
    assert cost is not None
    assert bought is not None
    assert saves == f"Could be ${cost.cost - bought.cost:.2f} less"
    assert not page.saving.isVisible()
    assert rig.window.bar.offer.currentText() == "By area + By the piece"
    assert rig.desk.undo_stack.count() == steps + 1
    qtbot.waitUntil(lambda: not presses(), timeout=20_000)
    rig.desk.undo_stack.undo()
    assert rig.desk.job == before


def test_where_every_offer_is_ruled_out_the_prints_are_bought_apart_in_one_click(
    job_rig: Rig, qtbot: QtBot
) -> None:
    rig, page = job_rig, job_rig.window.offers
    _, files = a_job()
    rig.desk.open(back_and_leggings(), files, None)
    rig.window.pages.setCurrentWidget(page)
    rig.settle(qtbot)
    (press,) = [b for b in page.findChildren(QPushButton) if b.text() == words.BUY_BY_PRINT]
    # Above the offers, none of which may be used: nobody scrolls past all of them for it.
    assert press.mapTo(page, QPoint()).y() < page.offers.mapTo(page, QPoint()).y() + 2
    assert press.isVisible()
    before = rig.desk.job
    press.setFocus()
    QTest.keyClick(press, Qt.Key.Key_Space)
    rig.settle(qtbot)
    assert QApplication.focusWidget() is page.scope
    job = rig.desk.job
    assert job.offer_of(job.print_of("p2")) == STRETCH
    assert job.offer_of(job.print_of("p1")) != STRETCH
    assert rig.window.plan.purchase is not None
    assert len(rig.window.plan.purchase.orders) == 2
    assert words.BOUGHT_BY_PRINT in {shown.text() for shown in page.findChildren(QLabel)}
    rig.desk.undo_stack.undo()
    assert rig.desk.job == before
