"""Sentences and words of the page of offers."""

from collections.abc import Sequence

from planner.measures.figures import decimal, whole
from planner.measures.lengths import LengthUnit, in_unit
from planner.plan.kind_words import kind_name
from planner.plan.wording import count, seconds, share
from planner.shop.offers import Peel, Pressure
from planner.window.wording import few

WHOLE_JOB = "the whole job"
COMPARED_FOR = "Compared for"
COMPARED_FOR_HINT = "Compare for the whole job, or for one print that may be bought elsewhere"
NOTHING_YET = "Nothing to compare yet"
NOTHING_YET_WHY = "Put artwork on a garment and type how many of each size: then every offer is priced here."
NO_OFFERS = "The shop book holds no offer"
NO_OFFERS_WHY = "An offer is what a transfer printer sells, with its prices and limits. Add one there."
LOOK_CLOSER = "Look closer"
LOOK_CLOSER_HINT = "Search for the cheapest sheets at every offer; takes some seconds and can be stopped"
STOP = "Stop"
SEARCHING = "Searching at every offer…"
QUICK_HINT = "From a quick arrangement. Look closer to search for cheaper sheets and a proven bound."
CLOSER_HINT = "From a search at every offer, with the bound it proved."
MAY_BE_USED = "May be used"
RULED_OUT = "Ruled out for this"
CHOSEN = "chosen"
CHOSEN_FOR_SOME = "chosen for some prints"
CHEAPEST = "cheapest that may be used"
TAKE_FOR_JOB = "Take for the whole job"
TAKE_FOR_PRINT = "Take for this print"
TAKE_ANYWAY = "Take it all the same"
IS_CHOSEN = "Is chosen"
FOR_ONE_PRINT = "For one print"
AGAINST = "What speaks against it"
NOTHING_AGAINST = "Nothing speaks against it."
CHARGES = "What it charges"
YIELDS = "What it yields"
NEEDED, SPARES, OVER = "needed", "spares", "over"
HOW_NEAR = "How near the least"
PRESSED = "How it is pressed"
TOGETHER = "together"

NAME, COST, EACH, SHEETS, ARRIVES, PRESS = "Offer", "Cost", "A garment", "Sheets", "Arrives", "At the press"
SORT_HINTS = {
    NAME: "Sort by name",
    COST: "Sort by what the transfers cost, delivery included",
    EACH: "Sort by what the transfers of one garment cost",
    SHEETS: "Sort by how many sheets, or how much length, is ordered",
    ARRIVES: "Sort by the day the transfers arrive",
    PRESS: "Sort by time at the press",
}
MEANINGS = {
    NAME: "What a transfer printer sells, as the shop book names it.",
    COST: "The offer's price table on this order, with set-up charges, minimum and delivery.",
    EACH: "Cost ÷ number of garments.",
    SHEETS: "What is ordered, and how many copies beyond need and spares come with it.",
    ARRIVES: "Today + the offer's working days; weekends and holidays of the region do not count.",
    PRESS: "All pressings at this offer's seconds, with loading, warm-up and changes of temperature.",
}

CHART = "Cost a garment at other quantities"
CHART_GARMENTS = "garments"
CHART_KEYS = "Arrow keys go along a line and from line to line."
CHART_WAITS = "The chart follows when offers can be compared."
CHART_ROUGH = "drawing finer…"
CHART_NONE = "No offer may be used for this as it is."
NOW = "now"


def near_least(gap: float, *, most_layouts: int | None = None) -> str:
    """How near a cost is to the least possible, in a few words."""
    if gap <= 0:
        return "the least possible"
    return f"at most {share(gap)} above the least"


def printed_so_often(runs: Sequence[int]) -> str:
    """Runs of every layout, as many as are worth counting up."""
    if len(runs) == 1:
        return f"One layout, printed {count(runs[0], 'time')}."
    if len(set(runs)) == 1:
        return f"{whole(len(runs))} layouts, each printed {count(runs[0], 'time')}."
    named = f"{', '.join(whole(times) for times in runs[:-1])} and {whole(runs[-1])} times"
    if len(runs) > _MOST_RUNS:
        named = f"{whole(sum(runs))} times in all"
    return f"{len(runs)} layouts, printed {named}."


