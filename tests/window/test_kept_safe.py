"""The real window's work is kept whatever else it does, and its saves mind who has the file."""

import threading
from pathlib import Path

from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.job.edits import set_fields
from planner.storage.claim import Claim
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from planner.window import keeping_words as words
from planner.window.app import kept_safe
from planner.work.ticket import Ticket
from tests.builders import a_job
from tests.window.rig import Rig


def choose(rig: Rig, name: str) -> None:
    next(b for b in rig.window.foot.findChildren(QPushButton) if b.text() == name).click()


def test_an_edit_is_kept_in_time_while_long_work_holds_every_thread(
    qtbot: QtBot, threaded_rig: Rig, tmp_path: Path
) -> None:
    rig, ends = threaded_rig, threading.Event()
    keeping = kept_safe(rig.window, Recovery(tmp_path))

    def long_work(ticket: Ticket) -> None:
        ends.wait(20)

    for lane in ("a long search", "a long export"):
        rig.background.start(lane, long_work, done=lambda _: None, failed=lambda _: None)
    try:
        rig.desk.apply("Rename", set_fields(rig.desk.job, title="Autumn fair"))
        copies = tmp_path / "recovery"
        qtbot.waitUntil(lambda: bool([*copies.glob(f"[!.]*{SUFFIX}")]), timeout=2000)
        (copy,) = copies.glob(f"[!.]*{SUFFIX}")
        assert read_job(copy).job.title == "Autumn fair"
    finally:
        ends.set()
        keeping.close()


def test_a_job_open_elsewhere_is_read_and_saved_only_once_taken_over(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    write_job(path, *a_job())
    other = Claim(path)
    assert other.take() is None
    keeping = kept_safe(rig.window, Recovery(tmp_path / "mine"))
    rig.window.cabinet.open_over(rig.window, path)
    rig.settle(qtbot)
    choose(rig, words.READ_ONLY)
    rig.desk.apply("Rename", set_fields(rig.desk.job, title="Mine"))
    rig.window.cabinet.save(rig.window)
    rig.settle(qtbot)
    assert not rig.desk.is_saved
    assert "save yours in another place" in rig.window.foot.text.text()
    assert read_job(path).job.title != "Mine"
    choose(rig, words.TAKE_OVER)
    rig.window.cabinet.save(rig.window)
    rig.settle(qtbot)
    assert rig.desk.is_saved
    assert read_job(path).job.title == "Mine"
    keeping.close()


def test_work_taken_up_never_saves_over_what_came_after_it(rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    job, files = a_job()
    base = write_job(path, job, files)
    Recovery(tmp_path).keep(set_fields(job, title="Mine"), files, path, base=base)
    for note in (tmp_path / "recovery").glob(".*.open"):
        note.unlink()
    keeping = kept_safe(rig.window, Recovery(tmp_path))
    keeping.offer_left_behind()
    choose(rig, words.TAKE_UP)
    assert rig.desk.path == path
    write_job(path, set_fields(job, title="Theirs"), files)
    rig.window.cabinet.save(rig.window)
    rig.settle(qtbot)
    assert "saved by somebody else since" in rig.window.foot.text.text()
    assert read_job(path).job.title == "Theirs"
    assert not rig.desk.is_saved
    keeping.close()


def test_a_file_that_is_gone_is_told_and_saved_again_where_one_chooses(
    rig: Rig, tmp_path: Path, qtbot: QtBot
) -> None:
    path = tmp_path / f"spring{SUFFIX}"
    write_job(path, *a_job())
    rig.window.cabinet.open_over(rig.window, path)
    rig.settle(qtbot)
    rig.desk.apply("Rename", set_fields(rig.desk.job, title="Mine"))
    path.unlink()
    rig.window.cabinet.save(rig.window)
    rig.settle(qtbot)
    assert not rig.desk.is_saved
    assert "not in" in rig.window.foot.text.text()
    assert not path.exists()
    assert not rig.desk.is_saved
    rig.answers.save = path
    choose(rig, words.SAVE_ELSEWHERE)
    rig.settle(qtbot)
    assert read_job(path).job.title == "Mine"
    rig.window.cabinet.save(rig.window)
    rig.settle(qtbot)
    assert rig.desk.is_saved
