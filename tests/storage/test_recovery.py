"""Work not saved yet is offered back, but only once its window is gone."""

import subprocess
import sys
from pathlib import Path

from planner.job.edits import set_fields
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
