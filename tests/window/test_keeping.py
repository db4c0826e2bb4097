"""What was not saved is in the recovery copy at once, and a file open elsewhere is told."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.job.edits import set_fields
from planner.storage.claim import Claim
from planner.storage.document_file import Unwritable
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from planner.window import keeping_words as words
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.window.keeping import Keeping, Ways
from tests.builders import a_job, a_shop


class Room:
    """A desk with a job on it, and what keeps it safe."""

    def __init__(self, folder: Path, path: Path | None = None) -> None:
        job, files = a_job()
        self.folder = folder / "recovery"
        self.desk = Desk(job, a_shop())
        self.foot = Foot()
        self.keeping = Keeping(self.desk, self.foot, Recovery(folder), Ways(self._lay, self._do, self._open))
        self.desk.open(job, files, path)

    def copies(self) -> list[Path]:
        return [path for path in self.folder.glob(f"*{SUFFIX}") if not path.name.startswith(".")]

    def rename(self, title: str) -> None:
        self.desk.apply("Rename", set_fields(self.desk.job, title=title))

    def choose(self, name: str) -> None:
        """Click a choice at the foot."""
        next(b for b in self.foot.findChildren(QPushButton) if b.text() == name).click()

    def _lay(self, job: Job, files: dict[str, bytes], path: Path | None, save: str = "") -> None:
        self.desk.open(job, files, path)

    def _do(self, then: Callable[[], object]) -> None:
        then()

    def _open(self, path: Path) -> None:
        file = read_job(path)
        self.desk.open(file.job, file.artworks, path)


@pytest.fixture
def room(qtbot: QtBot, tmp_path: Path) -> Iterator[Room]:
    room = Room(tmp_path)
    qtbot.addWidget(room.foot)
    yield room
    room.keeping.close()


def kept_title(room: Room) -> str:
    copies = room.copies()
    return read_job(copies[0]).job.title if copies else ""


def test_an_edit_is_in_the_recovery_copy_before_two_seconds_are_over(qtbot: QtBot, room: Room) -> None:
    room.rename("Autumn fair")
    qtbot.waitUntil(lambda: kept_title(room) == "Autumn fair", timeout=2000)


def test_a_saved_job_and_a_closed_window_leave_no_copy(qtbot: QtBot, room: Room, tmp_path: Path) -> None:
    room.rename("Autumn fair")
    qtbot.waitUntil(lambda: bool(room.copies()))
    path = tmp_path / f"autumn{SUFFIX}"
    write_job(path, room.desk.job, room.desk.files_in_use())
    room.desk.saved(room.desk.job, path)
    assert room.copies() == []


def test_work_left_behind_is_offered_and_taken_up_unsaved(qtbot: QtBot, room: Room, tmp_path: Path) -> None:
    room.rename("Lost and found")
    qtbot.waitUntil(lambda: kept_title(room) == "Lost and found")
    for note in room.folder.glob(".*.open"):
        note.unlink()
    next_room = Room(tmp_path)
    qtbot.addWidget(next_room.foot)
    next_room.keeping.offer_left_behind()
    assert "Lost and found" in next_room.foot.text.text()
    (left_copy,) = room.copies()
    next_room.choose(words.TAKE_UP)
    # It goes on in the same copy: two would be one too many after the next kill.
    next_room.rename("Lost, found, and edited")
    qtbot.waitUntil(lambda: kept_title(room) == "Lost, found, and edited")
    assert room.copies() == [left_copy]
    next_room.rename("Lost and found")
    assert next_room.desk.job.title == "Lost and found"
    assert not next_room.desk.is_saved
    next_room.keeping.close()


def test_work_left_behind_never_overwrites_what_somebody_else_saved(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    job, files = a_job()
    write_job(path, job, files)
    room = Room(tmp_path / "mine", path)
    qtbot.addWidget(room.foot)
    room.rename("Mine")
    qtbot.waitUntil(lambda: kept_title(room) == "Mine")
    theirs = write_job(path, set_fields(job, title="Theirs"), files, save=f"{'e' * 32}-000000001")
    for note in room.folder.glob(".*.open"):
        note.unlink()
    next_room = Room(tmp_path / "mine")
    qtbot.addWidget(next_room.foot)
    next_room.keeping.offer_left_behind()
    next_room.choose(words.TAKE_UP)
    assert next_room.desk.job.title == "Mine"
    assert next_room.desk.path is None
    assert "saved by somebody else since" in next_room.foot.text.text()
    assert read_job(path).save == theirs
    for one in (room, next_room):
        one.keeping.close()


def test_a_file_open_in_another_window_is_told(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    write_job(path, *a_job())
    other = Claim(path)
    assert other.take() is None
    room = Room(tmp_path / "mine", path)
    qtbot.addWidget(room.foot)
    assert "has this job open" in room.foot.text.text()
    room.keeping.close()
    assert other.refresh()


def left_by_the_dead(folder: Path, *titles: str) -> None:
    """Copies whose windows are gone."""
    for title in titles:
        job, files = a_job()
        Recovery(folder).keep(set_fields(job, title=title), files, None)
    for note in (folder / "recovery").glob(".*.open"):
        note.unlink()


def test_all_work_left_behind_is_offered_one_after_the_other(qtbot: QtBot, tmp_path: Path) -> None:
    left_by_the_dead(tmp_path, "Oldest", "Middle", "Newest")
    by_title = {read_job(path).job.title: path for path in (tmp_path / "recovery").glob(f"[!.]*{SUFFIX}")}
    for age, title in enumerate(("Newest", "Middle", "Oldest")):
        os.utime(by_title[title], (1_700_000_000 - 3600 * age,) * 2)
    room = Room(tmp_path)
    qtbot.addWidget(room.foot)
    room.keeping.offer_left_behind()
    assert "“Newest”" in room.foot.text.text()
    assert "Nov 14, 2023" in room.foot.text.text()
    assert "2 more jobs" in room.foot.text.text()
    room.choose(words.SHOW_NEXT)
    assert "“Middle”" in room.foot.text.text()
    room.choose(words.FORGET_COPY)
    assert "“Oldest”" in room.foot.text.text()
    room.choose(words.TAKE_UP)
    assert room.desk.job.title == "Oldest"
    assert "1 more job was" in room.foot.text.text()
    room.choose(words.SHOW_NEXT)
    room.choose(words.TAKE_UP)
    assert room.desk.job.title == "Newest"
    room.keeping.close()


def test_two_windows_offered_the_same_work_do_not_both_go_on_in_it(qtbot: QtBot, tmp_path: Path) -> None:
    left_by_the_dead(tmp_path, "Wanted by two")
    quick, slow = Room(tmp_path), Room(tmp_path)
    for room in (quick, slow):
        qtbot.addWidget(room.foot)
        room.keeping.offer_left_behind()
    quick.choose(words.TAKE_UP)
    slow.choose(words.TAKE_UP)
    assert quick.desk.job.title == "Wanted by two"
    assert slow.desk.job.title != "Wanted by two"
    assert slow.foot.text.text() == words.TAKEN_UP_ELSEWHERE
    for room in (quick, slow):
        room.keeping.close()


def test_the_second_window_is_told_when_the_first_is_gone(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    job, files = a_job()
    write_job(path, job, files)
    first, second = Room(tmp_path, path), Room(tmp_path, path)
    for room in (first, second):
        qtbot.addWidget(room.foot)
    assert first.keeping.holder is None
    assert second.keeping.holder is not None
    second.choose(words.READ_ONLY)
    write_job(path, set_fields(job, title="Saved by the first"), files)
    first.keeping.close()
    second.keeping.refresh()
    assert second.keeping.holder is None
    assert "saved by somebody else since" in second.foot.text.text()
    second.choose(words.OPEN_ANEW)
    assert second.desk.job.title == "Saved by the first"
    second.keeping.close()


def test_the_first_window_is_told_when_the_second_takes_over(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / f"shared{SUFFIX}"
    write_job(path, *a_job())
    first, second = Room(tmp_path, path), Room(tmp_path, path)
    for room in (first, second):
        qtbot.addWidget(room.foot)
    second.choose(words.TAKE_OVER)
    assert second.keeping.holder is None
    first.keeping.refresh()
    assert first.keeping.holder is not None
    assert "took this job over" in first.foot.text.text()
    for room in (first, second):
        room.keeping.close()
    assert not list(tmp_path.glob(".*.open"))


def test_a_copy_that_fails_is_told_once_and_tried_again(
    qtbot: QtBot, room: Room, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as full:
        full.setattr("planner.storage.recovery.write_job", raising(Unwritable("Full.", "the drive is full")))
        room.rename("Not kept yet")
        qtbot.waitUntil(lambda: "the drive is full" in room.foot.text.text(), timeout=2000)
        assert str(room.folder) in room.foot.text.text()
    room.keeping.refresh()
    qtbot.waitUntil(lambda: kept_title(room) == "Not kept yet", timeout=2000)


def raising(error: Exception) -> Callable[..., None]:
    def fail(*arguments: object, **named: object) -> None:
        raise error

    return fail
