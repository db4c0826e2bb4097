"""The page of the price ladder: planned when it is looked at, off the UI thread."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QGridLayout, QProgressBar, QWidget

from planner.job.document import Job
from planner.measures.money import minor_units
from planner.plan.laddering import Ladder, price_ladder
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.pricing.ladder import Rung
from planner.shop.book import Shop
from planner.window.background import Background
from planner.window.costs import words
from planner.window.ladder.chart import LadderChart
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.widgets import button, column, emptied, label, row, scrolled
from planner.work.ticket import Cancelled

LANE = "ladder"
_AFTER_MS = 400
"""Five plans are dear: they wait until nobody has edited for a moment."""


class LadderPanel(QWidget):
    """Shows prices by quantity; its one edit is whether the quote shows them too."""

    terms_edited = Signal(object, str)
    quantities_requested = Signal()
    troubled = Signal(object)

    def __init__(self, background: Background) -> None:
        super().__init__()
        self._background = background
        self._asked: tuple[Job, Shop, Plan, Facts] | None = None
        self._answered: object = None
        self.ladder = Ladder()
        self._rungs: tuple[Rung, ...] = ()
        self.chart = LadderChart()
        self.on_quote = QCheckBox(words.ON_QUOTE)
        self.on_quote.setToolTip(words.ON_QUOTE_HINT)
        self.on_quote.setMinimumHeight(TARGET)
        self.quantities = button(
            words.QUANTITIES, self.quantities_requested.emit, role="link", hint=words.QUANTITIES_HINT
        )
        self.offer_it = label(strong=True, wrap=True)
        self.state = label(quiet=True, wrap=True)
        self.told = label(size=Type.SMALL, quiet=True, wrap=True)
        self.progress = QProgressBar()
        self.stop = button(words.STOP, self._stop, role="link")
        self.again = button(words.AGAIN, self._start, role="link")
        self._table = QGridLayout()
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_AFTER_MS)
        self._later.timeout.connect(self._start)
        self._build()
        self.on_quote.clicked.connect(lambda on: self.terms_edited.emit({"ladder_on_quote": on}, ""))
        self.chart.pointed.connect(self._tell)

    def show_plan(self, job: Job, shop: Shop, plan: Plan, facts: Facts) -> None:
        """The job as it is now; its ladder follows when somebody looks."""
        self.on_quote.setChecked(job.terms.ladder_on_quote)
        asked = (job, shop, plan, facts)
        if _priced(asked) == self._answered:
            self._asked = asked
            return
        self._asked = asked
        if not any(line.count for line in job.lines) or plan.purchase is None:
            self._background.stop(LANE)
            self._later.stop()
            self._answered = _priced(asked)
            self._show(Ladder())
            self._say(words.NO_OFFER if any(line.count for line in job.lines) else words.NO_COUNTS)
        elif self.isVisible():
            self._later.start()

    def _build(self) -> None:
        head = row(space=RELATED)
        head.addWidget(label(words.LADDER_HEAD, strong=True))
        head.addStretch(1)
        head.addWidget(self.quantities)
        head.addWidget(self.on_quote)
        self._table.setHorizontalSpacing(6 * GRID)
        self._table.setVerticalSpacing(GRID)
        table = row()
        table.addLayout(self._table)
        table.addStretch(1)
        self.progress.setFixedSize(40 * GRID, 2 * GRID)
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName(words.WORKING)
        work = row(space=RELATED)
        for part in (self.state, self.progress, self.stop, self.again):
            work.addWidget(part)
        work.addStretch(1)
        inner = QWidget()
        content = column(space=RELATED, edge=APART)
        content.addLayout(head)
        content.addWidget(label(words.LADDER_HINT, Type.SMALL, quiet=True, wrap=True))
        content.addWidget(self.offer_it)
        content.addLayout(work)
        content.addLayout(table)
        content.addWidget(self.chart)
        content.addWidget(self.told)
        content.addStretch(1)
        inner.setLayout(content)
        whole = column(space=0)
        whole.addWidget(scrolled(inner))
        self.setLayout(whole)
        self._say("")

    def _start(self) -> None:
        if self._asked is None:
            return
        asked = job, shop, plan, facts = self._asked

        def done(ladder: Ladder) -> None:
            self._answered = _priced(asked)
            self._say("")
            self._show(ladder)

        def failed(error: Exception) -> None:
            self._say(words.STOPPED, again=True)
            if not isinstance(error, Cancelled):
                self.troubled.emit(error)

        self._say(words.WORKING, busy=True)
        self._background.start(
            LANE,
            lambda ticket: price_ladder(job, shop, plan, facts=facts, ticket=ticket),
            done=done,
            failed=failed,
            progressed=self._progressed,
        )

    def _stop(self) -> None:
        self._background.hurry(LANE)

    def _progressed(self, done: int, of: int) -> None:
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    def _say(self, sentence: str, *, busy: bool = False, again: bool = False) -> None:
        self.state.setText(sentence)
        self.state.setVisible(bool(sentence))
        for part in (self.progress, self.stop):
            part.setVisible(busy)
        self.again.setVisible(again)

    def _show(self, ladder: Ladder) -> None:
        self.ladder = ladder
        now, step = ladder.now, ladder.step_up
        currency = self._asked[1].currency if self._asked else "USD"
        self.offer_it.setText(words.step_up(step, now, currency) if step and now else "")
        self.offer_it.setVisible(bool(self.offer_it.text()))
        self._rungs = _with_now(ladder)
        emptied(self._table)
        right = Qt.AlignmentFlag.AlignRight
        for at, head in enumerate(words.heads(currency) if self._rungs else ()):
            self._table.addWidget(label(head, Type.SMALL, quiet=True), 0, at, right)
        for line, rung in enumerate(self._rungs, 1):
            is_now = now is not None and rung.quantity == now.quantity
            for at, text in enumerate(_cells(rung, minor_units(currency), now=is_now)):
                self._table.addWidget(label(text, strong=is_now or at == 1), line, at, right)
        self.chart.show_rungs(self._rungs, now.quantity if now else 0, currency)
        self.chart.setVisible(bool(self._rungs))
        self._tell(-1)

    def _tell(self, at: int) -> None:
        if self._asked is None or not 0 <= at < len(self._rungs):
            self.told.setText("")
            return
        rung, now = self._rungs[at], self.ladder.now
        told = words.rung(rung, self._asked[1].currency, now=now is not None and rung == now)
        self.told.setText(told)
        self.chart.setAccessibleDescription(told)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._asked is not None and _priced(self._asked) != self._answered:
            self._start()


def _with_now(ladder: Ladder) -> tuple[Rung, ...]:
    """The shop's quantities and the job's own, smallest first."""
    every = {rung.quantity: rung for rung in (*ladder.rungs, *((ladder.now,) if ladder.now else ()))}
    return tuple(every[quantity] for quantity in sorted(every))


def _cells(rung: Rung, decimals: int, *, now: bool) -> tuple[str, ...]:
    return (
        f"{words.NOW} {rung.quantity:,}" if now else f"{rung.quantity:,}",
        words.plain(rung.price_each, decimals),
        words.plain(rung.total, decimals),
        words.plain(rung.cost_each, decimals),
        f"{rung.margin_percent:.1f} %",
    )


def _priced(asked: tuple[Job, Shop, Plan, Facts]) -> object:
    """What a ladder depends on: a title, or the tick itself, changes no price."""
    job, shop, plan, facts = asked
    terms = job.terms.model_copy(update={"ladder_on_quote": False})
    return (job.lines, job.prints, job.artworks, job.extras, job.offer, job.way, terms, job.from_stock), (
        shop,
        plan.costs,
        dict(facts),
    )
