"""The month from which the due date is picked."""

from datetime import date

from PySide6.QtCore import QDate, Qt
from PySide6.QtGui import QColor
from pytestqt.qtbot import QtBot

from planner.pressing.calendar_reckoning import open_days_of
from planner.shop.book import Shop
from planner.window.due_calendar import DueCalendar
from planner.window.look import tokens_of

SHOP = Shop(region="US", open_weekdays=(0, 1, 2, 3, 4, 5), closed_days=(date(2026, 12, 22),))


def test_days_gone_by_and_days_on_which_the_shop_is_closed_are_fainter(qtbot: QtBot) -> None:
    calendar = _calendar(qtbot)
    tokens = tokens_of(calendar)
    assert _colour(calendar, 9) == QColor(tokens.edge)
    # A Sunday, a day closed by the book, and Christmas, a public holiday of the region.
    assert [_colour(calendar, day) for day in (13, 22, 25)] == [QColor(tokens.quiet)] * 3
    calendar.showNextMonth()
    assert _colour(calendar, 1, month=1, year=2027) == QColor(tokens.quiet)
    # Its Saturdays are working days, and no weekday is red.
    assert calendar.dateTextFormat(QDate(2026, 12, 12)).isEmpty()
    weekdays = {calendar.weekdayTextFormat(day).foreground().color().name() for day in Qt.DayOfWeek}
    assert weekdays == {QColor(tokens.text).name()}


def test_the_day_clicked_is_taken(qtbot: QtBot) -> None:
    taken: list[date] = []
    calendar = _calendar(qtbot, taken)
    calendar.clicked.emit(QDate(2026, 12, 18))
    assert taken == [date(2026, 12, 18)]


def _calendar(qtbot: QtBot, taken: list[date] | None = None) -> DueCalendar:
    days = [] if taken is None else taken
    calendar = DueCalendar(
        date(2026, 12, 18), today=date(2026, 12, 10), open_days=open_days_of(SHOP), take=days.append
    )
    qtbot.addWidget(calendar)
    return calendar


def _colour(calendar: DueCalendar, day: int, *, month: int = 12, year: int = 2026) -> QColor:
    return calendar.dateTextFormat(QDate(year, month, day)).foreground().color()
