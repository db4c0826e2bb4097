"""Forms over parts of the shop book: a row a field, each reading, checking and telling by itself."""

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from typing import Any

from pydantic import ValidationError
from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QLabel, QPlainTextEdit, QWidget

from planner.measures.lengths import LengthUnit, format_length
from planner.plan.kind_words import WORDS
from planner.shop.book import Shop
from planner.shop.cloth import FibreShare
from planner.window.fields import Field
from planner.window.look import GRID, RELATED, Type
from planner.window.positions import read_position
from planner.window.readings import Unreadable, read_fibres, say_fibres
from planner.window.shop import words
from planner.window.shop.lens import Lens
from planner.window.shop.readings import read_decimal, read_heat, say_decimal, say_heat, say_price
from planner.window.shop.sentences import why_not
from planner.window.widgets import label, row

_NAME_PX, _CHOICE_PX, _SEVERAL_PX = 190, 300, 560


class Lines(QPlainTextEdit):
    """Several lines of text, taken when the field is left; what cannot be read is said beneath."""

    taken = Signal(str)

    def __init__(self, name: str, *, high_px: int = 76) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setFixedHeight(high_px)
        self.setTabChangesFocus(True)

    def commit(self) -> None:
        if self.document().isModified():
            self.document().setModified(False)
            self.taken.emit(self.toPlainText())

    def show_text(self, text: str) -> None:
        if text != self.toPlainText() and not (self.hasFocus() and self.document().isModified()):
            self.setPlainText(text)
            self.document().setModified(False)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.commit()


