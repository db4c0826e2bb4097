"""One finding: its shape and sentence, where it is, and show, fix and decide."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QWidget

from planner.job.findings import Finding, Seriousness
from planner.measures.lengths import LengthUnit
from planner.paper.to_accept import is_on_proof
from planner.plan import wording as sentences
from planner.window.findings import words
from planner.window.flow import Flow
from planner.window.look import GRID, RELATED, TARGET, Type
from planner.window.widgets import StatusMark, button, column, label, row


class FindingRow(QWidget):
    """Shows a finding; a decision's reason is typed in place."""

    shown = Signal(object)
    decided = Signal(object, str)
    undecided = Signal(str)
    fix_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._finding: Finding | None = None
        self._place = ""
        self._mark = StatusMark(Seriousness.NOTE)
        self.sentence = label(wrap=True)
        self.place = label(size=Type.SMALL, quiet=True)
        self.change = label(size=Type.SMALL, strong=True)
        self.show_button = button(words.SHOW, lambda: self.shown.emit(self._finding), role="link")
        self.fix_button = button("", lambda: self.fix_requested.emit(self._finding), role="link")
        self.decide_button = button(words.DECIDE, self.decide, role="link")
        self.back_button = button(words.TAKE_BACK, self._take_back, role="link")
        self.reason = QLineEdit()
        self.keep_button = button(words.KEEP_DECISION, self._keep)
        self._form = self._reason_form()
        self._build()
        self.show_change("")

    @property
    def is_deciding(self) -> bool:
        return not self._form.isHidden()

    def show_finding(self, finding: Finding, place: str, unit: LengthUnit) -> None:
        """Say a finding and where it is; a reason half typed stays."""
        self._finding, self._place = finding, place
        self.sentence.setText(sentences.finding(finding, unit))
        self._mark.show_seriousness(finding.seriousness)
        self.show_button.setVisible(bool(place))
        asked = words.REASON_ON_PROOF if is_on_proof(finding) else words.REASON
        self.reason.setPlaceholderText(asked)
        self.reason.setAccessibleName(asked)

    def show_decision(self, reason: str) -> None:
        """Show the reason of a decision, or that there is none yet."""
        self.back_button.setVisible(bool(reason))
        noted = self._finding is not None and self._finding.seriousness is Seriousness.NOTE
        self.decide_button.setVisible(not reason and not noted)
        told = " · ".join(part for part in (self._place, f"“{reason}”" if reason else "") if part)
        self.place.setText(told)
        self.place.setVisible(bool(told))

    def show_change(self, words: str) -> None:
        """Say that a finding is new or another one than before."""
        self.change.setText(words)
        self.change.setVisible(bool(words))
        said = f"{self._mark.accessibleName()}: {self.sentence.text()}"
        self.setAccessibleName(f"{words}, {said}" if words else said)

    def show_fix(self, name: str) -> None:
        self.fix_button.setVisible(bool(name))
        self.fix_button.setText(name)
        self.fix_button.setAccessibleName(name)

    def decide(self) -> None:
        """Open the line for the reason."""
        self._form.show()
        self.reason.clear()
        self.reason.setFocus()

    def go_on_deciding(self, reason: str) -> None:
        """Open the line for a reason that was half typed, the cursor staying where it is."""
        self._form.show()
        self.reason.setText(reason)

    def take_cursor(self) -> bool:
        """Put the cursor on the first thing that can be done about the finding; whether there is any."""
        doings = (self.fix_button, self.decide_button, self.back_button, self.show_button)
        first = next((each for each in doings if not each.isHidden()), None)
        if first is not None:
            first.setFocus()
        return first is not None

    def _build(self) -> None:
        for told in (self.change, self.place):
            told.setMinimumHeight(TARGET)
        # The links stand under the sentence: it has the whole width, however narrow the page is.
        below = Flow(across=RELATED, down=0)
        for part in (
            self.change,
            self.place,
            self.fix_button,
            self.decide_button,
            self.back_button,
            self.show_button,
        ):
            below.addWidget(part)
        texts = column(space=0)
        texts.addWidget(self.sentence)
        texts.addLayout(below)
        texts.addWidget(self._form)
        across = row(space=RELATED)
        across.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        across.addLayout(texts, 1)
        self.setLayout(across)

    def _reason_form(self) -> QWidget:
        holder = QWidget()
        self.reason.setMaxLength(400)
        self.reason.returnPressed.connect(self._keep)
        self.reason.textChanged.connect(lambda text: self.keep_button.setEnabled(bool(text.strip())))
        self.keep_button.setEnabled(False)
        across = row(space=GRID)
        across.setContentsMargins(0, GRID, 0, GRID)
        across.addWidget(self.reason, 1)
        across.addWidget(self.keep_button)
        across.addWidget(button(words.CANCEL, holder.hide, role="link"))
        holder.setLayout(across)
        holder.hide()
        return holder

    def _keep(self) -> None:
        if reason := self.reason.text().strip():
            self._form.hide()
            self.decided.emit(self._finding, reason)

    def _take_back(self) -> None:
        if self._finding is not None:
            self.undecided.emit(self._finding.id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.is_deciding:
            self._form.hide()
            self.decide_button.setFocus()
            return
        super().keyPressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = QMenu(self)
        for each in (self.show_button, self.fix_button, self.decide_button, self.back_button):
            if not each.isHidden():
                menu.addAction(each.text(), each.click)
        menu.popup(event.globalPos())
