"""Job files of every version that ever left the house still open."""

from pathlib import Path

import pytest

from planner.storage.job_file import KIND, read_job, write_job
from tests.builders import a_job

_FILES = sorted((Path(__file__).parent / "versions").glob("*.transferjob"))


def test_every_version_has_its_file() -> None:
    assert [int(path.stem) for path in _FILES] == list(range(1, KIND.version + 1))


@pytest.mark.parametrize("kept", _FILES, ids=lambda path: path.stem)
def test_a_file_of_that_version_opens_with_all_that_was_in_it(kept: Path, tmp_path: Path) -> None:
    assert int.from_bytes(kept.read_bytes()[60:64], "big") == int(kept.stem)
    path = tmp_path / kept.name
    path.write_bytes(kept.read_bytes())
    opened = read_job(path)
    job, artworks = a_job()
    assert opened.job.title == job.title
    assert opened.job.note == "Kept for ever."
    assert opened.job.prints == job.prints
    assert opened.artworks == artworks
    write_job(path, opened.job, opened.artworks)
    assert read_job(path).job == opened.job
