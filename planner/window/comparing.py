"""Compares offers in the background while their page is looked at; an edit asks anew."""

from collections.abc import Callable, Mapping
from datetime import date

from PySide6.QtCore import QObject, Signal

from planner.artwork.facts import ArtworkFacts
from planner.buying.compare import QUICK, Effort, Facts, OfferResult, compare
from planner.job.document import Job
from planner.plan.ordering import traits
from planner.shop.book import Shop
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.work.ticket import Cancelled

LANE = "offers"
_CLOSER_S = 1.0
"""How long a closer look may search at each offer."""


class Comparing(QObject):
    """Keeps the comparison of the page up to date."""

    compared = Signal(object, object, object)
    """Job, shop, and the results."""

    def __init__(self, desk: Desk, background: Background, foot: Foot, today: Callable[[], date]) -> None:
        super().__init__()
        self._desk, self._background, self._foot, self._today = desk, background, foot, today
        self._asked: tuple[Job, Shop, int] | None = None

    def start(self, facts: Mapping[str, ArtworkFacts], *, closer: bool = False) -> None:
        """Compare for the job as it is; the same question is not asked twice."""
        job, shop = self._desk.job, self._desk.shop
        question = (job, shop, len(facts))
        if question == self._asked and not closer:
            return
        self._asked = question
        known = Facts(today=self._today(), traits={key: traits(found) for key, found in facts.items()})
        effort = Effort(budget_s=_CLOSER_S) if closer else QUICK
        if closer:
            self._foot.show_work(wording.COMPARING, 0, len(shop.offers))
        self._background.start(
            LANE,
            lambda ticket: compare(job, shop, known, effort, ticket=ticket),
            done=lambda results: self._done(job, shop, results, closer),
            failed=self._failed,
            progressed=lambda done, of: self._foot.show_work(wording.COMPARING, done, of) if closer else None,
        )

    @property
    def is_busy(self) -> bool:
        return self._background.is_busy(LANE)

    def drop(self) -> None:
        """Forget what was asked, and stop a running comparison."""
        self._asked = None
        if self.is_busy:
            self._background.stop(LANE)
            self._foot.show_work("")

    def _done(self, job: Job, shop: Shop, results: tuple[OfferResult, ...], closer: bool) -> None:
        if closer:
            self._foot.show_work("")
        self.compared.emit(job, shop, results)

    def _failed(self, error: Exception) -> None:
        self._asked = None
        self._foot.show_work("")
        if not isinstance(error, Cancelled):
            self._foot.warn(wording.trouble(error))
