"""The shop book's window: everything the shop knows between jobs, to be read and edited beside the job."""

from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QTabWidget, QWidget

from planner.artwork.decoding import Decoder
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window import wording
from planner.window.asks import Asks
from planner.window.fields import Field
from planner.window.look import APART, RELATED, Type
from planner.window.shop import words
from planner.window.shop.blank_csv import BlankTable
from planner.window.shop.file_edit import FileEdit
from planner.window.shop.form import Form, Lines
from planner.window.shop.listed import Listed
from planner.window.shop.offer_form import build_offer_form, fresh_offer
from planner.window.shop.other_forms import (
    build_blank_form,
    build_days_form,
    build_money_form,
    build_papers_form,
    build_press_form,
    fresh_blank,
    fresh_press,
)
from planner.window.shop.widths_form import build_widths_form
from planner.window.tables.dialog import ImportDialog
from planner.window.widgets import SideWindow, button, column, label, row, scrolled


class ShopBookWindow(SideWindow):
    """Shows a shop book; every edit is told at once with a name, and can be taken back here."""

    shop_edited = Signal(object, str)
    """The whole book after the edit, and the edit's name."""
    file_wanted = Signal()
    """A book is to be taken from a file."""
    file_offered = Signal()
    """The book is to be written into a file."""

    def __init__(self, asks: Asks, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._asks = asks
        self._shop: Shop | None = None
        self._before: list[tuple[str, Shop]] = []
        self._after: list[tuple[str, Shop]] = []
        self.setWindowTitle(words.SHOP_BOOK)
        self.resize(960, 720)
        self.pages = QTabWidget()
        self.offers, self.blanks, self.presses = _offers(asks), _blanks(), _presses()
        self.money, self.papers, self.widths, self.days = Form(), Form(), Form(), Form()
        build_money_form(self.money)
        build_papers_form(self.papers, asks)
        build_widths_form(self.widths)
        build_days_form(self.days)
        self._undo = button(words.UNDO, self.undo, hint=words.UNDO_HINT)
        self._redo = button(words.REDO, self.redo, hint=words.REDO_HINT)
        self._said = label("", Type.SMALL, quiet=True, wrap=True)
        self._blank_import = button(
            words.IMPORT_BLANKS_BUTTON, self._import_blanks, hint=words.IMPORT_BLANKS_HINT
        )
        self._build()
        for part in self._parts:
            part.edited.connect(self._edited)
        QShortcut(QKeySequence.StandardKey.Undo, self, self.undo)
        QShortcut(QKeySequence.StandardKey.Redo, self, self.redo)
        self._show_history()

    def show_shop(self, shop: Shop) -> None:
        """Show a book. One that did not come from here starts a new history. Tells nothing."""
        if self._shop is not None and shop != self._shop:
            self._before, self._after = [], []
        self._show(shop)

    def take(self, shop: Shop, title: str) -> None:
        """Put another book in place of this one, as an edit with a name."""
        self._edited(shop, title)

    def say(self, sentence: str) -> None:
        """Say what was done or went wrong, until the next edit."""
        self._said.setText(sentence)

    def undo(self) -> None:
        """The book before the last change."""
        if self._before and self._shop is not None:
            title, shop = self._before.pop()
            self._after.append((title, self._shop))
            self._show(shop)
            self.shop_edited.emit(shop, words.undone(title))

    def redo(self) -> None:
        if self._after and self._shop is not None:
            title, shop = self._after.pop()
            self._before.append((title, self._shop))
            self._show(shop)
            self.shop_edited.emit(shop, title)

    def take_to(self, field: str) -> None:
        """Put the cursor into a field of a page by the field's name."""
        for form in (self.money, self.papers, self.days):
            if widget := form.fields.get(field):
                self.pages.setCurrentIndex(self._parts.index(form))
                widget.setFocus()
                if isinstance(widget, Field):
                    widget.selectAll()

    def read_files_by(self, decoder: Decoder) -> None:
        """Have logos and profiles read by the one that reads customers' artwork."""
        for field in (self.papers.fields[words.LOGO], self.offers.form.fields[words.PRINT_PROFILE]):
            if isinstance(field, FileEdit):
                field.decoder = decoder

    def import_blanks(self, path: Path) -> None:
        """Look at a file's blanks, and take them when the person agrees."""
        shop = self._shop
        if shop is not None:
            dialog = ImportDialog(path, BlankTable(shop), self)
            dialog.taken.connect(
                lambda blanks: self._edited(changed(shop, blanks=blanks), words.IMPORT_BLANKS)
            )
            dialog.open()

    def _import_blanks(self) -> None:
        if path := self._asks.blanks_file(self):
            self.import_blanks(path)

    @property
    def _parts(self) -> tuple[Listed | Form, ...]:
        return (self.offers, self.blanks, self.presses, self.money, self.papers, self.widths, self.days)

    def _build(self) -> None:
        names = (
            words.OFFERS,
            words.BLANKS,
            words.PRESSES,
            words.MONEY,
            words.PAPERS_AND_SHEETS,
            words.WIDTHS,
            words.DAYS,
        )
        for name, part in zip(names, self._parts, strict=True):
            self.pages.addTab(part if isinstance(part, Listed) else _page(part), name)
        self.blanks.add_tool(self._blank_import)
        foot = row()
        foot.setContentsMargins(APART, RELATED, APART, RELATED)
        foot.addWidget(self._said, 1)
        foot.addWidget(button(words.IMPORT_BOOK, self.file_wanted.emit, hint=wording.TAKE_BOOK))
        foot.addWidget(button(words.EXPORT_BOOK, self.file_offered.emit, hint=wording.GIVE_BOOK))
        foot.addWidget(self._undo)
        foot.addWidget(self._redo)
        whole = column(space=0)
        whole.addWidget(self.pages, 1)
        whole.addLayout(foot)
        self.setLayout(whole)

    def _show(self, shop: Shop) -> None:
        self._shop = shop
        for part in self._parts:
            part.show_shop(shop)
        self._show_history()

    def _edited(self, shop: Shop, title: str) -> None:
        if self._shop is not None and shop != self._shop:
            self._before.append((title, self._shop))
            self._after = []
            self._show(shop)
            self.shop_edited.emit(shop, title)

    def _show_history(self) -> None:
        self._undo.setEnabled(bool(self._before))
        self._redo.setEnabled(bool(self._after))
        last = self._before[-1][0] if self._before else ""
        self._said.setText(words.worked_out_anew(last) if last else words.COUNT_AT_ONCE)

    def closeEvent(self, event: QCloseEvent) -> None:
        """What is still being typed counts when the window is closed."""
        focused = QApplication.focusWidget()
        if isinstance(focused, Field | Lines):
            focused.commit()
        super().closeEvent(event)


def _page(form: Form) -> QWidget:
    inner = QWidget()
    page = column(edge=APART)
    page.addWidget(form)
    page.addStretch(1)
    inner.setLayout(page)
    return scrolled(inner)


def _offers(asks: Asks) -> Listed:
    return Listed(
        parts="offers",
        one="offer",
        name_of="name",
        fresh=fresh_offer,
        nothing=words.NO_OFFERS,
        build=partial(build_offer_form, asks=asks),
    )


def _blanks() -> Listed:
    return Listed(
        parts="blanks",
        one="blank",
        name_of="style",
        fresh=fresh_blank,
        nothing=words.NO_BLANKS,
        build=build_blank_form,
    )


def _presses() -> Listed:
    return Listed(
        parts="presses",
        one="press",
        name_of="name",
        fresh=fresh_press,
        nothing=words.NO_PRESSES,
        build=build_press_form,
    )
