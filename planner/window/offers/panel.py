"""The page of offers: every offer of the shop book side by side, and what other quantities would cost."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QComboBox, QProgressBar, QScrollArea, QVBoxLayout, QWidget

from planner.buying.compare import OfferResult
from planner.buying.quantity import CostByQuantity
from planner.buying.split import Split
from planner.job.document import Job
from planner.plan import wording as sentences
from planner.plan.model import Plan
from planner.plan.room_left import RoomLeft
from planner.shop.book import Shop
from planner.window.before import Before
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.names import print_name
from planner.window.offers import words
from planner.window.offers.chart import QuantityChart
from planner.window.offers.curves import Known, cheapest_words, curves_from
from planner.window.offers.figures import OfferShown, figures_of, offers_shown, with_before, with_standing
from planner.window.offers.hint_rows import HintRows
from planner.window.offers.hints import Hint, hints_for
from planner.window.offers.other_quantities import garments_of
from planner.window.offers.question import Question, priced_part, sheets_part
from planner.window.offers.rows import OfferRows
from planner.window.widgets import (
    Combo,
    button,
    column,
    label,
    row,
    scrolled,
    take_turns,
)

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
    prints_shared = Signal(object)
    """Buy prints apart: keys of offers by those of prints."""
    room_taken = Signal(object)
    """Let copies ride along in room that is left: a `RoomLeft`."""
    arrange_requested = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.scope = Combo(words.COMPARED_FOR)
        self.look = button(words.LOOK_CLOSER, self.closer_look_requested.emit, hint=words.LOOK_CLOSER_HINT)
        self.stop = button(words.STOP, self.closer_look_stopped.emit)
        self.progress = QProgressBar()
        self.offers = OfferRows()
        self.chart = QuantityChart()
        self.chart_progress = QProgressBar()
        self._chart_told = label(quiet=True, wrap=True)
        self._rough = False
        self._cursor_awaited = False
        self._summary = label(wrap=True)
        self._best_hint: Hint | None = None
        """The hint that saves most."""
        self.saving = button("", self._take_to_saving, role="link", hint=words.SAVES_BELOW_HINT)
        self._how = label(size=Type.SMALL, quiet=True, wrap=True)
        self._empty, self._empty_why = label(strong=True), label(quiet=True, wrap=True)
        self._first_hints, self._hints = HintRows(), HintRows()
        self._scopes: tuple[str | None, ...] = (None,)
        self._job: Job | None = None
        self._plan: Plan | None = None
        self._shop: Shop | None = None
        self._results: tuple[OfferResult, ...] = ()
        self._results_of: Question | None = None
        self._before = Before()
        self._costs: CostByQuantity | None = None
        self._costs_of: Job | None = None
        self._split: Split | None = None
        self._split_of: Question | None = None
        self._room: RoomLeft | None = None
        self._room_of: tuple[object, ...] = ()
        self.offers.offer_chosen.connect(self.offer_chosen)
        self._build()
        self.show_search(0, 0)
        self.show_chart_work(0, 0)
        self._show_chart()

    @property
    def scope_key(self) -> str | None:
        """Key of the print compared for; None: the whole job."""
        return self._scopes[self.scope.currentIndex()] if self.scope.currentIndex() >= 0 else None

    def expect(self, job: Job, shop: Shop) -> None:
        """The job as it is now, whether or not it is shown yet: what changes from here on is an edit's."""
        self._before.ask((priced_part(job), shop))

    def look_at(self) -> None:
        """Somebody knows the figures as they are."""
        if self._before.look_at():
            self._show_rows()

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show what the job is now; figures follow by `show_results`."""
        self._job, self._shop, self._plan = job, shop, plan
        # An edit made on another page is answered there at once; this one catches up when it is seen.
        if self.isVisible():
            self._show()

    def show_results(self, question: Question, results: tuple[OfferResult, ...]) -> None:
        """Show a comparison, best first, if it is for what is shown."""
        if question.scope == self.scope_key and self._is_about_this(question):
            self._results, self._results_of = results, question
            self._show_rows()
            self._show_chart()

    def show_costs(self, question: Question, costs: CostByQuantity, rough: bool) -> None:
        """Show costs at other quantities; rough ones are followed by finer ones."""
        if self._is_about_this(question):
            self._costs, self._costs_of, self._rough = costs, question.job, rough
            self._show_rows()
            self._show_chart()

    def show_split(self, question: Question, split: Split) -> None:
        """Show where prints could be bought one by one, if that is about what is shown."""
        self._split, self._split_of = split, question
        self._show_rows()

    def show_room(self, job: Job, room: RoomLeft | None) -> None:
        """Show what could ride along on a job's sheets, if those are shown."""
        self._room, self._room_of = room, sheets_part(job)
        self._show_rows()

    def take_to_offers(self) -> None:
        """Put the cursor on the offer at the top; while it is reckoned, above it."""
        self._cursor_awaited = True
        (self.area if self._body.isHidden() else self.scope).setFocus()
        self._move_cursor()

    def show_search(self, done: int, of: int) -> None:
        """Show how far a closer look is; nothing to do: it is over."""
        running = of > 0
        ends, begins = (self.stop, self.progress), (self.look,)
        take_turns(*(ends, begins) if running else (begins, ends))
        self.progress.setRange(0, of)
        self.progress.setValue(done)

    def show_chart_work(self, done: int, of: int) -> None:
        """Show how far the chart is; nothing to do: it is drawn."""
        self.chart_progress.setVisible(of > 0)
        self.chart_progress.setRange(0, of)
        self.chart_progress.setValue(done)

    def _build(self) -> None:
        self.scope.setToolTip(words.COMPARED_FOR_HINT)
        self.scope.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.scope.setMinimumContentsLength(6)
        self.scope.setMaximumWidth(100 * GRID)
        self.scope.addItem(words.WHOLE_JOB)
        self.scope.activated.connect(lambda at: self.comparison_wanted.emit(self.scope_key))
        self.progress.setFixedSize(24 * GRID, 2 * GRID)
        self.progress.setTextVisible(False)
        self.progress.setAccessibleName(words.SEARCHING)
        head = row(space=RELATED)
        head.addWidget(label(words.COMPARED_FOR, quiet=True))
        head.addWidget(self.scope, 8)
        head.addStretch(1)
        for part in (self.progress, self.stop, self.look):
            head.addWidget(part)
        above = column(space=GRID)
        above.setContentsMargins(APART, RELATED, APART, RELATED)
        head.setContentsMargins(0, 0, 0, 0)
        self._head = QWidget()
        self._head.setLayout(head)
        above.addWidget(self._head)
        stands = row(space=RELATED)
        self._summary.setMinimumHeight(TARGET)
        stands.addWidget(self._summary, 1)
        stands.addWidget(self.saving, 0, Qt.AlignmentFlag.AlignTop)
        above.addLayout(stands)
        above.addWidget(self._how)
        above.addWidget(self._empty)
        above.addWidget(self._empty_why)
        for hints in (self._first_hints, self._hints):
            hints.taken.connect(self._act)
        self._beside = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._beside.setContentsMargins(0, 0, 0, 0)
        self._beside.setSpacing(0)
        left = column(space=0)
        left.addWidget(self._first_hints)
        left.addWidget(self.offers)
        left.addWidget(self._hints)
        left.addStretch(1)
        self._beside.addLayout(left, 1)
        self._beside.addLayout(self._chart_part(), 1)
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

    def _chart_part(self) -> QVBoxLayout:
        self.chart_progress.setFixedSize(16 * GRID, GRID)
        self.chart_progress.setTextVisible(False)
        self.chart_progress.setAccessibleName(words.CHART_ROUGH)
        self._chart_told.setMinimumHeight(2 * self._chart_told.fontMetrics().height())
        self._chart_told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.chart.pointed.connect(self._tell_point)
        head = row(space=RELATED)
        head.addWidget(label(words.CHART, strong=True))
        head.addStretch(1)
        head.addWidget(self.chart_progress)
        head.setContentsMargins(APART, RELATED, APART, RELATED)
        told = row()
        told.setContentsMargins(APART, 0, APART, APART)
        told.addWidget(self._chart_told, 1)
        whole = column(space=GRID)
        whole.addLayout(head)
        whole.addWidget(self.chart)
        whole.addLayout(told)
        whole.addStretch(1)
        return whole

    def _show(self) -> None:
        job, shop, plan = self._job, self._shop, self._plan
        if job is None or shop is None or plan is None:
            return
        self._show_scopes(job)
        self._show_summary(shop, plan)
        nothing = self._nothing(job, shop)
        self._empty.setText(nothing[0])
        self._empty_why.setText(nothing[1])
        for told in (self._empty, self._empty_why):
            told.setVisible(bool(nothing[0]))
        for part in (self._body, self._head, self._how):
            part.setVisible(not nothing[0])
        if nothing[0]:
            self._results, self._costs = (), None
            self._show_chart()
        elif self._results:
            self._show_rows()
            self._show_chart()
        self.comparison_wanted.emit(self.scope_key)

    def _is_about_this(self, question: Question) -> bool:
        return self._job is not None and question.job == priced_part(self._job)

    def _is_answered(self) -> bool:
        """Whether the results are for the job, the shop and the scope that are shown."""
        of = self._results_of
        return (
            of is not None and self._is_about_this(of) and (of.shop, of.scope) == (self._shop, self.scope_key)
        )

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
        results = self._standing_results()
        shown = offers_shown(job, shop, results, self.scope_key)
        if self._is_answered():
            # Those that the job's own sheets stand in for are figures too: an edit makes them be shown.
            hidden = [own for own, each in zip(self._results, results, strict=True) if own is not each]
            for rows in (offers_shown(job, shop, hidden, self.scope_key), shown):
                self._before.take(figures_of(rows, self.scope_key))
        shown = tuple(with_before(each, self.scope_key, self._before) for each in shown)
        self.offers.show_offers(job, shop, shown, self.scope_key)
        self._move_cursor()
        quick = any(result.provisional for result in self._results)
        self._how.setText(words.QUICK_HINT if quick else words.CLOSER_HINT)
        self._show_hints(shown)

    def _move_cursor(self) -> None:
        if self._cursor_awaited and self._results:
            self._cursor_awaited = False
            if self.scope.hasFocus():
                self.offers.take_to_first()

    def _show_chart(self) -> None:
        job, shop, costs = self._job, self._shop, self._costs
        if job is None or shop is None or costs is None:
            self.chart.show_curves(None)
            self._tell_point("")
            return
        of = self._costs_of or job
        known = self._known_now() if of == priced_part(job) else {}
        curves = curves_from(
            costs, shop, now=garments_of(of), chosen=job.offer, rough=self._rough, known=known
        )
        if curves != self.chart.curves:
            self.chart.show_curves(curves)
            self._tell_point("")

    def _standing_results(self) -> tuple[OfferResult, ...]:
        """The results, the job's own sheets in place of dearer ones."""
        if self.scope_key is not None or self._plan is None:
            return self._results
        return with_standing(self._results, self._plan.purchase, provisional=self._plan.provisional)

    def _known_now(self) -> dict[str, Known]:
        """What each offer costs by its row."""
        if self.scope_key is not None or not self._is_answered():
            return {}
        return {
            shown.offer: Known(shown.cost, is_accepted=shown is not own)
            for own, shown in zip(self._results, self._standing_results(), strict=True)
        }

    def _tell_point(self, told: str) -> None:
        """What the cursor points at, else where which offer is the cheapest."""
        curves = self.chart.curves
        if not told and curves is not None:
            told = cheapest_words(curves) if curves.curves else words.CHART_NONE
        self._chart_told.setText(told or words.CHART_WAITS)

    def _show_hints(self, rows_shown: tuple[OfferShown, ...]) -> None:
        job, shop = self._job, self._shop
        if job is None or shop is None:
            return
        purchase = self._plan.purchase if self._plan else None
        costs = self._costs if self._costs_of == priced_part(job) else None
        room = self._room if self._room_of == sheets_part(job) else None
        split = self._split if self._split_of is not None and self._split_of == self._results_of else None
        hints = hints_for(
            job,
            shop,
            rows_shown,
            costs=costs,
            purchase=purchase,
            scope=self.scope_key,
            room=room,
            split=split,
        )
        first = [hint for hint in hints if hint.is_first]
        others = [hint for hint in hints if not hint.is_first]
        for rows, shown in ((self._first_hints, first), (self._hints, others)):
            if rows.has_cursor and rows.would_change(shown):
                # What was pressed goes; Qt would take the cursor to whatever comes next in the window.
                self.scope.setFocus()
                self.area.ensureWidgetVisible(self.scope)
            rows.show_hints(shown)
        self._show_saving(shop, others)

    def _show_saving(self, shop: Shop, hints: list[Hint]) -> None:
        """Say at the top what the best of the hints below all offers saves."""
        best = max(hints, key=lambda hint: hint.saves, default=None)
        self._best_hint = best if best is not None and best.saves else None
        if self._best_hint is None and self.saving.hasFocus():
            self.scope.setFocus()
        self.saving.setVisible(self._best_hint is not None)
        if self._best_hint is not None:
            self.saving.setText(words.saves_below(sentences.money(self._best_hint.saves, shop.currency)))

    def _take_to_saving(self) -> None:
        if self._best_hint is not None:
            self.area.ensureWidgetVisible(self._hints.take_to(self._best_hint), 0, 8 * GRID)

    def _act(self, hint: Hint) -> None:
        if hint.offer is not None:
            self.offer_chosen.emit(hint.offer, self.scope_key)
        elif hint.quantity is not None:
            self.quantity_chosen.emit(hint.quantity)
        elif hint.shared:
            self.prints_shared.emit(dict(hint.shared))
        elif hint.room is not None:
            self.room_taken.emit(hint.room)
        elif hint.arrange:
            self.arrange_requested.emit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= _BESIDE_FROM
        way = QBoxLayout.Direction
        self._beside.setDirection(way.LeftToRight if beside else way.TopToBottom)
