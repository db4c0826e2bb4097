"""The counts of a line by size: blocks pasted from a spreadsheet, and sizes in line under one another."""

from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from planner.job.document import SizeCount
from planner.shop.garments import BlankSize, SizeGroup
from planner.window.garments.sizes import ADULT, SizeGrid

NAMES = ("S", "M", "L", "2XL")


@pytest.fixture
def grid(qtbot: QtBot) -> SizeGrid:
    made = SizeGrid()
    qtbot.addWidget(made)
    made.edited.connect(lambda sizes, _step, _gesture: made.show_sizes(sizes, "USD"))
    made.show_sizes(tuple(SizeCount(size=name) for name in NAMES), "USD")
    made.show()
    qtbot.waitExposed(made)
    return made


def paste(grid: SizeGrid, words: str, into: str = "S") -> dict[str, int]:
    QApplication.clipboard().setText(words)
    QTest.keyClick(grid.counts[into], Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    return {name: field.value for name, field in grid.counts.items() if field.value}


@pytest.mark.parametrize(
    "words",
    [
        "S\tM\tXXL\n4\t8\t2",
        "S\t4\nM\t8\n2XL\t2\n",
        "2XL\t2\r\nm\t8\r\ns\t4\r\n",
    ],
)
def test_a_block_that_names_its_sizes_is_taken_by_name(grid: SizeGrid, words: str) -> None:
    assert paste(grid, words, into="L") == {"S": 4, "M": 8, "2XL": 2}


def test_a_usual_size_that_the_line_lacks_is_added_in_its_place(grid: SizeGrid) -> None:
    assert paste(grid, "S\tXL\n4\t3") == {"S": 4, "XL": 3}
    assert list(grid.counts) == ["S", "M", "L", "XL", "2XL"]


def test_a_size_added_or_pasted_costs_and_measures_what_the_shop_book_says(grid: SizeGrid) -> None:
    """A 3XL without its surcharge would be bought at the shop's own expense."""
    large = BlankSize(size="3XL", body_width_mm=710, body_length_mm=810, surcharge=Decimal("3.00"))
    told: list[tuple[SizeCount, ...]] = []
    grid.edited.connect(lambda sizes, _step, _gesture: told.append(sizes))
    for add in (lambda: paste(grid, "S\t4\n3XL\t2\n"), lambda: grid._add("3XL")):
        grid.show_sizes(tuple(SizeCount(size=name) for name in NAMES), "USD", (large,))
        add()
        added = told[-1][-1]
        assert (added.size, added.surcharge) == ("3XL", Decimal("3.00"))
        assert (added.body_width_mm, added.body_length_mm) == (710, 810)


@pytest.mark.parametrize(
    ("words", "counts"), [("5\t6", {"M": 5, "L": 6}), ("5\n6\n7", {"M": 5, "L": 6, "2XL": 7})]
)
def test_figures_alone_fill_from_the_cursor_on(grid: SizeGrid, words: str, counts: dict[str, int]) -> None:
    assert paste(grid, words, into="M") == counts


def test_adults_come_first_and_each_group_stands_in_rows_of_its_own(grid: SizeGrid) -> None:
    """An order of adults typed in a row must not fill the sizes of children."""
    sizes = (
        SizeCount(size="YS", group=SizeGroup.YOUTH),
        SizeCount(size="YM", group=SizeGroup.YOUTH),
        SizeCount(size="S"),
        SizeCount(size="M"),
    )
    grid.show_sizes(sizes, "USD")
    assert list(grid.counts) == ["S", "M", "YS", "YM"]
    heads = [one.text() for one in grid.findChildren(QLabel) if one.text() in ("Adult", "Youth")]
    assert heads == ["Adult", "Youth"]
    QApplication.processEvents()
    tops = {name: field.mapTo(grid, QPoint()).y() for name, field in grid.counts.items()}
    assert tops["S"] == tops["M"] < tops["YS"] == tops["YM"]
    grid.focus_first()
    assert QApplication.focusWidget() is grid.counts["S"]
    assert paste(grid, "1\t2\t3\t4", into="S") == {"S": 1, "M": 2, "YS": 3, "YM": 4}
    # The line itself keeps the order that it has in the shop book.
    told = []
    grid.edited.connect(lambda sizes, _step, _gesture: told.append([size.size for size in sizes]))
    paste(grid, "5\t6", into="S")
    assert told == [["YS", "YM", "S", "M"]]


def test_a_line_of_one_group_needs_no_heads(grid: SizeGrid) -> None:
    assert [one.text() for one in grid.findChildren(QLabel) if one.text() == "Adult"] == []


def test_rows_of_sizes_with_surcharges_stand_in_line(grid: SizeGrid, qtbot: QtBot) -> None:
    grid.show_sizes(tuple(SizeCount(size=name, surcharge=2) for name in ADULT), "USD")
    grid.setFixedWidth(480)

    def rows() -> list[list[int]]:
        places = [field.mapTo(grid, QPoint()) for field in grid.counts.values()]
        return [[at.x() for at in places if at.y() == y] for y in sorted({at.y() for at in places})]

    qtbot.waitUntil(lambda: len(rows()) > 1)
    first, second = rows()[:2]
    assert second == first[: len(second)]
