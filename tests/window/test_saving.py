"""A job is saved behind the window: nothing that happens meanwhile is lost, or lands in the wrong file."""

import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import LeftBehind, Recovery, has_moved_on
from planner.window import wording
from planner.window.app import kept_safe
from planner.work.ticket import Ticket
from tests.builders import A_DAY
from tests.window.rig import AtOnce, Held, Rig, click

OPENS_AFTER = 3
"""Answers that come one after the other, each let go on its own."""


class Desk:
    """A window whose saves are held back."""

    def __init__(self, folder: Path) -> None:
        self.held = Held()
        self.rig = Rig(AtOnce(), folder, saving=self.held)
        self.path = self.rig.answers.save = folder / f"fair{SUFFIX}"
        self.window, self.cabinet, self.foot = self.rig.window, self.rig.window.cabinet, self.rig.window.foot
        self.title("First")

    def title(self, title: str) -> None:
        self.rig.gestures().set_title(title, "")

    def save(self) -> None:
        self.cabinet.save(self.window)

    def choose(self, name: str) -> None:
        click(next(made for made in self.foot.findChildren(QPushButton) if made.text() == name))

    def let_go(self) -> None:
        for _ in range(OPENS_AFTER):
            self.held.let_go()


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Desk:
    desk = Desk(tmp_path)
    qtbot.addWidget(desk.window, before_close_func=lambda _: desk.rig.close(qtbot))
    desk.window.show()
    return desk


def test_the_window_goes_on_while_a_job_is_saved_and_tells_of_it(desk: Desk, qtbot: QtBot) -> None:
    desk.save()
    assert not desk.path.exists()
    assert not desk.rig.desk.is_saved
    qtbot.waitUntil(lambda: desk.foot._work.text() == wording.saving(desk.path.name))
    # A save cannot be stopped half way: what then?
    assert desk.foot._work.isVisible()
    assert not desk.foot.stop.isVisible()
    desk.let_go()
    assert read_job(desk.path).job.title == "First"
    assert desk.rig.desk.is_saved
    assert desk.rig.desk.path == desk.path
    assert not desk.foot._work.isVisible()
    assert desk.foot.text.text() == wording.saved_as(desk.path.name)


def test_an_edit_made_meanwhile_stays_unsaved_and_goes_into_the_next_save(desk: Desk) -> None:
    desk.save()
    desk.title("Second")
    desk.let_go()
    assert read_job(desk.path).job.title == "First"
    assert not desk.rig.desk.is_saved
    desk.title("Third")
    desk.save()
    desk.title("Fourth")
    # Asked again while the one before runs: after it, and into the same file.
    desk.rig.answers.save = None
    desk.save()
    desk.let_go()
    assert read_job(desk.path).job.title == "Fourth"
    assert desk.rig.desk.is_saved


def test_a_second_save_of_a_new_job_does_not_ask_for_another_place(desk: Desk) -> None:
    desk.save()
    desk.title("Second")
    desk.rig.answers.save = None
    desk.save()
    desk.let_go()
    assert read_job(desk.path).job.title == "Second"
    assert desk.rig.desk.is_saved


def test_closing_waits_for_the_save(desk: Desk) -> None:
    desk.save()
    desk.window.close()
    assert desk.window.isVisible()
    desk.let_go()
    assert not desk.window.isVisible()
    assert read_job(desk.path).job.title == "First"


def test_closing_waits_for_a_copy_that_is_saved_elsewhere(desk: Desk, tmp_path: Path) -> None:
    desk.save()
    desk.let_go()
    desk.rig.answers.save = tmp_path / f"copy{SUFFIX}"
    desk.cabinet.save_as(desk.window)
    desk.window.close()
    assert desk.window.isVisible()
    desk.let_go()
    assert not desk.window.isVisible()
    assert read_job(tmp_path / f"copy{SUFFIX}").job.title == "First"


def test_closing_after_an_edit_made_meanwhile_asks(desk: Desk) -> None:
    desk.save()
    desk.title("Second")
    desk.window.close()
    desk.let_go()
    assert desk.window.isVisible()
    assert desk.foot.text.text() == wording.UNSAVED
    desk.choose(wording.SAVE_NOW)
    desk.let_go()
    assert not desk.window.isVisible()
    assert read_job(desk.path).job.title == "Second"


