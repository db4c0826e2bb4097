"""One finding: its shape and sentence, where it is, and show, fix and decide."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QMenu, QWidget

from planner.job.findings import Finding, Seriousness
from planner.measures.lengths import LengthUnit
from planner.paper.to_accept import is_on_proof
from planner.plan import wording as sentences
from planner.window import wording
from planner.window.flow import Flow
from planner.window.look import GRID, RELATED, TARGET, Type
from planner.window.widgets import StatusMark, button, column, label, row


class FindingRow(QWidget):
    """Shows a finding; a decision's reason is typed in place."""

    shown = Signal(object)
    decided = Signal(object, str)
    undecided = Signal(str)
    fix_requested = Signal(object)

    def __init__(self, finding: Finding, place: str, unit: LengthUnit) -> None:
        super().__init__()
        self._finding = finding
        self.says = (finding, place, unit)
        """What it was made to say."""
        self.sentence = label(sentences.finding(finding, unit), wrap=True)
        self.place = label(place, Type.SMALL, quiet=True)
        self.change = label(size=Type.SMALL, strong=True)
        self.show_button = button(wording.SHOW, lambda: self.shown.emit(finding), role="link")
        self.fix_button = button("", lambda: self.fix_requested.emit(finding), role="link")
        self.decide_button = button(wording.DECIDE, self.decide, role="link")
        self.back_button = button(wording.TAKE_BACK, lambda: self.undecided.emit(finding.id), role="link")
        self.reason = QLineEdit()
        self.keep_button = button(wording.KEEP_DECISION, self._keep)
        self._form = self._reason_form()
        self._build()
        # Only now: a widget shown before it has a parent would open as a window.
        self.show_button.setVisible(bool(place))
        self.show_decision("")
        self.show_fix("")
        self.show_change("")

    @property
    def is_deciding(self) -> bool:
        return not self._form.isHidden()

    @property
    def typed(self) -> str:
        return self.reason.text()

    def show_decision(self, reason: str) -> None:
        """Show the reason of a decision, or that there is none yet."""
        self.back_button.setVisible(bool(reason))
        self.decide_button.setVisible(not reason and self._finding.seriousness is not Seriousness.NOTE)
        place = self.says[1]
        told = " · ".join(part for part in (place, f"“{reason}”" if reason else "") if part)
        self.place.setText(told)
        self.place.setVisible(bool(told))

    def show_change(self, words: str) -> None:
        """Say that a finding is new or another one than before."""
        self.change.setText(words)
        self.change.setVisible(bool(words))
        said = f"{self._finding.seriousness.value}: {self.sentence.text()}"
        self.setAccessibleName(f"{words}, {said}" if words else said)

    def show_fix(self, name: str) -> None:
        self.fix_button.setVisible(bool(name))
        self.fix_button.setText(name)
        self.fix_button.setAccessibleName(name)

    def decide(self, typed: str = "") -> None:
        """Open the line for the reason."""
        self._form.show()
        self.reason.setText(typed)
        self.reason.setFocus()

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
        across.addWidget(StatusMark(self._finding.seriousness), 0, Qt.AlignmentFlag.AlignTop)
        across.addLayout(texts, 1)
        self.setLayout(across)

    def _reason_form(self) -> QWidget:
        holder = QWidget()
        asked = wording.REASON_ON_PROOF if is_on_proof(self._finding) else wording.REASON
        self.reason.setPlaceholderText(asked)
        self.reason.setAccessibleName(asked)
        self.reason.setMaxLength(400)
        self.reason.returnPressed.connect(self._keep)
        self.reason.textChanged.connect(lambda text: self.keep_button.setEnabled(bool(text.strip())))
        self.keep_button.setEnabled(False)
        across = row(space=GRID)
        across.setContentsMargins(0, GRID, 0, GRID)
        across.addWidget(self.reason, 1)
        across.addWidget(self.keep_button)
        across.addWidget(button(wording.CANCEL, holder.hide, role="link"))
        holder.setLayout(across)
        holder.hide()
        return holder

    def _keep(self) -> None:
        if reason := self.reason.text().strip():
            self._form.hide()
            self.decided.emit(self._finding, reason)

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
