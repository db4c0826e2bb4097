"""What the list of jobs says of a job beside its own fields."""

from datetime import date

from planner.job.state import JobState
from planner.plan.model import Plan
from planner.pressing.calendar import Milestone
from planner.storage.job_summary import JobFigures, LastDay

_AHEAD = {
    JobState.PLANNED: frozenset(Milestone),
    JobState.QUOTED: frozenset(Milestone),
    JobState.APPROVED: frozenset(Milestone) - {Milestone.APPROVE},
    JobState.ORDERED: frozenset({Milestone.PRESS, Milestone.DELIVER}),
    JobState.PRESSED: frozenset({Milestone.DELIVER}),
    JobState.DELIVERED: frozenset(),
}
"""Milestones that a job in a state still has before it."""


def figures_of(plan: Plan) -> JobFigures:
    """What is kept with the file when a job is saved."""
    days = tuple(
        LastDay(milestone=deadline.milestone.value, by=deadline.by)
        for deadline in plan.calendar.deadlines
        if deadline.ordered is None
    )
    return JobFigures(quote_total=plan.quote.total, currency=plan.costs.currency, last_days=days)


def next_last_day(figures: JobFigures | None, state: JobState) -> tuple[Milestone, date] | None:
    """The first last day of what is still to do, passed or not; None where nothing is, or none is known."""
    known = {milestone.value: milestone for milestone in Milestone}
    days = [
        (day.by, known[day.milestone])
        for day in (figures.last_days if figures else ())
        if day.milestone in known and known[day.milestone] in _AHEAD[state]
    ]
    if not days:
        return None
    by, milestone = min(days, key=lambda day: day[0])
    return milestone, by
