"""Keeps unsaved work safe: a recovery copy after every edit, and a claim on the open file."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from planner.job.document import Job
from planner.storage.claim import REFRESH_S, Claim, Holder
from planner.storage.document_file import next_save
from planner.storage.recovery import LeftBehind, Recovery, has_moved_on, save_in
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.work.ticket import Ticket

KEEP_AFTER_MS = 600
"""After the first edit that is not in the copy yet: every edit is in it well within two seconds."""
LANE = "keep"


class Keeping(QObject):
    """Watches the desk; tells in the foot what a person must know or decide."""

    def __init__(self, desk: Desk, background: Background, foot: Foot, recovery: Recovery) -> None:
        super().__init__(desk)
        self._desk, self._background, self._foot, self._recovery = desk, background, foot, recovery
        self._claim: Claim | None = None
        self._claimed: Path | None = None
        self._base = ""
        """Names the save of the open file that the work started from."""
        self._warned = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(KEEP_AFTER_MS)
        self._later.timeout.connect(self._keep)
        self._alive = QTimer(self)
        self._alive.setInterval(int(REFRESH_S * 1000))
        self._alive.timeout.connect(self._refresh)
        self._alive.start()
        desk.job_changed.connect(self._job_changed)
        desk.file_changed.connect(self._file_changed)

    def offer_left_behind(self, lay: Callable[[Job, dict[str, bytes], Path | None], object]) -> None:
        """Offer the newest work that an earlier window did not get to save."""
        found = self._recovery.left_behind()
        if found:
            self._foot.ask(
                wording.left_behind(found[0].file.job.title),
                (
                    (wording.TAKE_UP, lambda: self._take_up(found[0], lay)),
                    (wording.FORGET_COPY, lambda: self._recovery.forget(found[0])),
                    (wording.ASK_LATER, self._foot.clear),
                ),
            )

    def close(self) -> None:
        """The window closes: what is saved or was given up needs no copy, and the file is free again."""
        self._later.stop()
        self._alive.stop()
        self._recovery.drop()
        self._release()

    def _take_up(self, left: LeftBehind, lay: Callable[[Job, dict[str, bytes], Path | None], object]) -> None:
        # Saving over what somebody else saved meanwhile must not go unseen: it asks for a place instead.
        moved_on = has_moved_on(left)
        lay(left.file.job, dict(left.file.artworks), None if moved_on else left.origin)
        self._desk.undo_stack.resetClean()
        self._recovery.adopt(left)
        self._keep()
        if moved_on and left.origin is not None:
            self._foot.warn(wording.file_moved_on(left.origin.name))

    def _job_changed(self) -> None:
        # Not restarted by each edit: a person who never pauses is kept all the same.
        if not self._later.isActive():
            self._later.start()

    def _keep(self) -> None:
        if self._desk.is_saved:
            self._recovery.drop()
            return
        if self._background.is_busy(LANE):
            # Two writers at once could leave the older edit in the copy.
            self._later.start()
            return
        job, files, path, save = self._desk.job, self._desk.files_in_use(), self._desk.path, next_save()
        base = self._base

        def work(ticket: Ticket) -> None:
            self._recovery.keep(job, files, path, save, base)

        self._background.start(LANE, work, done=lambda nothing: self._kept(), failed=self._failed)

    def _kept(self) -> None:
        self._warned = False

    def _failed(self, error: Exception) -> None:
        if not self._warned:
            self._warned = True
            self._foot.warn(str(error))

    def _file_changed(self) -> None:
        if self._desk.is_saved:
            self._background.stop(LANE)
            self._recovery.drop()
            # The file is what was just read or written.
            self._base = save_in(self._desk.path) if self._desk.path else ""
        if self._desk.path == self._claimed:
            return
        self._release()
        self._claimed = self._desk.path
        if self._claimed is not None:
            self._claim = Claim(self._claimed)
            if (holder := self._claim.take()) is not None:
                self._tell(holder)

    def _tell(self, holder: Holder) -> None:
        assert self._claim is not None
        self._foot.ask(
            wording.open_elsewhere(holder.user, holder.machine),
            ((wording.READ_ONLY, self._foot.clear), (wording.TAKE_OVER, self._claim.take_over)),
        )

    def _refresh(self) -> None:
        self._recovery.refresh()
        if self._claim is not None:
            self._claim.refresh()

    def _release(self) -> None:
        if self._claim is not None:
            self._claim.release()
        self._claim = self._claimed = None
