"""The open job and its undo history: the only holder of either."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QUndoCommand, QUndoStack

from planner.job.document import Job
from planner.measures.figures import write_for
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.kept_prices import KeptPrices, at_prices

MOST_STEPS = 500
"""Edits that can be undone: each keeps what it changed, so a long sitting would grow without end."""


class Desk(QObject):
    """Holds job, shop book, artwork files and path; every edit goes through `apply` as an undo step.

    The shop book that lies on it says how the whole process writes figures and days.
    """

    job_changed = Signal(object, object)
    """Before and after."""
    shop_changed = Signal()
    file_changed = Signal()
    """Another file is open, or the open one was saved."""

    def __init__(self, job: Job, shop: Shop, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._job = job
        self._book = shop
        write_for(shop.region)
        self._shop: tuple[Shop, KeptPrices | None, Shop] = shop, None, shop
        self.artworks: dict[str, bytes] = {}
        """Files by SHA-256. Kept through undo: taking an artwork back needs its bytes."""
        self.path: Path | None = None
        self.undo_stack = QUndoStack(self)
        self.undo_stack.setUndoLimit(MOST_STEPS)

    @property
    def job(self) -> Job:
        return self._job

    @property
    def book(self) -> Shop:
        """The shop book as it is today: what is edited and saved."""
        return self._book

    @property
    def shop(self) -> Shop:
        """The shop book that the open job is worked out with: at the prices it keeps, if it does."""
        book, kept, shop = self._shop
        if book is not self._book or kept is not self._job.prices:
            shop = at_prices(self._book, self._job.prices)
            self._shop = self._book, self._job.prices, shop
        return shop

    @property
    def is_saved(self) -> bool:
        """Whether nothing would be lost if the job were closed now."""
        return self.undo_stack.isClean()

    def apply(self, title: str, after: Job, gesture: str = "") -> None:
        """Make `after` the job, as one undo step; steps of the same gesture become one."""
        if after != self._job:
            self.undo_stack.push(_Step(title, self._job, after, gesture, self._set_job))

    def amend(self, after: Job) -> None:
        """Make `after` the job without a step: for what differs in nothing that undoing could show."""
        if after != self._job:
            self._set_job(after)

    def apply_with_shop(self, title: str, after: Job, **fields: Any) -> None:
        """Make `after` the job and change fields of the shop book with it, as one undo step."""
        self.undo_stack.push(_ShopStep(title, self, after, fields))

    def open(self, job: Job, artworks: Mapping[str, bytes], path: Path | None) -> None:
        """Lay another job on the desk; its undo history starts empty."""
        before = self._job
        self.artworks = dict(artworks)
        self.path = path
        self._job = job
        self.undo_stack.clear()
        self.undo_stack.setClean()
        self.job_changed.emit(before, job)
        self.file_changed.emit()

    def saved(self, job: Job, path: Path) -> None:
        """Note that `job` was saved; an edit made meanwhile stays unsaved."""
        self.path = path
        if job == self._job:
            self.undo_stack.setClean()
        self.file_changed.emit()

    def set_shop(self, shop: Shop) -> None:
        """Make another one the shop book."""
        if shop != self._book:
            self._book = shop
            write_for(shop.region)
            self.shop_changed.emit()

    def put_away(self) -> None:
        """The program ends: the undo stack must not tell of its own end to windows that are gone."""
        self.undo_stack.blockSignals(True)

    def file_of(self, sha256: str) -> bytes | None:
        """An artwork file's bytes, as the customer sent them."""
        return self.artworks.get(sha256)

    def files_in_use(self) -> dict[str, bytes]:
        """The artwork files that the job names, for saving."""
        return {artwork.sha256: self.artworks[artwork.sha256] for artwork in self._job.artworks}

    def _set_job(self, job: Job) -> None:
        before, self._job = self._job, job
        self.job_changed.emit(before, job)


class _Step(QUndoCommand):
    """Keeps the job before and after; what an edit does not touch is shared between the two."""

    def __init__(
        self, title: str, before: Job, after: Job, gesture: str, set_job: Callable[[Job], None]
    ) -> None:
        super().__init__(title)
        self._before, self._after = before, after
        self._gesture = gesture
        self._set_job = set_job

    def redo(self) -> None:
        self._set_job(self._after)

    def undo(self) -> None:
        self._set_job(self._before)

    def id(self) -> int:
        return 1 if self._gesture else -1

    def mergeWith(self, other: QUndoCommand) -> bool:
        if not isinstance(other, _Step) or other._gesture != self._gesture:
            return False
        self._after = other._after
        self.setObsolete(self._after == self._before)
        return True


class _ShopStep(QUndoCommand):
    """Keeps the fields of the shop book that a step changes; what else changed meanwhile stays."""

    def __init__(self, title: str, desk: Desk, after: Job, fields: Mapping[str, Any]) -> None:
        super().__init__(title)
        self._desk = desk
        self._jobs = desk.job, after
        self._fields = {name: getattr(desk.book, name) for name in fields}, dict(fields)

    def redo(self) -> None:
        self._go(1)

    def undo(self) -> None:
        self._go(0)

    def _go(self, to: int) -> None:
        self._desk.set_shop(changed(self._desk.book, **self._fields[to]))
        self._desk._set_job(self._jobs[to])
