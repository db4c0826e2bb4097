"""A job file is read behind the window, and nothing that is edited meanwhile is lost."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.storage.job_file import write_job
from planner.window import wording
from tests.builders import A_DAY
from tests.window.rig import Held, Rig, click


@pytest.fixture
def other(tmp_path: Path) -> Path:
    path = tmp_path / "other.transferjob"
    write_job(path, Job(title="Other", quoted_on=A_DAY), {})
    return path


def test_the_window_says_what_is_read_and_can_be_used_meanwhile(
    qtbot: QtBot, tmp_path: Path, other: Path
) -> None:
    held = Held()
    rig = Rig(held, tmp_path)
    rig.window.cabinet.open_over(rig.window, other)
    assert rig.desk.job.title == ""
    assert rig.window.foot._work.text() == wording.opening("other.transferjob")
    held.let_go()
    assert rig.desk.job.title == "Other"
    assert rig.desk.path == other
    assert rig.window.foot._work.isHidden()
    held.let_go()
    rig.close(qtbot)


def test_an_edit_made_while_a_file_is_read_is_asked_about(qtbot: QtBot, tmp_path: Path, other: Path) -> None:
    held = Held()
    rig = Rig(held, tmp_path)
    rig.window.cabinet.open_over(rig.window, other)
    rig.gestures().set_title("Typed meanwhile", "")
    held.let_go()
    assert rig.desk.job.title == "Typed meanwhile"
    assert rig.window.foot.text.text() == wording.UNSAVED
    click(
        next(
            made for made in rig.window.foot.findChildren(QPushButton) if made.text() == wording.DROP_CHANGES
        )
    )
    held.let_go()
    assert rig.desk.job.title == "Other"
    held.let_go()
    rig.close(qtbot)
