"""The cursor lands where the next typing happens, and what was left is where it was."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QImage
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.job import edits
from planner.job.document import Customer, GarmentLine
from planner.job.state import JobState
from planner.plan.model import Missing
from planner.shop.document import changed
from planner.window import wording
from tests.builders import a_job, png_bytes
from tests.journeys.hands import CTRL, Keys, Mouse, cursor
from tests.window.rig import Rig, drop_files, png_in

_K = Qt.Key
_TYPING_ON_X11 = ("Ctrl+A", "Ctrl+E", "Ctrl+U")
"""What moves and deletes within a line there, so that no menu gets it (Qt: standard key bindings)."""
# Said by Qt's offscreen platform of every open menu.
pytestmark = pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)


def test_escape_from_commands_and_details_goes_back_to_the_field(job_rig: Rig) -> None:
    count = job_rig.window.garments.forms["g1"].sizes.counts["M"]
    count.setFocus()
    keys = Keys()
    keys.press(_K.Key_K, CTRL)
    assert cursor() is not count
    keys.press(_K.Key_Escape)
    assert cursor() is count
    details = job_rig.window.bar.details
    details.setFocus()
    keys.press(_K.Key_Space)
    assert cursor().accessibleName() == "Contact"
    keys.press(_K.Key_Escape)
    assert cursor() is details


def test_a_state_is_found_among_the_commands(job_rig: Rig) -> None:
    keys = Keys()
    keys.press(_K.Key_K, CTRL)
    keys.type("state quoted")
    keys.press(_K.Key_Return)
    assert job_rig.desk.job.state is JobState.QUOTED


def test_enter_presses_a_button_and_opens_a_menu_as_space_does(rig: Rig) -> None:
    keys = Keys()
    rig.window.garments.add.setFocus()
    keys.press(_K.Key_Return)
    keys.choose("Empty line")
    assert [line.key for line in rig.desk.job.lines] == ["g1"]
    rig.window.bar.details.setFocus()
    keys.press(_K.Key_Return)
    assert cursor().accessibleName() == "Contact"


def test_arranging_from_another_page_puts_the_cursor_on_the_sheets(job_rig: Rig, qtbot: QtBot) -> None:
    job_rig.window.garments.forms["g1"].sizes.counts["M"].setFocus()
    Keys().press(_K.Key_F5)
    assert cursor() is job_rig.window.sheets.canvas
    job_rig.settle(qtbot)
    job_rig.window.bar.title.setFocus()
    Keys().press(_K.Key_F5)
    assert cursor() is job_rig.window.bar.title
    job_rig.settle(qtbot)


def test_no_field_keeps_a_commands_keys_to_itself(job_rig: Rig) -> None:
    kept = [
        (action.text(), sequence.toString())
        for action in job_rig.window.findChildren(QAction)
        if action.shortcutContext() is Qt.ShortcutContext.WindowShortcut
        for sequence in action.shortcuts()
        if sequence.toString() in _TYPING_ON_X11
    ]
    assert kept == []


def test_a_page_gone_to_by_its_keys_has_the_cursor_next(job_rig: Rig) -> None:
    keys, window = Keys(), job_rig.window
    window.bar.due.setFocus()
    keys.press(_K.Key_1, CTRL)
    assert cursor() is window.pages.tabBar()
    keys.press(_K.Key_Tab)
    assert window.garments.isAncestorOf(cursor())


def test_a_picture_is_pasted_wherever_the_cursor_is(rig: Rig, qtbot: QtBot) -> None:
    picture = QImage(60, 40, QImage.Format.Format_RGBA8888)
    picture.fill(0xFF20A060)
    QApplication.clipboard().setImage(picture)
    rig.window.bar.customer.setFocus()
    keys = Keys()
    keys.press(_K.Key_V, CTRL)
    rig.settle(qtbot)
    assert [artwork.size_px for artwork in rig.desk.job.artworks] == [(60, 40)]
    QApplication.clipboard().setText("Riverside")
    keys.press(_K.Key_V, CTRL)
    assert rig.window.bar.customer.text() == "Riverside"
    assert len(rig.desk.job.artworks) == 1


def test_counts_are_typed_one_after_the_other_past_the_surcharges(rig: Rig) -> None:
    """The blank has sizes that cost more: counts are typed by Tab or Enter without meeting those."""
    keys = Keys()
    keys.press(_K.Key_L, CTRL)
    keys.choose("Hooded sweatshirt, 280 g (hoodie)")
    form = rig.window.garments.forms["g1"]
    assert form.sizes.costs
    for at, size in enumerate(form.sizes.counts):
        assert cursor() is form.sizes.counts[size]
        keys.type("3")
        keys.press(_K.Key_Tab if at % 2 else _K.Key_Return)
    assert {size.count for size in rig.desk.job.lines[0].sizes} == {3}


def test_a_count_that_cannot_be_read_keeps_the_cursor(rig: Rig) -> None:
    keys = Keys()
    keys.press(_K.Key_L, CTRL)
    keys.choose("Hooded sweatshirt, 280 g (hoodie)")
    count = cursor()
    keys.type("a few")
    keys.press(_K.Key_Return)
    assert cursor() is count


def test_a_line_without_sizes_offers_them(rig: Rig) -> None:
    rig.desk.apply("Add", edits.add_line(rig.desk.job, GarmentLine(key="g1")))
    mouse, form = Mouse(), rig.window.garments.forms["g1"]
    mouse.click(form.sizes.add)
    mouse.choose("M")
    assert cursor() is form.sizes.counts["M"]


def test_next_goes_a_thing_further_each_time(job_rig: Rig, qtbot: QtBot) -> None:
    """Whoever does not know the customer yet is not held up by it."""
    keys, bar = Keys(), job_rig.window.bar
    job_rig.desk.set_shop(changed(job_rig.desk.shop, search_s=0.2))
    job = edits.set_fields(job_rig.desk.job, customer=Customer(), due=None)
    job_rig.desk.apply("Forget customer and day", job)
    assert job_rig.window.plan.missing == (Missing.CUSTOMER, Missing.ARRANGE, Missing.DUE)
    keys.press(_K.Key_F8)
    assert cursor() is bar.customer
    keys.press(_K.Key_F8)
    job_rig.settle(qtbot)
    assert job_rig.window.plan.missing == (Missing.CUSTOMER, Missing.DUE)
    keys.press(_K.Key_F8)
    assert cursor() is bar.due
    keys.press(_K.Key_F8)
    assert cursor() is bar.customer


def test_next_leads_to_the_offers_side_by_side(job_rig: Rig, qtbot: QtBot) -> None:
    keys, window = Keys(), job_rig.window
    job = edits.set_fields(job_rig.desk.job, offer=None, due=None)
    job_rig.desk.apply("Forget offer and day", job)
    assert window.plan.missing == (Missing.OFFER, Missing.DUE)
    keys.press(_K.Key_F8)
    job_rig.settle(qtbot)
    assert window.pages.currentWidget() is window.offers
    first = window.offers.offers.in_order()[0]
    assert cursor() is window.offers.offers.rows[first.key].head
    # Whoever does not know the offer yet goes on.
    keys.press(_K.Key_F8)
    assert cursor() is window.bar.due
    keys.press(_K.Key_F8)
    keys.press(_K.Key_Return)
    keys.tab_to(f"Take for the whole job: {first.name}")
    keys.press(_K.Key_Space)
    assert job_rig.desk.job.offer == first.key


def test_the_cursor_is_not_taken_to_an_offer_from_where_somebody_went_meanwhile(rig: Rig) -> None:
    job, artworks = a_job(offer=None)
    rig.window.cabinet.lay(job, artworks, None)
    panel = rig.window.offers
    panel.take_to_offers()
    rig.window.bar.due.setFocus()
    panel.show_plan(job, rig.desk.shop, rig.window.plan)
    assert cursor() is rig.window.bar.due


def test_next_goes_on_from_the_field_where_somebody_went(job_rig: Rig) -> None:
    keys, bar = Keys(), job_rig.window.bar
    job = edits.set_fields(job_rig.desk.job, customer=Customer(), due=None, offer=None)
    job_rig.desk.apply("Forget customer, offer and day", job)
    keys.press(_K.Key_F8)
    assert cursor() is bar.customer
    bar.offer.setFocus()
    keys.press(_K.Key_F8)
    assert cursor() is bar.due


def test_an_empty_job_is_not_exported_without_a_word(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig.answers.folder = tmp_path / "out"
    keys = Keys()
    keys.press(_K.Key_E, CTRL | Qt.KeyboardModifier.ShiftModifier)
    rig.settle(qtbot)
    assert not (tmp_path / "out").exists()
    assert rig.window.foot.text.text() == wording.NOTHING_TO_QUOTE
    # The cursor is on what leads there.
    keys.press(_K.Key_Space)
    keys.choose("Empty line")
    assert [line.key for line in rig.desk.job.lines] == ["g1"]


def test_artwork_that_comes_first_brings_its_garment(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    drop_files(rig.window.artwork, [png_in(tmp_path, "fair.png", png_bytes())])
    rig.settle(qtbot)
    mouse = Mouse()
    mouse.click(rig.window.artwork.cards["a1"].put_on)
    mouse.choose("Cotton T-shirt, 180 g (T-shirt)")
    job = rig.desk.job
    assert [(print_.artwork, print_.line) for print_ in job.prints] == [("a1", job.lines[0].key)]
    assert cursor() in rig.window.garments.forms["g1"].sizes.counts.values()
    rig.desk.undo_stack.undo()
    assert (rig.desk.job.lines, rig.desk.job.prints) == ((), ())


def test_artwork_read_while_somebody_types_elsewhere_leaves_the_cursor(
    threaded_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    rig, keys = threaded_rig, Keys()
    rig.answers.files = (png_in(tmp_path, "fair.png", png_bytes(3000, 2000)),)
    keys.press(_K.Key_I, CTRL)
    keys.press(_K.Key_Tab)
    keys.type("Riverside")
    rig.settle(qtbot)
    assert rig.desk.job.artworks
    assert QApplication.focusWidget() is rig.window.bar.customer
