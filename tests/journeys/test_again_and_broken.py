"""A customer orders again; a file arrives broken."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from planner.job.state import JobState
from planner.plan.model import Missing
from planner.window import wording
from planner.window.artwork import words
from planner.window.jobs.model import TITLE
from tests.builders import png_bytes
from tests.journeys.hands import CTRL, Keys, Mouse, cursor
from tests.window.rig import Rig, drop_files, png_in

_K = Qt.Key
# Said by Qt's offscreen platform of every open menu.
pytestmark = pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)


def test_a_job_of_the_list_is_ordered_again(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    """Found by typing, laid on the desk anew; only the day and the sheets are wanting."""
    rig, window, keys = job_rig, job_rig.window, Keys()
    Mouse().pick(window.bar.state, JobState.DELIVERED.value)
    rig.answers.save = tmp_path / "fair.transferjob"
    keys.press(_K.Key_S, CTRL)
    keys.press(_K.Key_N, CTRL)
    assert rig.desk.job.lines == ()
    keys.press(_K.Key_K, CTRL)
    keys.type("jobs")
    keys.press(_K.Key_Return)
    listed = rig.window.jobs._list
    assert listed is not None
    qtbot.waitExposed(listed)
    rig.settle(qtbot)
    assert cursor() is listed.search
    keys.type("river")
    assert [listed.model.index(at, TITLE).data() for at in range(listed.model.rowCount())] == ["Spring fair"]
    Mouse().click(listed.again)
    rig.settle(qtbot)
    job = rig.desk.job
    assert [line.count for line in job.lines] == [20]
    assert (job.state, job.due, job.prices) == (JobState.PLANNED, None, None)
    assert rig.desk.path is None
    assert window.plan.missing == (Missing.ARRANGE, Missing.DUE)
    assert not rig.desk.is_saved
    listed.close()


def test_a_broken_file_is_told_and_the_good_one_beside_it_is_taken(
    threaded_rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    rig, panel = threaded_rig, threaded_rig.window.artwork
    whole = png_bytes(1200, 800)
    broken = png_in(tmp_path, "half.png", whole[: len(whole) // 2])
    drop_files(panel, [broken, png_in(tmp_path, "whole.png", whole)])
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["whole.png"]
    (sentence,) = panel.troubles()
    assert "half.png" in sentence
    # The customer sends it again, and the trouble is forgotten.
    rig.answers.files = (png_in(tmp_path, "half.png", png_bytes(1000, 700)),)
    Keys().press(_K.Key_I, CTRL)
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["whole.png", "half.png"]
    assert panel.troubles() == ()


def test_a_broken_file_in_place_of_another_leaves_it(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig, mouse = job_rig, Mouse()
    before = rig.desk.job
    rig.answers.files = (png_in(tmp_path, "torn.png", b"\x89PNG\r\n\x1a\n"),)
    card = rig.window.artwork.cards["a1"]
    mouse.click(_named(card, words.ARTWORK_MORE))
    mouse.choose(wording.REPLACE_FILE)
    rig.settle(qtbot)
    assert rig.desk.job == before
    assert "torn.png" in rig.window.artwork.troubles()[0]


def test_a_broken_job_file_leaves_the_open_job(job_rig: Rig, tmp_path: Path) -> None:
    rig = job_rig
    before = rig.desk.job
    rig.answers.open = tmp_path / "torn.transferjob"
    rig.answers.open.write_bytes(b"SQLite format 3\x00 and then nothing")
    Keys().press(_K.Key_O, CTRL)
    assert rig.desk.job == before
    assert "torn.transferjob" in rig.window.foot.text.text()


def _named(holder: QWidget, name: str) -> QAbstractButton:
    return next(one for one in holder.findChildren(QAbstractButton) if one.accessibleName() == name)
