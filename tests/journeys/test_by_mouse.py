"""A whole job from an empty start to the packet by mouse: letters and figures are all that is typed."""

from pathlib import Path

import pikepdf
import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QCalendarWidget, QTableView, QWidget
from pytestqt.qtbot import QtBot

from planner.plan.model import Missing
from tests.builders import png_bytes
from tests.journeys.hands import Mouse
from tests.window.rig import Rig, png_in

# Said by Qt's offscreen platform of every open menu.
pytestmark = pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)


def test_from_an_empty_window_to_the_packet_by_mouse(threaded_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig, window, mouse = threaded_rig, threaded_rig.window, Mouse()
    rig.desk.set_shop(rig.desk.shop.model_copy(update={"search_s": 0.3}))

    # Artwork first: the garment is chosen from its menu.
    rig.answers.files = (png_in(tmp_path, "fair.png", png_bytes(3300, 1800)),)
    mouse.click(_button(window.artwork, "Choose files…"))
    rig.settle(qtbot)
    mouse.click(window.artwork.cards["a1"].put_on)
    mouse.choose("Cotton T-shirt, 180 g (T-shirt)")
    form = window.garments.forms["g1"]
    for size, count in (("S", "6"), ("M", "12"), ("L", "8")):
        mouse.type(form.sizes.counts[size], count)
    mouse.click(form.colour.pick)
    mouse.choose(rig.desk.shop.blanks[0].colours[1].name)
    line = rig.desk.job.lines[0]
    assert line.colour == rig.desk.shop.blanks[0].colours[1]
    assert line.count == 26

    mouse.pick(window.bar.offer, "Film gang sheets")
    mouse.click(window.bar.arrange)
    rig.settle(qtbot)
    assert window.pages.currentWidget() is window.sheets
    assert window.plan.missing == (Missing.CUSTOMER, Missing.DUE)

    # What is missing leads there.
    mouse.click(_button(window.bar, "Type the customer's name"))
    mouse.type(window.bar.customer, "Riverside allotments")
    mouse.click(_button(window.bar, "Pick the due date from a calendar"))
    _pick_day(rig, mouse)
    assert window.plan.missing == ()

    rig.answers.folder = tmp_path / "out"
    mouse.click(window.bar.export)
    rig.settle(qtbot)
    packet = next(path for path in (tmp_path / "out").iterdir() if "packet" in path.name.lower())
    with pikepdf.open(packet) as pdf:
        assert len(pdf.pages) >= 3


def _button(holder: QWidget, name: str) -> QAbstractButton:
    buttons = holder.findChildren(QAbstractButton)
    return next(one for one in buttons if one.isVisible() and name in (one.text(), one.accessibleName()))


def _pick_day(rig: Rig, mouse: Mouse) -> None:
    """The next month, and a day in the middle of it."""
    popup = QApplication.activePopupWidget()
    assert popup is not None
    calendar = popup.findChild(QCalendarWidget)
    mouse.click(calendar.findChild(QAbstractButton, "qt_calendar_nextmonth"))
    days = calendar.findChild(QTableView, "qt_calendar_calendarview")
    middle = days.model().index(4, 3)
    mouse.click(days.viewport(), days.visualRect(middle).center())
    due = rig.desk.job.due
    assert due is not None
    assert due.month == 12