_MOST_RUNS = 8


def delivery(free_from: str) -> str:
    """The line of delivery; whoever pays it, or does not, learns from which order on it is free."""
    return f"delivery, free from {free_from} on" if free_from else "delivery"


def left_out(copies: int) -> str:
    return f"{whole(copies)} left out"


def not_printed(copies: int) -> str:
    return f"{count(copies, 'copy', 'copies')} cannot be printed here"


NO_BOUND = "Not known yet. Look closer to search and to prove a bound."


def roll_length(length_mm: float, unit: LengthUnit) -> str:
    """A roll's length in the unit that `roll_unit` names."""
    return decimal(in_unit(length_mm, unit), 0) if unit is LengthUnit.INCH else decimal(length_mm / 1000, 2)


def roll_unit(unit: LengthUnit) -> str:
    return "in" if unit is LengthUnit.INCH else "m"


def surplus(copies: int) -> str:
    return f"{count(copies, 'copy', 'copies')} over" if copies else "none over"


def minutes(seconds: float) -> str:
    """Minutes at the press, whole ones."""
    return decimal(seconds / 60, 0)


def days(working_days: int, slack: int | None) -> str:
    """Working days until the transfers arrive, and how many remain until the due date."""
    told = count(working_days, "day")
    if slack is None:
        return told
    return f"{told}, late by {-slack}" if slack < 0 else f"{told}, {slack} to spare"


def days_hint(working_days: int, slack: int | None) -> str:
    told = f"{count(working_days, 'working day')} from order to arrival."
    if slack is None:
        return f"{told} The job has no due date yet."
    if slack < 0:
        return f"{told} That is {count(-slack, 'working day')} after the due date."
    return f"{told} {count(slack, 'working day')} remain until the due date, for pressing and delivery."


def was_to(name: str, before: str, after: str) -> str:
    return f"{name}: {before} → {after}"


def row_spoken(name: str, parts: list[str]) -> str:
    """What a screen reader says for an offer."""
    return f"{name}: {', '.join(part for part in parts if part)}"


def point_hint(offer: str, garments: str, cost: str, each: str, note: str) -> str:
    """What the chart says at one point."""
    told = f"{offer}: {garments} at {each} each, {cost} in all."
    return f"{told} {note}" if note else told


def known_note(quick: str, *, is_accepted: bool) -> str:
    """Why a point lies off its line."""
    what = "The job's sheets as they stand" if is_accepted else "Found by looking closer"
    return f"{what}; a quick arrangement, as at other quantities, comes to {quick}."


def known_now(quantity: int, cheapest: str) -> str:
    return (
        f"Lines are quick arrangements; the points at {whole(quantity)} cost what the offers' rows tell, "
        f"and there {cheapest} is the cheapest."
    )


BREAK_NOTE = "A price break is passed here."


def summary(now: str, offers: int) -> str:
    """What the job as chosen costs."""
    at = "the offer chosen" if offers == 1 else f"the {offers} offers chosen"
    return f"As it stands {now} at {at}."


CHEAPEST_AT = "Cheapest"


def always_cheapest(offer: str, first: int, last: int) -> str:
    return f"{offer} is the cheapest at every quantity shown, {whole(first)} to {whole(last)}."


def cheapest_span(offer: str, start: int, end: int, *, last: bool) -> str:
    if last:
        return f"{offer} from {whole(start)}"
    return f"{offer} at {whole(start)}" if start == end else f"{offer} at {whole(start)} to {whole(end)}"


def crossing_note(offer: str) -> str:
    return f"From here on {offer} is the cheapest."


def axis_of_cost(currency: str) -> str:
    return f"{currency} a garment, transfers only; ○ marks a price break, ▾ where the cheapest changes"


# Rows and their heads.
OPEN, CLOSED = "open", "closed"
LARGEST_FIRST, SMALLEST_FIRST, NOT_SORTED = "largest first", "smallest first", "not sorted by"

# How it is pressed.
COVER_SHEET = "cover sheet"


def press_for(press_s: float) -> str:
    return f"press {seconds(press_s)}"


def pre_press_for(press_s: float) -> str:
    return f"pre-press {seconds(press_s)}"


