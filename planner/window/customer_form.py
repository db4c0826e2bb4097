"""Everything about the customer beside the name, and the shop's own note on the job."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QPlainTextEdit, QWidget

from planner.job.document import Job
from planner.window import wording
from planner.window.desk import Desk
from planner.window.fields import TextField
from planner.window.gestures import Gestures
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.popover import Popover
from planner.window.widgets import label

_FIELDS = (
    ("contact", wording.CONTACT, 120),
    ("email", wording.EMAIL, 120),
    ("phone", wording.PHONE, 60),
)
_MOST_NOTE = 4000


class CustomerForm(Popover):
    """Edits as one types; closing keeps all."""

    customer_edited = Signal(object, str)
    """The fields of `Customer` that change, and the gesture."""
    note_edited = Signal(str, str)

    def __init__(self, window: QWidget, job: Job) -> None:
        super().__init__(window)
        grid = QGridLayout(self)
        grid.setContentsMargins(APART, APART, APART, APART)
        grid.setHorizontalSpacing(RELATED)
        grid.setVerticalSpacing(GRID)
        self.fields: dict[str, TextField] = {}
        for at, (name, caption, most) in enumerate(_FIELDS):
            field = TextField(caption, most=most)
            field.edited.connect(partial(self._typed, name))
            field.setMinimumWidth(72 * GRID)
            self.fields[name] = field
            grid.addWidget(label(caption, Type.SMALL, quiet=True), at, 0)
            grid.addWidget(field, at, 1)
        self.address, self.note = _lines(wording.ADDRESS), _lines(wording.NOTE_FOR_SHOP)
        self.show_job(job)
        for at, text in enumerate((self.address, self.note), start=len(_FIELDS)):
            caption_label = label(text.accessibleName(), Type.SMALL, quiet=True)
            grid.addWidget(caption_label, at, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(text, at, 1)
        self.address.textChanged.connect(self._address_typed)
        self.note.textChanged.connect(self._note_typed)

    def show_job(self, job: Job) -> None:
        """Show what the job has, as after an undo; what means it already is left alone."""
        self._shown = job
        for name, field in self.fields.items():
            field.show_value(getattr(job.customer, name))
        if self._address() != job.customer.address:
            self.address.setPlainText("\n".join(job.customer.address))
        if self.note.toPlainText() != job.note:
            self.note.setPlainText(job.note)

    def show_change(self, before: Job, after: Job) -> None:
        self.show_job(after)

    def open_under(self, opener: QWidget) -> None:
        self.open_below(opener, self.fields["contact"])

    def _typed(self, name: str, value: str, gesture: str) -> None:
        self.customer_edited.emit({name: value}, gesture)

    def _address(self) -> tuple[str, ...]:
        return tuple(line for line in self.address.toPlainText().split("\n") if line.strip())

    # One gesture for as long as the form is open.

    def _address_typed(self) -> None:
        if self._address() != self._shown.customer.address:
            self.customer_edited.emit({"address": self._address()}, f"customer_{id(self)}_address")

    def _note_typed(self) -> None:
        note = self.note.toPlainText()[:_MOST_NOTE]
        if note != self._shown.note:
            self.note_edited.emit(note, f"customer_{id(self)}_note")


def open_details(window: QWidget, opener: QWidget, desk: Desk, gestures: Gestures) -> None:
    """Open the form under what asked for it, its edits made as steps of the job."""
    form = CustomerForm(window, desk.job)
    form.customer_edited.connect(gestures.set_customer_details)
    form.note_edited.connect(gestures.set_note)
    desk.job_changed.connect(form.show_change)
    form.open_under(opener)


def _lines(name: str) -> QPlainTextEdit:
    made = QPlainTextEdit()
    made.setAccessibleName(name)
    made.setTabChangesFocus(True)
    made.setFixedHeight(22 * GRID)
    return made
