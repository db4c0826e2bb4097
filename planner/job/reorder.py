"""The same order once more: what a customer who comes back wants again, without what belonged to then."""

from datetime import date

from planner.job.document import Job
from planner.job.findings import FindingKind
from planner.job.state import JobState
from planner.shop.document import changed

AGAIN = "ordered again"
_MOST_TITLE = 120
_OF_THEN = frozenset(
    {
        FindingKind.LATE,
        FindingKind.UNDER_FLOOR,
        FindingKind.NOT_PLACED,
        FindingKind.SHEET_FAULT,
        FindingKind.SHEETS_APART,
        FindingKind.PIECE_SHORT,
    }
)
"""Findings about dates, prices and sheets: what was decided on them does not hold for another order."""


def ordered_again(job: Job, today: date) -> Job:
    """The job as a new one: artwork, garments, counts, prints and offer kept, quoted today.

    Due date and rush are the customer's to say anew; sheets are arranged anew. Decisions on the artwork
    stay, those on dates, prices and sheets do not.
    """
    decisions = tuple(
        decision
        for decision in job.decisions
        if not any(decision.finding.startswith(f"{kind.value}|") for kind in _OF_THEN)
    )
    return changed(
        job,
        title=_title(job.title),
        quoted_on=today,
        due=None,
        state=JobState.PLANNED,
        arranged=(),
        ordered=(),
        from_stock=(),
        stock_settled=False,
        actuals=None,
        prices=None,
        decisions=decisions,
        terms=changed(job.terms, rush=False),
    )


def _title(title: str) -> str:
    """The title with a word that says what it is; ordering again and again says it once."""
    end = f", {AGAIN}"
    plain = title.strip().removesuffix(end)
    return f"{plain[: _MOST_TITLE - len(end)]}{end}" if plain else AGAIN.capitalize()