def second_press_for(press_s: float) -> str:
    return f"second press {seconds(press_s)}"


def pressure(pressure: Pressure) -> str:
    return f"{kind_name(pressure)} pressure"


def peel(peel: Peel) -> str:
    return f"{kind_name(peel)} peel"


def handwork(finishing_s: float) -> str:
    return f"{seconds(finishing_s)} of handwork a piece"


# Hints.


def saves_below(saves: str) -> str:
    """Leads to the hint that saves most."""
    return f"Could be {saves} less"


SAVES_BELOW_HINT = "How, below the offers"
ARRANGE_SHEETS = "Arrange the sheets"
AN_EXTRA = "an extra"
LET_RIDE_ALONG = "Let them ride along"


def take(offer: str) -> str:
    return f"Take {offer}"


def plan_for(garments: int) -> str:
    return f"Plan for {whole(garments)}"


def cheaper_offer(offer: str, saves: str, percent: float) -> str:
    return f"{offer} costs {saves} less than the offer chosen, {percent:.0f} % of its cost."


BUY_BY_PRINT = "Buy by print"


def buy_by_print(shares: Sequence[tuple[str, Sequence[str]]], cost: str) -> str:
    """Where the prints could be bought one by one: each offer's name with those of its prints."""
    told = "\n".join(f"{offer}: {few(prints)}" for offer, prints in shares)
    return f"No offer may be used for the whole job, but its prints can be bought apart, for {cost}:\n{told}"


def cheaper_by_print(shares: Sequence[tuple[str, Sequence[str]]], cost: str, saves: str, offer: str) -> str:
    """Where the prints could be bought one by one for less than all at the cheapest offer."""
    told = "\n".join(f"{name}: {few(prints)}" for name, prints in shares)
    return f"Bought apart, the prints cost {cost}: {saves} less than all of them at {offer}.\n{told}"


def shared_saves(saves: str, offer: str) -> str:
    return f"The prints are bought apart: that saves {saves} against all of them at {offer}."


def cheaper_together(offer: str, saves: str, offers: int) -> str:
    return f"All of it at {offer} costs {saves} less than shared out among the {offers} offers chosen."


BOUGHT_BY_PRINT = "No offer may be used for the whole job; it is bought by print, each where it may be."


def nowhere_to_buy(prints: Sequence[str]) -> str:
    """Prints that no offer may be used for, so that buying the others apart would not do."""
    return (
        f"The other prints can be bought, but no offer of the shop book may be used for {few(prints)}. "
        "Open an offer to read what speaks against it."
    )


def cheaper_sheets(offer: str, cost: str, own_cost: str) -> str:
    return f"There are sheets for {cost} at {offer}; the job's own cost {own_cost} as they stand."


def riding_along(copies: int, artwork: str) -> str:
    extra = count(copies, "extra copy", "extra copies")
    return f"{extra} of {artwork} ride along for nothing, in room already paid."


def room_for(copies: int, artwork: str, width: str) -> str:
    return (
        f"{count(copies, 'more copy', 'more copies')} of {artwork}, {width} wide, would fit on the sheets "
        "for nothing, in room already paid."
    )


def more_sold(more: int, model: str) -> str:
    """How many more of what an offer sells, by its price model."""
    unit = {"sheet": "sheet", "length": "step"}.get(model, "piece")
    return count(more, f"more {unit}")


def more_pieces(more: int, name: str) -> str:
    return f"{count(more, 'more piece')} of {name}"


def cheaper_with_more(more: str, offer: str, saves: str) -> str:
    return (
        f"{more} than needed, and the whole order at {offer} costs {saves} less: "
        "the figures above already buy them."
    )


def cheaper_each(more: int, quantity: int, each: str, each_now: str, offer: str) -> str:
    return (
        f"With {count(more, 'more garment')} ({whole(quantity)} in all) the transfers of a garment cost "
        f"{each} instead of {each_now} at {offer}."
    )


def cheaper_in_all(more: int, quantity: int, saves: str, offer: str) -> str:
    return (
        f"{count(more, 'more garment')} ({whole(quantity)} in all), and the transfers of the whole order "
        f"cost {saves} less at {offer}."
    )
