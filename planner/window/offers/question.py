"""What a comparison of offers depends on. No Qt here."""

from dataclasses import dataclass

from planner.buying.compare import Facts
from planner.job.document import Arranged, Customer, Job, Print
from planner.job.state import JobState
from planner.shop.book import Shop
from planner.shop.document import changed


@dataclass(frozen=True)
class Question:
    """A job, a shop book and what is known of the artwork; equal questions have equal answers."""

    job: Job
    """As `priced_part` gives it."""
    shop: Shop
    facts: Facts
    scope: str | None = None
    """Key of the print to compare for; None: the whole job."""

    @property
    def prints(self) -> tuple[Print, ...]:
        return tuple(print_ for print_ in self.job.prints if self.scope in (None, print_.key))


def priced_part(job: Job) -> Job:
    """The job without all that no offer's price depends on: its names, notes, and the offers chosen.

    Typing a title or taking an offer must not set seconds of reckoning going.
    """
    return changed(
        job,
        title="",
        customer=Customer(),
        note="",
        decisions=(),
        offer=None,
        prints=tuple(
            changed(print_, offer=None, top_mm=None, aside_mm=None, group_places=()) for print_ in job.prints
        ),
        ordered=(),
        state=JobState.PLANNED,
        arranged=tuple(part for part in job.arranged if _is_pinned(part)),
    )


def sheets_part(job: Job) -> tuple[object, ...]:
    """What the room on a job's accepted sheets depends on."""
    return (job.arranged, job.prints, job.lines, job.artworks, job.extras, job.way, job.offer, job.from_stock)


def _is_pinned(part: Arranged) -> bool:
    """Only pinned pieces bind a search; other accepted sheets are found again or bettered."""
    return any(placed.pinned for layout in part.layouts for placed in layout.placements)
