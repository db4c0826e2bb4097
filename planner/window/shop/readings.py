"""Figures of the shop book, read from what a person typed and written for them. No Qt here."""

import re
from datetime import date
from decimal import Decimal

from planner.measures import figures
from planner.measures.geometry import Size
from planner.measures.lengths import LengthUnit, TwoLengths, UnreadableLength, format_size, parse_length
from planner.measures.temperature import celsius, fahrenheit
from planner.shop.cloth import Swatch
from planner.window.readings import Unreadable, read_colour, read_figure
from planner.window.shop import words

_BY = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_UNIT = re.compile(r"(mm|cm|m|in|inch|inches|ft|\"|'|”|″)\.?$", re.IGNORECASE)
_HEAT = re.compile(r"^(-?\d+(?:[.,]\d+)?)\s*°?\s*([fc])?$", re.IGNORECASE)
_CURRENCY = re.compile(r"^(?:[$€£¥₹]|[A-Z]{3}\b)\s*|\s*(?:[$€£¥₹]|\b[A-Z]{3})$")
MOST_QUANTITIES = 8
"""As many prices as stand side by side on a quote."""
_HOTTEST_AS_C = 240.0
"""A bare figure above this is taken for °F: no transfer is pressed that hot in °C."""


def read_decimal(typed: str) -> Decimal:
    """A figure of at least nothing, as the region writes it, any number of decimals; currency signs are fine.

    Raises:
        Unreadable: it is no such figure.
    """
    text = _CURRENCY.sub("", typed.replace("\u00a0", " ").strip()).replace(" ", "")
    figure = read_figure(text.removeprefix("-"), words.no_figure(typed.strip()))
    if text.startswith("-") or figure >= 10_000_000:
        raise Unreadable(words.figure_out_of_range(typed.strip()))
    return figure


_FIGURE = r"\d+(?:[.,’']\d+)*"
_RANGE = re.compile(
    rf"(?:from|at least|>=|≥)?\s*({_FIGURE})\s*"
    rf"(?:(?:[-–—]|to\b)\s*({_FIGURE})|[-–—+]|(?:or|and|&)\s*(?:more|up|over|above)\b)?\s*",
    re.IGNORECASE,
)


def range_of(cell: str) -> tuple[str, str | None]:
    """The ends of "12–23", "12 to 23", "12+" or "from 12", None for no upper one; other words as they are."""
    match = _RANGE.fullmatch(cell.strip())
    return (match[1], match[2]) if match else (cell, None)


def range_start(cell: str) -> str:
    """The lower end of a range of counts; other words as they are."""
    return range_of(cell)[0]


def say_decimal(figure: Decimal | float) -> str:
    """A figure without trailing zeros behind the point, and never as a power of ten."""
    text = f"{figure:f}" if isinstance(figure, Decimal) else f"{figure:.4f}"
    return figures.written(text.rstrip("0").rstrip(".") if "." in text else text)


def say_price(amount: Decimal) -> str:
    """A price as lists write it: two decimals at least, more where it has them."""
    text = f"{amount:f}"
    whole, _, decimals = text.partition(".")
    return figures.written(f"{whole}.{decimals.ljust(2, '0')}")


def read_size(typed: str, unit: LengthUnit) -> Size:
    """A size: "11.5 × 18 in", "290x450 mm", "11.5 in by 18 in".

    Raises:
        Unreadable: it is not two lengths.
    """
    parts = _BY.split(typed.strip())
    if len(parts) != 2:
        raise Unreadable(words.no_size(typed.strip()))
    own = _UNIT.search(parts[1].strip())
    if own and not _UNIT.search(parts[0].strip()):
        parts[0] += own.group(0)
    try:
        return Size(parse_length(parts[0], unit), parse_length(parts[1], unit))
    except TwoLengths as error:
        raise Unreadable(str(error)) from None
    except UnreadableLength:
        raise Unreadable(words.no_size(typed.strip())) from None


def say_size(size: Size, unit: LengthUnit) -> str:
    return format_size(size.width_mm, size.height_mm, unit)


def read_heat(typed: str) -> float:
    """A press temperature in °C from "290 F", "143 C" or a bare figure, which is °F above 240.

    Raises:
        Unreadable: it is no temperature.
    """
    match = _HEAT.match(typed.strip().split("/")[0].strip())
    if match is None:
        raise Unreadable(words.no_temperature(typed.strip()))
    figure = float(match[1].replace(",", "."))
    scale = (match[2] or ("f" if figure > _HOTTEST_AS_C else "c")).lower()
    return celsius(figure) if scale == "f" else figure


def say_heat(setting_c: float) -> str:
    return f"{fahrenheit(setting_c):.0f} F / {setting_c:.0f} C"


def read_swatches(typed: str) -> tuple[Swatch, ...]:
    """Colours, one a line: "navy #1f2a44".

    Raises:
        Unreadable: a line has no name or no colour.
    """
    found = []
    for line in filter(None, (line.strip() for line in typed.splitlines())):
        name, _, code = line.rpartition(" ")
        if not name:
            raise Unreadable(words.no_swatch(line))
        found.append(Swatch(name=name.strip()[:60], hex=read_colour(code)))
    if not found:
        raise Unreadable(words.NO_COLOUR)
    return tuple(found)


def say_swatches(swatches: tuple[Swatch, ...]) -> str:
    return "\n".join(f"{swatch.name} {swatch.hex}" for swatch in swatches)


def read_days(typed: str) -> tuple[date, ...]:
    """Days as 2026-12-24, one a line, sorted, each once.

    Raises:
        Unreadable: a line is no day.
    """
    days = set()
    for line in filter(None, (line.strip() for line in re.split(r"[\n,;]", typed))):
        try:
            days.add(date.fromisoformat(line))
        except ValueError:
            raise Unreadable(words.no_day(line)) from None
    return tuple(sorted(days))


def say_days(days: tuple[date, ...]) -> str:
    return "\n".join(day.isoformat() for day in days)


def read_lines(typed: str) -> tuple[str, ...]:
    return tuple(filter(None, (line.strip() for line in typed.splitlines())))


def read_quantities(typed: str) -> tuple[int, ...]:
    """Quantities as "12, 24, 48", rising, each once.

    Raises:
        Unreadable: one of them is no whole number of garments, or there are none or too many.
    """
    found = set()
    for word in filter(None, re.split(r"[\s,;]+", typed)):
        if not (word.isdecimal() and 0 < int(word) <= 100_000):
            raise Unreadable(words.no_quantity(word))
        found.add(int(word))
    if not 0 < len(found) <= MOST_QUANTITIES:
        raise Unreadable(words.too_many_quantities(MOST_QUANTITIES))
    return tuple(sorted(found))
