"""The shop's jobs in a window of its own, beside the open one: searched by typing, opened by Enter."""

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLineEdit, QStackedWidget, QTableView, QWidget

from planner.job.state import JobState
from planner.storage.job_list import Listed
from planner.window import wording
from planner.window.beside import come_up
from planner.window.jobs import words
from planner.window.jobs.model import CUSTOMER, DUE, NEXT, STATE, TITLE, TOTAL, JobsModel, Wish, chosen
from planner.window.look import APART, GRID, RELATED, TARGET, tokens_of
from planner.window.widgets import Combo, ElidedLabel, SideWindow, button, column, label, row

_WIDTHS = {TITLE: 240, CUSTOMER: 170, DUE: 120, STATE: 110, TOTAL: 110, NEXT: 310}
_SHOWN = (
    (words.ALL_JOBS, frozenset(JobState)),
    (words.OPEN_JOBS, frozenset(JobState) - {JobState.DELIVERED}),
    *((words.state(state), frozenset({state})) for state in JobState),
)


class JobsWindow(SideWindow):
    """Shows jobs and tells which one is wanted."""

    open_requested = Signal(Path)
    again_requested = Signal(Path)
    after_requested = Signal(Path)
    folder_requested = Signal()

    def __init__(self, parent: QWidget | None, today: Callable[[], date]) -> None:
        super().__init__(parent)
        self._jobs: Sequence[Listed] = ()
        self._wish = Wish()
        self._reading = False
        self._trouble = ""
        self.setWindowTitle(words.JOBS)
        self.resize(1080, 640)
        self.setMinimumSize(640, 360)
        self.search = QLineEdit()
        self.search.setAccessibleName(words.SEARCH)
        self.search.setPlaceholderText(words.SEARCH_HINT)
        self.search.setClearButtonEnabled(True)
        self.which = Combo(words.WHICH)
        self.which.addItems([name for name, _ in _SHOWN])
        self.folder = ElidedLabel()
        self.folder.setProperty("quiet", True)
        self.choose_folder = button(words.FOLDER, self.folder_requested.emit, hint=words.FOLDER_HINT)
        self.model = JobsModel(today, lambda: tokens_of(self))
        self.table = QTableView()
        self.said = label(quiet=True, wrap=True)
        self.open = button(words.OPEN, self._open, role="main")
        self.again = button(words.AGAIN, self._again, hint=words.AGAIN_HINT)
        self.after = button(wording.AFTER_JOB_LINK, self._after, hint=words.COUNT_LEFT)
        self._nothing, self._nothing_why = label(strong=True), label(quiet=True, wrap=True)
        self._stack = QStackedWidget()
        self._dress_table()
        self._build()
        self._dress()
        self.search.textChanged.connect(self._wished)
        self.search.installEventFilter(self)
        self.which.activated.connect(self._wished)
        self._show_rows()

    @property
    def current(self) -> Listed | None:
        """The job that the cursor is on."""
        at = self.table.currentIndex()
        return self.model.rows[at.row()] if at.isValid() else None

    def show_jobs(self, jobs: Sequence[Listed], trouble: str, folder: Path | None, *, reading: bool) -> None:
        """Show what was found; the cursor stays on its job."""
        self._jobs, self._reading = jobs, reading
        self.folder.setText(words.in_folder(str(folder)) if folder else words.NO_FOLDER)
        self.folder.setToolTip(str(folder) if folder else words.NO_FOLDER)
        self._trouble = trouble
        self._show_rows()

    def come_up(self) -> None:
        """Show the window, the cursor in the search."""
        come_up(self)
        self.search.setFocus()
        self.search.selectAll()

    def _build(self) -> None:
        above = row(space=RELATED)
        above.setContentsMargins(APART, APART, APART, RELATED)
        above.addWidget(self.search, 3)
        above.addWidget(self.which)
        above.addSpacing(RELATED)
        above.addWidget(self.folder, 2)
        above.addWidget(self.choose_folder)
        nothing = column(space=RELATED)
        nothing.setContentsMargins(APART, 2 * APART, APART, 0)
        nothing.addWidget(self._nothing)
        nothing.addWidget(self._nothing_why)
        nothing.addStretch(1)
        empty = QWidget()
        empty.setLayout(nothing)
        self._stack.addWidget(self.table)
        self._stack.addWidget(empty)
        below = row(space=RELATED)
        below.setContentsMargins(APART, RELATED, APART, APART)
        below.addWidget(self.said, 1)
        below.addWidget(self.after)
        below.addWidget(self.again)
        below.addWidget(self.open)
        whole = column(space=0)
        whole.addLayout(above)
        whole.addWidget(self._stack, 1)
        whole.addLayout(below)
        self.setLayout(whole)

    def _dress_table(self) -> None:
        table, header = self.table, self.table.horizontalHeader()
        table.setModel(self.model)
        table.setAccessibleName(words.JOBS)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setTabKeyNavigation(False)
        table.setShowGrid(False)
        table.setWordWrap(False)
        table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        table.verticalHeader().hide()
        table.verticalHeader().setDefaultSectionSize(TARGET + GRID)
        for at, width in _WIDTHS.items():
            table.setColumnWidth(at, width)
        header.setSectionResizeMode(TITLE, QHeaderView.ResizeMode.Stretch)
        header.setSectionsClickable(True)
        header.setSortIndicatorShown(True)
        header.setSortIndicator(DUE, Qt.SortOrder.AscendingOrder)
        header.setHighlightSections(False)
        header.sortIndicatorChanged.connect(self._wished)
        table.activated.connect(self._open)
        table.selectionModel().currentChanged.connect(self._moved)

    def _dress(self) -> None:
        tokens = tokens_of(self)
        self.table.setStyleSheet(
            f"QTableView {{ background: {tokens.ground}; border: none; border-top: 1px solid {tokens.line};"
            f"border-bottom: 1px solid {tokens.line}; outline: none;"
            f"selection-background-color: {tokens.chosen}; selection-color: {tokens.text}; }}"
            f"QTableView::item {{ padding: 0 {2 * GRID}px; border-bottom: 1px solid {tokens.line}; }}"
            f"QTableView::item:selected {{ background: {tokens.chosen}; color: {tokens.text}; }}"
        )

    def _wished(self) -> None:
        header = self.table.horizontalHeader()
        self._wish = Wish(
            self.search.text(),
            _SHOWN[max(0, self.which.currentIndex())][1],
            header.sortIndicatorSection(),
            header.sortIndicatorOrder() is Qt.SortOrder.DescendingOrder,
        )
        self._show_rows()

    def _show_rows(self) -> None:
        before = self.current.path if self.current else None
        rows = chosen(self._jobs, self._wish)
        self.table.clearSpans()
        self.model.show_rows(rows)
        for at, job in enumerate(rows):
            if job.summary is None:
                # The sentence needs the room of all other columns.
                self.table.setSpan(at, CUSTOMER, 1, NEXT)
        if rows:
            self.table.selectRow(self.model.row_of(before) or 0)
        self._stack.setCurrentIndex(0 if rows else 1)
        none = not self._jobs
        self._nothing.setText(
            words.LOOKING if self._reading and none else words.NO_JOBS if none else words.NONE_FOUND
        )
        self._nothing_why.setText(
            "" if self._reading and none else words.NO_JOBS_WHY if none else words.NONE_FOUND_WHY
        )
        self.said.setText(self._trouble or words.count(len(rows), len(self._jobs)))
        self._moved()

    def _moved(self, *moved: QModelIndex) -> None:
        job = self.current
        usable = job is not None and job.summary is not None
        for act in (self.open, self.again, self.after):
            act.setEnabled(usable)

    def _open(self, *where: QModelIndex) -> None:
        if (job := self.current) is not None and job.summary is not None:
            self.open_requested.emit(job.path)

    def _again(self) -> None:
        if (job := self.current) is not None and job.summary is not None:
            self.again_requested.emit(job.path)

    def _after(self) -> None:
        if (job := self.current) is not None and job.summary is not None:
            self.after_requested.emit(job.path)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """From the search the arrows move through the list, and Enter opens."""
        if watched is self.search and event.type() is QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._open()
                return True
            steps = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
            if (step := steps.get(Qt.Key(event.key()))) is not None and self.model.rows:
                at = self.table.currentIndex().row() + step
                self.table.selectRow(max(0, min(at, len(self.model.rows) - 1)))
                return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.search.text():
            self.search.clear()
        else:
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange and hasattr(self, "_stack"):
            self._dress()