def test_a_save_that_fails_keeps_the_window_open_and_the_job_unsaved(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "letter").write_text("no folder")
    desk.rig.answers.save = tmp_path / "letter" / f"fair{SUFFIX}"
    desk.save()
    desk.window.close()
    desk.let_go()
    assert desk.window.isVisible()
    assert not desk.rig.desk.is_saved
    assert f"fair{SUFFIX}" in desk.foot.text.text()
    assert desk.rig.desk.path is None
    # Another place, and the way is free.
    desk.rig.answers.save = desk.path
    desk.save()
    desk.let_go()
    assert desk.rig.desk.is_saved


def test_opening_another_job_waits_for_the_save(desk: Desk, tmp_path: Path, qtbot: QtBot) -> None:
    other = tmp_path / f"other{SUFFIX}"
    write_job(other, Job(title="Other", quoted_on=A_DAY), {})
    desk.save()
    desk.cabinet.open_over(desk.window, other)
    assert desk.rig.desk.job.title == "First"
    desk.let_go()
    qtbot.waitUntil(lambda: desk.rig.desk.job.title == "Other")
    assert read_job(desk.path).job.title == "First"


def test_a_save_of_the_job_before_says_nothing_of_the_job_on_the_desk(desk: Desk, tmp_path: Path) -> None:
    desk.cabinet.new(desk.window)
    desk.save()
    desk.title("Second")
    desk.save()
    # Asked before the saves began: whoever answers now wants neither.
    desk.choose(wording.DROP_CHANGES)
    assert desk.rig.desk.job.title == ""
    desk.title("Another job")
    later = desk.rig.answers.save = tmp_path / f"later{SUFFIX}"
    desk.save()
    desk.held.let_go()
    assert desk.rig.desk.path is None
    assert not desk.rig.desk.is_saved
    desk.let_go()
    assert read_job(desk.path).job.title == "First"
    assert read_job(later).job.title == "Another job"
    assert desk.rig.desk.path == later


def test_a_save_does_not_wait_for_long_work(qtbot: QtBot, tmp_path: Path) -> None:
    ends = threading.Event()
    rig = Rig(ThreadPoolExecutor(1), tmp_path, saving=ThreadPoolExecutor(1))
    rig.answers.save = tmp_path / f"fair{SUFFIX}"

    def long_work(ticket: Ticket) -> None:
        ends.wait(20)

    rig.background.start("a long search", long_work, done=lambda _: None, failed=lambda _: None)
    try:
        rig.gestures().set_title("Saved", "")
        rig.window.cabinet.save(rig.window)
        qtbot.waitUntil(lambda: rig.desk.is_saved, timeout=20_000)
    finally:
        ends.set()
        rig.close(qtbot)


def test_a_copy_of_what_was_edited_while_it_was_saved_goes_on_from_that_save(
    desk: Desk, qtbot: QtBot, tmp_path: Path
) -> None:
    keeping = kept_safe(desk.window, Recovery(tmp_path))
    desk.save()
    desk.let_go()
    desk.title("Second")
    desk.save()
    desk.title("Third")
    qtbot.waitUntil(lambda: bool([*(tmp_path / "recovery").glob(f"[!.]*{SUFFIX}")]), timeout=5000)
    desk.let_go()
    # Killed now, the copy is from before the save was over.
    left = _left_behind(tmp_path)
    file = read_job(desk.path)
    assert (left.file.job.title, file.job.title) == ("Third", "Second")
    assert left.base != file.save
    assert not has_moved_on(left)
    qtbot.waitUntil(lambda: _left_behind(tmp_path).base == file.save, timeout=5000)
    keeping.close()


def _left_behind(folder: Path) -> LeftBehind:
    """What another window would find, if this one were gone now."""
    notes = [*(folder / "recovery").glob(".*.open")]
    kept = [note.read_bytes() for note in notes]
    for note in notes:
        note.unlink()
    (left,) = Recovery(folder).left_behind()
    for note, was in zip(notes, kept, strict=True):
        note.write_bytes(was)
    return left
