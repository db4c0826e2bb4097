"""Words of the fields that several pages share: how to type into them, and what cannot be read."""

from collections.abc import Iterable

from planner.measures import figures

# Lengths.
WIDTH_HINT = "Type inches or millimetres: 11 in, 280 mm, 3 1/2"


def position_hint() -> str:
    return f"Type inches or millimetres: {figures.written('2.5')} in, 64 mm, 0"


def print_within(least: str, most: str) -> str:
    return f"A print is {least} to {most} wide."


# Fibres.
FIBRES_EXAMPLE = "60 % cotton, 40 % polyester"
FIBRES_HINT = f"As the garment's label says it: {FIBRES_EXAMPLE}"
NO_FIBRES = f"Type the mix from the garment's label, such as {FIBRES_EXAMPLE}."
SHARE_OUT_OF_RANGE = "Each share must be more than 0 % and at most 100 %."


def no_share(typed: str) -> str:
    return f"“{typed}” needs a percentage and a fibre, such as 60 % cotton."


def not_whole_mix(percent: float) -> str:
    return f"The mix adds up to {figures.short(percent)} %; it must be 100 %."


def no_fibre(typed: str, known: Iterable[str]) -> str:
    return f"“{typed}” is no fibre the planner knows. It knows {', '.join(known)}; else type other."


# Money and counts.
MONEY_OUT_OF_RANGE = "Type an amount from 0 to less than 10 million."


def no_money(typed: str) -> str:
    return f"“{typed}” is no amount of money. Type for example {figures.written('4.10')}."


def too_many_decimals(currency: str, decimals: int) -> str:
    return f"{currency} has {decimals} decimals."


def no_count(typed: str) -> str:
    return f"“{typed}” is no count. Type a whole number such as 24."


# Days.
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def in_year(month: int, day: int) -> str:
    """A day without weekday and year, as the region puts them: "Dec 11", "11 Dec"."""
    name = MONTHS[month - 1]
    return f"{day} {name}" if figures.current().says_day_first else f"{name} {day}"


def day_example() -> str:
    return f"{in_year(12, 11)}, fri, +10"


def day_hint() -> str:
    return f"Type a day: {in_year(12, 11)}, 2026-12-11, fri for the next Friday, +10 for ten days from now"


def no_day(typed: str) -> str:
    return f"“{typed}” is no day. Type for example {in_year(12, 11)} or 2026-12-11."


def two_days(typed: str, first: int, second: int) -> str:
    return f"“{typed}” can be two days. Type {in_year(first, second)} or {in_year(second, first)}."


def still_to_come(typed: str) -> str:
    return f"“{typed}” is still to come. Type the day it was ordered, such as today."


# Colours.


def no_colour(typed: str) -> str:
    return f"“{typed}” is no colour. Type its name, such as dark blue, or six digits such as #1b2a49."
