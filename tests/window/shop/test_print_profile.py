"""An offer's print profile: chosen by mouse, kept in the book's file, told of in the plan, taken away."""

from pathlib import Path

from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from planner.artwork.print_profile import read_print_profile
from planner.shop.starting import starting_shop
from planner.storage.shop_book import open_shop_book, save_shop_book
from planner.window.shop import words
from planner.window.shop.book_window import ShopBookWindow
from planner.window.shop.profile_edit import ProfileEdit
from tests.artwork.test_print_profile import a_dull_printer
from tests.window.rig import Answers, click


def opened(qtbot: QtBot, path: Path) -> tuple[ShopBookWindow, ProfileEdit, QSignalSpy]:
    answers = Answers()
    answers.profile = path
    window = ShopBookWindow(answers)
    qtbot.addWidget(window)
    window.show_shop(starting_shop())
    window.show()
    edit = window.offers.form.fields[words.PRINT_PROFILE]
    assert isinstance(edit, ProfileEdit)
    return window, edit, QSignalSpy(window.shop_edited)


def test_a_profile_is_chosen_kept_and_taken_away(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "dull.icc"
    path.write_bytes(a_dull_printer())
    window, edit, told = opened(qtbot, path)
    assert edit.name.text() == words.NONE
    click(edit.choose)
    shop, title = told.at(0)
    assert title == "Change print profile"
    assert edit.name.text() == "dull.icc"
    offer = shop.offer(window.offers.key)
    assert offer.art.profile == read_print_profile(path.read_bytes(), "dull.icc")
    save_shop_book(shop, tmp_path)
    assert open_shop_book(tmp_path) == shop
    click(edit.remove)
    assert told.at(1)[0] == starting_shop()
    assert edit.name.text() == words.NONE


def test_what_is_no_profile_is_answered_and_changes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "sheet.icc"
    path.write_bytes(b"not a profile")
    _, edit, told = opened(qtbot, path)
    click(edit.choose)
    assert told.count() == 0
    assert "sheet.icc" in edit.complaint.text()
    assert edit.complaint.isVisible()
