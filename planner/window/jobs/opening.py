"""The shop's jobs beside the open one: which files they are, their list, and an order once more."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSettings
from PySide6.QtWidgets import QWidget

from planner.job.document import Job
from planner.job.reorder import ordered_again
from planner.plan.model import Plan
from planner.storage.job_list import JobList, Listed, list_jobs, with_recent
from planner.storage.job_summary import as_remarks
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.cabinet import Cabinet
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.window.jobs import words
from planner.window.jobs.figures import figures_of
from planner.window.jobs.finishing import Finishing
from planner.work.ticket import Cancelled, Ticket

if TYPE_CHECKING:
    from planner.window.jobs.jobs_window import JobsWindow

LANE = "jobs"
_FOLDER, _RECENT = "jobs folder", "jobs recent"


class Jobs(QObject):
    """Opens the list of jobs and does what is asked there."""

    def __init__(
        self,
        window: QWidget,
        desk: Desk,
        cabinet: Cabinet,
        background: Background,
        foot: Foot,
        asks: Asks,
        settings: QSettings,
        today: Callable[[], date],
        plan: Callable[[], Plan],
    ) -> None:
        super().__init__(window)
        self._window, self._desk, self._cabinet = window, desk, cabinet
        self._background, self._foot, self._asks = background, foot, asks
        self._settings, self._today = settings, today
        self._found = JobList(())
        self._known: dict[Path, Listed] = {}
        self._list: JobsWindow | None = None
        self.finishing = Finishing(window, desk, foot, today, plan)
        cabinet.saving.remarks = lambda: as_remarks(figures_of(plan()))
        cabinet.opened.connect(self.finishing.forget)
        desk.file_changed.connect(self._file_changed)

    @property
    def folder(self) -> Path | None:
        """Where the shop keeps its job files, as it once chose."""
        kept = self._settings.value(_FOLDER)
        return Path(kept) if isinstance(kept, str) and kept else None

    @property
    def recent(self) -> tuple[Path, ...]:
        """Files opened or saved lately, newest first."""
        kept = self._settings.value(_RECENT)
        # A list of one is read back as a string.
        names = [kept] if isinstance(kept, str) else kept if isinstance(kept, list) else []
        return tuple(Path(name) for name in names if isinstance(name, str) and name)

    def open(self) -> None:
        """Show the list of jobs in a window of its own, beside the job."""
        # Kept out of the window's start: many sittings never open it.
        from planner.window.jobs.jobs_window import JobsWindow

        if self._list is None:
            self._list = JobsWindow(self._window, self._today)
            self._list.open_requested.connect(self._open_path)
            self._list.again_requested.connect(self._again_from)
            self._list.after_requested.connect(self._after)
            self._list.folder_requested.connect(self._choose_folder)
        self._look()
        self._list.come_up()

    def order_again(self) -> None:
        """Lay the open job on the desk as a new one, once it is safe."""
        self._lay_again(self._desk.job, self._desk.files_in_use())

    def close(self) -> None:
        self._background.stop(LANE)
        self.finishing.close()
        if self._list is not None:
            self._list.close()

    def _open_path(self, path: Path) -> None:
        self._to_the_job()
        self._cabinet.open_over(self._window, path)

    def _after(self, path: Path) -> None:
        if self._desk.path != path:
            self._cabinet.open_over(self._window, path, then=self.finishing.open_after)
        else:
            self.finishing.open_after()

    def _again_from(self, path: Path) -> None:
        self._cabinet.read(path, lambda file: self._lay_again(file.job, dict(file.artworks)))

    def _lay_again(self, job: Job, files: dict[str, bytes]) -> None:
        again = ordered_again(job, self._today())
        files = {artwork.sha256: files[artwork.sha256] for artwork in again.artworks}

        def lay() -> None:
            self._cabinet.lay(again, files, None)
            # Nowhere saved yet: closing it must ask.
            self._desk.undo_stack.resetClean()
            self._foot.say(words.ordered_again(again.title))

        self._to_the_job()
        self._cabinet.when_safe(self._window, lay)

    def _to_the_job(self) -> None:
        """What was asked in the list goes on in the window of the job."""
        self._window.activateWindow()

    def _choose_folder(self) -> None:
        assert self._list is not None
        folder = self._asks.jobs_folder(self._list, self.folder or Path.home())
        if folder is not None:
            self._settings.setValue(_FOLDER, str(folder))
            self._look()

    def _look(self) -> None:
        """Read the list anew in the background; what is known is shown meanwhile."""
        folder, recent, known = self.folder, self.recent, self._known
        self._show(reading=True)

        def work(ticket: Ticket) -> JobList:
            return list_jobs(folder, recent, known=known, ticket=ticket)

        self._background.start(LANE, work, done=self._take, failed=self._failed)

    def _take(self, found: JobList) -> None:
        self._found = found
        self._known = {job.path: job for job in found.jobs}
        self._show(reading=False)

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, Cancelled):
            raise error

    def _show(self, *, reading: bool) -> None:
        if self._list is not None:
            self._list.show_jobs(self._found.jobs, self._found.trouble, self.folder, reading=reading)

    def _file_changed(self) -> None:
        path = self._desk.path
        if path is None:
            return
        recent = with_recent(path.absolute(), self.recent)
        if recent != self.recent:
            self._settings.setValue(_RECENT, [str(one) for one in recent])
        if self._list is not None and self._list.isVisible():
            self._look()
