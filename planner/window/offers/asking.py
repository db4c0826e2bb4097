"""Compares offers and prices other quantities in the background; an edit asks anew."""

from collections.abc import Callable, Mapping
from datetime import date

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot

from planner.artwork.facts import ArtworkFacts
from planner.buying.compare import QUICK, Effort, Facts, OfferResult, compare
from planner.buying.quantity import CostByQuantity, spans_of_change, with_more
from planner.buying.split import Split, cheapest_split
from planner.job.document import Job
from planner.plan.ordering import traits
from planner.plan.room_left import room_left
from planner.shop.book import Shop
from planner.window.background import Background
from planner.window.offers.figures import best_first
from planner.window.offers.other_quantities import (
    at_few,
    at_portion,
    cheapest_offers,
    garments_of,
    joined,
    portions,
)
from planner.window.offers.question import Question, priced_part, sheets_part
from planner.window.offers.searching import better_of, search_offers
from planner.work.ticket import Cancelled

COMPARE, CHART, ROOM, SPLIT = "offers", "offers_by_quantity", "room_left", "offers_by_print"
_CLOSER_S = 1.0
"""How long a closer look may search at each offer."""
_MOST_SPANS = 8
"""More changes of the cheapest offer than that nobody reads: the rest keep the quantities they have."""
_TYPING_MS = 250
"""Questions that follow one another so soon come from somebody typing, whose keys go before answers."""
_CHART_AFTER_MS = 500
"""The chart is dear: it waits until nobody has edited for a moment."""


