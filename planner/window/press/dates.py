"""The job's last days, the room left until each, and when things were really ordered."""

from collections.abc import Callable
from datetime import date
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.plan import wording as sentences
from planner.plan.wording_dates import dates_notes, slack, what, when
from planner.pressing.calendar import Calendar, Deadline, Milestone
from planner.shop.book import Shop
from planner.window.fields import Field
from planner.window.look import GRID, RELATED, Type
from planner.window.press import words
from planner.window.readings import read_past_date
from planner.window.widgets import StatusMark, button, column, emptied, label, row

_ORDERS = (Milestone.ORDER_TRANSFERS, Milestone.ORDER_BLANKS)


class OrderRow(QWidget):
    """When one order went out: typed, or today by a press."""

    told = Signal(object, str)
    """The day (None: not yet), and the gesture."""

    def __init__(self, name: str, today: Callable[[], date]) -> None:
        super().__init__()
        self.field: Field[date | None] = Field(
            name,
            lambda typed: read_past_date(typed, today()),
            lambda on: "" if on is None else sentences.day(on),
            None,
        )
        self.field.setPlaceholderText(words.NOT_YET)
        self.field.setToolTip(words.ORDERED_HINT)
        self.field.edited.connect(self.told)
        hint = words.TODAY_HINT
        self.today = button(words.TODAY, lambda: self.told.emit(today(), ""), role="link", hint=hint)
        across = row(space=GRID)
        across.addWidget(label(words.ORDERED, Type.SMALL, quiet=True))
        across.addWidget(self.field)
        across.addWidget(self.today)
        across.addStretch(1)
        self.setLayout(across)

    def show_day(self, on: date | None) -> None:
        self.field.show_value(on)
        self.today.setVisible(on is None)


class Dates(QWidget):
    """Last days by which things must happen; an order takes the day on which it really went out."""

    ordered = Signal(object, object, str)
    """The offer (None: the blanks), the day (None: not yet), and the gesture."""

    def __init__(self, today: Callable[[], date]) -> None:
        super().__init__()
        self._today = today
        self._words = label("", Type.SMALL, quiet=True, wrap=True)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(RELATED)
        self._grid.setVerticalSpacing(RELATED)
        self._grid.setColumnStretch(1, 1)
        self.orders: dict[str | None, OrderRow] = {}
        whole = column()
        whole.addWidget(label(words.LAST_DAYS, Type.LARGE))
        whole.addWidget(self._words)
        whole.addLayout(self._grid)
        self.setLayout(whole)
        self._shown: object = None

    def show_calendar(self, job: Job, calendar: Calendar, shop: Shop) -> None:
        if (calendar, shop.offers) == self._shown:
            return
        self._shown = (calendar, shop.offers)
        self._words.setText(_head(calendar))
        wanted = {last.offer for last in calendar.deadlines if last.milestone in _ORDERS}
        # The cursor may be in one of these: they stay, and only move.
        for offer, kept in list(self.orders.items()):
            if offer in wanted:
                self._grid.removeWidget(kept)
            else:
                del self.orders[offer]
        emptied(self._grid)
        rows = iter(range(2 * len(calendar.deadlines)))
        for deadline in calendar.deadlines:
            at = next(rows)
            offer_name = getattr(shop.offer(deadline.offer or ""), "name", "")
            name = ", ".join(part for part in (what(deadline), offer_name) if part)
            self._grid.addWidget(_mark(deadline), at, 0, Qt.AlignmentFlag.AlignTop)
            self._grid.addWidget(_said(name, deadline), at, 1)
            if deadline.milestone in _ORDERS:
                order = self._order(deadline.offer, offer_name)
                order.show_day(job.ordered_on(deadline.offer))
                self._grid.addWidget(order, next(rows), 1)

    def _order(self, offer: str | None, offer_name: str) -> OrderRow:
        if offer not in self.orders:
            name = words.BLANKS_ORDERED_ON if offer is None else words.ordered_on(offer_name)
            made = self.orders[offer] = OrderRow(name, self._today)
            made.told.connect(partial(self.ordered.emit, offer))
        return self.orders[offer]


def _head(calendar: Calendar) -> str:
    if calendar.due is None:
        return words.NO_DUE
    told = [words.due(calendar.due)]
    if calendar.press_days:
        told.append(words.pressing_takes(calendar.press_days))
    return " ".join((*told, *dates_notes(calendar)))


def _mark(deadline: Deadline) -> StatusMark:
    late = deadline.slack_days < 0
    mark = StatusMark(Seriousness.STOP if late else Seriousness.LOOK)
    keep = mark.sizePolicy()
    keep.setRetainSizeWhenHidden(True)
    mark.setSizePolicy(keep)
    mark.setVisible(deadline.slack_days <= (0 if deadline.ordered else 1))
    return mark


def _said(name: str, deadline: Deadline) -> QWidget:
    words = column(space=0)
    words.addWidget(label(name, wrap=True))
    words.addWidget(label(f"{when(deadline)} · {slack(deadline)}", Type.SMALL, quiet=True, wrap=True))
    holder = QWidget()
    holder.setLayout(words)
    return holder
