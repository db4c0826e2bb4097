"""Recovery copies: what was not saved yet, kept beside the user's own data until it is."""

import threading
import time
import uuid
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from planner.job.document import Job
from planner.storage.claim import Claim
from planner.storage.document_file import DocumentFileError, Unwritable, is_later, read_save
from planner.storage.job_file import KIND, SUFFIX, JobFile, read_job, write_job
from planner.storage.shop_book import data_folder

_ORIGIN, _BASE = "origin", "base"
_STRAY_AFTER_S = 24 * 3600.0
"""What a kill left half made is cleared away after a day; no write takes that long."""


@dataclass(frozen=True, slots=True)
class LeftBehind:
    """Work that an earlier window did not get to save."""

    copy: Path
    origin: Path | None
    """The file it was opened from, None for a job never saved."""
    file: JobFile
    at: datetime
    """When its last edit was kept, by the clock on the wall here."""
    base: str = ""
    """Names the save of that file which the work started from."""


class Recovery:
    """The recovery copy of one open window, claimed so that a window open now is not taken for dead."""

    def __init__(self, folder: Path | None = None) -> None:
        self._folder = (folder or data_folder()) / "recovery"
        self._copy = self._folder / f"{uuid.uuid4().hex}{SUFFIX}"
        self._claim = Claim(self._copy)
        self._writing = threading.Lock()
        self._deciding = threading.Lock()
        """Held for moments only: whether a copy stays is decided by one thread at a time."""
        self._is_written = False
        self._drops = 0

    def keep(
        self,
        job: Job,
        artworks: Mapping[str, bytes],
        origin: Path | None,
        save: str | None = None,
        base: str = "",
    ) -> None:
        """Write the job as it is now into the recovery copy, in one transaction.

        A copy dropped meanwhile from another thread stays dropped. `save` is the name that was asked for
        (`next_save`) when the job was so: it tells later whether the file was saved after that.
        `base` names the save of the file that the work started from.

        Raises:
            DocumentFileError: the copy could not be written; a sentence.
        """
        drops = self._drops
        with self._writing:
            with self._deciding:
                if drops != self._drops:
                    return
                self._is_written = True
            try:
                self._write(job, artworks, origin, save, base)
            finally:
                # Within the lock on writing: after it, this could take the copy of the next write.
                with self._deciding:
                    self._is_written = False
                    if drops != self._drops:
                        _forget(self._copy)

    def refresh(self) -> None:
        """Say that this window is still here; call it every `claim.REFRESH_S` seconds."""
        self._claim.refresh()

    def drop(self) -> None:
        """Forget the copy: the job is saved, or was given up on purpose."""
        with self._deciding:
            self._drops += 1
            # A write under way forgets its copy itself: the window must not wait for it.
            if not self._is_written:
                _forget(self._copy)

    def _write(
        self, job: Job, artworks: Mapping[str, bytes], origin: Path | None, save: str | None, base: str
    ) -> None:
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            if not self._claim.refresh():
                self._claim.take()
            remarks = {} if origin is None else {_ORIGIN: str(origin), _BASE: base}
            write_job(self._copy, job, artworks, remarks, save=save)
        except (OSError, Unwritable) as error:
            why = error.why if isinstance(error, Unwritable) else error.strerror
            raise Unwritable(
                f"No recovery copy of this job can be kept in {self._folder}: {why}. Your work is still open "
                "here; save it often until there is room.",
                why or "",
            ) from error

    def left_behind(self) -> tuple[LeftBehind, ...]:
        """Copies whose windows are gone, newest first. Unreadable ones are left where they are."""
        self._clear_strays()
        found = []
        for copy in self._folder.glob(f"*{SUFFIX}"):
            if copy == self._copy or copy.name.startswith(".") or Claim(copy).holder() is not None:
                continue
            with suppress(DocumentFileError, OSError):
                file = read_job(copy)
                origin = file.remarks.get(_ORIGIN)
                at = datetime.fromtimestamp(copy.stat().st_mtime)
                base = file.remarks.get(_BASE, "")
                left = LeftBehind(copy, Path(origin) if origin else None, file, at, base)
                if _was_saved(left):
                    _forget(copy)
                else:
                    found.append(left)
        return tuple(sorted(found, key=lambda left: left.at, reverse=True))

    def _clear_strays(self) -> None:
        for stray in self._folder.glob(f".*{SUFFIX}.*"):
            with suppress(OSError):
                if time.time() - stray.stat().st_mtime > _STRAY_AFTER_S:
                    stray.unlink()

    def claim(self, left: LeftBehind) -> Claim | None:
        """Claim a copy left behind before anything is done with it; None: another window was quicker."""
        claim = Claim(left.copy)
        if claim.take() is not None:
            return None
        if not left.copy.exists():
            claim.release()
            return None
        return claim

    def adopt(self, left: LeftBehind, claim: Claim) -> None:
        """Go on in a copy left behind and claimed: from here on it is this window's own.

        It is never written anew and then deleted: a kill in between would leave two, one of them old.
        """
        with self._writing, self._deciding:
            _forget(self._copy)
            self._copy, self._claim = left.copy, claim

    def forget(self, left: LeftBehind) -> bool:
        """Throw a copy left behind away; False where another window took it up meanwhile."""
        if self.claim(left) is None:
            return False
        _forget(left.copy)
        return True


def has_moved_on(left: LeftBehind) -> bool:
    """Whether somebody else saved the file since the work left behind was started from it.

    A save of the same window is not somebody else's: its work went on while it was written.
    """
    now = save_in(left.origin) if left.origin is not None else ""
    return now != "" and left.base not in ("", now) and not is_later(left.file.save, now)


def save_in(path: Path) -> str:
    """Names the save in a job file; nothing where none can be read."""
    with suppress(DocumentFileError, OSError):
        return read_save(path, KIND)[0]
    return ""


def _was_saved(left: LeftBehind) -> bool:
    """Whether the window saved this, or something later, and was killed before it dropped the copy."""
    if left.origin is None:
        return False
    with suppress(DocumentFileError, OSError):
        save, digest = read_save(left.origin, KIND)
        return is_later(save, left.file.save) or digest == read_save(left.copy, KIND)[1] != ""
    return False


def _forget(copy: Path) -> None:
    for path in (copy, copy.with_name(f"{copy.name}-journal"), copy.with_name(f".{copy.name}.open")):
        with suppress(OSError):
            path.unlink()