class OfferQuestions(QObject):
    """Keeps the answers for the job on the desk coming: quick ones at once, others when asked."""

    compared = Signal(object, object)
    """The question, and its results."""
    charted = Signal(object, object, bool)
    """The question, costs by quantity, and whether finer ones follow."""
    progressed = Signal(int, int)
    """Of the closer look; (0, 0) once it is over."""
    chart_progressed = Signal(int, int)
    """Of the chart; (0, 0) once it is drawn."""
    room_found = Signal(object, object)
    """The job asked about, and what could ride along on its sheets; None for nothing."""
    split_found = Signal(object, object)
    """The question, and a `Split`."""
    troubled = Signal(object)

    _searched = Signal(object, object)
    """From the worker's thread: a question, and a result."""

    def __init__(self, background: Background, today: Callable[[], date]) -> None:
        super().__init__()
        self._background, self._today = background, today
        self._question: Question | None = None
        self._room_asked: tuple[object, ...] = ()
        self._shared: Question | None = None
        """For which the prints were, or are being, shared out."""
        self._results: dict[str, OfferResult] = {}
        self._closer = False
        self._searched.connect(self._take_searched, Qt.ConnectionType.QueuedConnection)
        self._typing = QTimer(self)
        self._typing.setSingleShot(True)
        self._typing.setInterval(_TYPING_MS)
        self._typing.timeout.connect(self._begin)
        self._waiting: list[Callable[[], None]] = []
        """What is begun once nobody types."""
        self._chart_later = QTimer(self)
        self._chart_later.setSingleShot(True)
        self._chart_later.setInterval(_CHART_AFTER_MS)
        self._chart_later.timeout.connect(self._chart)

    @property
    def question(self) -> Question | None:
        return self._question

    @property
    def is_held_up(self) -> bool:
        """Whether a question waits until nobody types."""
        return bool(self._waiting)

    @property
    def waits(self) -> bool:
        """Whether the chart will be begun once nobody has edited for a moment, and nobody waits for more."""
        return self._chart_later.isActive() or self._background.is_waiting(CHART)

    @property
    def is_looking_closer(self) -> bool:
        return self._background.is_busy(COMPARE) and self._closer

    def ask(self, job: Job, shop: Shop, facts: Mapping[str, ArtworkFacts], scope: str | None = None) -> None:
        """Compare for a job; what was asked already is not asked again."""
        known = Facts(today=self._today(), traits={key: traits(found) for key, found in facts.items()})
        question = Question(priced_part(job), shop, known, scope)
        if question != self._question:
            is_typing = self._typing.isActive()
            self.drop()
            self._question = question
            self._waiting.append(lambda: self._compare(question))
            if scope is None:
                self._chart_later.start()
            self._typing.start()
            if not is_typing:
                self._begin()
        asked = (sheets_part(job), shop)
        if asked != self._room_asked:
            self._room_asked = asked
            self._waiting.append(lambda: self._ask_for_room(job, shop, facts))
            if not self._typing.isActive():
                self._begin()

    def _begin(self) -> None:
        waiting, self._waiting = self._waiting, []
        for begin in waiting:
            begin()

    def _ask_for_room(self, job: Job, shop: Shop, facts: Mapping[str, ArtworkFacts]) -> None:
        self._background.start(
            ROOM,
            lambda ticket: room_left(job, shop, facts),
            done=lambda room: self.room_found.emit(job, room),
            failed=self._failed,
        )

    def look_closer(self) -> None:
        """Search at every offer for the question asked last; each answer is told as it is found."""
        question = self._question
        if question is None:
            return
        # What waits would else begin in the middle of the search, and end it.
        self._begin()
        self._closer = True
        self._background.start(
            COMPARE,
            lambda ticket: search_offers(
                question.job,
                question.shop,
                question.facts,
                Effort(budget_s=_CLOSER_S),
                ticket,
                prints=question.prints,
                found=lambda result: self._searched.emit(question, result),
            ),
            done=lambda nothing: self.progressed.emit(0, 0),
            failed=self._failed,
            progressed=self.progressed.emit,
        )
        self.progressed.emit(0, len(question.shop.offers))

    def stop(self) -> None:
        """Stop the closer look; what it found so far stays, and quick figures for the others."""
        if self.is_looking_closer:
            self._background.stop(COMPARE)
            self.progressed.emit(0, 0)

    def rest(self) -> None:
        """Leave the processor to a search that somebody waits for: its time is by the clock."""
        self._background.hold(CHART, SPLIT)

    def go_on(self) -> None:
        """Begin again what rested."""
        self._background.let_go(CHART, SPLIT)

    def drop(self) -> None:
        """Forget the question and all work for it."""
        self._question = self._shared = None
        self._results = {}
        self._room_asked = ()
        self._chart_later.stop()
        self._typing.stop()
        self._waiting = []
        for lane in (COMPARE, CHART, ROOM, SPLIT):
            self._background.stop(lane)
        self.progressed.emit(0, 0)
        self.chart_progressed.emit(0, 0)

    def _compare(self, question: Question) -> None:
        self._closer = False
        self._background.start(
            COMPARE,
            lambda ticket: compare(
                question.job, question.shop, question.facts, QUICK, prints=question.prints, ticket=ticket
            ),
            done=lambda results: self._compared(question, results),
            failed=self._failed,
        )

    def _compared(self, question: Question, results: tuple[OfferResult, ...]) -> None:
        if question is self._question:
            self._results = {result.offer: result for result in results}
            self.compared.emit(question, results)
            whole = (result for result in results if result.may_be_used and not result.order.not_placed)
            if next(whole, None) is None:
                self._share_out(question)

    def _share_out(self, question: Question) -> None:
        """Look where the prints could be bought one by one."""
        if question.scope is not None or len(question.prints) < 2 or self._shared == question:
            return
        self._shared = question
        self._background.start(
            SPLIT,
            lambda ticket: cheapest_split(question.job, question.shop, question.facts, ticket=ticket),
            done=lambda split: self._shared_out(question, split),
            failed=self._failed,
        )

    def _shared_out(self, question: Question, split: Split) -> None:
        if question is self._question:
            self.split_found.emit(question, split)

    @Slot(object, object)
    def _take_searched(self, question: Question, result: OfferResult) -> None:
        if question is not self._question:
            return
        known = self._results.get(result.offer)
        self._results[result.offer] = better_of(known, result) if known else result
        self.compared.emit(question, best_first(self._results.values()))

    def _chart(self) -> None:
        question = self._question
        if question is None:
            return

        def done(costs: CostByQuantity) -> None:
            if question is self._question:
                self.charted.emit(question, costs, True)
                self._share_out(question)
                self._refine(question, costs)

        self._background.start(
            CHART,
            lambda ticket: at_few(question.job, question.shop, question.facts, ticket),
            done=done,
            failed=self._failed,
            progressed=self.chart_progressed.emit,
        )

    def _refine(self, question: Question, rough: CostByQuantity) -> None:
        """Price the cheapest offers at every usual quantity, portion by portion."""
        if not rough.curves:
            self._finish_chart(question, rough)
            return
        offers = cheapest_offers(rough, garments_of(question.job))
        self._next_portion(question, offers, portions(question.job), ())

    def _next_portion(
        self,
        question: Question,
        offers: tuple[str, ...],
        asked: tuple[tuple[int, ...], ...],
        found: tuple[CostByQuantity, ...],
    ) -> None:
        def done(costs: CostByQuantity) -> None:
            if question is not self._question:
                return
            so_far = (*found, costs)
            if len(so_far) < len(asked):
                self._next_portion(question, offers, asked, so_far)
            else:
                whole = joined(so_far)
                self._narrow(question, offers, spans_of_change(whole)[:_MOST_SPANS], whole)

        self.chart_progressed.emit(len(found), len(asked))
        self._background.start(
            CHART,
            lambda ticket: at_portion(
                question.job, question.shop, question.facts, offers, asked[len(found)], ticket
            ),
            done=done,
            failed=self._failed,
        )

    def _narrow(
        self,
        question: Question,
        offers: tuple[str, ...],
        spans: tuple[tuple[int, ...], ...],
        whole: CostByQuantity,
    ) -> None:
        """Price every quantity where the cheapest changes, so that it is known from which one on."""
        if not spans:
            self._finish_chart(question, whole)
            return

        def done(costs: CostByQuantity) -> None:
            if question is self._question:
                self._narrow(question, offers, spans[1:], with_more(whole, costs))

        self._background.start(
            CHART,
            lambda ticket: at_portion(question.job, question.shop, question.facts, offers, spans[0], ticket),
            done=done,
            failed=self._failed,
        )

    def _finish_chart(self, question: Question, costs: CostByQuantity) -> None:
        self.chart_progressed.emit(0, 0)
        self.charted.emit(question, costs, False)

    def _failed(self, error: Exception) -> None:
        self.progressed.emit(0, 0)
        self.chart_progressed.emit(0, 0)
        if not isinstance(error, Cancelled):
            self._question = self._shared = None
            self.troubled.emit(error)
