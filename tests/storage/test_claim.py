"""A file open in one window is told to the next, until the first is gone."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from planner.job.edits import set_fields
from planner.storage.claim import GONE_AFTER_S, Claim
from planner.storage.document_file import ChangedElsewhere
from planner.storage.job_file import read_job, write_job
from tests.builders import a_job


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "spring.transferjob"
    job, artworks = a_job()
    write_job(path, job, artworks)
    return path


def test_the_second_window_is_told_who_has_the_file(file: Path) -> None:
    first, second = Claim(file), Claim(file)
    assert first.take() is None
    holder = second.take()
    assert holder is not None
    assert holder.pid == os.getpid()
    first.release()
    assert second.take() is None


def test_a_claim_of_a_process_that_is_gone_is_no_claim(file: Path) -> None:
    script = "import sys; from pathlib import Path; from planner.storage.claim import Claim; "
    script += "assert Claim(Path(sys.argv[1])).take() is None; import os; os._exit(9)"
    subprocess.run([sys.executable, "-c", script, str(file)], check=False)
    assert Claim(file).take() is None


def test_a_claim_untouched_for_long_is_abandoned_even_on_another_machine(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    clock = [file.stat().st_mtime]
    with monkeypatch.context() as elsewhere:
        elsewhere.setattr("platform.node", lambda: "the other machine")
        first = Claim(file, now=lambda: clock[0])
        assert first.take() is None
        assert first.refresh()
    second = Claim(file, now=lambda: clock[0])
    assert second.take() is not None
    clock[0] += GONE_AFTER_S + 1
    assert second.take() is None
    assert not first.refresh()


def test_a_person_may_take_a_file_over_and_the_first_window_hears_of_it(file: Path) -> None:
    first, second = Claim(file), Claim(file)
    first.take()
    second.take_over()
    assert not first.refresh()
    assert second.refresh()
    first.release()
    assert second.refresh()


def test_a_save_over_somebody_elses_later_save_is_refused(file: Path) -> None:
    mine, theirs = read_job(file), read_job(file)
    saved = write_job(file, set_fields(theirs.job, title="Theirs"), theirs.artworks, over=theirs.save)
    with pytest.raises(ChangedElsewhere, match="somebody else"):
        write_job(file, set_fields(mine.job, title="Mine"), mine.artworks, over=mine.save)
    assert read_job(file).job.title == "Theirs"
    write_job(file, set_fields(theirs.job, title="Theirs again"), theirs.artworks, over=saved)
    assert read_job(file).job.title == "Theirs again"
