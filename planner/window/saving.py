"""Writes the open job into its file behind the window, one save after the other."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from planner.storage.document_file import DocumentFileError, next_save
from planner.storage.job_file import write_job
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot

LANE = "save"
_TOLD_AFTER_MS = 150
"""Most saves are over sooner: their work would only flash up in the foot."""

Doing = Callable[[], object]


class Saving(QObject):
    """Saves the job as it was when asked; what is edited meanwhile stays unsaved."""

    def __init__(self, desk: Desk, background: Background, foot: Foot) -> None:
        super().__init__()
        self._desk, self._background, self._foot = desk, background, foot
        self.remarks: Callable[[], Mapping[str, str]] = dict
        """What is kept beside a job when it is saved."""
        self._path: Path | None = None
        self._save = ""
        """Names the save of the open file that was read or written last."""
        self._laid = self._of = 0
        """Jobs laid on the desk until now, and until what is being written was."""
        self._saves: list[Doing] = []
        self._after: list[Doing] = []
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(_TOLD_AFTER_MS)
        self._slow.timeout.connect(self._tell)

    @property
    def is_busy(self) -> bool:
        return self._path is not None

    @property
    def place(self) -> Path | None:
        """Where the job on the desk is being written to; None: it is not."""
        return self._path if self._of == self._laid else None

    def lay(self, save: str) -> None:
        """Another job lies on the desk, from this save of its file; nothing for a job never saved."""
        self._save = save
        self._laid += 1
        # They were asked for the job before, and would write this one.
        self._saves.clear()

    def save(
        self, path: Path, *, anew: bool, then: Doing, failed: Callable[[DocumentFileError], object]
    ) -> None:
        """Save the job into a file, after the saves under way; `then` follows once it is safe there.

        A file that somebody else saved meanwhile is written over only with `anew`.
        """
        if self.is_busy:
            self._saves.append(lambda: self.save(path, anew=anew, then=then, failed=failed))
            return
        job, files, remarks = self._desk.job, self._desk.files_in_use(), self.remarks()
        # Asked for now: a recovery copy of a later edit must count as later than this save.
        name, over, laid = next_save(), None if anew else self._save or None, self._laid

        def done(save: str) -> None:
            if laid == self._laid:
                self._save = save
                self._desk.saved(job, path)
            self._foot.say(wording.saved_as(path.name))
            self._finish()
            then()
            self._go_on()

        def not_done(error: Exception) -> None:
            # What waited for the job to be safe must not happen: it is not.
            self._after.clear()
            self._finish()
            if not isinstance(error, DocumentFileError):
                self._go_on()
                raise error
            failed(error)
            self._go_on()

        self._path, self._of = path, laid
        self._slow.start()
        self._background.start(
            LANE,
            lambda ticket: write_job(path, job, files, remarks, over=over, save=name),
            done=done,
            failed=not_done,
        )

    def after(self, then: Doing) -> None:
        """Do something once all saves asked for are over; never, if one of them fails."""
        self._after.append(then)
        self._go_on()

    def _tell(self) -> None:
        if self._path is not None:
            self._foot.show_work(LANE, wording.saving(self._path.name), can_stop=False)

    def _finish(self) -> None:
        self._path = None
        self._slow.stop()
        self._foot.show_work(LANE, "")

    def _go_on(self) -> None:
        if self.is_busy:
            return
        if self._saves:
            self._saves.pop(0)()
        else:
            waiting, self._after = self._after, []
            for then in waiting:
                then()
