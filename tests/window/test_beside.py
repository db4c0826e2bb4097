"""Whoever closes a window beside the job's types on where the cursor was."""

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planner.window import wording
from tests.window.rig import Rig

WINDOWS = (
    wording.SHOP_BOOK,
    wording.AFTER_JOB,
    wording.LEFT_OVER_MENU,
    wording.PREVIEW_MENU,
    wording.GUIDE,
    wording.JOBS_MENU,
)


def opened(rig: Rig, qtbot: QtBot, name: str) -> QWidget:
    """The window that a menu's entry opens, once it has the cursor."""
    before = QApplication.activeWindow()
    next(action for action in rig.window.menus.actions() if action.text() == name).trigger()
    qtbot.waitUntil(lambda: QApplication.activeWindow() not in (None, before))
    window = QApplication.activeWindow()
    assert window is not None
    return window


@pytest.mark.parametrize("name", WINDOWS)
def test_the_cursor_goes_back_to_the_field_it_was_in(job_rig: Rig, qtbot: QtBot, name: str) -> None:
    field = job_rig.window.artwork.cards["a1"].rows["p1"].print_width
    for _ in range(2):
        field.setFocus()
        window = opened(job_rig, qtbot, name)
        assert QApplication.focusWidget() is not field
        window.close()
        qtbot.waitUntil(lambda: QApplication.focusWidget() is field)
        assert QApplication.activeWindow() is job_rig.window


def test_a_window_opened_from_another_one_goes_back_to_that(job_rig: Rig, qtbot: QtBot) -> None:
    job_rig.window.bar.customer.setFocus()
    first = opened(job_rig, qtbot, wording.SHOP_BOOK)
    field = QApplication.focusWidget()
    second = opened(job_rig, qtbot, wording.GUIDE)
    second.close()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is first)
    assert QApplication.focusWidget() is field
    first.close()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is job_rig.window.bar.customer)


def test_where_the_window_before_was_closed_first_it_is_the_job_s(job_rig: Rig, qtbot: QtBot) -> None:
    job_rig.window.bar.customer.setFocus()
    first = opened(job_rig, qtbot, wording.SHOP_BOOK)
    second = opened(job_rig, qtbot, wording.GUIDE)
    first.close()
    second.close()
    qtbot.waitUntil(lambda: QApplication.focusWidget() is job_rig.window.bar.customer)


def test_a_window_that_is_not_in_front_takes_no_cursor_along(job_rig: Rig, qtbot: QtBot) -> None:
    job_rig.window.bar.customer.setFocus()
    window = opened(job_rig, qtbot, wording.GUIDE)
    job_rig.window.activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is job_rig.window)
    job_rig.window.bar.title.setFocus()
    window.close()
    QTest.qWait(10)
    assert QApplication.focusWidget() is job_rig.window.bar.title
