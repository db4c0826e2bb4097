"""Fields with real keys: typed freely, read when done, never losing the last good value."""

import re
from datetime import date
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from planner.measures.lengths import LengthUnit
from planner.plan.wording import day
from planner.window.fields import CountField, DateField, Field, MoneyField, TextField, WidthField
from planner.window.widgets import JOINT, Combo, shortened
from tests.builders import A_DAY
from tests.window.rig import typed


class Sheet:
    """A window with fields, and what they told."""

    def __init__(self) -> None:
        self.window = QWidget()
        self.length = WidthField("Width", 279.4, LengthUnit.INCH)
        self.count = CountField("Count")
        self.money = MoneyField("Cost", Decimal("4.10"), "USD")
        self.text = TextField("Title")
        self.due = DateField("Due", lambda: A_DAY, day)
        self.told: list[tuple[object, str]] = []
        layout = QVBoxLayout(self.window)
        for field in (self.length, self.count, self.money, self.text, self.due):
            layout.addWidget(field)
            field.edited.connect(lambda value, gesture: self.told.append((value, gesture)))

    def notes(self) -> list[str]:
        labels = self.window.findChildren(QLabel, options=Qt.FindChildOption.FindDirectChildrenOnly)
        return [note.text() for note in labels if note.isVisible()]


@pytest.fixture
def sheet(qtbot: QtBot) -> Sheet:
    sheet = Sheet()
    qtbot.addWidget(sheet.window)
    sheet.window.resize(400, 400)
    sheet.window.show()
    sheet.window.activateWindow()
    qtbot.waitExposed(sheet.window)
    return sheet


def test_a_length_is_typed_in_either_unit_and_shown_in_the_shops(sheet: Sheet) -> None:
    assert sheet.length.text() == "11 in"
    typed(sheet.length, "280 mm")
    assert sheet.told[-1][0] == pytest.approx(280)
    assert sheet.length.text() == "11.02 in"
    typed(sheet.length, '3 1/2"')
    assert sheet.told[-1][0] == pytest.approx(88.9)


def test_a_length_that_cannot_be_read_is_answered_beside_the_field_and_keeps_the_last(sheet: Sheet) -> None:
    typed(sheet.length, "eleven")
    assert sheet.told == []
    assert sheet.length.value == pytest.approx(279.4)
    assert sheet.length.text() == "eleven"
    assert any("“eleven” is not a length" in note for note in sheet.notes())
    assert "eleven" in sheet.length.accessibleDescription()
    QTest.keyClick(sheet.length, Qt.Key.Key_Escape)
    assert sheet.length.text() == "11 in"
    assert sheet.notes() == []


def test_typing_on_takes_the_complaint_away_as_soon_as_it_can_be_read(sheet: Sheet) -> None:
    typed(sheet.length, "x")
    assert sheet.notes()
    typed(sheet.length, "9 in", end=None)
    assert sheet.notes() == []
    assert [value for value, _ in sheet.told] == [pytest.approx(228.6)]


def test_the_same_figure_typed_again_is_no_edit(sheet: Sheet) -> None:
    sheet.length.show_length(279.1234, LengthUnit.INCH)
    typed(sheet.length, "10.99 in")
    assert sheet.length.value == 279.1234
    assert sheet.told[-1][0] == 279.1234


def test_leaving_a_field_takes_what_was_typed(sheet: Sheet) -> None:
    typed(sheet.money, "5,25", end=Qt.Key.Key_Tab)
    assert sheet.told == [(Decimal("5.25"), sheet.told[0][1])]
    assert sheet.money.text() == "5.25"


def test_counts_are_edits_while_typing_and_one_gesture(sheet: Sheet) -> None:
    typed(sheet.count, "124", end=None)
    assert [value for value, _ in sheet.told] == [1, 12, 124]
    assert len({gesture for _, gesture in sheet.told}) == 1
    sheet.text.setFocus()
    typed(sheet.count, "5", end=None)
    assert sheet.told[-1][1] != sheet.told[0][1]


