"""Inputs shared by all panels: typed freely, read when done, never losing the last good value.

A field that cannot read its text keeps it, says once it is left or Enter is pressed what it expects,
in a sentence beside itself, and goes back to the last good value with Escape. `edited` carries the
value and a gesture: edits with the same gesture are one undo step.
"""

import itertools
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QEvent, QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit

from planner.measures.lengths import LengthUnit, format_length
from planner.plan.wording import bare_money
from planner.shop.cloth import FibreShare
from planner.window import field_words
from planner.window.look import GRID, Type, tokens_of, type_font, wide_enough
from planner.window.readings import (
    Unreadable,
    read_count,
    read_date,
    read_fibres,
    read_money,
    read_print_width,
    say_fibres,
)

V = TypeVar("V")
_gestures = itertools.count(1)


class Field(QLineEdit, Generic[V]):
    """A line that reads its text into a value.

    With `live` every readable keystroke is an edit, all of one visit to the field being one gesture;
    text that means nothing yet edits nothing, and Escape takes the whole visit back. Else the value is
    taken on Enter or when the field is left.
    """

    edited = Signal(object, str)
    """The new value, and the gesture it belongs to."""

    def __init__(
        self, name: str, read: Callable[[str], V], say: Callable[[V], str], value: V, *, live: bool = False
    ) -> None:
        super().__init__()
        self._read, self._say = read, say
        self._value = self._start = value
        self._live = live
        self._note: QLabel | None = None
        self._name = name
        self._gesture = ""
        self.setAccessibleName(name)
        self.setText(say(value))
        self.textEdited.connect(self._text_edited)
        self.editingFinished.connect(self.commit)

    @property
    def value(self) -> V:
        """The last good value."""
        return self._value

    @property
    def typed(self) -> V | None:
        """What stands in it while it is being typed; None where that means nothing, or not yet."""
        try:
            return self._read(self.text()) if self.isModified() else self._value
        except ValueError:
            return None

    @property
    def is_wrong(self) -> bool:
        return self._note is not None

    def show_value(self, value: V) -> None:
        """Show a value; what is being typed, or is complained of, stays unless the value is another one."""
        is_new, self._value = value != self._value, value
        if is_new:
            self._start = value
        if self.isModified() and (self.is_wrong or self.hasFocus()) and (not is_new or self._means(value)):
            return
        self._drop_note()
        text = self._say(value)
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)
        self.setModified(False)

    def commit(self) -> None:
        """Take what was typed; called on Enter, on leaving, and before anything uses the job."""
        if not self.isModified():
            return
        try:
            value = self._read(self.text())
        except ValueError as error:
            self._complain(str(error))
            # What was typed on the way to it was never meant: the value from before stands.
            self._take_back()
            return
        self.setModified(False)
        self._drop_note()
        self._take(value)
        self._gesture = ""
        self.setText(self._say(self._value))

    def revert(self) -> None:
        """Back to the last good value, which is that from before the visit."""
        self._drop_note()
        self._take_back()
        self.setText(self._say(self._value))
        self.setModified(False)

    def align_figures(self, sample: str) -> None:
        """Right aligned figures of equal width, room for the sample."""
        self.setFont(type_font(self.font(), Type.BODY))
        self.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setFixedWidth(wide_enough(self.font(), sample) + 4 * GRID)

    @property
    def _stood(self) -> V:
        """The value from before anything was typed."""
        return self._start if self._gesture else self._value

    def _take(self, value: V) -> None:
        if value != self._value:
            if not self._gesture:
                self._start = self._value
                self._gesture = f"{self._name} {next(_gestures)}"
            self._value = value
            self.edited.emit(value, self._gesture)

    def _take_back(self) -> None:
        """Undo the edits of this visit; the step that they are in ends where it began, and is none."""
        self._take(self._stood)
        self._gesture = ""

    def _means(self, value: V) -> bool:
        try:
            return bool(self._read(self.text()) == value)
        except ValueError:
            return False

    def _text_edited(self, text: str) -> None:
        self.setModified(True)
        if self._note is None and not self._live:
            return
        try:
            value = self._read(text)
        except ValueError:
            return
        self._drop_note()
        if self._live:
            self._take(value)

    def _complain(self, sentence: str) -> None:
        """Say beside the field what is wrong, over what lies there: nothing moves."""
        if self._note is None:
            self._note = QLabel(self.window())
            self._note.setTextFormat(Qt.TextFormat.PlainText)
            self._note.setWordWrap(True)
            self._note.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        tokens = tokens_of(self)
        self._note.setStyleSheet(
            f"background: {tokens.field}; color: {tokens.text}; border: 2px solid {tokens.stop};"
            f"border-radius: 3px; padding: {GRID}px;"
        )
        self._note.setText(sentence)
        self.setAccessibleDescription(sentence)
        self._mark_wrong(True)
        self._place_note(self._note)

    def _place_note(self, note: QLabel) -> None:
        window = self.window()
        note.setFixedWidth(min(80 * GRID, window.width() - 4 * GRID))
        note.adjustSize()
        corner = self.mapTo(window, QPoint(0, self.height() + GRID // 2))
        most_x = window.width() - note.width() - 2 * GRID
        if corner.y() + note.height() > window.height():
            corner.setY(corner.y() - self.height() - note.height() - GRID)
        note.move(max(2 * GRID, min(corner.x(), most_x)), corner.y())
        note.raise_()
        note.show()

    def _drop_note(self) -> None:
        if self._note is not None:
            self._note.hide()
            self._note.deleteLater()
            self._note = None
            self.setAccessibleDescription("")
            self._mark_wrong(False)

    def _mark_wrong(self, wrong: bool) -> None:
        self.setProperty("wrong", wrong)
        self.style().unpolish(self)
        self.style().polish(self)

    def event(self, event: QEvent) -> bool:
        # Undo belongs to the job, not to the letters of one field; text not taken yet goes back first.
        if event.type() is QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            undo, redo = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo
            if event.matches(undo) or event.matches(redo):
                event.setAccepted(event.matches(undo) and self.isModified() and not self._means(self._value))
                return True
            if event.matches(QKeySequence.StandardKey.Paste) and not QApplication.clipboard().text():
                # A picture is no text: it goes to the job's artwork, wherever the cursor is.
                event.ignore()
                return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Undo) or (
            event.key() == Qt.Key.Key_Escape and self.isModified()
        ):
            self.revert()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._gesture = ""
        super().focusInEvent(event)
        if event.reason() in (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason):
            self.selectAll()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self._gesture = ""
        self.setCursorPosition(0)

    def hideEvent(self, event: Any) -> None:
        if self._note is not None:
            self._note.hide()
        super().hideEvent(event)


class TextField(Field[str]):
    """Plain text; every keystroke is an edit, one visit is one step."""

    def __init__(self, name: str, *, most: int = 120, hint: str = "") -> None:
        super().__init__(name, str, str, "", live=True)
        self.setMaxLength(most)
        self.setPlaceholderText(hint)

    def commit(self) -> None:
        self.setModified(False)
        self._gesture = ""


class WidthField(Field[float]):
    """A print width in millimetres, shown in the shop's unit, typed in either; every keystroke is an edit."""

    def __init__(self, name: str, value_mm: float, unit: LengthUnit) -> None:
        self._unit = unit
        super().__init__(
            name,
            self._width_mm,
            lambda length_mm: format_length(length_mm, self._unit),
            value_mm,
            live=True,
        )
        self.setToolTip(field_words.WIDTH_HINT)
        self.align_figures("388.8 mm")

    def show_length(self, value_mm: float, unit: LengthUnit) -> None:
        self._unit = unit
        self.show_value(value_mm)

    def _width_mm(self, typed: str) -> float:
        # A shown length is rounded: typing the same figure again must not nudge the print.
        if typed.strip() == format_length(self._stood, self._unit):
            return self._stood
        return read_print_width(typed, self._unit)


class MoneyField(Field[Decimal]):
    """An amount of money; the currency stands beside the field, not in it."""

    def __init__(self, name: str, value: Decimal, currency: str) -> None:
        self._currency = currency
        super().__init__(name, lambda typed: read_money(typed, self._currency), self._plain, value)
        self.align_figures("8,888.88")

    @property
    def currency(self) -> str:
        return self._currency

    def show_money(self, value: Decimal, currency: str) -> None:
        self._currency = currency
        self.show_value(value)

    def _plain(self, amount: Decimal) -> str:
        return bare_money(amount, self._currency)


class CountField(Field[int]):
    """A whole number of pieces; none is shown as an empty field.

    Where none at all makes no sense, `none_told` is what to do instead.
    """

    def __init__(self, name: str, value: int = 0, *, none_told: str = "") -> None:
        def read(typed: str) -> int:
            count = read_count(typed)
            if none_told and not count:
                raise Unreadable(none_told)
            return count

        super().__init__(name, read, lambda count: str(count) if count else "", value, live=True)
        self.setPlaceholderText("0")
        self.align_figures("8888")


class FibreField(Field[tuple[FibreShare, ...]]):
    """A fibre mix, typed as the garment's label says it."""

    def __init__(self, name: str, value: tuple[FibreShare, ...]) -> None:
        super().__init__(name, read_fibres, say_fibres, value)
        self.setPlaceholderText(field_words.FIBRES_EXAMPLE)
        self.setToolTip(field_words.FIBRES_HINT)


class DateField(Field[date | None]):
    """A day, typed in many ways."""

    def __init__(self, name: str, today: Callable[[], date], say: Callable[[date], str]) -> None:
        super().__init__(
            name,
            lambda typed: read_date(typed, today()),
            lambda day: "" if day is None else say(day),
            None,
        )
        self._tell_how()

    def show_value(self, value: date | None) -> None:
        self._tell_how()
        super().show_value(value)

    def _tell_how(self) -> None:
        """The shop's region may have become another one since."""
        self.setPlaceholderText(field_words.day_example())
        self.setToolTip(field_words.day_hint())
