"""The page of offers in the whole window: what is chosen there becomes an edit that can be undone."""

from pytestqt.qtbot import QtBot

from tests.window.offers.setting import ROLL, SHEETS
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
