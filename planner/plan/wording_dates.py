"""Sentences beside the job's dates, where they rest on less than they should."""

from planner.pressing.calendar import Calendar


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
