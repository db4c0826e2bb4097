"""What follows a job, done at the desk: its real figures, what is left over, what the shop book learns."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from planner.job import edits
from planner.job.document import Job
from planner.job.pieces import group_of_piece, print_of_piece
from planner.job.state import JobState
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.model import Plan
from planner.plan.stock import on_shelf, remains, settled_stock, take_from_stock
from planner.pressing.calendar import Milestone
from planner.pricing.actuals import taught
from planner.shop.actuals import Actuals
from planner.shop.document import changed
from planner.shop.kept_prices import prices_of
from planner.shop.stock import LeftOver
from planner.window import steps, wording
from planner.window.beside import come_up
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.window.jobs import words

if TYPE_CHECKING:
    from planner.window.jobs.after import AfterWindow
    from planner.window.jobs.stock_window import StockWindow


class Finishing(QObject):
    """Opens the windows that belong to a job's end; every edit made there is an undo step."""

    def __init__(
        self,
        window: QWidget,
        desk: Desk,
        foot: Foot,
        today: Callable[[], date],
        plan: Callable[[], Plan],
    ) -> None:
        super().__init__(window)
        self._window, self._desk, self._foot = window, desk, foot
        self._today, self._plan = today, plan
        self._after: AfterWindow | None = None
        self._stock: StockWindow | None = None
        self._listening = False

    def set_state(self, state: JobState) -> None:
        """Where the job stands; when it is done, what is left over waits to be counted.

        From the quote on it keeps the prices of that day.
        """
        before = self._desk.job
        prices = (
            None if state is JobState.PLANNED else before.prices or prices_of(self._desk.book, self._today())
        )
        after = edits.set_fields(before, state=state, prices=prices)
        if state is JobState.ORDERED:
            after = self._ordered_today(after)
        self._desk.apply(steps.STATE, after)
        if state.is_done and not before.state.is_done and not before.stock_settled:
            self._foot.say(words.COUNT_LEFT, ((wording.AFTER_JOB_LINK, self.open_after),))

    def _ordered_today(self, job: Job) -> Job:
        """The job with all that it waits for ordered today, where no other day was said."""
        for deadline in self._plan().calendar.deadlines:
            is_order = deadline.milestone in (Milestone.ORDER_TRANSFERS, Milestone.ORDER_BLANKS)
            if is_order and deadline.ordered is None:
                job = edits.set_ordered(job, deadline.offer, self._today())
        return job

    def open_after(self) -> None:
        """The window in which a job's real figures are typed."""
        # Kept out of the window's start: most sittings never open it.
        from planner.window.jobs.after import AfterWindow

        if self._after is None:
            self._after = AfterWindow(self._window, self._today, self._desk.shop.currency)
            self._after.kept.connect(self._keep)
            self._after.settled.connect(self._settle)
            self._after.learning_requested.connect(self._learn)
            self._undo_by_keys(self._after)
        self._listen()
        self._show_after()
        come_up(self._after)

    def open_stock(self) -> None:
        """The window of left-over transfers."""
        from planner.window.jobs.stock_window import StockWindow

        if self._stock is None:
            self._stock = StockWindow(self._window)
            self._stock.use_edited.connect(self._use)
            self._stock.shelf_edited.connect(self._correct)
            self._undo_by_keys(self._stock)
        self._listen()
        self._show_stock()
        come_up(self._stock)

    def forget(self) -> None:
        """Another job lies on the desk."""
        if self._after is not None:
            self._after.forget()
            self._show()

    def close(self) -> None:
        for window in (self._after, self._stock):
            if window is not None:
                window.close()

    def _undo_by_keys(self, window: QWidget) -> None:
        """The menu's keys reach the main window alone."""
        stack = self._desk.undo_stack
        QShortcut(QKeySequence.StandardKey.Undo, window, stack.undo)
        QShortcut(QKeySequence.StandardKey.Redo, window, stack.redo)

    def _listen(self) -> None:
        # Only now: the main window, which was there first, has made the plan when these hear of an edit.
        if not self._listening:
            self._listening = True
            self._desk.job_changed.connect(self._show)
            self._desk.shop_changed.connect(self._show)

    def _show(self) -> None:
        if self._after is not None and self._after.isVisible():
            self._show_after()
        if self._stock is not None and self._stock.isVisible():
            self._show_stock()

    def _show_after(self) -> None:
        assert self._after is not None
        job, shop, plan = self._desk.job, self._desk.shop, self._plan()
        left = tuple(one for one in remains(job, shop, plan.purchase) if one.ordered or one.taken)
        names = _names(job, [one.piece for one in left])
        self._after.show_job(job, shop, plan, left, names, book=self._desk.book)

    def _show_stock(self) -> None:
        assert self._stock is not None
        job, shop = self._desk.job, self._desk.shop
        shelf = on_shelf(job, shop)
        names = _names(job, [one.piece.key for one in shelf])
        self._stock.show_stock(shelf, shop, names, open_for_use=not job.stock_settled)

    def _keep(self, actuals: Actuals) -> None:
        job, past = self._desk.job, self._desk.shop.actuals
        at = next((at for at, one in enumerate(past) if _same(one, job.actuals)), None)
        if at is None:
            past = (*past, actuals)
        else:
            past = (*past[:at], changed(actuals, learnt=past[at].learnt), *past[at + 1 :])
        self._desk.apply_with_shop(steps.ACTUALS, changed(job, actuals=actuals), actuals=past)

    def _settle(self, left: Mapping[str, int]) -> None:
        job, shop = self._desk.job, self._desk.shop
        stock = settled_stock(job, shop, remains(job, shop, self._plan().purchase), left, self._today())
        self._desk.apply_with_shop(steps.SETTLE, changed(job, stock_settled=True), left_over=stock)

    def _learn(self) -> None:
        # Not the shop of the open job: that one may keep what it was quoted with.
        book = self._desk.book
        after = taught(book, [one for one in book.actuals if not one.learnt])
        past = tuple(changed(one, learnt=True) for one in book.actuals)
        self._desk.apply_with_shop(
            steps.LEARN, self._desk.job, spares=after.spares, presses=after.presses, actuals=past
        )

    def _use(self, piece: str, count: int, gesture: str) -> None:
        job, shop = self._desk.job, self._desk.shop
        self._desk.apply(steps.STOCK, take_from_stock(job, shop, {piece: count}), gesture)

    def _correct(self, heap: LeftOver, count: int) -> None:
        stock = tuple(
            changed(one, count=count) if one == heap else one
            for one in self._desk.shop.left_over
            if one != heap or count
        )
        self._desk.apply_with_shop(steps.SHELF, self._desk.job, left_over=stock)


def _same(one: Actuals, other: Actuals | None) -> bool:
    return other is not None and changed(one, learnt=False) == changed(other, learnt=False)


def _names(job: Job, pieces: list[str]) -> dict[str, str]:
    """What a person calls a piece: artwork, place, and the garment it goes on."""
    names = {}
    extras = {extra.key: extra for extra in job.extras}
    for key in pieces:
        if key in extras:
            names[key] = f"{job.artwork(extras[key].artwork).name}, extra"
            continue
        print_ = job.print_of(print_of_piece(key))
        garment = job.line(print_.line)
        place = sentences.place(print_.location, print_.place_name)
        group = group_of_piece(key)
        sizes = kind_name(group) if group else ""
        said = (job.artwork(print_.artwork).name, place, garment.style or kind_name(garment.kind), sizes)
        names[key] = ", ".join(part for part in said if part)
    return names
