"""After the job: what it really took beside the plan, what is left over, what the shop book learns."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QWidget

from planner.job.document import Job
from planner.measures.figures import decimal, whole
from planner.plan import wording as sentences
from planner.plan.model import Plan
from planner.plan.stock import Remains
from planner.pricing.actuals import taught
from planner.shop.actuals import Actuals
from planner.shop.book import Shop
from planner.window.fields import CountField, MoneyField
from planner.window.jobs import words
from planner.window.jobs.tables import Rows, figure
from planner.window.look import APART, RELATED
from planner.window.widgets import SideWindow, button, column, label, line, row, scrolled


@dataclass(frozen=True, slots=True)
class Planned:
    """What the plan expected; of a job whose figures were kept, what it expected then."""

    pressings: int
    misprints: float
    blanks_spoilt: float
    press_min: float
    cost: Decimal
    revenue: Decimal


def planned_of(job: Job, shop: Shop, plan: Plan) -> Planned:
    """The plan's figures that really typed ones stand beside."""
    pressings = sum(step.pressings for step in plan.press_work.steps)
    garments = sum(garment.count for garment in job.lines)
    kept = job.actuals
    misprints = shop.spares.misprint_rate * pressings
    if kept and kept.planned_misprints is not None:
        misprints = kept.planned_misprints
    return Planned(
        pressings=pressings,
        misprints=misprints,
        blanks_spoilt=float(shop.rates.spoilage_percent) / 100 * garments,
        press_min=kept.planned_min if kept else plan.press_work.total_min,
        cost=kept.planned_cost if kept else plan.costs.total,
        revenue=kept.revenue if kept and kept.revenue is not None else plan.costs.revenue,
    )


