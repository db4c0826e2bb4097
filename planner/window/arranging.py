"""Arranging in the background: the answer comes back as an undo step, a stop takes the best so far."""

from collections.abc import Mapping

from PySide6.QtCore import QObject, Qt, Signal, Slot

from planner.artwork.facts import ArtworkFacts
from planner.buying.purchase import Order, Purchase
from planner.job import edits
from planner.job.document import Arranged, Job
from planner.job.pieces import needed_pieces
from planner.measures.layout import Layout
from planner.plan.ordering import arrange_job
from planner.shop.document import changed
from planner.window import steps, wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.work.ticket import Cancelled

LANE = "arrange"


class Arranging(QObject):
    """Runs the search for better sheets, one at a time."""

    searched = Signal(object, bool, int, int)
    """The best purchase so far or None, whether the search still runs, done and of."""
    arranged = Signal(bool)
    """The sheets found are in the job; whether they are other ones than before."""
    _improved = Signal(object, object)
    """From the worker's thread: the job asked about, and an order found."""

    def __init__(self, desk: Desk, background: Background, foot: Foot) -> None:
        super().__init__()
        self._desk, self._background, self._foot = desk, background, foot
        self._best: dict[str, Order] = {}
        self._asked: Job | None = None
        self._at = (0, 0)
        self._improved.connect(self._show_better, Qt.ConnectionType.QueuedConnection)

    @property
    def is_busy(self) -> bool:
        return self._background.is_busy(LANE)

    def hurry(self) -> None:
        """Take the best found so far."""
        self._background.hurry(LANE)

    def drop(self) -> None:
        """Forget a running search, as when another job is opened."""
        if self.is_busy:
            self._background.stop(LANE)
            self._end()

    def start(self, facts: Mapping[str, ArtworkFacts]) -> bool:
        """Search for the sheets of the job as it is now; False where there is nothing to arrange."""
        job, shop = self._desk.job, self._desk.shop
        if not needed_pieces(job) or not any(_offers(job)):
            self._foot.warn(wording.NOTHING_TO_ARRANGE if not needed_pieces(job) else wording.NO_OFFER_YET)
            return False
        self._best, self._asked, self._at = {}, job, (0, 0)
        self._foot.show_work(LANE, wording.ARRANGING)
        self.searched.emit(None, True, 0, 0)
        self._background.start(
            LANE,
            lambda ticket: arrange_job(
                job, shop, facts=facts, ticket=ticket, improved=lambda order: self._improved.emit(job, order)
            ),
            done=lambda arranged: self._take(job, arranged),
            failed=self._failed,
            progressed=self._progressed,
        )
        return True

    def _progressed(self, done: int, of: int) -> None:
        self._at = (done, of)
        self._foot.show_work(LANE, wording.ARRANGING, done, of)
        self.searched.emit(self._so_far(), True, done, of)

    @Slot(object, object)
    def _show_better(self, asked: Job, order: Order) -> None:
        if asked is self._asked and self.is_busy:
            self._best[order.offer] = order
            self.searched.emit(self._so_far(), True, *self._at)

    def _so_far(self) -> Purchase | None:
        return Purchase(orders=tuple(self._best.values())) if self._best else None

    def _take(self, asked: Job, arranged: Job) -> None:
        self._end()
        now = self._desk.job
        # An edit of the title meanwhile does not make the sheets wrong; one of a width does.
        if needed_pieces(now) != needed_pieces(asked) or _offers(now) != _offers(asked):
            self._foot.warn(wording.JOB_CHANGED)
            return
        after = edits.set_fields(now, arranged=arranged.arranged)
        if _without_bounds(now) == _without_bounds(after):
            self._desk.amend(after)
        else:
            self._desk.apply(steps.ARRANGE, after)
        self.arranged.emit(_layouts(now) != _layouts(arranged))

    def _failed(self, error: Exception) -> None:
        self._end()
        if not isinstance(error, Cancelled):
            self._foot.warn(wording.trouble(error))

    def _end(self) -> None:
        self._asked = None
        self._foot.show_work(LANE, "")
        self.searched.emit(None, False, 0, 0)


def _layouts(job: Job) -> dict[str, tuple[Layout, ...]]:
    return {accepted.offer: accepted.layouts for accepted in job.arranged}


def _without_bounds(job: Job) -> tuple[Arranged, ...]:
    return tuple(changed(accepted, bound=None) for accepted in job.arranged)


def _offers(job: Job) -> tuple[str | None, ...]:
    return tuple(job.offer_of(print_) for print_ in job.prints)
