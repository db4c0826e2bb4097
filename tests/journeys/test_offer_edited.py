"""An offer's price changes while a job is open: what follows it, and what was promised to the customer."""

from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from planner.job.state import JobState
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.storage.job_file import read_job
from planner.window.shop.book_window import ShopBookWindow
from tests.journeys.hands import CTRL, Keys, Mouse
from tests.window.rig import Rig

_K = Qt.Key
# Said by Qt's offscreen platform of every open menu.
pytestmark = pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)


def delivery_becomes(rig: Rig, amount: str, qtbot: QtBot) -> ShopBookWindow:
    """Open the shop book by its key and type another price of delivery for the job's offer."""
    if (book := rig.window.book.window) is None or not book.isVisible():
        Keys().press(_K.Key_B, CTRL)
        book = rig.window.book.window
    assert book is not None
    qtbot.waitExposed(book)
    mouse = Mouse()
    at = next(at for at, one in enumerate(rig.desk.book.offers) if one.key == rig.desk.job.offer)
    item = book.offers.list.visualItemRect(book.offers.list.item(at)).center()
    mouse.click(book.offers.list.viewport(), item)
    field = book.offers.form.fields["Delivery"]
    assert isinstance(field, QWidget)
    mouse.click(field)
    keys = Keys()
    keys.press(_K.Key_A, CTRL)
    keys.type(amount)
    keys.press(_K.Key_Return)
    rig.settle(qtbot)
    return book


def delivery_in(shop: Shop) -> Decimal:
    offer = shop.offer("film-sheet")
    assert offer is not None
    return offer.delivery


def choice(rig: Rig, name: str) -> QAbstractButton:
    shown = [one for one in rig.window.foot.findChildren(QAbstractButton) if one.isVisible()]
    return next(one for one in shown if one.text() == name)


def test_a_job_being_planned_follows_the_shop_book_and_says_so(job_rig: Rig, qtbot: QtBot) -> None:
    before = job_rig.window.plan.costs.total
    book = delivery_becomes(job_rig, "60", qtbot)
    assert delivery_in(job_rig.saved_shops[-1]) == 60
    cost = job_rig.window.plan.costs.total
    assert cost > before
    assert f"cost ${before:,.2f} → ${cost:,.2f}" in job_rig.window.foot.text.text()
    # Taken back where it was made.
    Keys().press(_K.Key_Z, CTRL)
    assert job_rig.window.plan.costs.total == before
    book.close()


def test_a_quoted_job_keeps_its_prices_until_todays_are_asked_for(
    job_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    rig, window = job_rig, job_rig.window
    Mouse().pick(window.bar.state, JobState.QUOTED.value)
    promised = window.plan.quote.total
    delivery_becomes(rig, "60", qtbot).close()
    assert window.plan.quote.total == promised
    assert "keeps the prices of" in window.foot.text.text()
    assert delivery_in(rig.saved_shops[-1]) == 60

    # Also when it is opened again.
    window.activateWindow()
    Mouse().click(window.bar.title)
    rig.answers.save = rig.answers.open = tmp_path / "fair.transferjob"
    keys = Keys()
    keys.press(_K.Key_S, CTRL)
    keys.press(_K.Key_N, CTRL)
    assert read_job(tmp_path / "fair.transferjob").job.prices is not None
    keys.press(_K.Key_O, CTRL)
    rig.settle(qtbot)
    assert window.plan.quote.total == promised
    Mouse().click(choice(rig, "Use today's prices"))
    dearer = window.plan.quote.total
    assert dearer > promised
    # From now on it keeps those; and undo brings the promise back.
    rig.desk.set_shop(changed(rig.desk.book, rates=changed(rig.desk.book.rates, percent=Decimal(60))))
    assert window.plan.quote.total == dearer
    keys.press(_K.Key_Z, CTRL)
    assert window.plan.quote.total == promised


def test_back_to_planning_the_job_follows_the_shop_book_again(job_rig: Rig, qtbot: QtBot) -> None:
    mouse, bar = Mouse(), job_rig.window.bar
    mouse.pick(bar.state, JobState.APPROVED.value)
    assert job_rig.desk.job.prices is not None
    promised = job_rig.window.plan.quote.total
    delivery_becomes(job_rig, "60", qtbot).close()
    mouse.pick(bar.state, JobState.PLANNED.value)
    assert job_rig.desk.job.prices is None
    assert job_rig.window.plan.quote.total > promised


def test_a_shop_book_is_handed_on_as_a_file(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig, mouse = job_rig, Mouse()
    book = delivery_becomes(rig, "60", qtbot)
    rig.answers.book = tmp_path / "ours.shopbook"

    def press(name: str) -> None:
        mouse.click(next(one for one in book.findChildren(QAbstractButton) if one.text() == name))

    press("Export…")
    assert rig.answers.book.exists()
    given = rig.desk.book
    delivery_becomes(rig, "75", qtbot)
    press("Import…")
    assert rig.desk.book == given
    press("Undo")
    assert delivery_in(rig.desk.book) == 75
    # What is no shop book changes nothing and is said.
    rig.answers.book = tmp_path / "other.shopbook"
    rig.answers.book.write_text("no book")
    press("Import…")
    assert delivery_in(rig.desk.book) == 75
    assert "other.shopbook" in book._said.text()
    book.close()
