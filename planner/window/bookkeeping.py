"""The shop book beside the job: its window, and what an edit of it does to the open job."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.window import wording
from planner.window.desk import Desk
from planner.window.foot import Foot

if TYPE_CHECKING:
    from planner.window.shop.book_window import ShopBookWindow


class Bookkeeping:
    """Opens the shop book's window and takes its edits to the desk."""

    def __init__(self, window: QWidget, desk: Desk, foot: Foot, plan: Callable[[], Plan]) -> None:
        self._window, self._desk, self._foot, self._plan = window, desk, foot, plan
        self._book: ShopBookWindow | None = None
        self.decoder: Decoder | None = None
        """Reads a logo's file; None: this process does."""

    def open(self, field: str = "") -> None:
        """Show the shop book in a window of its own, beside the job; the cursor goes to a field named."""
        # Kept out of the window's start: most sittings never open it.
        from planner.window.shop.book_window import ShopBookWindow

        if self._book is None:
            self._book = ShopBookWindow(self._window)
            self._book.shop_edited.connect(self._take)
            if self.decoder is not None:
                self._book.read_logos_by(self.decoder)
        self._book.show_shop(self._desk.shop)
        self._book.show()
        self._book.activateWindow()
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

    def _take(self, shop: Shop, title: str) -> None:
        """Take an edit, and tell what it does to the open job."""
        before = self._plan()
        self._desk.set_shop(shop)
        after = self._plan()
        if (before.quote.total, before.costs.total) != (after.quote.total, after.costs.total):
            self._foot.say(wording.shop_change(title, before, after))
