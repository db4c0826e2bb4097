"""A month to pick the due date from; days on which the shop is closed, and days gone by, are fainter."""

from calendar import monthrange
from collections.abc import Callable
from datetime import date

from PySide6.QtCore import QDate, Qt
from PySide6.QtGui import QColor, QTextCharFormat
from PySide6.QtWidgets import QCalendarWidget

from planner.pressing.working_days import WorkingDays
from planner.window.look import tokens_of


class DueCalendar(QCalendarWidget):
    """Tells the day that is clicked, or chosen by Enter."""

    def __init__(
        self, chosen: date, *, today: date, open_days: WorkingDays, take: Callable[[date], object]
    ) -> None:
        super().__init__()
        self._today, self._open_days = today, open_days
        self.setSelectedDate(QDate(chosen.year, chosen.month, chosen.day))
        self.setMinimumDate(QDate(today.year, today.month, today.day))
        self.setGridVisible(False)
        self.setVerticalHeaderFormat(QCalendarWidget.VerticalHeaderFormat.NoVerticalHeader)
        for day in Qt.DayOfWeek:
            # Qt's own weekends are red, whatever the shop's are.
            self.setWeekdayTextFormat(day, self._in(tokens_of(self).text))
        self.currentPageChanged.connect(self._show_month)
        self._show_month(self.yearShown(), self.monthShown())
        for picked in (self.activated, self.clicked):
            picked.connect(lambda day: take(date(day.year(), day.month(), day.day())))

    def _show_month(self, year: int, month: int) -> None:
        tokens = tokens_of(self)
        _, days = monthrange(year, month)
        for number in range(1, days + 1):
            day = date(year, month, number)
            # Qt tells days that cannot be chosen by their ground alone.
            colour = tokens.edge if day < self._today else "" if day in self._open_days else tokens.quiet
            if colour:
                self.setDateTextFormat(QDate(year, month, number), self._in(colour))

    @staticmethod
    def _in(colour: str) -> QTextCharFormat:
        made = QTextCharFormat()
        made.setForeground(QColor(colour))
        return made
