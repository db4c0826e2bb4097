"""Work not saved yet is offered back, but only once its window is gone."""

import os
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from planner.job.edits import set_fields
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from tests.builders import a_job

_DIES_AFTER_AN_EDIT = """
import os, signal, sys
from pathlib import Path
from planner.storage.recovery import Recovery
from tests.builders import a_job
job, artworks = a_job()
Recovery(Path(sys.argv[1])).keep(job, artworks, Path("/jobs/spring.transferjob"))
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_a_window_that_was_killed_leaves_its_work_behind(tmp_path: Path) -> None:
    killed = subprocess.run([sys.executable, "-c", _DIES_AFTER_AN_EDIT, str(tmp_path)], check=False)
    assert killed.returncode == -9
    recovery = Recovery(tmp_path)
    (left,) = recovery.left_behind()
    job, artworks = a_job()
    assert left.file.job == job
    assert left.file.artworks == artworks
    assert left.origin == Path("/jobs/spring.transferjob")
    recovery.forget(left)
    assert recovery.left_behind() == ()


def test_a_window_still_open_keeps_its_copy_to_itself(tmp_path: Path) -> None:
    job, artworks = a_job()
    Recovery(tmp_path).keep(job, artworks, None)
    assert Recovery(tmp_path).left_behind() == ()


def test_a_saved_job_leaves_nothing_behind(tmp_path: Path) -> None:
    job, artworks = a_job()
    recovery = Recovery(tmp_path)
    recovery.keep(job, artworks, None)
    recovery.keep(set_fields(job, title="Later"), artworks, None)
    recovery.drop()
    assert list((tmp_path / "recovery").iterdir()) == []


class _Overtaken:
    """A lock whose first holder is overtaken, as soon as it gives it back, by whoever waited."""

    def __init__(self, waiting: Callable[[], None]) -> None:
        self._lock, self._waiting = threading.Lock(), waiting
        self._is_first = True

    def __enter__(self) -> None:
        self._lock.acquire()

    def __exit__(self, *_: object) -> None:
        self._lock.release()
        if self._is_first:
            self._is_first = False
            self._waiting()


def test_a_write_that_ends_late_leaves_the_copy_of_the_next_one_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job, artworks = a_job()
    later = set_fields(job, title="Later")
    recovery = Recovery(tmp_path)

    def saved_meanwhile(*arguments: Any, **named: Any) -> str:
        save = write_job(*arguments, **named)
        monkeypatch.undo()
        recovery.drop()
        return save

    recovery._writing = _Overtaken(lambda: recovery.keep(later, artworks, None))  # type: ignore[assignment]
    monkeypatch.setattr("planner.storage.recovery.write_job", saved_meanwhile)
    recovery.keep(job, artworks, None)
    (copy,) = (tmp_path / "recovery").glob(f"[!.]*{SUFFIX}")
    assert read_job(copy).job == later


def test_a_copy_taken_up_by_one_window_is_neither_taken_nor_thrown_away_by_another(tmp_path: Path) -> None:
    job, _ = a_job()
    subprocess.run([sys.executable, "-c", _DIES_AFTER_AN_EDIT, str(tmp_path)], check=False)
    quick, slow = Recovery(tmp_path), Recovery(tmp_path)
    (seen_by_both,) = quick.left_behind()
    assert slow.left_behind() == (seen_by_both,)
    claim = quick.claim(seen_by_both)
    assert claim is not None
    quick.adopt(seen_by_both, claim)
    assert slow.claim(seen_by_both) is None
    assert not slow.forget(seen_by_both)
    assert read_job(seen_by_both.copy).job == job
    # It was saved and closed there: nothing is left to take up.
    quick.drop()
    assert slow.claim(seen_by_both) is None
    assert list((tmp_path / "recovery").iterdir()) == []


def test_all_copies_left_behind_are_told_newest_first(tmp_path: Path) -> None:
    for _ in range(3):
        subprocess.run([sys.executable, "-c", _DIES_AFTER_AN_EDIT, str(tmp_path)], check=False)
    copies = sorted((tmp_path / "recovery").glob(f"[!.]*{SUFFIX}"))
    for age, copy in enumerate(copies):
        os.utime(copy, (1_700_000_000 - age, 1_700_000_000 - age))
    found = Recovery(tmp_path).left_behind()
    assert [left.copy for left in found] == copies
    assert [left.at.timestamp() for left in found] == [1_700_000_000 - age for age in range(3)]
