"""The artwork panel: the customer's files, and what did not go well with some of them."""

import os
import re
from base64 import b64decode
from contextlib import suppress
from pathlib import Path
from urllib.parse import unquote

from PySide6.QtCore import QMimeData, Qt, Signal
from PySide6.QtGui import (
    QDragEnterEvent,
    QDragLeaveEvent,
    QDropEvent,
    QImage,
    QPaintEvent,
)
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planner.job.document import Artwork, Job
from planner.job.findings import Finding, Region, Seriousness
from planner.shop.book import Shop
from planner.window import wording
from planner.window.artwork import words
from planner.window.artwork.card import ArtworkCard
from planner.window.artwork.pages import PageList
from planner.window.artwork.replaced import Replacements, what_changed
from planner.window.carried import draw_drop_frame
from planner.window.gallery import Gallery
from planner.window.look import APART, GRID, RELATED
from planner.window.names import line_names
from planner.window.popover import Popover
from planner.window.widgets import (
    StatusMark,
    button,
    column,
    emptied,
    held,
    label,
    let_go,
    line,
    put_in_order,
    row,
    scrolled,
)

_PICTURE_PX = 256
_MOST_FILES = 500
_MANY = 3
"""Sentences on so many files can be dismissed at once."""
_IMAGE_ADDRESS = re.compile(r"""<img\b[^>]*?\bsrc\s*=\s*["']([^"']+)""", re.IGNORECASE)


def named_in(mime: QMimeData) -> tuple[Path, ...]:
    """Files and folders of this computer that something dropped or copied names, there or not."""
    return tuple(Path(url.toLocalFile()) for url in mime.urls() if url.isLocalFile())


def files_in(mime: QMimeData) -> tuple[Path, ...]:
    """Files (those of folders too) that something dropped or copied names."""
    paths: list[Path] = []
    for path in named_in(mime):
        paths += _files_of(path) if path.is_dir() else [path]
    return tuple(path for path in paths if path.is_file() and not path.name.startswith("."))


def _files_of(folder: Path) -> list[Path]:
    """Files of a folder and of those in it, in order; no more than anybody drops on purpose."""
    found: list[Path] = []
    for place, folders, names in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        found += [Path(place, name) for name in sorted(names)]
        if len(found) >= _MOST_FILES:
            break
    return found[:_MOST_FILES]


def image_in(mime: QMimeData) -> QImage | None:
    """A picture without a file, as a browser or a clipboard hands it over."""
    image = mime.imageData() if mime.hasImage() else None
    return image if isinstance(image, QImage) and not image.isNull() else None


def bytes_in(mime: QMimeData) -> bytes | None:
    """A picture written out in an address or a piece of a web page, as browsers hand over small ones."""
    addresses = [url.toString() for url in mime.urls()] + _IMAGE_ADDRESS.findall(mime.html())
    for address in addresses:
        head, _, body = address.partition(",")
        if head.startswith("data:image/") and head.endswith(";base64"):
            with suppress(ValueError):
                return b64decode(unquote(body), validate=True)
    return None


def is_only_an_address(mime: QMimeData) -> bool:
    """Whether what was handed over says where a picture is on the web, and is none itself."""
    return any(url.scheme() in ("http", "https") for url in mime.urls())


