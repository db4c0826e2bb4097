"""An order once more: what is kept, and what belonged to the first one."""

from datetime import date
from decimal import Decimal

from planner.job import edits
from planner.job.findings import Decision, Finding, FindingKind, Seriousness
from planner.job.reorder import ordered_again
from planner.job.state import JobState
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.shop.document import changed
from planner.shop.garments import SizeGroup
from tests.builders import a_job

LATER = date(2027, 3, 1)


def test_a_reorder_keeps_what_is_made_and_drops_what_belonged_to_then() -> None:
    job, _ = a_job()
    job = edits.set_layouts(
        job, "film-sheet", [Layout(Size(279, 406), (Placement("p1", 5, 5, 76.2, 50.8),), runs=20)]
    )
    job = edits.place_print(job, "p1", SizeGroup.YOUTH, 60, 40)
    job = changed(
        job, state=JobState.DELIVERED, terms=changed(job.terms, rush=True, discount_percent=Decimal(5))
    )
    again = ordered_again(job, LATER)
    assert (again.lines, again.artworks, again.prints, again.offer) == (
        job.lines,
        job.artworks,
        job.prints,
        job.offer,
    )
    assert (again.quoted_on, again.due, again.state) == (LATER, None, JobState.PLANNED)
    assert again.arranged == ()
    assert (again.terms.rush, again.terms.discount_percent) == (False, Decimal(5))


def test_decisions_on_artwork_stay_and_those_on_dates_and_sheets_go() -> None:
    job, _ = a_job()
    coarse = Finding(kind=FindingKind.TOO_COARSE, seriousness=Seriousness.LOOK, print="p1", found=200)
    for found in (
        coarse,
        Finding(kind=FindingKind.LATE, seriousness=Seriousness.LOOK, found=2),
        Finding(kind=FindingKind.SHEET_FAULT, seriousness=Seriousness.STOP, offer="film-sheet", found=1),
    ):
        job = edits.decide(job, found, "agreed")
    assert ordered_again(job, LATER).decisions == (Decision(finding=coarse.id, reason="agreed", found=200),)


def test_the_title_says_once_that_it_is_ordered_again() -> None:
    job, _ = a_job()
    once = ordered_again(job, LATER)
    assert once.title == "Spring fair, ordered again"
    assert ordered_again(once, LATER).title == once.title
    assert len(ordered_again(changed(job, title="x" * 120), LATER).title) == 120
    assert ordered_again(changed(job, title=""), LATER).title == "Ordered again"
