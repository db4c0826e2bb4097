"""The foot of the window: what was done or went wrong, and work under way with its stop. Never a dialog."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QApplication, QProgressBar, QPushButton, QWidget

from planner.job.findings import Seriousness
from planner.window import wording
from planner.window.look import APART, GRID, RELATED, TARGET
from planner.window.widgets import StatusMark, button, column, emptied, is_seen, label, line, row

_SHOWN_MS = 12_000

Choice = tuple[str, Callable[[], object]]


class Foot(QWidget):
    """One line of message with what can be done about it, and one of progress."""

    stop_requested = Signal(str)
    """Whose work is to stop."""

    def __init__(self) -> None:
        super().__init__()
        self.text = label(wrap=True)
        self._mark = StatusMark(Seriousness.NOTE)
        self._choices = row(space=RELATED)
        self._offered: list[str] = []
        self.choices: list[QPushButton] = []
        self._doings: list[Callable[[], object]] = []
        self._work = label(quiet=True)
        self._progress = QProgressBar()
        self._progress.setFixedSize(40 * GRID, 2 * GRID)
        self._progress.setTextVisible(False)
        self.stop = button(wording.STOP_WORK, lambda: self.stop_requested.emit(self._shown), role="link")
        self._works: dict[str, tuple[str, int, int, bool]] = {}
        self._shown = ""
        self._standing: tuple[str, tuple[Choice, ...]] = (wording.HINT, ())
        self._is_telling = False
        self._cursor_was: QWidget | None = None
        """What had the cursor before a choice took it."""
        app = QApplication.instance()
        assert isinstance(app, QApplication)
        app.focusChanged.connect(self._cursor_moved)
        self._forget = QTimer(self)
        self._forget.setSingleShot(True)
        self._forget.timeout.connect(self.clear)
        across = row(space=RELATED)
        across.setContentsMargins(APART, GRID, APART, GRID)
        across.addWidget(self._mark)
        across.addWidget(self.text, 1)
        across.addLayout(self._choices)
        across.addSpacing(RELATED)
        for part in (self._work, self._progress, self.stop):
            across.addWidget(part)
        whole = column(space=0)
        whole.addWidget(line())
        whole.addLayout(across)
        self.setLayout(whole)
        self.setProperty("role", "foot")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setMinimumHeight(TARGET + 2 * GRID + 1)
        self.clear()
        self.show_work("", "")

    def say(self, sentence: str, choices: Sequence[Choice] = ()) -> None:
        """Tell what was done; without choices it fades after a while."""
        self._show(sentence, Seriousness.NOTE, choices)
        if not choices:
            self._forget.start(_SHOWN_MS)

    def warn(self, sentence: str, choices: Sequence[Choice] = ()) -> None:
        """Tell what went wrong or must be decided; stays until something else is told."""
        self._show(sentence, Seriousness.STOP, choices or ((wording.DISMISS, self.clear),))

    def ask(self, sentence: str, choices: Sequence[Choice]) -> None:
        """Ask for a choice; the first gets the cursor."""
        self._show(sentence, Seriousness.LOOK, choices)
        self.choices[0].setFocus()

    def clear(self) -> None:
        """Show what stands here while nothing else is told."""
        self._forget.stop()
        self._is_telling = False
        sentence, choices = self._standing
        self._show_text(sentence, quiet=not choices)
        self._mark.setVisible(False)
        self._raise_attention(False)
        self._offer(choices)

    def pass_on(self) -> None:
        """The job is another one: what was done to the one before need not be true of it."""
        if self._forget.isActive():
            self.clear()

    def stand(self, sentence: str, choices: Sequence[Choice] = ()) -> None:
        """What to show while nothing else is told; an empty sentence brings the hint back."""
        standing = (sentence or wording.HINT, tuple(choices))
        if standing[0] != self._standing[0]:
            self._standing = standing
            if not self._is_telling:
                self.clear()

    def show_work(self, owner: str, what: str, done: int = 0, of: int = 0, *, can_stop: bool = True) -> None:
        """Show work under way of one owner, or that it ended with an empty name; the newest is shown."""
        self._works.pop(owner, None)
        if what:
            self._works[owner] = (what, done, of, can_stop)
        self._shown = next(reversed(self._works), "")
        what, done, of, can_stop = self._works.get(self._shown, ("", 0, 0, False))
        for part in (self._work, self._progress):
            part.setVisible(bool(what))
        self.stop.setVisible(can_stop)
        if what:
            self._work.setText(what)
            self._progress.setAccessibleName(what)
            self._progress.setRange(0, of)
            self._progress.setValue(done)

    def _show(self, sentence: str, serious: Seriousness, choices: Sequence[Choice]) -> None:
        self._forget.stop()
        self._is_telling = True
        self._show_text(sentence)
        self._mark.show_seriousness(serious)
        self._mark.setVisible(True)
        self._raise_attention(serious is not Seriousness.NOTE)
        self._offer(choices)

    def _offer(self, choices: Sequence[Choice]) -> None:
        self._doings = [chosen for _, chosen in choices]
        if (names := [name for name, _ in choices]) == self._offered:
            return
        self._offered = names
        if any(each.hasFocus() for each in self.choices):
            self._give_cursor_back()
        emptied(self._choices)
        self.choices = [button(name, partial(self._choose, at)) for at, name in enumerate(names)]
        for made in self.choices:
            self._choices.addWidget(made)
            # At once: what is shown by the next event only could not take the cursor.
            made.show()

    def _cursor_moved(self, before: QWidget | None, now: QWidget | None) -> None:
        if now in self.choices and before not in self.choices:
            self._cursor_was = before

    def _give_cursor_back(self) -> None:
        """To what had it: Qt would hand it to the window's first field."""
        was, self._cursor_was = self._cursor_was, None
        if is_seen(was):
            was.setFocus()

    def _raise_attention(self, needed: bool) -> None:
        """Another ground where somebody has to act."""
        if self.property("attention") is needed:
            return
        self.setProperty("attention", needed)
        self.style().unpolish(self)
        self.style().polish(self)

    def _show_text(self, text: str, *, quiet: bool = False) -> None:
        self.text.setText(text)
        if self.text.property("quiet") is quiet:
            return
        self.text.setProperty("quiet", quiet)
        self.text.style().unpolish(self.text)
        self.text.style().polish(self.text)

    def _choose(self, at: int) -> None:
        chosen = self._doings[at]
        self.clear()
        chosen()
