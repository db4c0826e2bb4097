"""Arranging in the background: the answer comes back as an undo step, a stop takes the best so far."""

from collections.abc import Mapping

from planner.artwork.facts import ArtworkFacts
from planner.job import edits
from planner.job.document import Job
from planner.job.pieces import needed_pieces
from planner.plan.ordering import arrange_job
from planner.window import wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot
from planner.work.ticket import Cancelled

LANE = "arrange"


class Arranging:
    """Runs the search for better sheets, one at a time."""

    def __init__(self, desk: Desk, background: Background, foot: Foot) -> None:
        self._desk, self._background, self._foot = desk, background, foot

    @property
    def is_busy(self) -> bool:
        return self._background.is_busy(LANE)

    def hurry(self) -> None:
        """Take the best found so far."""
        self._background.hurry(LANE)

    def start(self, facts: Mapping[str, ArtworkFacts]) -> None:
        """Search for the sheets of the job as it is now."""
        job, shop = self._desk.job, self._desk.shop
        if not needed_pieces(job):
            self._foot.warn(wording.NOTHING_TO_ARRANGE)
            return
        self._foot.show_work(wording.ARRANGING)
        self._background.start(
            LANE,
            lambda ticket: arrange_job(job, shop, facts=facts, ticket=ticket),
            done=lambda arranged: self._take(job, arranged),
            failed=self._failed,
            progressed=lambda done, of: self._foot.show_work(wording.ARRANGING, done, of),
        )

    def _take(self, asked: Job, arranged: Job) -> None:
        self._foot.show_work("")
        now = self._desk.job
        # An edit of the title meanwhile does not make the sheets wrong; one of a width does.
        if needed_pieces(now) != needed_pieces(asked) or _offers(now) != _offers(asked):
            self._foot.warn(wording.JOB_CHANGED)
            return
        self._desk.apply(wording.STEP_ARRANGE, edits.set_fields(now, arranged=arranged.arranged))

    def _failed(self, error: Exception) -> None:
        self._foot.show_work("")
        if not isinstance(error, Cancelled):
            self._foot.warn(wording.trouble(error))


def _offers(job: Job) -> tuple[str | None, ...]:
    return tuple(job.offer_of(print_) for print_ in job.prints)
