"""The page of offers: every offer of the shop book side by side, and what other quantities would cost."""

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QComboBox, QProgressBar, QScrollArea, QWidget

from planner.buying.compare import OfferResult
from planner.buying.quantity import CostByQuantity
from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.plan import wording as sentences
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.names import print_name
from planner.window.offers import words
from planner.window.offers.asking import Question
from planner.window.offers.figures import OfferShown, offers_shown
from planner.window.offers.hints import Hint, hints_for
from planner.window.offers.rows import OfferRows
from planner.window.widgets import StatusMark, button, column, emptied, label, row, scrolled

_BESIDE_FROM = 300 * GRID
"""From this width on the chart stands beside the offers."""


class OffersPanel(QWidget):
    """Shows comparisons; asks for them, and tells which offer was chosen."""

    comparison_wanted = Signal(object)
    """The page is looked at: compare for the print with this key, or None: the whole job."""
    closer_look_requested = Signal()
    """Search for good sheets at every offer instead of quick ones."""
    closer_look_stopped = Signal()
    offer_chosen = Signal(str, object)
    """Offer key, and the key of the print it is for, or None: the whole job."""
    quantity_chosen = Signal(int)
    """Plan for so many garments instead, sizes in the same proportions."""

    def __init__(self) -> None:
        super().__init__()
        self.scope = QComboBox()
        self.look = button(words.LOOK_CLOSER, self.closer_look_requested.emit, hint=words.LOOK_CLOSER_HINT)
        self.stop = button(words.STOP, self.closer_look_stopped.emit)
        self.progress = QProgressBar()
        self.offers = OfferRows()
        self._summary = label(wrap=True)
        self._how = label(size=Type.SMALL, quiet=True, wrap=True)
        self._empty, self._empty_why = label(strong=True), label(quiet=True, wrap=True)
        self._hints = column(space=RELATED)
        self._hints_shown: tuple[Hint, ...] = ()
        self._scopes: tuple[str | None, ...] = (None,)
        self._job: Job | None = None
        self._shop: Shop | None = None
        self._results: tuple[OfferResult, ...] = ()
        self._costs: CostByQuantity | None = None
        self._build()
        self.show_search(0, 0)

    @property
    def scope_key(self) -> str | None:
        """Key of the print compared for; None: the whole job."""
        return self._scopes[self.scope.currentIndex()] if self.scope.currentIndex() >= 0 else None

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show what the job is now; figures follow by `show_results`."""
        before, self._job, self._shop = self._job, job, shop
        self._show_scopes(job)
        self._show_summary(shop, plan)
        nothing = self._nothing(job, shop)
        self._empty.setText(nothing[0])
        self._empty_why.setText(nothing[1])
        for part in (self._empty, self._empty_why):
            part.setVisible(bool(nothing[0]))
        self._body.setVisible(not nothing[0])
        self.look.setEnabled(not nothing[0])
        if nothing[0]:
            self._results, self._costs = (), None
        elif before is not None and self._results:
            self._show_rows()
        if self.isVisible():
            self.comparison_wanted.emit(self.scope_key)

    def show_results(self, question: Question, results: tuple[OfferResult, ...]) -> None:
        """Show a comparison, best first, if it is for what is shown."""
        if question.scope == self.scope_key and question.job == self._job:
            self._results = results
            self._show_rows()

    def show_costs(self, question: Question, costs: CostByQuantity, rough: bool) -> None:
        """Show costs at other quantities; rough ones are followed by finer ones."""
        if question.job == self._job:
            self._costs = costs
            self._show_rows()

    def show_search(self, done: int, of: int) -> None:
        """Show how far a closer look is; nothing to do: it is over."""
        running = of > 0
        self.look.setVisible(not running)
        for part in (self.stop, self.progress):
            part.setVisible(running)
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    def _build(self) -> None:
        self.scope.setAccessibleName(words.COMPARED_FOR)
        self.scope.setToolTip(words.COMPARED_FOR_HINT)
        self.scope.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.scope.setMinimumContentsLength(14)
        self.scope.addItem(words.WHOLE_JOB)
        self.scope.activated.connect(lambda at: self.comparison_wanted.emit(self.scope_key))
        self.progress.setFixedSize(24 * GRID, 2 * GRID)
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName(words.SEARCHING)
        head = row(space=RELATED)
        head.addWidget(label(words.COMPARED_FOR, quiet=True))
        head.addWidget(self.scope, 1)
        head.addStretch(1)
        for part in (self.progress, self.stop, self.look):
            head.addWidget(part)
        above = column(space=GRID)
        above.setContentsMargins(APART, RELATED, APART, RELATED)
        above.addLayout(head)
        above.addWidget(self._summary)
        above.addWidget(self._how)
        above.addWidget(self._empty)
        above.addWidget(self._empty_why)
        self._hints.setContentsMargins(APART, RELATED, APART, RELATED)
        self._beside = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._beside.setContentsMargins(0, 0, 0, 0)
        self._beside.setSpacing(0)
        left = column(space=0)
        left.addWidget(self.offers)
        left.addLayout(self._hints)
        left.addStretch(1)
        self._beside.addLayout(left, 3)
        self._body = QWidget()
        self._body.setLayout(self._beside)
        inner = QWidget()
        content = column(space=0)
        content.addLayout(above)
        content.addWidget(self._body)
        content.addStretch(1)
        inner.setLayout(content)
        self.area: QScrollArea = scrolled(inner)
        whole = column(space=0)
        whole.addWidget(self.area)
        self.setLayout(whole)

    def _nothing(self, job: Job, shop: Shop) -> tuple[str, str]:
        if not shop.offers:
            return words.NO_OFFERS, words.NO_OFFERS_WHY
        if not any(job.line(print_.line).count for print_ in job.prints):
            return words.NOTHING_YET, words.NOTHING_YET_WHY
        return "", ""

    def _show_scopes(self, job: Job) -> None:
        kept = self.scope_key
        self._scopes = (None, *(print_.key for print_ in job.prints))
        names = [words.WHOLE_JOB, *(print_name(job, print_) for print_ in job.prints)]
        if names != [self.scope.itemText(at) for at in range(self.scope.count())]:
            self.scope.clear()
            self.scope.addItems(names)
        self.scope.setCurrentIndex(self._scopes.index(kept) if kept in self._scopes else 0)

    def _show_summary(self, shop: Shop, plan: Plan) -> None:
        orders = plan.purchase.orders if plan.purchase else ()
        text = ""
        if plan.purchase is not None and orders:
            text = words.summary(sentences.money(plan.purchase.cost, shop.currency), len(orders))
        self._summary.setText(text)
        self._summary.setVisible(bool(text))

    def _show_rows(self) -> None:
        job, shop = self._job, self._shop
        if job is None or shop is None:
            return
        if self.scope_key is not None and self.scope_key not in {print_.key for print_ in job.prints}:
            return
        shown = offers_shown(job, shop, self._results, self.scope_key)
        self.offers.show_offers(job, shop, shown, self.scope_key)
        quick = any(result.provisional for result in self._results)
        self._how.setText(words.QUICK_HINT if quick else words.CLOSER_HINT)
        self._show_hints(shown)

    def _show_hints(self, shown: tuple[OfferShown, ...]) -> None:
        job, shop = self._job, self._shop
        if job is None or shop is None:
            return
        hints = hints_for(job, shop, shown, self._costs, self.scope_key)
        if hints == self._hints_shown:
            return
        self._hints_shown = hints
        emptied(self._hints)
        for hint in hints:
            across = row(space=RELATED)
            across.addWidget(StatusMark(Seriousness.NOTE), 0, Qt.AlignmentFlag.AlignTop)
            across.addWidget(label(hint.sentence, wrap=True), 1)
            if hint.action:
                across.addWidget(button(hint.action, partial(self._act, hint)), 0, Qt.AlignmentFlag.AlignTop)
            self._hints.addLayout(across)

    def _act(self, hint: Hint) -> None:
        if hint.offer is not None:
            self.offer_chosen.emit(hint.offer, self.scope_key)
        elif hint.quantity is not None:
            self.quantity_chosen.emit(hint.quantity)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._job is not None:
            self.comparison_wanted.emit(self.scope_key)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= _BESIDE_FROM
        way = QBoxLayout.Direction
        self._beside.setDirection(way.LeftToRight if beside else way.TopToBottom)
