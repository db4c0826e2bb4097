"""The sidebar of figures: what the job costs, what it sells for, what the customer pays, and by when."""

from decimal import Decimal
from functools import partial
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from planner.job.document import Job
from planner.job.findings import FindingKind, Seriousness
from planner.measures.figures import decimal
from planner.plan import wording as sentences
from planner.plan.model import Missing, Plan
from planner.plan.wording_dates import dates_notes, slack, what
from planner.pricing.costs import CostKind, CostLine
from planner.pricing.figures import exact
from planner.pricing.tracing import costs_traced, quote_traced
from planner.shop.book import Shop
from planner.window import meanings, wording
from planner.window.costs import words
from planner.window.costs.figure import Figure
from planner.window.costs.terms import TermsForm
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.names import day_name, line_name
from planner.window.told import Told
from planner.window.widgets import StatusMark, column, label, line, row, scrolled


class CostsPanel(QWidget):
    """Shows the plan's figures; edits only the terms of this job."""

    terms_edited = Signal(object, str)
    """The fields of `Terms` that change, and the gesture."""
    way_chosen = Signal(object)
    """How sheets are cut apart, or None for the shop's way."""

    def __init__(self, currency: str) -> None:
        super().__init__()
        self.figures: dict[str, Figure] = {}
        self.terms = TermsForm(currency)
        self.terms.edited.connect(self.terms_edited)
        self.terms.way_chosen.connect(self.way_chosen)
        self._money, self._held = "USD", False
        self._groups = {
            name: column(space=GRID if name == "lines" else 0)
            for name in ("costs", "sums", "lines", "quote", "dates")
        }
        self._hint = label(size=Type.SMALL, quiet=True, wrap=True)
        self._prices = label(words.PRICE_EACH, Type.SMALL, quiet=True)
        self._dates_hint = label(size=Type.SMALL, quiet=True, wrap=True)
        self._floor_mark, self._floor_words = StatusMark(Seriousness.LOOK), label(size=Type.SMALL, wrap=True)
        self.floor = QWidget()
        self._build()

    def show_plan(self, job: Job, shop: Shop, plan: Plan, *, held: bool = False) -> None:
        """Show the figures of a plan; what changed shows what it was, while `held` until it is looked at."""
        self._money, self._held = shop.currency, held
        self._shown: set[str] = set()
        self._rows = dict.fromkeys(self._groups, 0)
        self._show_costs(job, plan)
        self._show_lines(job, plan)
        self._show_quote(job, plan)
        self._show_dates(job, shop, plan)
        self.terms.show_terms(job.terms, job.way, shop)
        for key in self.figures.keys() - self._shown:
            gone = self.figures.pop(key)
            gone.hide()
            gone.deleteLater()

    def look_at(self) -> None:
        """Somebody knows the figures as they are."""
        for figure in self.figures.values():
            figure.look_at()

    def forget_changes(self) -> None:
        """Another job is on the desk: its figures are no changes."""
        for figure in self.figures.values():
            figure.forget_change()

    def _build(self) -> None:
        inner = QWidget()
        content = column()
        content.setContentsMargins(APART, RELATED, APART, APART)
        head = row(space=RELATED)
        head.addWidget(label(words.COSTS, strong=True))
        head.addStretch(1)
        head.addWidget(label(words.SHOP_ONLY, Type.SMALL, quiet=True))
        content.addLayout(head)
        content.addWidget(self._hint)
        content.addLayout(self._groups["costs"])
        content.addLayout(self._groups["sums"])
        floor = row(space=GRID)
        floor.addWidget(self._floor_mark)
        floor.addWidget(self._floor_words, 1)
        self.floor.setLayout(floor)
        self.floor.hide()
        content.addWidget(self.floor)
        content.addWidget(self._prices)
        content.addLayout(self._groups["lines"])
        for title, name in ((words.QUOTE, "quote"), (words.TERMS, "terms"), (words.DATES, "dates")):
            content.addWidget(line())
            content.addWidget(label(title, strong=True))
            if name == "terms":
                content.addWidget(self.terms)
            else:
                content.addLayout(self._groups[name])
        content.addWidget(self._dates_hint)
        content.addStretch(1)
        inner.setLayout(content)
        whole = column(space=0)
        whole.addWidget(scrolled(inner))
        self.setLayout(whole)

    def _show_costs(self, job: Job, plan: Plan) -> None:
        costs = plan.costs
        self._hint.setText(_hint_of(plan))
        self._hint.setVisible(bool(self._hint.text()))
        for kind in CostKind:
            of_kind = [cost for cost in costs.lines if cost.kind is kind]
            if of_kind:
                amount = sum((cost.amount for cost in of_kind), Decimal(0))
                how = _how(kind, of_kind)
                if kind is CostKind.TRANSFERS:
                    how = "\n".join(part for part in (how, *self._bounds(plan)) if part)
                self._put("costs", f"cost {kind}", words.COST_NAMES[kind], amount, how)
        if costs.lines:
            told = costs_traced(costs)
            for key, name, amount, meaning in (
                ("total", wording.TOTAL_COST, costs.total, words.HOW_TOTAL),
                ("each", words.COST_EACH, costs.each, words.HOW_EACH),
                ("profit", words.PROFIT, costs.profit, words.HOW_PROFIT),
            ):
                self._put("sums", key, name, amount, f"{meaning}\n{told[key]}", strong=key == "total")
            how = f"{words.HOW_MARGIN}\n{told['margin']}" if costs.revenue else words.HOW_MARGIN
            self._put_percent("sums", "margin", wording.MARGIN, costs.margin_percent, how)
        self._show_floor(job, plan)

    def _show_floor(self, job: Job, plan: Plan) -> None:
        """Warn right under the margin: of the whole job, or of the lines that are under the floor in it."""
        under = [found for found in plan.findings if found.kind is FindingKind.UNDER_FLOOR]
        self.floor.setVisible(bool(under))
        if under:
            floor = under[0].needed
            lines = tuple(line_name(job, job.line(found.line)) for found in under if found.line)
            whole = float(plan.costs.margin_percent) < (floor or 0)
            self._floor_mark.show_seriousness(under[0].seriousness)
            self._floor_words.setText(words.under_floor(floor, () if whole else lines))

    def _bounds(self, plan: Plan) -> tuple[str, ...]:
        orders = plan.purchase.orders if plan.purchase else ()
        return tuple(sentences.bound(order, self._money) for order in orders)

    def _show_lines(self, job: Job, plan: Plan) -> None:
        self._prices.setVisible(bool(plan.costs.lines))
        if not plan.costs.lines:
            return
        for cost in plan.costs.by_line:
            name = line_name(job, job.line(cost.line))
            each = ", ".join(
                f"{size.size} {self._plain(size.cost_each)} → {self._plain(size.price_each)}"
                for size in cost.by_size
            )
            how = "\n".join(
                (
                    meanings.COST_EACH,
                    cost.cost_how,
                    meanings.PRICE_EACH,
                    cost.how,
                    words.cost_to_price(each),
                )
            )
            self._put("lines", f"line {cost.line}", name, cost.price_each, how)

    def _show_quote(self, job: Job, plan: Plan) -> None:
        quote = plan.quote
        told = quote_traced(quote, job.terms)

        def put(key: str, name: str, amount: Decimal, meaning: str, **look: Any) -> None:
            how = "\n".join(part for part in (meaning, told.get(key, "") if amount else "") if part)
            # "total" is the cost's.
            self._put("quote", "quote" if key == "total" else key, name, amount, how, **look)

        put("subtotal", words.BEFORE_TAX, quote.subtotal, meanings.SUBTOTAL)
        if quote.discount:
            put("discount", words.DISCOUNT, -quote.discount, meanings.DISCOUNT)
        if quote.top_up:
            put("top_up", words.TOP_UP, quote.top_up, meanings.TOP_UP)
        if quote.delivery:
            put("delivery", words.DELIVERY, quote.delivery, meanings.DELIVERY)
        if quote.tax_percent or quote.tax:
            name = f"{quote.tax_name} {exact(quote.tax_percent)} %"
            put("tax", name, quote.tax, meanings.TAX)
        put("total", wording.QUOTE_TOTAL, quote.total, meanings.TOTAL, size=Type.LARGE, strong=True)
        name = f"{words.DEPOSIT} {exact(quote.deposit_percent)} %"
        put("deposit", name, quote.deposit, meanings.DEPOSIT)

    def _show_dates(self, job: Job, shop: Shop, plan: Plan) -> None:
        calendar = plan.calendar
        notes = (words.NO_DUE,) if job.due is None else dates_notes(calendar)
        self._dates_hint.setText("\n".join(notes))
        self._dates_hint.setVisible(bool(self._dates_hint.text()))
        for deadline in calendar.deadlines:
            key = f"date {what(deadline)} {deadline.offer}"
            name = day_name(what(deadline), deadline, shop, calendar.deadlines)
            figure = self._figure("dates", key, name, Type.BODY)
            shown = deadline.arrives or deadline.by
            how = f"{sentences.day(shown)}: {slack(deadline)}. {meanings.last_day(deadline.milestone)}"
            # Without their year two days stand side by side where one was moved.
            figure.show_figure(Told.of(shown, sentences.short_day), "", how, name=name, held=self._held)

    def _put(
        self,
        group: str,
        key: str,
        name: str,
        amount: Decimal,
        how: str,
        *,
        size: Type = Type.BODY,
        strong: bool = False,
    ) -> None:
        figure = self._figure(group, key, name, size, strong=strong)
        figure.show_figure(Told.of(amount, self._plain), self._money, how, name=name, held=self._held)

    def _put_percent(self, group: str, key: str, name: str, percent: Decimal, how: str) -> None:
        figure = self._figure(group, key, name, Type.BODY)
        figure.show_figure(Told.of(percent, partial(decimal, places=1)), "%", how, held=self._held)

    def _plain(self, amount: Decimal) -> str:
        return sentences.bare_money(amount, self._money)

    def _figure(self, group: str, key: str, name: str, size: Type, *, strong: bool = False) -> Figure:
        if key not in self.figures:
            self.figures[key] = Figure(name, size, strong=strong)
            # Where it belongs among the rows that were there before, a discount above the total.
            at = self._rows[group]
            self._groups[group].insertWidget(at, self.figures[key], 0, Qt.AlignmentFlag.AlignTop)
        self._rows[group] += 1
        self._shown.add(key)
        return self.figures[key]


def _hint_of(plan: Plan) -> str:
    """What the figures leave out or hang on, the weightiest first."""
    if not plan.costs.lines:
        return words.NO_COSTS
    orders = plan.purchase.orders if plan.purchase else ()
    left_out = sum(piece.count for order in orders for piece in order.not_placed)
    if left_out:
        return words.left_out(left_out)
    if Missing.OFFER in plan.missing:
        return words.NO_TRANSFERS_YET
    return words.PROVISIONAL if plan.provisional else ""


def _how(kind: CostKind, lines: list[CostLine]) -> str:
    return "\n".join((meanings.COSTS[kind], *(line.how for line in lines if line.how)))
