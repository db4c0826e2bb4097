"""Words of the press page: the garment with its prints, order of work, last days, press cards."""

from collections.abc import Mapping, Sequence
from datetime import date

from planner.measures.figures import written
from planner.plan.wording import count, day
from planner.shop.garments import SizeGroup
from planner.window.wording import on_sizes

# The garment with its prints.
GARMENT = "Garment with its prints"
SIZE = "size"
SIZE_SHOWN = "Size shown"
FROM_MARK = "From the mark"
FROM_CENTRE = "From the centre line"
FROM_CENTRE_HINT = "From the centre line to the wearer’s left; a minus sign is to the right"
TO_LEFT = "to the wearer’s left"
LEFT = "left"
NOTHING_TO_PRESS = "Nothing to press yet"
NOTHING_TO_PRESS_WHY = (
    "Put artwork on a garment and choose an offer for its transfers: the offer brings the press settings, "
    "the garment's label may lower them."
)


def size_ordered(size: str, pieces: int) -> str:
    return f"{size}, {count(pieces, 'piece')}"


def moves_only(group: SizeGroup) -> str:
    return f"moves {on_sizes(group)} only"


def type_distance(measured: str) -> str:
    return f"{measured.capitalize()}: type {written('2.5')} in or 64 mm"


# Order of work.
ORDER_OF_WORK = "Order of work"
NO_PRESS = "No press in the shop book"
NO_COUNTS = "Type how many garments are ordered to see how long pressing takes."


def set_anew(temperature: str) -> str:
    return f"Set the press anew: {temperature}"


def time_at_press(*, total: str, warm_up: str, set_anew: str, pace: str) -> str:
    """How long it takes; `set_anew` tells how often the press is, empty where it stays."""
    resets = f", set anew {set_anew}" if set_anew else ""
    return f"{total} at the press, {warm_up} of it warm-up{resets}. Then {pace}."


# Last days.
LAST_DAYS = "Last days"
NO_DUE = "Type the job's due date to see the last day for every step."
ORDERED = "ordered"
ORDERED_HINT = "Type the day it was ordered: today, Nov 24, 2026-11-24. Empty: not yet."
NOT_YET = "not yet"
TODAY = "Today"
TODAY_HINT = "It was ordered today"
BLANKS_ORDERED_ON = "Blanks ordered on"


def ordered_on(offer: str) -> str:
    return f"{offer} ordered on"


def due(on: date) -> str:
    return f"Due {day(on)}."


def pressing_takes(working_days: int) -> str:
    return f"Pressing takes {count(working_days, 'working day')}."


# A press card.
TEMPERATURE = "temperature"
TIME = "time"
PRESSURE = "pressure"
PEEL = "peel"
CAUTION = "Caution"


def sort_by_size(ways: Mapping[str, Sequence[str]]) -> str:
    """Which sizes are pressed in which way, where ways differ."""
    return "Sort by size. " + "; ".join(f"{', '.join(sizes)} at {way}" for way, sizes in ways.items())


def from_mark(length: str, mark: str, *, above: bool) -> str:
    return f"{length} {'above' if above else 'below'} {mark}"