class ArtworkPanel(QWidget):
    """Cards of all artworks; takes files by drop, choice and paste."""

    dropped = Signal(object)
    """The QMimeData of a drop; it lives no longer than the call."""
    choose_requested = Signal()
    paste_requested = Signal()
    put_on_requested = Signal(str, str)
    put_on_new_requested = Signal(str, object)
    remove_requested = Signal(str)
    replace_requested = Signal(str)
    page_requested = Signal(str, int)
    """Artwork key, which page of its document, from 0."""
    turn_requested = Signal(str)
    flip_requested = Signal(str)
    fix_taken_back = Signal(str)
    look_requested = Signal(str)
    """An artwork that is to be shown large."""
    print_changed = Signal(str, object, str)
    print_removed = Signal(str)
    print_set_apart = Signal(str)
    extra_requested = Signal(str)
    extra_changed = Signal(str, object, str)
    extra_removed = Signal(str)

    def __init__(self, gallery: Gallery) -> None:
        super().__init__()
        self._gallery = gallery
        self._job: Job | None = None
        self._findings: tuple[Finding, ...] = ()
        self._replacements = Replacements()
        self._over = False
        self.cards: dict[str, ArtworkCard] = {}
        self._cards = column(space=0)
        self._troubles = column(space=0)
        self._told: list[QWidget] = []
        self.dismiss_all = button("", self.clear_troubles, role="link")
        self.dismiss_all.hide()
        self._empty = self._empty_state()
        self.setAcceptDrops(True)
        self._build()
        gallery.pictures_changed.connect(self._show_pictures)

    def show_job(self, job: Job, shop: Shop, findings: tuple[Finding, ...] = ()) -> None:
        """Show the job's artworks; findings tell what a replaced file changed."""
        self._job, self._findings = job, findings
        keys = [artwork.key for artwork in job.artworks]
        for gone in self.cards.keys() - set(keys):
            card_gone = self.cards.pop(gone)
            card_gone.hide()
            card_gone.deleteLater()
        lines = line_names(job)
        for artwork in job.artworks:
            card = self.cards.get(artwork.key) or self._new_card(artwork.key)
            measuring = self._gallery.is_measuring(artwork)
            more = self._gallery.has_more_pages(artwork)
            known = self._gallery.known(artwork)
            card.show_artwork(job, shop, artwork, lines, measuring=measuring, more_pages=more, facts=known)
            self._forget_spots(card, artwork.key)
            self._show_replaced(card, artwork, measuring=measuring)
        put_in_order(self._cards, [self.cards[key] for key in keys])
        self._empty.setVisible(not keys)
        self._show_pictures()

    def _forget_spots(self, card: ArtworkCard, key: str) -> None:
        """Spots of a finding that is gone must not stay marked."""
        found = (finding.regions for finding in self._findings if finding.artwork == key)
        if card.picture.spots and card.picture.spots not in found:
            card.picture.mark(())

    def expect_replacement(self, key: str, sha256: str) -> None:
        """Remember how an artwork is now: another file is about to be put behind it."""
        if self._job is not None:
            self._replacements.expect(self._job, key, sha256, self._findings)

    def show_trouble(self, sentence: str) -> None:
        """Say, where the file was dropped, why it could not be taken."""
        holder = QWidget()
        inner = row(space=RELATED)
        inner.setContentsMargins(APART, RELATED, APART, RELATED)
        # On one line with the link, which is higher than a line of text.
        told = row(space=RELATED)
        told.setContentsMargins(0, GRID, 0, GRID)
        told.addWidget(StatusMark(Seriousness.STOP), 0, Qt.AlignmentFlag.AlignTop)
        told.addWidget(label(sentence, wrap=True), 1)
        inner.addLayout(told, 1)

        def dismiss() -> None:
            self._told.remove(holder)
            let_go(holder)
            self._offer_to_dismiss_all()

        inner.addWidget(button(wording.DISMISS, dismiss, role="link"), 0, Qt.AlignmentFlag.AlignTop)
        outer = column(space=0)
        outer.addLayout(inner)
        outer.addWidget(line())
        holder.setLayout(outer)
        holder.setAccessibleName(sentence)
        self._troubles.addWidget(holder)
        self._told.append(holder)
        self._offer_to_dismiss_all()

    def troubles(self) -> tuple[str, ...]:
        """The sentences that stand there now."""
        return tuple(holder.accessibleName() for holder in self._told)

    def clear_troubles(self) -> None:
        self._told.clear()
        emptied(self._troubles)
        self._offer_to_dismiss_all()

    def _offer_to_dismiss_all(self) -> None:
        """Sentences on many files would hide the artwork that could be read."""
        self.dismiss_all.setVisible(len(self._told) >= _MANY)
        self.dismiss_all.setText(words.dismiss_all(len(self._told)))

    def take_to_prints(self) -> None:
        """Open the menu of the first artwork that is on no garment yet."""
        for artwork in self._job.artworks if self._job else ():
            card = self.cards[artwork.key]
            if not card.rows:
                card.open_menu()
                return

    def take_to(self, artwork_key: str, print_key: str | None, spots: tuple[Region, ...] = ()) -> None:
        """Bring an artwork into view, spots marked on it, and put the cursor on the print's width."""
        for each in self.cards.values():
            each.picture.mark(())
        card = self.cards.get(artwork_key)
        if card is None:
            return
        print_row = card.rows.get(print_key or "")
        card.picture.mark(spots)
        target: QWidget = print_row.print_width if print_row else card.put_on
        self._area.ensureWidgetVisible(card)
        self._area.ensureWidgetVisible(target)
        target.setFocus()
        if print_row:
            print_row.print_width.selectAll()

    def open_pages(self, key: str) -> PageList:
        """Let a person choose another page of an artwork's document."""
        assert self._job is not None
        frame = Popover(self.window())
        pages = PageList(self._gallery, self._job.artwork(key))
        inner = column(space=0)
        inner.addWidget(pages)
        frame.setLayout(inner)

        def take(page: int) -> None:
            frame.close()
            self.page_requested.emit(key, page)

        pages.chosen.connect(take)
        frame.open_below(self.cards[key].pages, pages.pages)
        return pages

    def _build(self) -> None:
        head = row(space=GRID)
        head.setContentsMargins(APART, RELATED, APART, RELATED)
        head.addWidget(label(words.ARTWORK, strong=True))
        head.addStretch(1)
        head.addWidget(button(wording.CHOOSE_FILES, self.choose_requested.emit, role="link"))
        head.addWidget(button(words.PASTE, self.paste_requested.emit, role="link"))
        inner = QWidget()
        content = QVBoxLayout(inner)
        content.setContentsMargins(0, 0, 0, 0)
        content.setSpacing(0)
        over_all = row(space=0)
        over_all.addStretch(1)
        over_all.addWidget(self.dismiss_all)
        over_all.addSpacing(APART)
        content.addWidget(held(over_all))
        content.addLayout(self._troubles)
        content.addWidget(self._empty, 1)
        content.addLayout(self._cards)
        content.addStretch(1)
        self._area = scrolled(inner)
        whole = column(space=0)
        whole.addLayout(head)
        whole.addWidget(line())
        whole.addWidget(self._area, 1)
        self.setLayout(whole)

    def _empty_state(self) -> QWidget:
        holder = QWidget()
        inner = column(space=RELATED)
        inner.setContentsMargins(APART, 2 * APART, APART, APART)
        inner.addWidget(label(words.DROP_HERE, strong=True))
        inner.addWidget(label(words.DROP_WHY, quiet=True, wrap=True))
        choose = row()
        choose.addWidget(button(wording.CHOOSE_FILES, self.choose_requested.emit))
        choose.addStretch(1)
        inner.addLayout(choose)
        inner.addStretch(1)
        holder.setLayout(inner)
        return holder

    def _show_replaced(self, card: ArtworkCard, artwork: Artwork, *, measuring: bool) -> None:
        before, job = self._replacements.before(artwork), self._job
        lines: tuple[str, ...] = ()
        if before is not None and job is not None:
            lines = what_changed(before, artwork, job, self._findings, measuring=measuring)
        card.replaced.show_lines(lines)

    def _seen(self, key: str) -> None:
        if self._job is not None:
            artwork = self._job.artwork(key)
            self._replacements.seen(artwork)
            self._show_replaced(self.cards[key], artwork, measuring=False)

    def _new_card(self, key: str) -> ArtworkCard:
        card = ArtworkCard(key)
        card.put_on_requested.connect(self.put_on_requested)
        card.put_on_new_requested.connect(self.put_on_new_requested)
        card.remove_requested.connect(self.remove_requested)
        card.replace_requested.connect(self.replace_requested)
        card.pages_requested.connect(self.open_pages)
        card.turn_requested.connect(self.turn_requested)
        card.flip_requested.connect(self.flip_requested)
        card.fix_taken_back.connect(self.fix_taken_back)
        card.look_requested.connect(self.look_requested)
        card.replaced.seen.connect(lambda: self._seen(key))
        card.print_changed.connect(self.print_changed)
        card.print_removed.connect(self.print_removed)
        card.print_set_apart.connect(self.print_set_apart)
        card.extra_requested.connect(self.extra_requested)
        card.extra_changed.connect(self.extra_changed)
        card.extra_removed.connect(self.extra_removed)
        self.cards[key] = card
        return card

    def _show_pictures(self) -> None:
        for artwork in self._job.artworks if self._job else ():
            if artwork.key in self.cards:
                image = self._gallery.picture(artwork, _PICTURE_PX)
                self.cards[artwork.key].show_picture(image, self._colours(artwork))

    def _colours(self, artwork: Artwork) -> tuple[str, ...]:
        job = self._job
        assert job is not None
        lines = (job.line(print_.line) for print_ in job.prints if print_.artwork == artwork.key)
        return tuple(dict.fromkeys(garment.colour.hex for garment in lines))

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        mime = event.mimeData()
        if mime.hasUrls() or mime.hasImage() or mime.hasHtml():
            self._over = True
            self.update()
            event.acceptProposedAction()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self._over = False
        self.update()

    def dropEvent(self, event: QDropEvent) -> None:
        self._over = False
        self.update()
        self.dropped.emit(event.mimeData())
        event.acceptProposedAction()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._over:
            draw_drop_frame(self)
