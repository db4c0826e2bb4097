"""A save that was killed, a full drive, a folder that is gone: the work is still there, and a sentence."""

import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from planner.job.edits import set_fields
from planner.storage import careful, document_file
from planner.storage.document_file import DocumentFileError, Unwritable, next_save
from planner.storage.job_file import read_job, write_job
from planner.storage.recovery import Recovery
from tests.builders import a_job

_KILLED_IN_A_SAVE = """
import os, signal, sqlite3, sys
file = sqlite3.connect(sys.argv[1], isolation_level=None)
file.execute("PRAGMA cache_size = 1")
file.execute("BEGIN IMMEDIATE")
file.execute("UPDATE document SET json = 'half of it'")
file.execute("INSERT INTO artwork VALUES ('new', zeroblob(4000000))")
os.kill(os.getpid(), signal.SIGKILL)
"""


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "spring.transferjob"
    write_job(path, *a_job())
    return path


def killed_in_a_save(path: Path) -> None:
    """Leave the file as SIGKILL leaves it: pages of the new save in it, the old ones in the journal."""
    killed = subprocess.run([sys.executable, "-c", _KILLED_IN_A_SAVE, str(path)], check=False)
    assert killed.returncode == -signal.SIGKILL
    assert path.with_name(f"{path.name}-journal").stat().st_size


def full_drive(monkeypatch: pytest.MonkeyPatch, most_pages: int) -> None:
    """Let SQLite itself run out of room."""

    def connected(path: Path, mode: str) -> sqlite3.Connection:
        file = careful.connected(path, mode)
        file.execute(f"PRAGMA max_page_count = {most_pages}")
        return file

    monkeypatch.setattr(document_file, "connected", connected)


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_a_save_killed_halfway_leaves_the_earlier_job_to_open_and_to_save_over(saved: Path) -> None:
    job, artworks = a_job()
    killed_in_a_save(saved)
    assert read_job(saved).job == job
    killed_in_a_save(saved)
    write_job(saved, set_fields(job, title="Later"), artworks)
    assert read_job(saved).job.title == "Later"


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_where_the_folder_cannot_be_written_to_the_earlier_job_is_read_from_a_copy(
    saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    killed_in_a_save(saved)
    before = saved.read_bytes()
    monkeypatch.setattr(careful, "_rolled_back", lambda path: False)
    assert read_job(saved).job == a_job()[0]
    assert saved.read_bytes() == before


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_a_recovery_copy_killed_halfway_gives_the_edit_before(tmp_path: Path) -> None:
    job, artworks = a_job()
    recovery = Recovery(tmp_path)
    recovery.keep(job, artworks, None)
    (copy,) = (tmp_path / "recovery").glob("[!.]*.transferjob")
    killed_in_a_save(copy)
    for note in copy.parent.glob(".*.open"):
        note.unlink()
    (left,) = Recovery(tmp_path).left_behind()
    assert left.file.job == job


def test_a_full_drive_is_told_and_the_earlier_save_is_whole(
    saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, artworks = a_job()
    full_drive(monkeypatch, saved.stat().st_size // 4096)
    longer = set_fields(job, note="x" * 4000, title="y" * 120)
    for _ in range(3):
        with pytest.raises(Unwritable, match=r"the drive is full.*still open here"):
            write_job(saved, longer, {**artworks}, {"remark": "z" * 50_000})
    monkeypatch.undo()
    assert read_job(saved).job == job


def test_a_new_file_on_a_full_drive_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    full_drive(monkeypatch, 3)
    with pytest.raises(Unwritable, match="the drive is full"):
        write_job(tmp_path / "new.transferjob", *a_job())
    assert list(tmp_path.iterdir()) == []


def test_a_full_drive_keeps_the_recovery_copy_of_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, artworks = a_job()
    recovery = Recovery(tmp_path)
    recovery.keep(job, artworks, None)
    (copy,) = (tmp_path / "recovery").glob("[!.]*.transferjob")
    full_drive(monkeypatch, copy.stat().st_size // 4096)
    with pytest.raises(Unwritable):
        recovery.keep(set_fields(job, note="x" * 4000), artworks, Path("/" + "long" * 500))
    monkeypatch.undo()
    assert read_job(copy).job == job


def test_a_folder_that_vanished_is_not_made_anew_where_its_drive_was(saved: Path) -> None:
    opened = read_job(saved)
    saved.unlink()
    saved.parent.rmdir()
    with pytest.raises(Unwritable, match="not there any more"):
        write_job(saved, opened.job, opened.artworks, over=opened.save)
    assert not saved.parent.exists()
    with pytest.raises(DocumentFileError, match="There is no file"):
        read_job(saved)


def test_a_write_protected_file_is_told(saved: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # As root a file's mode binds nobody: SQLite is told to open it for reading instead.
    monkeypatch.setattr(document_file, "connected", lambda path, mode: careful.connected(path, "ro"))
    with pytest.raises(Unwritable, match="write-protected"):
        write_job(saved, *a_job())


def test_a_drive_that_fails_while_reading_is_not_called_damage(
    saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(file: sqlite3.Connection, known: object) -> None:
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr(document_file, "refuse_foreign_schema", fails)
    with pytest.raises(DocumentFileError, match="its drive or network folder"):
        read_job(saved)


def test_a_copy_older_than_the_save_that_followed_it_is_not_offered(saved: Path, tmp_path: Path) -> None:
    job, artworks = a_job()
    first = Recovery(tmp_path / "user")
    first.keep(set_fields(job, title="1"), artworks, saved)
    write_job(saved, set_fields(job, title="2"), artworks)
    # Killed here, before the copy was dropped.
    (copy,) = (tmp_path / "user" / "recovery").glob("[!.]*.transferjob")
    copy.with_name(f".{copy.name}.open").unlink()
    assert Recovery(tmp_path / "user").left_behind() == ()
    assert not copy.exists()


def test_a_copy_of_before_a_save_is_older_even_where_it_is_written_after_it(
    saved: Path, tmp_path: Path
) -> None:
    job, artworks = a_job()
    asked_before = next_save()
    write_job(saved, set_fields(job, title="2"), artworks)
    Recovery(tmp_path / "user").keep(set_fields(job, title="1"), artworks, saved, asked_before)
    for note in (tmp_path / "user" / "recovery").glob(".*.open"):
        note.unlink()
    assert Recovery(tmp_path / "user").left_behind() == ()


def test_a_copy_is_offered_where_somebody_else_saved_the_file_meanwhile(saved: Path, tmp_path: Path) -> None:
    job, artworks = a_job()
    Recovery(tmp_path / "user").keep(set_fields(job, title="mine"), artworks, saved)
    script = (
        "import sys; from pathlib import Path; from planner.storage.job_file import write_job; "
        "from tests.builders import a_job; write_job(Path(sys.argv[1]), *a_job())"
    )
    subprocess.run([sys.executable, "-c", script, str(saved)], check=True)
    for note in (tmp_path / "user" / "recovery").glob(".*.open"):
        note.unlink()
    (left,) = Recovery(tmp_path / "user").left_behind()
    assert left.file.job.title == "mine"


def test_a_copy_dropped_while_it_is_written_stays_dropped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    recovery = Recovery(tmp_path)
    write = Recovery._write

    def slow(self: Recovery, *work: object) -> None:
        write(self, *work)  # type: ignore[arg-type]
        self.drop()

    monkeypatch.setattr(Recovery, "_write", slow)
    recovery.keep(*a_job(), None)
    assert list((tmp_path / "recovery").iterdir()) == []
