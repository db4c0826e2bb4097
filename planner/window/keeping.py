"""Keeps unsaved work safe: a recovery copy after every edit, and a claim on the open file."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QTimer

from planner.job.document import Job
from planner.storage.claim import REFRESH_S, Claim, Holder
from planner.storage.document_file import DocumentFileError, next_save
from planner.storage.recovery import LeftBehind, Recovery, has_moved_on, save_in
from planner.window import keeping_words as words
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Choice, Foot
from planner.work.ticket import Ticket

KEEP_AFTER_MS = 600
"""After the first edit that is not in the copy yet: every edit is in it well within two seconds."""
LANE = "keep"


class Lay(Protocol):
    """Lays a job on the desk; `save` names the save of its file that the work started from."""

    def __call__(self, job: Job, files: dict[str, bytes], path: Path | None, save: str = "") -> object: ...


@dataclass(frozen=True, slots=True)
class Ways:
    """What keeping asks of the window."""

    lay: Lay
    when_safe: Callable[[Callable[[], object]], object]
    """Do something that lays the open job aside, once that job is safe."""
    open: Callable[[Path], object]
    """Open a file, once the open job is safe."""


class Keeping(QObject):
    """Watches the desk; tells in the foot what a person must know or decide."""

    def __init__(self, desk: Desk, foot: Foot, recovery: Recovery, ways: Ways) -> None:
        super().__init__(desk)
        self._desk, self._foot, self._recovery, self._ways = desk, foot, recovery, ways
        # A thread of its own: an edit must not wait until a search or an export gives one back.
        self.background = Background(ThreadPoolExecutor(1, thread_name_prefix="keeping"), self)
        self._claim: Claim | None = None
        self._claimed: Path | None = None
        self._holder: Holder | None = None
        self._base = ""
        """Names the save of the open file that the work started from."""
        self._is_behind = self._has_failed = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(KEEP_AFTER_MS)
        self._later.timeout.connect(self._keep)
        self._alive = QTimer(self)
        self._alive.setInterval(int(REFRESH_S * 1000))
        self._alive.timeout.connect(self.refresh)
        self._alive.start()
        desk.job_changed.connect(self._job_changed)
        desk.file_changed.connect(self._file_changed)

    @property
    def holder(self) -> Holder | None:
        """Who else has the open file and may save it; None: this window may."""
        return self._holder

    def offer_left_behind(self) -> None:
        """Offer all work that earlier windows did not get to save, the newest first."""
        self._offer(self._recovery.left_behind())

    def close(self) -> None:
        """The window closes: what is saved or was given up needs no copy, and the file is free again."""
        self._later.stop()
        self._alive.stop()
        self._recovery.drop()
        self.background.shut_down()
        self._release()

    def take_over(self) -> None:
        """This window may save the open file from now on, whoever had it."""
        if self._claim is not None:
            self._claim.take_over()
            self._holder = None
            self._tell_changed()

    def refresh(self) -> None:
        """Say that this window is still here, and look whether the file became ours or was taken."""
        self._recovery.refresh()
        if self._has_failed and not self._desk.is_saved:
            self._keep()
        if self._claim is None:
            return
        before = self._holder
        if before is None and self._claim.refresh():
            return
        self._holder = self._claim.take()
        if before is not None and self._holder is None and not self._tell_changed():
            self._foot.say(words.free_again(before.user))
        elif before is None and self._holder is not None:
            self._foot.warn(words.taken_over(self._holder.user, self._holder.machine))

    def _offer(self, found: tuple[LeftBehind, ...]) -> None:
        if not found:
            self._tell_holder()
            return
        left, *others = found
        rest = tuple(others)
        choices: list[Choice] = [(words.TAKE_UP, lambda: self._take_up(left, rest))]
        if rest:
            choices.append((words.SHOW_NEXT, lambda: self._offer((*rest, left))))
        choices.append((words.FORGET_COPY, lambda: self._throw_away(left, rest)))
        choices.append((words.ASK_LATER, self._tell_holder))
        title = left.file.job.title
        self._foot.ask(words.left_behind(title, left.at, datetime.now(), len(rest)), choices)

    def _throw_away(self, left: LeftBehind, rest: tuple[LeftBehind, ...]) -> None:
        self._recovery.forget(left)
        self._offer(rest)

    def _take_up(self, left: LeftBehind, rest: tuple[LeftBehind, ...]) -> None:
        self._ways.when_safe(lambda: self._lay(left, rest))

    def _lay(self, left: LeftBehind, rest: tuple[LeftBehind, ...]) -> None:
        claim = self._recovery.claim(left)
        if claim is None:
            next_one: Choice = (words.SHOW_NEXT if rest else wording.DISMISS, lambda: self._offer(rest))
            self._foot.warn(words.TAKEN_UP_ELSEWHERE, (next_one,))
            return
        # Saving over what somebody else saved meanwhile must not go unseen: it asks for a place instead.
        moved_on = has_moved_on(left)
        origin = None if moved_on else left.origin
        self._ways.lay(left.file.job, dict(left.file.artworks), origin, save=left.base)
        self._desk.undo_stack.resetClean()
        self._recovery.adopt(left, claim)
        self._keep()
        if moved_on and left.origin is not None:
            self._foot.warn(words.file_moved_on(left.origin.name))
        elif rest and self._holder is None:
            choices = ((words.SHOW_NEXT, lambda: self._offer(rest)), (words.ASK_LATER, self._foot.clear))
            self._foot.say(words.more_left_behind(len(rest)), choices)

    def _job_changed(self) -> None:
        # Not restarted by each edit: a person who never pauses is kept all the same.
        if not self._later.isActive():
            self._later.start()

    def _keep(self) -> None:
        if self._desk.is_saved:
            self._recovery.drop()
            return
        if self.background.is_busy(LANE):
            # Two writers at once could leave the older edit in the copy.
            self._is_behind = True
            return
        job, files, path, save = self._desk.job, self._desk.files_in_use(), self._desk.path, next_save()
        base = self._base

        def work(ticket: Ticket) -> None:
            if not ticket.is_stopped:
                self._recovery.keep(job, files, path, save, base)

        self._is_behind = False
        self.background.start(LANE, work, done=lambda nothing: self._kept(), failed=self._failed)

    def _kept(self) -> None:
        self._has_failed = False
        if self._is_behind:
            self._keep()

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, DocumentFileError):
            raise error
        if not self._has_failed:
            self._has_failed = True
            self._foot.warn(str(error))

    def _file_changed(self) -> None:
        # The file is what was just read or written.
        self._base = save_in(self._desk.path) if self._desk.path else ""
        if self._desk.is_saved:
            self.background.stop(LANE)
            self._recovery.drop()
        else:
            # Edited while it was saved: the copy is to tell of that save.
            self._job_changed()
        if self._desk.path == self._claimed:
            return
        self._release()
        self._claimed = self._desk.path
        if self._claimed is not None:
            self._claim = Claim(self._claimed)
            self._holder = self._claim.take()
            self._tell_holder()

    def _tell_holder(self) -> None:
        if self._holder is not None:
            self._foot.ask(
                words.open_elsewhere(self._holder.user, self._holder.machine),
                ((words.READ_ONLY, self._foot.clear), (words.TAKE_OVER, self.take_over)),
            )

    def _tell_changed(self) -> bool:
        """Whether the file was saved by somebody else since it was opened; then it is told."""
        path = self._claimed
        if path is None or save_in(path) in ("", self._base):
            return False
        self._foot.ask(
            words.changed_meanwhile(path.name),
            ((words.OPEN_ANEW, lambda: self._ways.open(path)), (wording.KEEP_WORKING, self._foot.clear)),
        )
        return True

    def _release(self) -> None:
        if self._claim is not None:
            self._claim.release()
        self._claim = self._claimed = self._holder = None
