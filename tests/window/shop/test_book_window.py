"""The shop book's window: typing, choosing, adding, undoing, as a person does it."""

from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QFontMetrics, QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QPushButton, QTableWidget
from pytestqt.qtbot import QtBot

from planner.measures.layout import Way
from planner.measures.lengths import LengthUnit
from planner.shop.book import Shop
from planner.shop.cloth import Fibre
from planner.shop.offers import Offer
from planner.shop.prices import ByLength, BySheet
from planner.shop.starting import starting_shop
from planner.window.fields import Field
from planner.window.shop.book_window import ShopBookWindow
from planner.window.shop.form import Form, Lines
from planner.window.shop.grid_edit import GridEdit
from planner.window.shop.price_form import PriceForm
from planner.window.tables.dialog import ImportDialog
from tests.window.rig import Answers

LEFT = Qt.MouseButton.LeftButton


@dataclass
class Book:
    """A window on the starting shop book, and everything it told."""

    window: ShopBookWindow
    answers: Answers
    told: list[tuple[Shop, str]] = field(default_factory=list)

    def type(self, form: Form, name: str, words: str) -> Field[object]:
        made = form.fields[name]
        assert isinstance(made, Field)
        made.setFocus()
        made.selectAll()
        QTest.keyClicks(made, words)
        QTest.keyClick(made, Qt.Key.Key_Return)
        return made

    def lines(self, form: Form, name: str, words: str) -> None:
        made = form.fields[name]
        assert isinstance(made, Lines)
        made.setFocus()
        made.selectAll()
        QTest.keyClicks(made, words)
        made.commit()

    def choose(self, form: Form, name: str, words: str) -> None:
        box = form.fields[name]
        assert isinstance(box, QComboBox)
        box.setFocus()
        box.setCurrentText(words)
        box.activated.emit(box.currentIndex())

    @property
    def offer(self) -> Offer:
        found = self.last.offer(self.window.offers.key)
        assert found is not None
        return found

    @property
    def last(self) -> Shop:
        return self.told[-1][0]

    @property
    def prices(self) -> PriceForm:
        found = self.window.offers.form.findChild(PriceForm)
        assert isinstance(found, PriceForm)
        return found

    def cell(self, grid: GridEdit, row: int, column: int, words: str) -> None:
        item = grid.table.item(row, column)
        assert item is not None
        item.setText(words)


@pytest.fixture
def book(qtbot: QtBot) -> Book:
    answers = Answers()
    window = ShopBookWindow(answers)
    qtbot.addWidget(window)
    window.show_shop(starting_shop())
    window.show()
    qtbot.waitExposed(window)
    made = Book(window, answers)
    window.shop_edited.connect(lambda *told: made.told.append(told))
    window.offers.list.setCurrentRow(1)
    return made


@pytest.mark.parametrize(
    ("key", "with_"),
    [
        (Qt.Key.Key_Escape, Qt.KeyboardModifier.NoModifier),
        (Qt.Key.Key_W, Qt.KeyboardModifier.ControlModifier),
    ],
)
def test_keys_close_the_window_and_what_is_half_typed_counts(
    book: Book, key: Qt.Key, with_: Qt.KeyboardModifier
) -> None:
    book.window.pages.setCurrentWidget(book.window.papers)
    address = book.window.papers.fields["Address"]
    address.setFocus()
    QTest.keyClicks(address, "4 Kelp Street")
    QTest.keyClick(address, key, with_)
    assert not book.window.isVisible()
    assert book.last.letterhead.address == ("4 Kelp Street",)


def test_showing_a_book_tells_nothing(book: Book) -> None:
    for at in range(book.window.pages.count()):
        book.window.pages.setCurrentIndex(at)
    book.window.show_shop(starting_shop())
    assert book.told == []


def test_a_typed_figure_changes_the_offer_that_is_shown_and_no_other(book: Book) -> None:
    book.type(book.window.offers.form, "Gap between pieces", "4 mm")
    assert book.offer.key == "film-sheet"
    assert book.offer.gap_mm == 4
    assert book.told[0][1] == "Change gap between pieces"
    assert [offer for offer in book.last.offers if offer.key != "film-sheet"] == [
        offer for offer in starting_shop().offers if offer.key != "film-sheet"
    ]


def test_a_temperature_may_be_typed_in_either_scale(book: Book) -> None:
    book.type(book.window.offers.form, "Temperature", "302 F")
    assert book.offer.press.setting_c == pytest.approx(150)
    book.type(book.window.offers.form, "Temperature", "145 C")
    assert book.offer.press.setting_c == 145


