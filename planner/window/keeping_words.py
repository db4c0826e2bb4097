"""Words about work left behind and jobs open elsewhere."""

from datetime import datetime

from planner.plan.wording import day as day_name

TAKE_UP = "Take it up"
FORGET_COPY = "Throw it away"
ASK_LATER = "Ask next time"
SHOW_NEXT = "Show the next"
READ_ONLY = "Just read"
TAKE_OVER = "Take it over"
OPEN_ANEW = "Open it anew"
SAVE_ELSEWHERE = "Save elsewhere…"
TAKEN_UP_ELSEWHERE = "Another window has taken this work up already; it goes on there."


def left_behind(title: str, at: datetime, now: datetime, more: int) -> str:
    name = f"“{title}”" if title else "a job without a title"
    day = "today" if at.date() == now.date() else f"on {day_name(at.date())}"
    return (
        f"The planner ended before {name} was saved. The work is here as it was {day} at {at:%H:%M}."
        f" {more_left_behind(more)}"
    ).rstrip()


def more_left_behind(more: int) -> str:
    if not more:
        return ""
    return f"{more} more {'job was' if more == 1 else 'jobs were'} left unsaved."


def open_elsewhere(user: str, machine: str) -> str:
    return f"{user} has this job open on {machine}. Read it, or take it over if that window is gone."


def held_elsewhere(user: str, machine: str) -> str:
    return f"{user} has this job open on {machine}: save yours in another place, or take it over."


def taken_over(user: str, machine: str) -> str:
    return f"{user} took this job over on {machine}. Your work is still here; saving asks for its own place."


def free_again(user: str) -> str:
    return f"{user} has closed this job: it is yours to change now."


def changed_meanwhile(name: str) -> str:
    return f"“{name}” was saved by somebody else since you opened it. Open it anew to go on from there."


def file_moved_on(name: str) -> str:
    """Work was taken up whose file somebody else saved in the meantime."""
    return f"“{name}” was saved by somebody else since. Your work is here; saving it asks for its own name."
