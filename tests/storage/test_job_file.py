"""A job comes back as it was saved, and whatever else lies in its place is left alone."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from planner.job.edits import set_fields
from planner.storage.document_file import Damaged, DocumentFileError, NewerVersion, NotThisKind, Unwritable
from planner.storage.job_file import KIND, read_job, write_job
from tests.builders import a_job


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    job, artworks = a_job()
    path = tmp_path / "spring.transferjob"
    write_job(path, job, artworks)
    return path


def test_a_job_comes_back_as_it_was_saved_with_its_artwork(saved: Path) -> None:
    job, artworks = a_job()
    opened = read_job(saved)
    assert opened.job == job
    assert opened.artworks == artworks


def test_the_file_tells_whose_it_is_in_sqlites_own_header_fields(saved: Path) -> None:
    # SQLite file format, 1.3: user version at offset 60, application id at offset 68, big-endian.
    head = saved.read_bytes()[:72]
    assert int.from_bytes(head[60:64], "big") == KIND.version
    assert int.from_bytes(head[68:72], "big") == KIND.application_id


def test_saving_again_updates_the_job_and_drops_artwork_nobody_names(saved: Path) -> None:
    job, _ = a_job()
    bare = set_fields(job, title="Summer fair", prints=(), artworks=())
    write_job(saved, bare, {})
    opened = read_job(saved)
    assert opened.job.title == "Summer fair"
    assert not opened.artworks


def test_a_file_that_is_no_job_is_refused_with_a_sentence_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "holiday.png"
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(200))
    before = path.read_bytes()
    with pytest.raises(NotThisKind, match=r"“holiday\.png” is not a job file"):
        read_job(path)
    job, artworks = a_job()
    with pytest.raises(NotThisKind):
        write_job(path, job, artworks)
    assert path.read_bytes() == before


def test_a_database_of_somebody_else_is_no_job(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    with closing(sqlite3.connect(path)) as file:
        file.execute("CREATE TABLE document (only INTEGER, json TEXT)")
        file.commit()
    with pytest.raises(NotThisKind):
        read_job(path)


def test_a_newer_version_is_refused_and_left_as_it_is(saved: Path) -> None:
    with closing(sqlite3.connect(saved)) as file:
        file.execute(f"PRAGMA user_version = {KIND.version + 1}")
        file.commit()
    before = saved.read_bytes()
    with pytest.raises(NewerVersion, match="newer version"):
        read_job(saved)
    job, artworks = a_job()
    with pytest.raises(NotThisKind):
        write_job(saved, job, artworks)
    assert saved.read_bytes() == before


@pytest.mark.parametrize("kept_share", [0.1, 0.4, 0.7, 0.95])
def test_a_truncated_file_is_told_as_damaged(saved: Path, kept_share: float) -> None:
    data = saved.read_bytes()
    saved.write_bytes(data[: int(len(data) * kept_share)])
    with pytest.raises(DocumentFileError):
        read_job(saved)


def test_an_artwork_changed_behind_our_back_is_told_as_damaged(saved: Path) -> None:
    with closing(sqlite3.connect(saved)) as file:
        file.execute("UPDATE artwork SET bytes = zeroblob(10)")
        file.commit()
    with pytest.raises(Damaged, match="artwork"):
        read_job(saved)


def test_a_document_that_does_not_fit_the_model_is_told_as_damaged(saved: Path) -> None:
    with closing(sqlite3.connect(saved)) as file:
        file.execute("""UPDATE document SET json = '{"quoted_on": "2026-11-25", "surprise": 1}'""")
        file.execute("DELETE FROM remark")
        file.commit()
    with pytest.raises(Damaged, match="fit together"):
        read_job(saved)


def test_a_missing_file_and_a_folder_are_told_in_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(DocumentFileError, match="There is no file"):
        read_job(tmp_path / "gone.transferjob")
    with pytest.raises(DocumentFileError, match="is a folder"):
        read_job(tmp_path)


def test_a_save_that_fails_halfway_leaves_the_earlier_job(
    saved: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, artworks = a_job()

    class Failing(sqlite3.Connection):
        def execute(self, sql: str, *rest: object) -> sqlite3.Cursor:  # type: ignore[override]
            if sql == "COMMIT":
                raise sqlite3.OperationalError("disk I/O error")
            return super().execute(sql, *rest)  # type: ignore[arg-type]

    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *args, **kw: connect(*args, factory=Failing, **kw))
    with pytest.raises(Unwritable, match="could not be saved"):
        write_job(saved, set_fields(job, title="Lost?"), artworks)
    monkeypatch.undo()
    assert read_job(saved).job == job


def test_a_new_file_that_cannot_be_made_leaves_nothing_behind(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    job, artworks = a_job()
    with pytest.raises(Unwritable):
        write_job(in_the_way / "job.transferjob", job, artworks)
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
