"""Job files in and out: new, open, save, and the packet; whatever goes wrong is said at the foot."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from PySide6.QtCore import QObject, QUrl, Signal
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder
from planner.job.document import Job
from planner.plan.laddering import quoted_ladder
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.storage.claim import Holder
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, JobFile, read_job
from planner.window import keeping_words, wording
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.window.saving import Doing, Saving
from planner.work.ticket import Cancelled, Ticket

EXPORT_LANE, DEMO_LANE, OPEN_LANE = "export", "demo", "open"


class Cabinet(QObject):
    """Takes jobs out of files and puts them back."""

    opened = Signal()
    """Another job lies on the desk."""

    def __init__(
        self,
        desk: Desk,
        background: Background,
        foot: Foot,
        asks: Asks,
        today: Callable[[], date],
        saving: Background | None = None,
    ) -> None:
        super().__init__()
        self._desk, self._background, self._foot, self._asks = desk, background, foot, asks
        self._today = today
        self.saving = Saving(desk, saving or background, foot)
        self.decoder: Decoder | None = None
        """Reads artwork for the papers; None: this process does."""
        self.facts: Callable[[], Facts] = dict
        """What was measured of the open job's artwork."""
        self.holder: Callable[[], Holder | None] = lambda: None
        """Who else has the open file and may save it."""
        self.take_over: Callable[[], object] = lambda: None
        """Have this window be the one that may save it."""

    def new(self, parent: QWidget) -> None:
        """An empty job, once the open one is safe."""
        self.when_safe(parent, lambda: self.lay(Job(quoted_on=self._today()), {}, None))

    def open_chosen(self, parent: QWidget) -> None:
        if path := self._asks.job_to_open(parent):
            self.open_over(parent, path)

    def open_over(
        self,
        parent: QWidget,
        path: Path,
        *,
        then: Doing = lambda: None,
        failed: Callable[[str], object] | None = None,
    ) -> None:
        """Open a job file, once the open job is safe; it is read in the background, for it can be large.

        `failed` hears why it could not be opened; without it the foot tells.
        """

        def read() -> None:
            laid_aside = self._desk.job

            def take(file: JobFile) -> None:
                if self._desk.job is laid_aside:
                    self.lay(file.job, dict(file.artworks), path, file.save)
                    then()
                else:
                    # Edited while the file was read: nobody was asked about that yet.
                    self.open_over(parent, path, then=then, failed=failed)

            self.read(path, take, failed)

        self.when_safe(parent, read)

    def read(
        self,
        path: Path,
        done: Callable[[JobFile], object],
        failed: Callable[[str], object] | None = None,
    ) -> None:
        """Read a job file in the background; one that cannot be read is said so and changes nothing."""

        def take(file: JobFile) -> None:
            self._foot.show_work(OPEN_LANE, "")
            done(file)

        def tell(error: Exception) -> None:
            self._foot.show_work(OPEN_LANE, "")
            (failed or self._foot.warn)(_sentence(error))

        self._foot.show_work(OPEN_LANE, wording.opening(path.name))
        self._background.start(OPEN_LANE, lambda ticket: read_job(path), done=take, failed=tell)

    def open_demo(self, parent: QWidget) -> None:
        """Make the demo job in the background, for its artwork is read, and lay it on the desk."""

        def make(ticket: Ticket) -> tuple[Job, dict[str, bytes]]:
            # Kept out of the window's start: most sittings never open it.
            from planner.plan.demo import demo_job

            job, files = demo_job(self._today())
            return job, dict(files)

        def done(made: tuple[Job, dict[str, bytes]]) -> None:
            self._foot.show_work(DEMO_LANE, "")
            # Asked only now: the open job may have been edited meanwhile.
            self.when_safe(parent, lambda: self.lay(*made, None))

        def failed(error: Exception) -> None:
            self._foot.show_work(DEMO_LANE, "")
            self._foot.warn(_sentence(error))

        self._foot.show_work(DEMO_LANE, wording.OPENING_DEMO)
        self._background.start(DEMO_LANE, make, done=done, failed=failed)

    def save(self, parent: QWidget, then: Doing = lambda: None) -> None:
        """Save where the job came from, or ask where to; `then` follows once it is safe there."""
        path = self._desk.path or self.saving.place
        if path is None:
            self.save_as(parent, then)
        elif (holder := self.holder()) is not None:
            self._foot.ask(
                keeping_words.held_elsewhere(holder.user, holder.machine),
                (
                    (keeping_words.SAVE_ELSEWHERE, lambda: self.save_as(parent)),
                    (keeping_words.TAKE_OVER, self.take_over),
                    (wording.KEEP_WORKING, self._foot.clear),
                ),
            )
        else:
            self._write(parent, path, then, anew=False)

    def save_as(self, parent: QWidget, then: Doing = lambda: None) -> None:
        path = self._asks.job_to_save(parent, self._suggested())
        if path is not None:
            # Whatever is there: whoever chose a place was asked about it.
            self._write(parent, path, then, anew=True)

    def when_safe(self, parent: QWidget, then: Doing) -> None:
        """Do something that lays the open job aside, or first ask what becomes of its changes.

        A save under way is waited for.
        """
        if self.saving.is_busy:
            self.saving.after(lambda: self.when_safe(parent, then))
        elif self._desk.is_saved:
            then()
        else:
            self._foot.ask(
                wording.UNSAVED,
                (
                    # Edited while it was saved, it is asked about once more.
                    (wording.SAVE_NOW, lambda: self.save(parent, lambda: self.when_safe(parent, then))),
                    (wording.DROP_CHANGES, then),
                    (wording.KEEP_WORKING, lambda: None),
                ),
            )

    def export(self, parent: QWidget, plan: Plan) -> None:
        """Write the packet into a chosen folder, in the background."""
        folder = self._asks.folder_for_packet(parent, self._suggested().parent)
        if folder is None:
            return
        job, shop, files = self._desk.job, self._desk.shop, self._desk.files_in_use()
        facts = self.facts()

        notes: list[str] = []

        def work(ticket: Ticket) -> tuple[Path, ...]:
            # Kept out of the window's start: the papers bring a whole PDF library.
            from planner.paper.artwork_inks import ArtworkInks
            from planner.paper.export import export
            from planner.paper.papers import Papers
            from planner.paper.pictures import Pictures

            prices = quoted_ladder(job, shop, plan, facts=facts, ticket=ticket)
            pictures = Pictures(ArtworkInks(files.__getitem__, self.decoder))
            papers = Papers(job, shop, plan, pictures, ladder=prices)
            return export(papers, folder, ticket=ticket, noted=notes.append)

        def done(paths: tuple[Path, ...]) -> None:
            self._foot.show_work(EXPORT_LANE, "")
            address = QUrl.fromLocalFile(str(folder))
            self._foot.say(
                " ".join((wording.packet_written(len(paths), str(folder)), *notes)),
                (
                    (wording.OPEN_FOLDER, lambda: QDesktopServices.openUrl(address)),
                    (wording.DISMISS, self._foot.clear),
                ),
            )

        def failed(error: Exception) -> None:
            self._foot.show_work(EXPORT_LANE, "")
            if not isinstance(error, Cancelled):
                self._foot.warn(_sentence(error))

        self._foot.show_work(EXPORT_LANE, wording.EXPORTING)
        self._background.start(
            EXPORT_LANE,
            work,
            done=done,
            failed=failed,
            progressed=lambda at, of: self._foot.show_work(EXPORT_LANE, wording.EXPORTING, at, of),
        )

    def _write(self, parent: QWidget, path: Path, then: Doing, *, anew: bool) -> None:
        def failed(error: DocumentFileError) -> None:
            elsewhere = (keeping_words.SAVE_ELSEWHERE, lambda: self.save_as(parent))
            self._foot.warn(str(error), (elsewhere, (wording.KEEP_WORKING, self._foot.clear)))

        self.saving.save(path, anew=anew, then=then, failed=failed)

    def lay(self, job: Job, files: dict[str, bytes], path: Path | None, save: str = "") -> None:
        """Lay a job on the desk; `path` is where it is saved to, None for a new one.

        `save` names the save of that file it comes from: a later one is not written over.
        """
        self._foot.clear()
        self.saving.lay(save)
        self._desk.open(job, files, path)
        self.opened.emit()

    def _suggested(self) -> Path:
        if self._desk.path:
            return self._desk.path
        plain = "".join(letter for letter in self._desk.job.title if letter.isalnum() or letter in " -_")
        return Path.home() / f"{plain.strip() or wording.SAVE_FIRST_NAME}{SUFFIX}"


def _sentence(error: Exception) -> str:
    """Errors meant for people are sentences already; others are wrapped in one."""
    text = str(error)
    return text if text.endswith(".") else wording.trouble(error)
