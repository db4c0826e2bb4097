"""Hints on the page of offers: each a sentence, with a button where something can be done about it."""

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QWidget

from planner.job.findings import Seriousness
from planner.window.look import APART, RELATED
from planner.window.offers.hints import Hint
from planner.window.widgets import StatusMark, button, column, emptied, held, label, row


class HintRows(QWidget):
    """Hints one below the other; away while there are none."""

    taken = Signal(object)
    """The `Hint` whose button was pressed."""

    def __init__(self) -> None:
        super().__init__()
        self._rows = column(space=RELATED)
        self._rows.setContentsMargins(APART, RELATED, APART, RELATED)
        self.setLayout(self._rows)
        self._buttons: list[QPushButton] = []
        self._shown: tuple[Hint, ...] = ()
        self.hide()

    @property
    def has_cursor(self) -> bool:
        return any(made.hasFocus() for made in self._buttons)

    def take_to(self, hint: Hint) -> QWidget:
        """Put the cursor on a hint's button, and give it."""
        made = self._buttons[[each for each in self._shown if each.action].index(hint)]
        made.setFocus()
        return made

    def would_change(self, hints: Sequence[Hint]) -> bool:
        """Whether showing these takes away what is shown now."""
        return tuple(hints) != self._shown

    def show_hints(self, hints: Sequence[Hint]) -> None:
        if not self.would_change(hints):
            return
        self._shown, self._buttons = tuple(hints), []
        emptied(self._rows)
        for hint in hints:
            across = row(space=RELATED)
            across.addWidget(StatusMark(Seriousness.NOTE), 0, Qt.AlignmentFlag.AlignTop)
            across.addWidget(label(hint.sentence, wrap=True), 1)
            if hint.action:
                self._buttons.append(button(hint.action, partial(self.taken.emit, hint)))
                across.addWidget(self._buttons[-1], 0, Qt.AlignmentFlag.AlignTop)
            self._rows.addWidget(held(across))
        self.setVisible(bool(hints))