def test_a_width_is_an_edit_while_typing_and_half_typed_text_neither_counts_nor_complains(
    sheet: Sheet,
) -> None:
    typed(sheet.length, "12 1/2 in", end=None)
    # "12 1" and "12 1/" are no lengths, "12 1/2 i" has no unit yet.
    assert [value for value, _ in sheet.told] == [25.4, 304.8, 317.5]
    assert len({gesture for _, gesture in sheet.told}) == 1
    assert sheet.notes() == []
    QTest.keyClick(sheet.length, Qt.Key.Key_Backspace)
    QTest.keyClick(sheet.length, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClick(sheet.length, Qt.Key.Key_Backspace)
    assert (sheet.length.text(), len(sheet.told), sheet.notes()) == ("", 3, [])


@pytest.mark.parametrize("name", ["length", "count", "text"])
def test_escape_takes_back_what_a_visit_typed(sheet: Sheet, name: str) -> None:
    field: Field[object] = getattr(sheet, name)
    before, shown = field.value, field.text()
    typed(field, "125", end=None)
    assert field.value != before
    QTest.keyClick(field, Qt.Key.Key_Escape)
    assert (field.value, field.text()) == (before, shown)
    assert sheet.told[-1] == (before, sheet.told[0][1])


def test_escape_keeps_what_an_earlier_visit_typed(sheet: Sheet) -> None:
    typed(sheet.length, "9 in")
    typed(sheet.length, "12", end=None)
    QTest.keyClick(sheet.length, Qt.Key.Key_Escape)
    assert sheet.told[-1][0] == pytest.approx(228.6)
    assert sheet.length.text() == "9 in"


@pytest.mark.parametrize("end", [Qt.Key.Key_Return, Qt.Key.Key_Tab])
def test_what_was_typed_on_the_way_to_nonsense_does_not_stay(sheet: Sheet, end: Qt.Key) -> None:
    typed(sheet.length, "1x", end=end)
    assert [value for value, _ in sheet.told] == [25.4, pytest.approx(279.4)]
    assert sheet.length.text() == "1x"
    assert any("“1x” is not a length" in note for note in sheet.notes())
    assert len({gesture for _, gesture in sheet.told}) == 1


def test_a_value_from_elsewhere_is_what_escape_goes_back_to(sheet: Sheet) -> None:
    typed(sheet.length, "9", end=None)
    sheet.length.show_length(254.0, LengthUnit.INCH)
    typed(sheet.length, "3", end=None)
    QTest.keyClick(sheet.length, Qt.Key.Key_Escape)
    assert sheet.told[-1][0] == 254.0


def test_a_count_that_cannot_be_none_says_what_to_do_instead(sheet: Sheet) -> None:
    most = CountField("At most", 12, none_told="Take it away.")
    sheet.window.layout().addWidget(most)
    told: list[int] = []
    most.edited.connect(lambda count, gesture: told.append(count))
    typed(most, "", end=None)
    QTest.keyClick(most, Qt.Key.Key_Backspace)
    QTest.keyClick(most, Qt.Key.Key_Return)
    assert (most.value, told, sheet.notes()) == (12, [], ["Take it away."])


def test_a_value_shown_while_typing_leaves_the_text_that_means_it(sheet: Sheet) -> None:
    typed(sheet.text, "Winter ", end=None)
    sheet.text.show_value("Winter ")
    assert sheet.text.text() == "Winter "
    sheet.text.show_value("Summer")
    assert sheet.text.text() == "Summer"


def test_what_is_half_typed_stays_when_the_same_value_is_shown_again(sheet: Sheet) -> None:
    typed(sheet.length, "7 1/", end=None)
    sheet.length.show_length(177.8, LengthUnit.INCH)
    assert sheet.length.text() == "7 1/"
    sheet.length.show_length(254.0, LengthUnit.INCH)
    assert sheet.length.text() == "10 in"


def test_a_complaint_stays_when_the_same_value_is_shown_again(sheet: Sheet) -> None:
    typed(sheet.length, "eleven", end=Qt.Key.Key_Tab)
    sheet.length.show_length(279.4, LengthUnit.INCH)
    assert sheet.length.text() == "eleven"
    assert sheet.notes()
    sheet.length.show_length(254.0, LengthUnit.INCH)
    assert (sheet.length.text(), sheet.notes()) == ("10 in", [])


def test_undo_belongs_to_the_job_once_the_text_was_taken(sheet: Sheet) -> None:
    typed(sheet.length, "9", end=None)
    QTest.keyClick(sheet.length, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert sheet.length.text() == "11 in"
    assert sheet.length.value == pytest.approx(279.4)


def test_a_date_is_said_in_words_and_can_be_taken_away(sheet: Sheet) -> None:
    typed(sheet.due, "dec 11")
    assert sheet.told[-1][0] == date(2026, 12, 11)
    assert sheet.due.text() == "Fri, Dec 11, 2026"
    typed(sheet.due, "")
    QTest.keyClick(sheet.due, Qt.Key.Key_Backspace)
    QTest.keyClick(sheet.due, Qt.Key.Key_Return)
    assert sheet.told[-1][0] is None


def test_the_note_stays_inside_the_window(sheet: Sheet) -> None:
    typed(sheet.due, "whenever it suits the customer best")
    note = next(
        label
        for label in sheet.window.findChildren(QLabel, options=Qt.FindChildOption.FindDirectChildrenOnly)
        if label.isVisible()
    )
    assert sheet.window.rect().contains(note.geometry())


def test_every_field_says_its_name(sheet: Sheet) -> None:
    for field in sheet.window.findChildren(Field):
        assert field.accessibleName()


def test_of_joined_names_each_keeps_its_beginning_where_there_is_no_room(qtbot: QtBot) -> None:
    combo = Combo("Transfers from")
    qtbot.addWidget(combo)
    letters = combo.fontMetrics()
    long, short = "Printer with a very long name indeed", "Roll"
    room_px = letters.horizontalAdvance("Printer with a ve… + Roll")
    told = shortened(JOINT.join((long, short)), letters, room_px)
    # The short one stays whole, the long one has all the rest.
    assert re.fullmatch(r"Printer with a \w+… \+ Roll", told)
    assert letters.horizontalAdvance(told) <= room_px
    for part in shortened(JOINT.join((long, long)), letters, room_px).split(JOINT):
        assert part.startswith("Printer")
    assert shortened(long, letters, room_px) == letters.elidedText(long, Qt.TextElideMode.ElideRight, room_px)
    assert shortened("A + B", letters, room_px) == "A + B"


def test_a_choice_without_room_ends_in_an_ellipsis(qtbot: QtBot) -> None:
    long, short = Combo("Garment line"), Combo("Garment line")
    for combo in (long, short):
        qtbot.addWidget(combo)
        combo.setFixedWidth(100)
    long.addItem("natural tote bag with long handles")
    told = long.fontMetrics().elidedText(long.currentText(), Qt.TextElideMode.ElideRight, long.text_px)
    assert told.endswith("…")
    short.addItem(told)
    assert long.grab().toImage() == short.grab().toImage()
