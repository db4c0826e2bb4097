"""One artwork of the job: its picture, what the file is, and its prints."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QImage
from PySide6.QtWidgets import QMenu, QWidget

from planner.artwork.facts import ArtworkFacts
from planner.job.document import Artwork, Job
from planner.plan.kind_words import FIX_STEPS
from planner.shop.book import Shop
from planner.window import wording
from planner.window.artwork import words
from planner.window.artwork.extra_row import ExtraRow
from planner.window.artwork.picture import ArtworkPicture
from planner.window.artwork.print_row import PrintRow
from planner.window.artwork.replaced import ReplacedNote
from planner.window.carried import carry
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.names import blank_name
from planner.window.widgets import ElidedLabel, button, column, label, line, put_in_order, row


class ArtworkCard(QWidget):
    """Shows one artwork and its prints; everything it tells carries keys."""

    put_on_requested = Signal(str, str)
    """Artwork key, garment line key."""
    put_on_new_requested = Signal(str, object)
    """Artwork key, the key of a blank in the shop book or None for an empty line."""
    remove_requested = Signal(str)
    replace_requested = Signal(str)
    pages_requested = Signal(str)
    """An artwork of whose document another page may be wanted."""
    turn_requested = Signal(str)
    flip_requested = Signal(str)
    fix_taken_back = Signal(str)
    look_requested = Signal(str)
    print_changed = Signal(str, object, str)
    print_removed = Signal(str)
    print_set_apart = Signal(str)
    extra_requested = Signal(str)
    extra_changed = Signal(str, object, str)
    extra_removed = Signal(str)

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self.picture = ArtworkPicture()
        self.picture.pressed.connect(lambda: self.look_requested.emit(self.key))
        self.picture.dragged.connect(lambda: carry(self.picture, self.key, self.picture.grab()))
        self.name = ElidedLabel(strong=True)
        self.about = label(size=Type.SMALL, quiet=True, wrap=True)
        self.replaced = ReplacedNote()
        self.put_on = button(words.PUT_ON, lambda: None, hint=words.PUT_ON_HINT)
        self.rows: dict[str, PrintRow] = {}
        self._lines: tuple[tuple[str, str], ...] = ()
        self._blanks: tuple[tuple[str | None, str], ...] = ()
        self._has_fixes = False
        self.pages = button(
            words.CHOOSE_PAGE,
            lambda: self.pages_requested.emit(self.key),
            role="link",
            hint=words.CHOOSE_PAGE_HINT,
        )
        self.pages.hide()
        self.extra_rows: dict[str, ExtraRow] = {}
        self._prints = column(space=RELATED)
        self._extras = column(space=RELATED)
        self._menu = QMenu(self.put_on)
        self._menu.aboutToShow.connect(self._fill_menu)
        self.put_on.setMenu(self._menu)
        self._build()

    def show_artwork(
        self,
        job: Job,
        shop: Shop,
        artwork: Artwork,
        lines: Sequence[str],
        *,
        measuring: bool,
        more_pages: bool = False,
        facts: ArtworkFacts | None = None,
    ) -> None:
        """Show the artwork, its prints in the job's order, and whether it is still being measured.

        `lines` are the names of the job's garment lines.
        """
        self._lines = tuple((garment.key, name) for garment, name in zip(job.lines, lines, strict=True))
        self._blanks = (
            *((blank.key, blank_name(blank)) for blank in shop.blanks),
            (None, wording.EMPTY_LINE),
        )
        self._has_fixes = bool(artwork.fixes)
        # Another page is measured anew: until then the way back must stay.
        self.pages.setVisible(more_pages or artwork.page > 0)
        self.name.setText(artwork.name)
        self.name.setToolTip(artwork.name)
        self.about.setText(self._about(artwork, facts, measuring))
        prints = [print_ for print_ in job.prints if print_.artwork == artwork.key]
        for gone in self.rows.keys() - {print_.key for print_ in prints}:
            row_gone = self.rows.pop(gone)
            row_gone.hide()
            row_gone.deleteLater()
        for print_ in prints:
            if print_.key not in self.rows:
                made = PrintRow(print_.key)
                made.changed.connect(self.print_changed)
                made.removed.connect(self.print_removed)
                made.set_apart.connect(self.print_set_apart)
                self.rows[print_.key] = made
            self.rows[print_.key].show_print(job, shop, print_, lines)
        put_in_order(self._prints, [self.rows[print_.key] for print_ in prints])
        self._show_extras(job, shop, artwork)

    def _show_extras(self, job: Job, shop: Shop, artwork: Artwork) -> None:
        extras = [extra for extra in job.extras if extra.artwork == artwork.key]
        for gone in self.extra_rows.keys() - {extra.key for extra in extras}:
            row_gone = self.extra_rows.pop(gone)
            row_gone.hide()
            row_gone.deleteLater()
        for extra in extras:
            if extra.key not in self.extra_rows:
                made = ExtraRow(extra.key)
                made.changed.connect(self.extra_changed)
                made.removed.connect(self.extra_removed)
                self.extra_rows[extra.key] = made
            self.extra_rows[extra.key].show_extra(extra, artwork, shop.unit)
        put_in_order(self._extras, [self.extra_rows[extra.key] for extra in extras])

    def show_picture(self, image: QImage | None, colours: tuple[str, ...]) -> None:
        self.picture.show_picture(image, colours)

    def open_menu(self) -> None:
        """Let the person pick the garment line that the artwork goes on."""
        self.put_on.setFocus()
        self.put_on.showMenu()

    def _about(self, artwork: Artwork, facts: ArtworkFacts | None, measuring: bool) -> str:
        size = words.VECTOR if artwork.stays_vector else words.pixels(*artwork.size_px)
        fixes = [FIX_STEPS[fix.step] for fix in artwork.fixes]
        if artwork.page:
            size = f"{size}, {words.page(artwork.page + 1)}"
        parts = [words.media(artwork.media), size]
        if facts is not None and facts.ink is not None:
            parts += [words.colours(facts.flat_colours, facts.style), *words.file_notes(facts.notes)]
        parts += [words.mended_by(fixes) if fixes else "", words.MEASURING if measuring else ""]
        return " · ".join(filter(None, parts))

    def _build(self) -> None:
        more = button("⋯", lambda: None, role="link", hint=words.ARTWORK_MORE)
        more.setAccessibleName(words.ARTWORK_MORE)
        more.setFixedWidth(7 * GRID)
        more.clicked.connect(lambda: self._context(more.mapToGlobal(QPoint(0, more.height()))))
        beside = column(space=0)
        named = row(space=0)
        named.addWidget(self.name, 1)
        named.addWidget(more)
        beside.addLayout(named)
        beside.addWidget(self.about)
        beside.addWidget(self.pages, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addStretch(1)
        buttons = row(space=GRID)
        buttons.addWidget(self.put_on)
        buttons.addStretch(1)
        beside.addLayout(buttons)
        head = row(space=3 * GRID)
        head.addWidget(self.picture, 0, Qt.AlignmentFlag.AlignTop)
        head.addLayout(beside, 1)
        whole = column(space=3 * GRID)
        whole.setContentsMargins(APART, 3 * GRID, APART, 0)
        whole.addLayout(head)
        whole.addWidget(self.replaced)
        whole.addLayout(self._prints)
        whole.addLayout(self._extras)
        whole.addSpacing(GRID)
        whole.addWidget(line())
        self.setLayout(whole)

    def _fill_menu(self) -> None:
        self._menu.clear()
        for key, name in self._lines:
            self._menu.addAction(name, partial(self.put_on_line, key))
        # Artwork may come before any garment: then the garments are what is chosen here.
        new = self._menu.addMenu(words.ON_NEW_LINE) if self._lines else self._menu
        for blank, name in self._blanks:
            new.addAction(name, partial(self.put_on_new_requested.emit, self.key, blank))

    def put_on_line(self, line: str) -> None:
        """Ask for a print, and put the cursor where its width is typed."""
        known = set(self.rows)
        self.put_on_requested.emit(self.key, line)
        for key in self.rows.keys() - known:
            self.rows[key].print_width.setFocus(Qt.FocusReason.TabFocusReason)

    def _context(self, at: QPoint) -> None:
        menu = QMenu(self)
        self.fill_more(menu)
        menu.popup(at)

    def fill_more(self, menu: QMenu) -> None:
        """What else can be done with the artwork."""
        menu.addAction(wording.REPLACE_FILE, lambda: self.replace_requested.emit(self.key))
        if self.pages.isVisibleTo(self):
            menu.addAction(words.CHOOSE_PAGE, lambda: self.pages_requested.emit(self.key))
        menu.addAction(words.TURN, lambda: self.turn_requested.emit(self.key))
        menu.addAction(words.FLIP, lambda: self.flip_requested.emit(self.key))
        take_back = menu.addAction(words.TAKE_BACK_FIX, lambda: self.fix_taken_back.emit(self.key))
        take_back.setEnabled(self._has_fixes)
        menu.addAction(words.ADD_EXTRA, lambda: self.extra_requested.emit(self.key))
        menu.addSeparator()
        menu.addAction(words.REMOVE_ARTWORK, lambda: self.remove_requested.emit(self.key))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self._context(event.globalPos())
