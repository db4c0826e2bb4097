"""The page of garment lines."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QWidget

from planner.job.document import Job
from planner.plan.model import Missing
from planner.shop.book import Shop
from planner.window import wording
from planner.window.garments import words
from planner.window.garments.line_form import LineForm
from planner.window.look import APART, GRID, RELATED
from planner.window.names import blank_name
from planner.window.widgets import button, column, label, put_in_order, row, scrolled


class GarmentsPage(QWidget):
    """All garment lines of the job, and the way to add one."""

    line_added = Signal(object)
    """The key of a blank in the shop book, or None for an empty line."""
    line_changed = Signal(str, object, str, str)
    line_duplicated = Signal(str)
    line_removed = Signal(str)
    files_dropped = Signal(str, object)
    artwork_dropped = Signal(str, str)
    print_followed = Signal(str)
    counts_requested = Signal()
    demo_requested = Signal()
    jobs_requested = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.forms: dict[str, LineForm] = {}
        self._blanks: tuple[tuple[str, str], ...] = ()
        self.add = button(wording.ADD_LINE, lambda: None)
        self._menu = QMenu(self.add)
        self._menu.aboutToShow.connect(self._fill_menu)
        self.add.setMenu(self._menu)
        self._forms = column(space=0)
        self._empty = self._empty_state()
        inner = QWidget()
        content = column(space=0)
        content.addWidget(self._empty)
        content.addLayout(self._forms)
        below = row()
        below.setContentsMargins(APART, APART, APART, APART)
        below.addWidget(self.add)
        below.addWidget(button(wording.IMPORT_COUNTS, self.counts_requested.emit))
        self._demo = button(words.OPEN_DEMO_LINK, self.demo_requested.emit, role="link")
        self._jobs = button(words.OPEN_JOBS_LINK, self.jobs_requested.emit, role="link")
        below.addStretch(1)
        content.addLayout(below)
        # Below one another: side by side they would be cut in a narrow window with large type.
        links = column(space=0)
        links.setContentsMargins(APART - GRID, 0, APART, APART)
        links.addWidget(self._demo)
        links.addWidget(self._jobs)
        content.addLayout(links)
        content.addStretch(1)
        inner.setLayout(content)
        self._area = scrolled(inner)
        whole = column(space=0)
        whole.addWidget(self._area)
        self.setLayout(whole)

    def show_job(self, job: Job, shop: Shop) -> None:
        """Show the job's garment lines."""
        self._blanks = tuple((blank.key, blank_name(blank)) for blank in shop.blanks)
        keys = [garment.key for garment in job.lines]
        for gone in self.forms.keys() - set(keys):
            form_gone = self.forms.pop(gone)
            form_gone.hide()
            form_gone.deleteLater()
        for garment in job.lines:
            form = self.forms.get(garment.key) or self._new_form(garment.key, shop)
            form.show_line(job, shop, garment)
        put_in_order(self._forms, [self.forms[key] for key in keys])
        self._empty.setVisible(not keys)
        for link in (self._demo, self._jobs):
            link.setVisible(not keys and not job.artworks)

    def take_to(self, missing: Missing) -> None:
        """Put the cursor where something is missing."""
        if missing is Missing.GARMENTS or not self.forms:
            self.add.setFocus()
            self.add.showMenu()
            return
        empty = [form for form in self.forms.values() if not form.is_counted]
        form = (empty or list(self.forms.values()))[0]
        self._area.ensureWidgetVisible(form)
        form.sizes.focus_first()

    def take_to_line(self, key: str) -> None:
        """Bring a line into view, the cursor in its style, or in its counts where only they are wanting."""
        if form := self.forms.get(key):
            self._area.ensureWidgetVisible(form)
            if form.style_field.value and not form.is_counted:
                form.sizes.focus_first()
            else:
                form.style_field.setFocus()

    def _new_form(self, key: str, shop: Shop) -> LineForm:
        form = LineForm(key, shop.currency)
        form.changed.connect(self.line_changed)
        form.duplicate_requested.connect(self.line_duplicated)
        form.remove_requested.connect(self.line_removed)
        form.files_dropped.connect(self.files_dropped)
        form.artwork_dropped.connect(self.artwork_dropped)
        form.print_followed.connect(self.print_followed)
        self.forms[key] = form
        return form

    def _empty_state(self) -> QWidget:
        holder = QWidget()
        inner = column(space=RELATED)
        inner.setContentsMargins(APART, 2 * APART, APART, 0)
        inner.addWidget(label(words.NO_LINES, strong=True))
        inner.addWidget(label(words.NO_LINES_WHY, quiet=True, wrap=True))
        holder.setLayout(inner)
        return holder

    def _fill_menu(self) -> None:
        self._menu.clear()
        for key, name in self._blanks:
            self._menu.addAction(name, partial(self.line_added.emit, key))
        if self._blanks:
            self._menu.addSeparator()
        self._menu.addAction(wording.EMPTY_LINE, partial(self.line_added.emit, None))
