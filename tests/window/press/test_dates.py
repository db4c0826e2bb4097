"""When things were ordered, kept by hand in the real window."""

from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from planner.job.state import JobState
from planner.window.readings import read_past_date
from tests.builders import A_DAY
from tests.window.rig import Rig, click, typed


def test_a_press_keeps_today_and_the_calendar_tells_the_arrival(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.press)
    orders = window.press.work.dates.orders
    assert set(orders) == {"film-sheet", None}
    click(orders["film-sheet"].today)
    assert job_rig.desk.job.ordered_on("film-sheet") == A_DAY
    assert orders["film-sheet"].today.isHidden()
    deadline = next(last for last in window.plan.calendar.deadlines if last.offer)
    assert deadline.ordered == A_DAY
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job.ordered == ()


def test_a_day_is_typed_and_taken_back_by_the_keyboard_and_the_cursor_stays(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.press)
    field = window.press.work.dates.orders[None].field
    typed(field, "Nov 24")
    assert job_rig.desk.job.ordered_on(None) == date(2026, 11, 24)
    assert QApplication.focusWidget() is field
    typed(field, "Dec 24 2026")
    assert job_rig.desk.job.ordered_on(None) == date(2026, 11, 24)
    QTest.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(field, Qt.Key.Key_Delete)
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert job_rig.desk.job.ordered_on(None) is None


def test_a_job_that_is_ordered_was_ordered_today_where_nothing_else_was_said(job_rig: Rig) -> None:
    window = job_rig.window
    yesterday = A_DAY - timedelta(days=1)
    job_rig.gestures().set_ordered(None, yesterday, "")
    window.jobs.finishing.set_state(JobState.ORDERED)
    job = job_rig.desk.job
    assert (job.ordered_on("film-sheet"), job.ordered_on(None)) == (A_DAY, yesterday)
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job.ordered_on("film-sheet") is None


def test_a_day_without_a_year_is_the_last_one() -> None:
    assert read_past_date("Nov 26", A_DAY) == date(2025, 11, 26)
    assert read_past_date("mon", A_DAY) == date(2026, 11, 23)
    assert read_past_date("today", A_DAY) == A_DAY
