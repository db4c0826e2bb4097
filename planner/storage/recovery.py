"""Recovery copies: what was not saved yet, kept beside the user's own data until it is."""

import json
import os
import uuid
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from planner.job.document import Job
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, JobFile, read_job, write_job
from planner.storage.shop_book import data_folder

_ORIGIN = "origin"


@dataclass(frozen=True, slots=True)
class LeftBehind:
    """Work that an earlier window did not get to save."""

    copy: Path
    origin: Path | None
    """The file it was opened from, None for a job never saved."""
    file: JobFile


class Recovery:
    """The recovery copy of one open window.

    A lock file beside the copy names the process that owns it, so that windows that are open now are
    not taken for windows that died.
    """

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = (folder or data_folder()) / "recovery"
        self._copy = self._folder / f"{uuid.uuid4().hex}{SUFFIX}"
        self._lock = self._copy.with_suffix(".owner")

    def keep(self, job: Job, artworks: Mapping[str, bytes], origin: Path | None) -> None:
        """Write the job as it is now into the recovery copy, in one transaction.

        Raises:
            DocumentFileError: the copy could not be written; a sentence.
        """
        if not self._lock.exists():
            try:
                self._folder.mkdir(parents=True, exist_ok=True)
                self._lock.write_text(json.dumps({"pid": os.getpid(), "started": _started(os.getpid())}))
            except OSError as error:
                raise DocumentFileError(
                    f"No recovery copy can be kept in {self._folder}: {error.strerror}. Save often."
                ) from error
        remarks = {} if origin is None else {_ORIGIN: str(origin)}
        write_job(self._copy, job, artworks, remarks)

    def drop(self) -> None:
        """Forget the copy: the job is saved, or was given up on purpose."""
        _forget(self._copy)

    def left_behind(self) -> tuple[LeftBehind, ...]:
        """Copies whose windows are gone, newest first. Unreadable ones are left where they are."""
        found = []
        for copy in self._folder.glob(f"*{SUFFIX}"):
            if copy == self._copy or _is_owned(copy.with_suffix(".owner")):
                continue
            with suppress(DocumentFileError, OSError):
                file = read_job(copy)
                origin = file.remarks.get(_ORIGIN)
                found.append((copy.stat().st_mtime, LeftBehind(copy, Path(origin) if origin else None, file)))
        return tuple(left for _, left in sorted(found, key=lambda pair: -pair[0]))

    def forget(self, left: LeftBehind) -> None:
        """Throw a copy left behind away: it was taken over or is not wanted."""
        _forget(left.copy)


def _forget(copy: Path) -> None:
    for path in (copy, copy.with_suffix(".owner"), copy.with_name(f"{copy.name}-journal")):
        with suppress(OSError):
            path.unlink()


def _is_owned(lock: Path) -> bool:
    try:
        owner = json.loads(lock.read_text())
        pid, started = int(owner["pid"]), owner["started"]
    except (OSError, ValueError, KeyError, TypeError):
        return False
    return _is_running(pid) and _started(pid) == started


def _is_running(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _started(pid: int) -> str | None:
    """When a process started, where the system tells: process numbers are used again."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[19]
    except (OSError, IndexError):
        return None
