"""The page of the price ladder: planned when it is looked at, off the UI thread."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QProgressBar, QWidget

from planner.job.document import Job
from planner.plan.laddering import Ladder, price_ladder
from planner.plan.model import Plan
from planner.plan.ordering import Facts
from planner.pricing.ladder import Rung
from planner.shop.book import Shop
from planner.window.background import Background
from planner.window.before import Before
from planner.window.costs import words
from planner.window.ladder.chart import LadderChart
from planner.window.ladder.rungs import RungsTable, figures_of, place_of, with_now
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.widgets import button, column, label, row, scrolled
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
        self._before = Before()
        self._provisional = True
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
        self.table = RungsTable()
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_AFTER_MS)
        self._later.timeout.connect(self._start)
        self._build()
        self.on_quote.clicked.connect(lambda on: self.terms_edited.emit({"ladder_on_quote": on}, ""))
        self.chart.pointed.connect(self._tell)

    def expect(self, job: Job, shop: Shop) -> None:
        """The job as it is now, whether or not it is shown yet: what changes from here on is an edit's."""
        self._before.ask((_priced_part(job), shop))

    def look_at(self) -> None:
        """Somebody knows the figures as they are."""
        if self._before.look_at():
            self._show(self.ladder)

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
        table = row()
        table.addWidget(self.table)
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
            self._provisional = plan.provisional
            # Figures of a job that was edited since are no answer to what is asked now.
            if self._asked is not None and _priced(self._asked) == self._answered:
                self._before.take(figures_of(ladder, shop.currency, provisional=plan.provisional))
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
        self._rungs = with_now(ladder)
        self.table.show_rungs(self._rungs, ladder, currency, self._was)
        self.chart.show_rungs(self._rungs, now.quantity if now else 0, currency)
        self.chart.setVisible(bool(self._rungs))
        self._tell(-1)

    def _was(self, rung: Rung, field: str) -> str:
        return self._before.was(place_of(rung, field, self.ladder, provisional=self._provisional))

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


def _priced_part(job: Job) -> object:
    """What of a job a ladder depends on: a title, or the tick itself, changes no price."""
    terms = job.terms.model_copy(update={"ladder_on_quote": False})
    return (job.lines, job.prints, job.artworks, job.extras, job.offer, job.way, terms, job.from_stock)


def _priced(asked: tuple[Job, Shop, Plan, Facts]) -> object:
    """All that a ladder depends on."""
    job, shop, plan, facts = asked
    return _priced_part(job), (shop, plan.costs, dict(facts))