class Form(QWidget):
    """Rows of named fields. `edited` carries the whole shop book after an edit and the edit's name."""

    edited = Signal(object, str)

    def __init__(self) -> None:
        super().__init__()
        self._shop: Shop | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(RELATED)
        self._grid.setVerticalSpacing(RELATED)
        self._grid.setColumnMinimumWidth(0, _NAME_PX)
        self._grid.setColumnStretch(2, 1)
        self._showers: list[Callable[[Shop], None]] = []
        self._guard = WheelGuard(self)
        self.fields: dict[str, QWidget] = {}

    def show_shop(self, shop: Shop) -> None:
        """Show the book; fields that someone types in keep what is typed."""
        self._shop = shop
        for show in self._showers:
            show(shop)

    def heading(self, title: str, hint: str = "") -> None:
        """A group of rows begins."""
        at = self._grid.rowCount()
        head = label(title, strong=True)
        head.setContentsMargins(0, RELATED, 0, 0)
        self._grid.addWidget(head, at, 0, 1, 3)
        if hint:
            self._grid.addWidget(label(hint, Type.SMALL, quiet=True, wrap=True), at + 1, 0, 1, 3)

    def text(self, name: str, lens: Lens, *, wide: int = 260) -> None:
        self._field(name, lens, str.strip, str, wide=wide)

    def figure(
        self,
        name: str,
        lens: Lens,
        unit: str = "",
        *,
        whole: bool = False,
        none: str = "",
        share: bool = False,
        only_with: Lens | None = None,
    ) -> None:
        """A figure of at least nothing. `none` is shown where there is none; a share is typed in percent."""

        def read(typed: str) -> Any:
            if none and not typed.strip():
                return None
            value = read_decimal(typed)
            if whole and value != value.to_integral_value():
                raise Unreadable(words.not_whole(name))
            if isinstance(self._value(lens), Decimal):
                return value
            return int(value) if whole else float(value) / (100 if share else 1)

        def say(value: Any) -> str:
            return "" if value is None else say_decimal(value * 100 if share else value)

        field = self._field(name, lens, read, say, unit=unit, figures=True, only_with=only_with)
        field.setPlaceholderText(none)

    def money(
        self, name: str, lens: Lens, unit: str = "", *, none: str = "", only_with: Lens | None = None
    ) -> None:
        def read(typed: str) -> Any:
            return None if none and not typed.strip() else read_decimal(typed)

        field = self._field(
            name,
            lens,
            read,
            lambda value: "" if value is None else say_price(value),
            unit=unit,
            figures=True,
            only_with=only_with,
        )
        field.setPlaceholderText(none)

    def length(self, name: str, lens: Lens, hint: str = "") -> None:
        def read(typed: str) -> float:
            return read_position(typed, self.unit)

        field = self._field(name, lens, read, lambda value: format_length(value, self.unit), figures=True)
        field.setToolTip(hint)

    def heat(self, name: str, lens: Lens) -> None:
        field = self._field(name, lens, read_heat, say_heat, figures=True)
        field.setToolTip(words.HEAT_HINT)

    def fibres(self, name: str, lens: Lens) -> None:
        def say(value: tuple[FibreShare, ...]) -> str:
            return say_fibres(value)

        self._field(name, lens, read_fibres, say, wide=260)

    def choice(
        self, name: str, lens: Lens, options: type[StrEnum], called: dict[Any, str] | None = None
    ) -> None:
        """One of a kind's values."""
        box = QComboBox()
        box.setAccessibleName(name)
        # Kinds of this window alone have words for values.
        words = called or WORDS.get(options, {})
        for option in options:
            box.addItem(words.get(option, option.value))
        box.setMaximumWidth(_CHOICE_PX)
        box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        box.installEventFilter(self._guard)
        box.activated.connect(lambda at: self._tell(name, lens, list(options)[at]))
        self._add(name, box)

        def show(shop: Shop) -> None:
            value = lens.get(shop)
            if value is not None:
                box.setCurrentIndex(list(options).index(value))

        self._showers.append(show)

    def flag(self, name: str, lens: Lens) -> None:
        box = QCheckBox(name)
        box.setMinimumHeight(7 * GRID)
        box.clicked.connect(lambda on: self._tell(name, lens, on))
        at = self._grid.rowCount()
        self._grid.addWidget(box, at, 1, 1, 2)
        self.fields[name] = box
        self._showers.append(lambda shop: box.setChecked(bool(lens.get(shop))))

    def several(self, name: str, lens: Lens, options: list[tuple[Any, str]]) -> None:
        """Any of some values, kept in their own order."""
        holder = QWidget()
        holder.setMaximumWidth(_SEVERAL_PX)
        inside = QGridLayout(holder)
        inside.setContentsMargins(0, 0, 0, 0)
        boxes = {}
        for at, (value, said) in enumerate(options):
            box = QCheckBox(said)
            box.setMinimumHeight(6 * GRID)
            inside.addWidget(box, at // 4, at % 4)
            boxes[value] = box

        def tell() -> None:
            self._tell(name, lens, tuple(value for value, box in boxes.items() if box.isChecked()))

        def show(shop: Shop) -> None:
            chosen = lens.get(shop) or ()
            for value, box in boxes.items():
                box.setChecked(value in chosen)

        for box in boxes.values():
            box.clicked.connect(tell)
        self._add(name, holder)
        self._showers.append(show)

    def lines(
        self, name: str, lens: Lens, read: Callable[[str], Any], say: Callable[[Any], str], *, hint: str = ""
    ) -> None:
        """Several lines; a sentence beneath says what cannot be read, and the text stays."""
        edit = Lines(name)
        edit.setPlaceholderText(hint)
        edit.setMaximumWidth(360)
        note = Complaint()

        def take(typed: str) -> None:
            try:
                value = read(typed)
            except ValueError as error:
                edit.document().setModified(True)
                note.say(str(error))
                return
            note.say(self._tell(name, lens, value))

        edit.taken.connect(take)
        self._add(name, edit)
        self._grid.addWidget(note, self._grid.rowCount(), 1, 1, 2)

        def show(shop: Shop) -> None:
            value = lens.get(shop)
            if value is not None and note.isHidden():
                edit.show_text(say(value))

        self._showers.append(show)

    def widget(self, name: str, made: QWidget, show: Callable[[Shop], None]) -> None:
        """A field of its own kind over the whole width."""
        if name:
            self._add(name, made)
        else:
            self._grid.addWidget(made, self._grid.rowCount(), 0, 1, 3)
        self._showers.append(show)

    def read_by(
        self, name: str, lens: Lens, read: Callable[[str], Any], say: Callable[[Any], str], *, wide: int = 0
    ) -> None:
        """A field with a reading of its own; without a width it is one for a figure."""
        self._field(name, lens, read, say, figures=not wide, wide=wide)

    def take(self, shop: Shop, title: str) -> None:
        """Pass on an edit that a field of its own kind made."""
        self._shop = shop
        self.edited.emit(shop, title)

    @property
    def unit(self) -> LengthUnit:
        return self._shop.unit if self._shop else LengthUnit.INCH

    def _value(self, lens: Lens) -> Any:
        return lens.get(self._shop) if self._shop else None

    def _tell(self, name: str, lens: Lens, value: Any) -> str:
        """Put a value in the book and tell of it; a sentence where the book refuses it."""
        shop = self._shop
        if shop is None or lens.get(shop) == value:
            return ""
        try:
            after = lens.put(shop, value)
        except ValidationError as error:
            self.show_shop(shop)
            return why_not(error, name)
        self._shop = after
        self.edited.emit(after, words.change(name))
        return ""

    def _field(
        self,
        name: str,
        lens: Lens,
        read: Callable[[str], Any],
        say: Callable[[Any], str],
        *,
        unit: str = "",
        figures: bool = False,
        wide: int = 0,
        only_with: Lens | None = None,
    ) -> Field[Any]:
        def checked(typed: str) -> Any:
            now = self._value(lens)
            # What is shown is rounded: typing the same again must not change the book.
            if now is not None and typed.strip() == say(now):
                return now
            value = read(typed)
            if self._shop is not None and lens.get(self._shop) != value:
                try:
                    lens.put(self._shop, value)
                except ValidationError as error:
                    raise Unreadable(why_not(error, name)) from None
            return value

        field: Field[Any] = Field(name, checked, lambda value: "" if value is None else say(value), None)
        field.edited.connect(lambda value, _gesture: self._tell(name, lens, value))
        if figures:
            field.align_figures("888 F / 888 C")
        if wide:
            field.setMinimumWidth(wide)
        parts = self._add(name, field, unit)

        def show(shop: Shop) -> None:
            field.show_value(lens.get(shop))
            if only_with is not None:
                for part in parts:
                    part.setVisible(only_with.get(shop) is not None)

        self._showers.append(show)
        return field

    def _add(self, name: str, made: QWidget, unit: str = "") -> list[QWidget]:
        """A row; all that stands in it."""
        at = self._grid.rowCount()
        named = label(name, wrap=True)
        one_line = isinstance(made, Field | QComboBox)
        named.setAlignment(Qt.AlignmentFlag.AlignVCenter if one_line else Qt.AlignmentFlag.AlignTop)
        self._grid.addWidget(named, at, 0)
        self.fields[name] = made
        if isinstance(made, Lines | QComboBox) or not isinstance(made, Field):
            self._grid.addWidget(made, at, 1, 1, 2)
            return [named, made]
        inside = row(space=GRID)
        self._grid.addLayout(inside, at, 1, 1, 2)
        inside.addWidget(made)
        behind = label(unit, Type.SMALL, quiet=True)
        inside.addWidget(behind)
        inside.addStretch(1)
        return [named, made, behind]


class Complaint(QLabel):
    """A sentence that says what cannot be taken, beneath what it is about; hidden while all is well."""

    def __init__(self) -> None:
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)
        self.setProperty("complaint", True)
        self.hide()

    def say(self, sentence: str) -> None:
        self.setText(sentence)
        self.setVisible(bool(sentence))


class WheelGuard(QObject):
    """Keeps the wheel from changing a box that only lies under the pointer while a page is scrolled."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Wheel and isinstance(watched, QComboBox) and not watched.hasFocus():
            event.ignore()
            return True
        return super().eventFilter(watched, event)
