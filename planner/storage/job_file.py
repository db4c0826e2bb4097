"""Job files: one job with its artwork in one file."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from planner.job.document import Job
from planner.storage.absurd import is_absurd
from planner.storage.document_file import (
    Damaged,
    FileKind,
    read_contents,
    write_contents,
)

SUFFIX = ".transferjob"
KIND = FileKind(application_id=0x54464A42, version=1, noun="job file")


@dataclass(frozen=True, slots=True)
class JobFile:
    """A job and the bytes of its artwork by SHA-256, just as the customer sent them."""

    job: Job
    artworks: Mapping[str, bytes]
    remarks: Mapping[str, str]
    save: str
    """Names this save of the file; hand it to `write_job` so that nobody's later save is written over."""


def read_job(path: Path) -> JobFile:
    """The job in a file, checked whole; the file is left untouched.

    Raises:
        DocumentFileError: it is no job file, of a newer version, damaged or not there; a sentence.
    """
    contents = read_contents(path, KIND)
    try:
        job = Job.model_validate_json(contents.json)
    except ValidationError as error:
        raise Damaged(
            f"“{path.name}” is a job file, but what it says does not fit together. Open an earlier copy."
        ) from error
    if is_absurd(job):
        raise Damaged(
            f"“{path.name}” holds figures that no job has, such as a price of many millions. "
            "Open an earlier copy."
        )
    if any(artwork.sha256 not in contents.artworks for artwork in job.artworks):
        raise Damaged(f"“{path.name}” lacks an artwork that its job names. Open an earlier copy.")
    return JobFile(job, contents.artworks, contents.remarks, contents.save)


def write_job(
    path: Path,
    job: Job,
    artworks: Mapping[str, bytes],
    remarks: Mapping[str, str] | None = None,
    *,
    over: str | None = None,
    save: str | None = None,
) -> str:
    """Save a job in one transaction, with the artwork it names and no other; gives the save's name.

    `save` is that name, where it was asked for before: when the job was as it is saved now.

    Raises:
        ChangedElsewhere: somebody else saved the file since the save named in `over`.
        DocumentFileError: it could not be saved; what was there before still is.
    """
    needed = {artwork.sha256: artworks[artwork.sha256] for artwork in job.artworks}
    return write_contents(path, KIND, job.model_dump_json(), needed, remarks, over=over, save=save)