@pytest.mark.parametrize(
    ("name", "words", "sentence"),
    [
        ("Temperature", "300 C", "Temperature must be 260 or less."),
        ("Press time", "0", "Press time must be more than 0."),
        ("Production", "two", "“two” is no figure. Type for example 4.10."),
        ("Production", "1.5", "Production must be a whole number."),
        ("Name", " ", "Name must not be empty."),
    ],
)
def test_what_the_book_refuses_is_said_in_a_sentence_and_the_words_stay(
    book: Book, name: str, words: str, sentence: str
) -> None:
    made = book.type(book.window.offers.form, name, words)
    assert made.is_wrong
    assert made.accessibleDescription() == sentence
    assert made.text() == words
    assert book.told == []


def test_typing_the_figure_shown_changes_nothing(book: Book) -> None:
    # 3 mm are shown as 0.12 in: reading that back would make 3.048 mm of it.
    made = book.window.offers.form.fields["Gap between pieces"]
    assert isinstance(made, Field)
    assert made.text() == "0.12 in"
    book.type(book.window.offers.form, "Gap between pieces", "0.12 in")
    assert book.told == []


def test_a_price_typed_in_the_grid_is_taken(book: Book) -> None:
    book.cell(book.prices.grid, 1, 1, "18.25")
    price = book.offer.price
    assert isinstance(price, BySheet)
    assert price.sheets[0].breaks.each_at(1) == Decimal("18.25")
    assert book.told[0][1] == "Change prices"


def test_a_price_that_cannot_be_read_is_marked_and_loses_nothing(book: Book) -> None:
    grid = book.prices.grid
    book.cell(grid, 2, 1, "cheap")
    assert grid.is_wrong
    assert "“cheap” is no figure" in grid.note.text()
    assert book.told == []
    book.window.show_shop(starting_shop())
    item = grid.table.item(2, 1)
    assert item is not None
    assert item.text() == "cheap"
    book.cell(grid, 2, 1, "11.00")
    assert not grid.is_wrong
    assert len(book.told) == 1


def test_the_empty_row_and_column_add_a_break_and_a_sheet(book: Book) -> None:
    grid = book.prices.grid
    rows, columns = grid.table.rowCount(), grid.table.columnCount()
    book.cell(grid, rows - 1, 0, "200")
    assert grid.is_wrong is False
    book.cell(grid, rows - 1, 1, "3.90")
    book.cell(grid, 0, columns - 1, "16 × 20 in")
    assert grid.is_wrong
    book.cell(grid, 1, columns - 1, "25")
    price = book.offer.price
    assert isinstance(price, BySheet)
    assert price.sheets[0].breaks.each_at(200) == Decimal("3.90")
    assert [round(sheet.size.width_mm / 25.4, 2) for sheet in price.sheets] == [11.5, 22, 16]
    assert grid.table.rowCount() == rows + 1
    assert grid.table.columnCount() == columns + 1