class AfterWindow(SideWindow):
    """Shows one job's end; tells what was typed."""

    kept = Signal(object)
    """The `Actuals`."""
    settled = Signal(object)
    """How many are left of each piece, by piece key."""
    learning_requested = Signal()

    def __init__(self, parent: QWidget | None, today: Callable[[], date], currency: str) -> None:
        super().__init__(parent)
        self._today = today
        self._job: Job | None = None
        self._planned: Planned | None = None
        self._remains: tuple[Remains, ...] = ()
        self._typed_left: set[str] = set()
        self.resize(720, 560)
        self.setMinimumSize(560, 360)
        self.misprints = CountField(words.MISPRINTS)
        self.blanks = CountField(words.BLANKS_SPOILT)
        self.minutes = CountField(words.MINUTES)
        self.cost = MoneyField(words.COST, Decimal(0), currency)
        self.left: dict[str, CountField] = {}
        self.keep = button(words.KEEP, self._keep, role="main", hint=words.KEEP_HINT)
        self.settle = button(words.SETTLE, self._settle, hint=words.SETTLE_HINT)
        self.learn = button(words.LEARN, self.learning_requested.emit, hint=words.LEARN_HINT)
        self.said, self.settle_said = label(quiet=True, wrap=True), label(quiet=True, wrap=True)
        self.learn_said = label(wrap=True)
        self._figures: dict[str, tuple[QLabel, QLabel]] = {}
        self._profit = figure()
        self._rest = Rows(("", words.ORDERED, words.FROM_STOCK, words.USED, words.LEFT))
        self._build()
        for field in (self.misprints, self.blanks, self.minutes, self.cost):
            field.edited.connect(self._typed)

    def show_job(
        self,
        job: Job,
        shop: Shop,
        plan: Plan,
        all_remains: tuple[Remains, ...],
        names: Mapping[str, str],
        *,
        book: Shop,
    ) -> None:
        """Show a job; what is being typed stays as long as it is the same job.

        `shop` is what the job is worked out with, `book` what may learn from it.
        """
        before, self._job = self._job, job
        self._planned = planned_of(job, shop, plan)
        self.setWindowTitle(words.after_title(job.title))
        kept = job.actuals
        if before is None or before.actuals != kept or before.title != job.title:
            self.misprints.show_value(kept.misprints if kept else 0)
            self.blanks.show_value(kept.blanks_spoilt if kept else 0)
            self.minutes.show_value(round(kept.press_min) if kept else 0)
            self.cost.show_money(kept.cost if kept else self._planned.cost, plan.costs.currency)
        if before is None or all_remains != self._remains or before.stock_settled != job.stock_settled:
            self._remains = all_remains
            self._show_left(names, settled=job.stock_settled)
        self._show_planned(plan.costs.currency)
        self._show_learning(book)

    def forget(self) -> None:
        """Another job lies on the desk: what was typed belonged to the one before."""
        self._job = None

    def _build(self) -> None:
        table = Rows(("", words.PLANNED, words.REAL, words.DIFFERENCE))
        for name, field, why in (
            (words.MISPRINTS, self.misprints, words.MISPRINTS_WHY),
            (words.BLANKS_SPOILT, self.blanks, words.BLANKS_WHY),
            (words.MINUTES, self.minutes, words.MINUTES_WHY),
            (words.COST, self.cost, words.COST_WHY),
            (words.PROFIT, self._profit, words.PROFIT_WHY),
        ):
            self._figures[name] = (figure(), figure(quiet=True))
            planned, difference = self._figures[name]
            table.add(name, (planned, field, difference), why)
        inner = QWidget()
        page = column(space=RELATED, edge=APART)
        for heading, part, said, act in (
            (words.REALLY, table, self.said, self.keep),
            (words.LEFT_OVER, self._rest, self.settle_said, self.settle),
            (words.LEARNING, None, self.learn_said, self.learn),
        ):
            page.addWidget(label(heading, strong=True))
            if part is not None:
                page.addWidget(part)
            foot = row(space=RELATED)
            foot.addWidget(said, 1)
            foot.addWidget(act)
            page.addLayout(foot)
            if act is not self.learn:
                page.addSpacing(RELATED)
                page.addWidget(line())
                page.addSpacing(RELATED)
        page.addStretch(1)
        inner.setLayout(page)
        whole = column(space=0)
        whole.addWidget(scrolled(inner))
        self.setLayout(whole)

    def _show_planned(self, currency: str) -> None:
        planned = self._planned
        assert planned is not None
        cost = self.cost.value
        started = self.minutes.value > 0
        for name, expected, real, digits in (
            (words.MISPRINTS, planned.misprints, float(self.misprints.value), 1),
            (words.BLANKS_SPOILT, planned.blanks_spoilt, float(self.blanks.value), 1),
            (words.MINUTES, planned.press_min, float(self.minutes.value), 0),
            (words.COST, float(planned.cost), float(cost), 2),
            (words.PROFIT, float(planned.revenue - planned.cost), float(planned.revenue - cost), 2),
        ):
            shown, difference = self._figures[name]
            is_money = name in (words.COST, words.PROFIT)
            amount = planned.cost if name == words.COST else planned.revenue - planned.cost
            shown.setText(sentences.money(amount, currency) if is_money else decimal(expected, digits))
            difference.setText(words.difference(expected, real, digits=digits) if started else "")
        self._profit.setText(sentences.money(planned.revenue - cost, currency))
        self.keep.setEnabled(started)
        same = (
            self._job is not None and self._job.actuals is not None and self._actuals() == self._job.actuals
        )
        self.said.setText(words.KEPT if same else "" if started else words.NOT_KEPT)

    def _show_left(self, names: Mapping[str, str], *, settled: bool) -> None:
        self._rest.clear()
        self.left.clear()
        self._typed_left.clear()
        for one in self._remains:
            field = CountField(f"{words.LEFT}: {names[one.piece]}")
            field.setEnabled(not settled)
            field.edited.connect(lambda value, gesture, key=one.piece: self._typed_left.add(key))
            self.left[one.piece] = field
            self._rest.add(
                names[one.piece],
                (figure(whole(one.ordered)), figure(whole(one.taken)), figure(whole(one.used)), field),
                words.LEFT_WHY,
            )
        self._rest.setVisible(bool(self._remains) and not settled)
        self.settle.setEnabled(bool(self._remains) and not settled)
        self.settle_said.setText(
            words.SETTLED if settled else words.LEFT_WHY if self._remains else words.NOTHING_LEFT
        )
        self._count_left()

    def _count_left(self) -> None:
        """What must be left, misprints off, where nobody typed what is there."""
        spoilt = self.misprints.value
        for one in self._remains:
            gone = min(spoilt, one.left)
            spoilt -= gone
            if one.piece not in self._typed_left:
                self.left[one.piece].show_value(one.left - gone)

    def _show_learning(self, book: Shop) -> None:
        past = [one for one in book.actuals if not one.learnt]
        after = taught(book, past)
        changes = []
        was, now = book.spares.misprint_rate, after.spares.misprint_rate
        if round(was, 3) != round(now, 3):
            changes.append(words.misprint_rate(was, now))
        for press, later in zip(book.presses, after.presses, strict=True):
            if round(press.loading_s) != round(later.loading_s):
                changes.append(words.loading(press.name, press.loading_s, later.loading_s))
        self.learn.setEnabled(bool(changes))
        self.learn_said.setText(
            words.learnt(len(past), changes)
            if changes
            else words.FITS
            if past
            else words.NOTHING_TO_LEARN
            if book.actuals
            else words.NOTHING_KEPT
        )

    def _typed(self, value: object, gesture: str) -> None:
        self._count_left()
        self._show_planned(self.cost.currency)

    def _actuals(self) -> Actuals:
        assert self._job is not None
        assert self._planned is not None
        kept, planned = self._job.actuals, self._planned
        return Actuals(
            title=self._job.title,
            finished_on=kept.finished_on if kept else self._today(),
            pressings=planned.pressings + self.misprints.value,
            misprints=self.misprints.value,
            blanks_spoilt=self.blanks.value,
            press_min=self.minutes.value,
            planned_min=planned.press_min,
            cost=self.cost.value,
            planned_cost=planned.cost,
            planned_misprints=planned.misprints,
            revenue=planned.revenue,
        )

    def _keep(self) -> None:
        self.cost.commit()
        self.kept.emit(self._actuals())

    def _settle(self) -> None:
        self.settled.emit({key: field.value for key, field in self.left.items()})
