"""A whole job from an empty start to the packet with keys alone: no mouse, no call of a panel."""

from pathlib import Path

import pikepdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.plan.model import Missing
from planner.shop.garments import Location
from tests.builders import png_bytes
from tests.journeys.hands import CTRL, Keys, cursor
from tests.window.rig import Rig, png_in

_K = Qt.Key
# Said by Qt's offscreen platform of every open menu.
pytestmark = pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)


def test_from_an_empty_window_to_the_packet_with_keys_alone(
    threaded_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    rig, window, keys = threaded_rig, threaded_rig.window, Keys()
    rig.desk.set_shop(rig.desk.shop.model_copy(update={"search_s": 0.3}))

    # The cursor is where a new job begins.
    keys.type("Summer fair")
    keys.press(_K.Key_Tab)
    keys.type("Riverside allotments")
    keys.tab_to("Due")
    keys.type("dec 18")

    _garments(keys)
    counts = {size.size: size.count for size in rig.desk.job.lines[0].sizes if size.count}
    assert counts == {"XS": 6, "S": 12, "M": 8}

    # 3300 px wide: 11 in at 300 ppi (common practice).
    rig.answers.files = (png_in(tmp_path, "fair.png", png_bytes(3300, 1800)),)
    keys.press(_K.Key_I, CTRL)
    rig.settle(qtbot)
    assert cursor() is window.artwork.cards["a1"].put_on
    keys.press(_K.Key_Space)
    keys.press(_K.Key_Down)
    keys.press(_K.Key_Return)
    assert cursor() is window.artwork.cards["a1"].rows["p1"].print_width
    keys.type("280 mm")
    keys.press(_K.Key_Return)
    print_ = rig.desk.job.print_of("p1")
    assert (print_.location, round(print_.width_mm)) == (Location.FULL_FRONT, 280)
    assert window.plan.missing == (Missing.OFFER,)

    keys.press(_K.Key_F8)
    rig.settle(qtbot)
    offers = [offer.key for offer in window.offers.offers.in_order()]
    for _ in range(offers.index("film-sheet")):
        keys.press(_K.Key_Down)
    keys.press(_K.Key_Return)
    keys.tab_to("Take for the whole job: Film gang sheets")
    keys.press(_K.Key_Space)
    assert rig.desk.job.offer == "film-sheet"
    keys.press(_K.Key_F5)
    rig.settle(qtbot)
    assert window.pages.currentWidget() is window.sheets
    assert window.plan.missing == ()

    _decide_all(rig, keys)
    _export(rig, keys, tmp_path / "out", qtbot)


def _garments(keys: Keys) -> None:
    """A line from the shop book: its counts are all that is still to type."""
    keys.press(_K.Key_L, CTRL)
    keys.choose("Cotton T-shirt, 180 g (T-shirt)")
    for count in ("6", "12", "8"):
        keys.type(count)
        keys.press(_K.Key_Return)


def _decide_all(rig: Rig, keys: Keys) -> None:
    """Whatever a person must decide is decided from the list, without a dialog."""
    for finding in [one for one in rig.window.plan.findings if one.seriousness.value != "note"]:
        keys.tab_to("Decide…")
        keys.press(_K.Key_Space)
        keys.type("Agreed with the customer")
        keys.press(_K.Key_Return)
        assert finding.id in {decision.finding for decision in rig.desk.job.decisions}
        assert QApplication.activeModalWidget() is None


def _export(rig: Rig, keys: Keys, folder: Path, qtbot: QtBot) -> None:
    """By the list of commands, for whoever knows no shortcut."""
    rig.answers.folder = folder
    keys.press(_K.Key_K, CTRL)
    keys.type("export")
    keys.press(_K.Key_Return)
    rig.settle(qtbot)
    assert folder.is_dir(), rig.window.foot.text.text()
    packet = next(path for path in folder.iterdir() if "packet" in path.name.lower())
    with pikepdf.open(packet) as pdf:
        assert len(pdf.pages) >= 3
