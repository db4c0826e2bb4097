"""Sentences beside the job's dates, where they rest on less than they should."""

from planner.plan.wording import count, day, milestone
from planner.pressing.calendar import Calendar, Deadline, Milestone


def what(deadline: Deadline) -> str:
    """What must happen, or what is on its way."""
    if deadline.ordered is None:
        return milestone(deadline.milestone)
    return "Blanks arrive" if deadline.milestone is Milestone.ORDER_BLANKS else "Transfers arrive"


def when(deadline: Deadline) -> str:
    """By when it must happen, or when it did and when it arrives."""
    if deadline.ordered is None or deadline.arrives is None:
        return day(deadline.by)
    return f"ordered {day(deadline.ordered)}, arrives {day(deadline.arrives)}"


def slack(deadline: Deadline) -> str:
    """Working days left until it must happen, or to spare before pressing where it is ordered."""
    days = deadline.slack_days
    if days < 0:
        return f"{count(-days, 'working day')} too late"
    if deadline.ordered is not None:
        return "just in time" if days == 0 else f"{count(days, 'working day')} to spare"
    return "today" if days == 0 else f"{count(days, 'working day')} left"


def dates_notes(calendar: Calendar) -> tuple[str, ...]:
    """What a person must know about these dates; empty where nothing is amiss."""
    notes = []
    if calendar.never_open:
        notes.append("The shop book leaves no working day. Tick a weekday, or take out closed days.")
    if calendar.unknown_region:
        notes.append(
            f"The holidays of {calendar.unknown_region} are not known, so these dates may run through some. "
            "Choose another region in the shop book, or type the holidays as closed days."
        )
    return tuple(notes)