def test_a_block_pasted_from_a_spreadsheet_lands_from_the_current_cell(book: Book) -> None:
    grid = book.prices.grid
    QGuiApplication.clipboard().setText("1\t20.00\n10\t15.00")
    grid.table.setCurrentCell(1, 0)
    grid.table.setFocus()
    QTest.keyClick(grid.table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    price = book.offer.price
    assert isinstance(price, BySheet)
    steps = price.sheets[0].breaks.steps
    assert [(step.from_count, step.each) for step in steps[:2]] == [(1, 20), (10, 15)]


@pytest.mark.parametrize(("at", "key"), [((-1, -1), Qt.Key.Key_Tab), ((0, 0), Qt.Key.Key_Backtab)])
def test_tab_leads_on_from_the_last_cell_and_back_from_the_first(
    book: Book, at: tuple[int, int], key: Qt.Key
) -> None:
    table = book.prices.grid.table
    table.setFocus()
    table.setCurrentCell(at[0] % table.rowCount(), at[1] % table.columnCount())
    QTest.keyClick(table, key)
    assert not table.hasFocus()
    table.setCurrentCell(1, 0)
    table.setFocus()
    QTest.keyClick(table, key)
    assert table.hasFocus()


def test_another_way_of_charging_brings_its_own_fields(book: Book) -> None:
    book.choose(book.window.offers.form, "Charged", "by the length of a roll")
    assert isinstance(book.offer.price, ByLength)
    form = next(form for form in book.prices.findChildren(Form) if "Sold in steps of" in form.fields)
    assert form.isVisible()
    book.type(form, "Sold in steps of", "6 in")
    price = book.offer.price
    assert isinstance(price, ByLength)
    assert price.step_mm == pytest.approx(152.4)


def test_a_way_of_charging_chosen_by_mistake_takes_no_prices_away(book: Book) -> None:
    form = book.window.offers.form
    book.cell(book.prices.grid, 1, 1, "13.75")
    typed = book.offer.price
    for way in ("by the piece", "by the printed area", "by the sheet"):
        book.choose(form, "Charged", way)
    assert book.offer.price == typed
    # Another offer starts with a table of its own.
    QTest.mouseClick(book.window.offers.add, LEFT)
    book.choose(form, "Charged", "by the printed area")
    book.choose(form, "Charged", "by the sheet")
    price = book.offer.price
    assert isinstance(price, BySheet)
    assert len(price.sheets[0].breaks.steps) == 1


def test_what_is_added_is_named_first_however_far_down_the_form_was(book: Book) -> None:
    page = book.window.offers
    form = page.form
    for press in (page.add, page.duplicate):
        page.area.verticalScrollBar().setValue(page.area.verticalScrollBar().maximum())
        QTest.mouseClick(press, LEFT)
        name = form.fields["Name"]
        assert page.area.verticalScrollBar().value() == 0
        assert QApplication.focusWidget() is name
        QTest.keyClicks(name, f"By {press.text()}")
        QTest.keyClick(name, Qt.Key.Key_Return)
        assert book.last.offers[-1].name == f"By {press.text()}"
    page.area.verticalScrollBar().setValue(page.area.verticalScrollBar().maximum())
    page.list.setCurrentRow(0)
    assert page.area.verticalScrollBar().value() == 0


def test_names_of_columns_that_need_two_lines_have_them(book: Book) -> None:
    grid = book.prices.grid
    one_line = grid.table.rowHeight(0)
    page = book.window.offers
    keys = [offer.key for offer in starting_shop().offers]
    page.list.setCurrentRow(keys.index("screen"))
    book.cell(grid, 0, 1, "11.75 × 14.25 in, 4 colours")
    item = grid.table.item(0, 1)
    assert item is not None
    letters = QFontMetrics(item.font())
    words = letters.boundingRect(
        QRect(0, 0, grid.table.columnWidth(1) - 12, 500), Qt.TextFlag.TextWordWrap, item.text()
    )
    assert one_line < words.height() <= grid.table.rowHeight(0)
    page.list.setCurrentRow(keys.index("film-sheet"))
    assert grid.table.rowHeight(0) == one_line


def test_fibres_are_ticked_and_rush_is_switched_on(book: Book) -> None:
    form = book.window.offers.form
    wool = next(box for box in form.findChildren(QCheckBox) if box.text() == "wool")
    wool.click()
    assert Fibre.WOOL in book.offer.cloth.fibres
    rush = form.fields["Offers rush"]
    assert isinstance(rush, QCheckBox)
    rush.click()
    assert book.offer.rush is None
    rush.click()
    assert book.offer.rush is not None
    book.type(form, "Rush surcharge", "30")
    assert book.offer.rush is not None
    assert book.offer.rush.percent == 30


def test_an_offer_is_added_duplicated_and_removed_and_all_is_undone(book: Book) -> None:
    page = book.window.offers
    QTest.mouseClick(page.add, LEFT)
    assert book.last.offers[-1].name == "New offer"
    QTest.mouseClick(page.duplicate, LEFT)
    assert book.last.offers[-1].name == "New offer (2)"
    assert len({offer.key for offer in book.last.offers}) == 9
    QTest.mouseClick(page.remove, LEFT)
    assert [title for _, title in book.told] == ["Add offer", "Duplicate offer", "Remove offer"]
    for _ in range(3):
        book.window.undo()
    assert book.last == starting_shop()
    assert book.told[-1][1] == "Undo: Add offer"
    book.window.redo()
    assert len(book.last.offers) == 8


def test_all_offers_may_go_and_the_page_says_what_to_do(book: Book) -> None:
    for _ in starting_shop().offers:
        QTest.mouseClick(book.window.offers.remove, LEFT)
    assert book.last.offers == ()
    assert not book.window.offers.form.isVisible()
    assert not book.window.offers.remove.isEnabled()
    QTest.mouseClick(book.window.offers.add, LEFT)
    assert book.window.offers.form.isVisible()


def test_blanks_presses_money_papers_and_days_are_edited(book: Book) -> None:
    window = book.window
    window.pages.setCurrentIndex(1)
    book.type(window.blanks.form, "Fibre mix", "95 cotton, 5 elastane")
    assert book.last.blanks[0].cloth.percent_of(Fibre.SPANDEX) == 5
    book.choose(window.blanks.form, "Iron on the care label", "one dot, 110 °C")
    assert book.last.blanks[0].cloth.iron_dots == 1
    book.lines(window.blanks.form, "Colours", "sea green #2f7f73")
    assert book.last.blanks[0].colours[0].name == "sea green"
    window.pages.setCurrentIndex(2)
    book.type(window.presses.form, "Platen width", "380 mm")
    assert book.last.presses[0].platen_width_mm == 380
    window.pages.setCurrentIndex(3)
    book.type(window.money, "Misprints", "2.5")
    assert book.last.spares.misprint_rate == pytest.approx(0.025)
    book.type(window.money, "A plain percentage instead", "5")
    assert book.last.spares.percent == 5
    book.type(window.money, "A plain percentage instead", " ")
    assert book.last.spares.percent is None
    window.pages.setCurrentIndex(4)
    book.choose(window.papers, "Pieces are cut apart", "by straight cuts, with a trimmer")
    assert book.last.way is Way.STRAIGHT
    book.choose(window.papers, "Lengths in", "millimetres")
    assert book.last.unit is LengthUnit.MILLIMETRE
    window.pages.setCurrentIndex(5)
    book.lines(window.days, "Also closed on", "2026-12-24")
    assert [day.isoformat() for day in book.last.closed_days] == ["2026-12-24"]


def test_what_cannot_be_read_in_several_lines_stays_and_is_told(book: Book) -> None:
    book.window.pages.setCurrentIndex(5)
    book.lines(book.window.days, "Also closed on", "christmas")
    assert book.told == []
    made = book.window.days.fields["Also closed on"]
    assert isinstance(made, Lines)
    assert made.toPlainText() == "christmas"


def test_a_currency_is_three_letters(book: Book) -> None:
    book.window.pages.setCurrentIndex(3)
    made = book.type(book.window.money, "Currency", "dollars")
    assert made.is_wrong
    assert book.told == []


def test_prices_are_imported_after_a_look(book: Book, qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("Qty,11.5 x 18 in,22 x 24 in\n1,18.00,32.00\n12,9.50,oops\n", "utf-8")
    book.answers.prices = path
    QTest.mouseClick(book.prices.import_csv, LEFT)
    dialog = book.window.findChild(ImportDialog)
    assert isinstance(dialog, ImportDialog)
    assert not dialog.take.isEnabled()
    assert "“oops” is no figure" in dialog.note.text()
    dialog.choices[2].setCurrentText("leave out")
    assert dialog.take.isEnabled()
    QTest.mouseClick(dialog.take, LEFT)
    price = book.offer.price
    assert isinstance(price, BySheet)
    assert [(step.from_count, step.each) for step in price.sheets[0].breaks.steps] == [
        (1, Decimal("18.00")),
        (12, Decimal("9.50")),
    ]
    assert len(price.sheets) == 1
    assert len(book.told) == 1


def test_blanks_are_imported_after_a_look(book: Book, tmp_path: Path) -> None:
    path = tmp_path / "blanks.csv"
    path.write_text("Style,Kind,Colour,Size,Cost\nHeavy tee,T-shirt,navy,M,3.20\n", "utf-8")
    book.window.pages.setCurrentIndex(1)
    (button,) = (
        made for made in book.window.blanks.findChildren(QPushButton) if made.text() == "Import blanks…"
    )
    QTest.mouseClick(button, LEFT)
    assert book.window.findChild(ImportDialog) is None
    book.answers.blanks = path
    QTest.mouseClick(button, LEFT)
    dialog = book.window.findChild(ImportDialog)
    assert isinstance(dialog, ImportDialog)
    QTest.mouseClick(dialog.take, LEFT)
    assert book.told[-1][1] == "Import blanks"
    assert book.last.blanks[-1].style == "Heavy tee"


def test_every_column_of_the_sizes_is_in_view_at_the_windows_first_size(book: Book) -> None:
    book.window.pages.setCurrentWidget(book.window.blanks)
    book.window.blanks.list.setCurrentRow(0)
    QApplication.processEvents()
    table = next(made for made in book.window.blanks.findChildren(QTableWidget) if made.isVisible())
    last = table.columnCount() - 1
    assert table.columnViewportPosition(last) + table.columnWidth(last) <= table.viewport().width()
