"""The order of work at the press, a row for each print, and beneath it the job's last days."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planner.job.document import Job
from planner.measures.temperature import format_temperature
from planner.plan import wording as sentences
from planner.plan.wording_press import duration, pace, resets
from planner.pressing.calendar import Calendar
from planner.pressing.card import PressCard, PressWork, WorkStep
from planner.shop.book import Shop
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.names import line_name
from planner.window.press import words
from planner.window.press.dates import Dates
from planner.window.widgets import CardFrame, column, emptied, label


class CardRow(CardFrame):
    """One print in the order of work."""

    chosen = Signal(str)

    def __init__(self, key: str) -> None:
        super().__init__()
        self.pressed.connect(lambda: self.chosen.emit(key))
        self.title = label("", strong=True, wrap=True)
        self.where = label("", Type.SMALL, quiet=True, wrap=True)
        self.work = label("", Type.SMALL, quiet=True, wrap=True)
        inside = column(space=2)
        inside.setContentsMargins(RELATED, RELATED, RELATED, RELATED)
        for told in (self.title, self.where, self.work):
            inside.addWidget(told)
        self.setLayout(inside)

    def show_card(self, card: PressCard, job: Job, step: WorkStep | None, current: bool) -> None:
        place = sentences.place(card.location, card.place_name)
        self.title.setText(f"{card.position}. {place[:1].upper()}{place[1:]}")
        self.where.setText(line_name(job, job.line(card.line)))
        work = f"{format_temperature(card.setting_c)} · {sentences.seconds(card.press_s)}"
        if step is not None:
            work += f" · {sentences.count(step.pieces, 'piece')} · {duration(step.minutes)}"
        self.work.setText(work)
        self.setAccessibleName(f"{self.title.text()}, {self.where.text()}, {work}")
        self.set_current(current)


class WorkList(QWidget):
    """Cards in the order they are pressed, with the press set anew between them where it must be."""

    card_chosen = Signal(str)

    def __init__(self, today: Callable[[], date]) -> None:
        super().__init__()
        self.total = label("", Type.SMALL, quiet=True, wrap=True)
        self._rows = column(space=0)
        self.dates = Dates(today)
        whole = column(space=RELATED)
        whole.setContentsMargins(RELATED, RELATED, RELATED, RELATED)
        whole.addWidget(label(words.ORDER_OF_WORK, Type.LARGE))
        whole.addWidget(self.total)
        whole.addLayout(self._rows)
        whole.addSpacing(APART)
        whole.addWidget(self.dates)
        whole.addStretch(1)
        self.setLayout(whole)
        self.rows: dict[str, CardRow] = {}
        self._shown: tuple[object, ...] = ()

    def show_work(
        self,
        job: Job,
        shop: Shop,
        cards: tuple[PressCard, ...],
        work: PressWork,
        calendar: Calendar,
        chosen: str,
    ) -> None:
        steps = {step.print: step for step in work.steps}
        shown = tuple((card.print, card.press, _resets(steps.get(card.print))) for card in cards)
        if shown != self._shown:
            self._shown = shown
            self._build(shop, cards, steps)
        for card in cards:
            self.rows[card.print].show_card(card, job, steps.get(card.print), card.print == chosen)
        self.total.setText(_total_words(work))
        self.dates.show_calendar(job, calendar, shop)

    def _build(self, shop: Shop, cards: tuple[PressCard, ...], steps: dict[str, WorkStep]) -> None:
        emptied(self._rows)
        self.rows = {}
        names = {press.key: press.name for press in shop.presses}
        before = ""
        for card in cards:
            step = steps.get(card.print)
            if card.press != before and len(names) > 1:
                self._rows.addWidget(_between(names.get(card.press, words.NO_PRESS)))
                before = card.press
            if _resets(step):
                self._rows.addWidget(_between(words.set_anew(format_temperature(card.setting_c))))
            made = CardRow(card.print)
            made.chosen.connect(self.card_chosen)
            self._rows.addWidget(made)
            self.rows[card.print] = made


def _resets(step: WorkStep | None) -> bool:
    return step is not None and step.reset_before


def _between(words: str) -> QWidget:
    made = label(words, Type.SMALL, strong=True, wrap=True)
    made.setContentsMargins(RELATED, RELATED, 0, GRID)
    return made


def _total_words(work: PressWork) -> str:
    if not work.steps:
        return words.NO_COUNTS
    return words.time_at_press(
        total=duration(work.total_min),
        warm_up=duration(work.warm_up_min),
        set_anew=resets(work) if work.resets else "",
        pace=pace(work),
    )
