"""The shop book beside the job: its window, and what an edit of it does to the open job."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder
from planner.job import edits
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.kept_prices import prices_of
from planner.storage.document_file import DocumentFileError
from planner.storage.shop_book import SUFFIX, read_book, taken_over, to_share, write_book
from planner.window import steps, wording
from planner.window.asks import Asks
from planner.window.beside import come_up
from planner.window.desk import Desk
from planner.window.foot import Foot

if TYPE_CHECKING:
    from planner.window.shop.book_window import ShopBookWindow


class Bookkeeping:
    """Opens the shop book's window and takes its edits to the desk."""

    def __init__(
        self,
        window: QWidget,
        desk: Desk,
        foot: Foot,
        asks: Asks,
        today: Callable[[], date],
        plan: Callable[[], Plan],
        plan_at: Callable[[Shop], Plan],
    ) -> None:
        self._window, self._desk, self._foot, self._asks = window, desk, foot, asks
        self._today, self._plan, self._plan_at = today, plan, plan_at
        self._book: ShopBookWindow | None = None
        self.decoder: Decoder | None = None
        """Reads the files of logos and profiles; None: this process does."""

    def open(self, field: str = "") -> None:
        """Show the shop book in a window of its own, beside the job; the cursor goes to a field named."""
        # Kept out of the window's start: most sittings never open it.
        from planner.window.shop.book_window import ShopBookWindow

        if self._book is None:
            self._book = ShopBookWindow(self._asks, self._window)
            self._book.shop_edited.connect(self._take)
            self._book.file_wanted.connect(self._take_from_file)
            self._book.file_offered.connect(self._give_as_file)
            if self.decoder is not None:
                self._book.read_files_by(self.decoder)
        self._book.show_shop(self._desk.book)
        come_up(self._book)
        if field:
            self._book.take_to(field)

    @property
    def window(self) -> ShopBookWindow | None:
        """The shop book's window, once it was opened."""
        return self._book

    def show_shop(self, shop: Shop) -> None:
        if self._book is not None:
            self._book.show_shop(shop)

    def close(self) -> None:
        if self._book is not None:
            self._book.close()

    def tell_kept(self) -> None:
        """Say where the job keeps prices that today's shop book no longer has, and offer those."""
        desk, kept = self._desk, self._desk.job.prices
        if kept is None:
            return
        plan, today = self._plan(), self._plan_at(desk.book)
        if plan.quote.total != today.quote.total or plan.costs.total != today.costs.total:
            self._foot.say(
                wording.keeps_prices(kept.since, plan, today),
                ((wording.KEEP_PRICES, self._foot.clear), (wording.TODAYS_PRICES, self.use_todays)),
            )

    def use_todays(self) -> None:
        """Work the job out with the shop book of today, and keep those prices from now on."""
        desk = self._desk
        after = edits.set_fields(desk.job, prices=prices_of(desk.book, self._today()))
        desk.apply(steps.TODAYS_PRICES, after)

    def _take_from_file(self) -> None:
        """Another shop's book in place of this one, as one step that can be taken back."""
        book = self._book
        assert book is not None
        if path := self._asks.book_to_take(book):
            try:
                shared = read_book(path)
            except DocumentFileError as error:
                book.say(str(error))
            else:
                book.take(taken_over(self._desk.book, shared), wording.BOOK_TAKEN)

    def _give_as_file(self) -> None:
        book = self._book
        assert book is not None
        if path := self._asks.book_to_give(book, Path.home() / f"{wording.SHOP_BOOK_FILE}{SUFFIX}"):
            try:
                write_book(path, to_share(self._desk.book))
            except DocumentFileError as error:
                book.say(str(error))
            else:
                book.say(wording.book_given(path.name))

    def _take(self, shop: Shop, title: str) -> None:
        """Take an edit, and tell what it does to the open job."""
        before = self._plan()
        self._desk.set_shop(shop)
        after = self._plan()
        if self._desk.job.prices is not None:
            self.tell_kept()
        elif (before.quote.total, before.costs.total) != (after.quote.total, after.costs.total):
            told = wording.shop_change(title, before, after)
            self._foot.say(told)
            # The job's window may lie behind the book's.
            if self._book is not None:
                self._book.say(told)
