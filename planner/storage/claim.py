"""Who has a file open: a small note beside it, so that a second window is told before it overwrites.

The note works across machines that share a folder, where file locks often do not. Its owner touches it
every few seconds; a note not touched for a while belongs to a window that is gone.
"""

import getpass
import json
import os
import platform
import time
import uuid
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

REFRESH_S = 10.0
"""How often the owner should call `refresh`."""
GONE_AFTER_S = 45.0
"""A note untouched for so long is abandoned: four refreshes missed."""


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has a file open."""

    user: str
    machine: str
    pid: int
    mark: str
    """Tells two windows of one process apart."""


class Claim:
    """One window's claim on a file."""

    def __init__(self, path: Path, *, now: Callable[[], float] = time.time) -> None:
        self._note = path.with_name(f".{path.name}.open")
        self._now = now
        self._me = Holder(_user(), platform.node(), os.getpid(), uuid.uuid4().hex)

    def holder(self) -> Holder | None:
        """Who else has the file open now; None: nobody, or only a window that is gone."""
        found = self._read()
        if found is None or found == self._me or self._is_gone(found):
            return None
        return found

    def take(self) -> Holder | None:
        """Claim the file; gives who holds it instead, None where the claim is ours.

        A folder that cannot be written to cannot be claimed in, and cannot be saved in either: then the
        claim is granted, since nothing can be overwritten.
        """
        with suppress(OSError):
            for _ in range(2):
                try:
                    handle = os.open(self._note, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644)
                except FileExistsError:
                    if (other := self.holder()) is not None:
                        return other
                    self._note.unlink(missing_ok=True)
                else:
                    with os.fdopen(handle, "w", encoding="utf-8") as note:
                        json.dump(_as_dict(self._me), note)
                    return None
        return self.holder()

    def take_over(self) -> None:
        """Claim the file whoever holds it: the person decided so."""
        with suppress(OSError):
            self._note.unlink(missing_ok=True)
        self.take()

    def refresh(self) -> bool:
        """Say that we are still here; False where somebody took the claim over."""
        if self._read() != self._me:
            return False
        with suppress(OSError):
            os.utime(self._note, (self._now(), self._now()))
        return True

    def release(self) -> None:
        """Give the claim back."""
        if self._read() == self._me:
            with suppress(OSError):
                self._note.unlink()

    def _read(self) -> Holder | None:
        try:
            told = json.loads(self._note.read_text(encoding="utf-8"))
            return Holder(str(told["user"]), str(told["machine"]), int(told["pid"]), str(told["mark"]))
        except (OSError, ValueError, KeyError, TypeError):
            return None

    def _is_gone(self, holder: Holder) -> bool:
        try:
            untouched_s = self._now() - self._note.stat().st_mtime
        except OSError:
            return True
        if untouched_s > GONE_AFTER_S:
            return True
        # On this machine the process table answers at once; Windows' os.kill would end the process.
        if holder.machine != self._me.machine or os.name == "nt":
            return False
        try:
            os.kill(holder.pid, 0)
        except ProcessLookupError:
            return True
        except OSError:
            return False
        return False


def _as_dict(holder: Holder) -> dict[str, str | int]:
    return {"user": holder.user, "machine": holder.machine, "pid": holder.pid, "mark": holder.mark}


def _user() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError, ImportError):
        return "somebody"
