"""An artwork is dragged from its card onto a garment line."""

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from planner.window import wording
from planner.window.artwork import card
from planner.window.carried import artwork_in, carried
from tests.artwork import samples
from tests.window.rig import Rig, click, drop, png_in


def test_an_artwork_dropped_on_a_line_is_put_on_it_and_its_width_can_be_typed(job_rig: Rig) -> None:
    prints = len(job_rig.desk.job.prints)
    drop(job_rig.window.garments.forms["g1"], carried("a1"))
    print_ = job_rig.desk.job.prints[-1]
    assert (len(job_rig.desk.job.prints), print_.artwork, print_.line) == (prints + 1, "a1", "g1")
    assert QApplication.focusWidget() is job_rig.window.artwork.cards["a1"].rows[print_.key].print_width
    job_rig.desk.undo_stack.undo()
    assert len(job_rig.desk.job.prints) == prints


def test_an_artwork_of_another_program_is_not_taken_for_the_one_of_the_same_key(job_rig: Rig) -> None:
    (name,) = carried("a1").formats()
    other = QMimeData()
    other.setData(name, b"1 a1")
    assert artwork_in(other) is None
    prints = job_rig.desk.job.prints
    drop(job_rig.window.garments.forms["g1"], other)
    assert job_rig.desk.job.prints == prints


def test_a_picture_is_carried_once_the_mouse_moves_and_else_looked_at(
    job_rig: Rig, monkeypatch: pytest.MonkeyPatch
) -> None:
    dragged = []
    monkeypatch.setattr(card, "carry", lambda source, artwork, picture: dragged.append(artwork))
    window = job_rig.window
    picture = window.artwork.cards["a1"].picture
    looked = []
    window.artwork.look_requested.connect(looked.append)
    left, at = Qt.MouseButton.LeftButton, picture.rect().center()
    QTest.mousePress(picture, left, pos=at)
    QTest.mouseMove(picture, at + QPoint(QApplication.startDragDistance() + 1, 0))
    QTest.mouseRelease(picture, left, pos=at + QPoint(40, 0))
    assert (dragged, looked) == (["a1"], [])
    QTest.mousePress(picture, left, pos=at)
    QTest.mouseMove(picture, at + QPoint(2, 0))
    QTest.mouseRelease(picture, left, pos=at + QPoint(2, 0))
    assert (dragged, looked) == (["a1"], ["a1"])


def test_files_chosen_in_the_empty_panel_take_the_cursor_to_the_first_of_them(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    rig.answers.files = (png_in(tmp_path, "badge.png", samples.encoded(samples.logo(60, 40))),)
    choose = next(
        each
        for each in rig.window.artwork.findChildren(QPushButton)
        if each.text() == wording.CHOOSE_FILES and each.property("role") != "link"
    )
    choose.setFocus()
    click(choose)
    rig.settle(qtbot)
    assert not choose.isVisible()
    (only,) = rig.window.artwork.cards.values()
    assert QApplication.focusWidget() is only.put_on


def test_a_button_that_opened_a_menu_no_longer_looks_hovered(job_rig: Rig) -> None:
    add = job_rig.window.garments.add
    add.setAttribute(Qt.WidgetAttribute.WA_UnderMouse)
    QTest.mouseMove(job_rig.window.bar)
    menu = add.menu()
    assert menu is not None
    menu.aboutToHide.emit()
    assert not add.underMouse()
