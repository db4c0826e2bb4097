"""What was not saved is in the recovery copy at once, and a file open elsewhere is told."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planner.job.edits import set_fields
from planner.storage.claim import Claim
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.window.keeping import Keeping
from tests.builders import a_job, a_shop


class Room:
    """A desk with a job on it, and what keeps it safe."""

    def __init__(self, folder: Path, path: Path | None = None) -> None:
        job, files = a_job()
        self.folder = folder / "recovery"
        self.background = Background(ThreadPoolExecutor(2))
        self.desk = Desk(job, a_shop())
        self.foot = Foot()
        self.keeping = Keeping(self.desk, self.background, self.foot, Recovery(folder))
        self.desk.open(job, files, path)

    def copies(self) -> list[Path]:
        return [path for path in self.folder.glob(f"*{SUFFIX}") if not path.name.startswith(".")]

    def rename(self, title: str) -> None:
        self.desk.apply("Rename", set_fields(self.desk.job, title=title))

    def leave(self, qtbot: QtBot) -> None:
        self.background.stop_all()
        qtbot.waitUntil(self.background.is_idle)
        self.background.shut_down()


@pytest.fixture
def room(qtbot: QtBot, tmp_path: Path) -> Iterator[Room]:
    room = Room(tmp_path)
    qtbot.addWidget(room.foot)
    yield room
    room.keeping.close()
    room.leave(qtbot)


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
    next_room.keeping.offer_left_behind(next_room.desk.open)
    assert "Lost and found" in next_room.foot.text.text()
    take_up = next(
        b for b in next_room.foot.findChildren(type(next_room.foot.stop)) if b.text() == wording.TAKE_UP
    )
    (left_copy,) = room.copies()
    take_up.click()
    # It goes on in the same copy: two would be one too many after the next kill.
    next_room.rename("Lost, found, and edited")
    qtbot.waitUntil(lambda: kept_title(room) == "Lost, found, and edited")
    assert room.copies() == [left_copy]
    next_room.rename("Lost and found")
    assert next_room.desk.job.title == "Lost and found"
    assert not next_room.desk.is_saved
    next_room.keeping.close()
    next_room.leave(qtbot)


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
    next_room.keeping.offer_left_behind(next_room.desk.open)
    next(
        b for b in next_room.foot.findChildren(type(next_room.foot.stop)) if b.text() == wording.TAKE_UP
    ).click()
    assert next_room.desk.job.title == "Mine"
    assert next_room.desk.path is None
    assert "saved by somebody else since" in next_room.foot.text.text()
    assert read_job(path).save == theirs
    for one in (room, next_room):
        one.keeping.close()
        one.leave(qtbot)


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
    room.leave(qtbot)
