"""What a person types into fields, read into values. No Qt here; the messages are plain sentences."""

import re
from datetime import date, timedelta
from decimal import Decimal

from pydantic import ValidationError

from planner.artwork.colour_names import hex_of_name
from planner.job.document import LEAST_WIDTH_MM, MOST_WIDTH_MM
from planner.measures import figures
from planner.measures.lengths import LengthUnit, format_length, parse_length
from planner.measures.money import minor_units
from planner.plan.kind_words import kind_name
from planner.shop.cloth import Fibre, FibreShare
from planner.shop.swatches import swatch_named
from planner.window import field_words

# Generic names of labels in the US (16 CFR 303.7) and elsewhere (ISO 2076) for what the planner knows.
_OTHER_NAMES = {
    "elastane": Fibre.SPANDEX,
    "rayon": Fibre.VISCOSE,
    "lyocell": Fibre.VISCOSE,
    "modal": Fibre.VISCOSE,
    "polyamide": Fibre.NYLON,
    "olefin": Fibre.POLYPROPYLENE,
    "flax": Fibre.LINEN,
    "poly": Fibre.POLYESTER,
}
_SHARE = re.compile(r"^\s*(?P<percent>\d+(?:[.,]\d+)?)\s*%?\s*(?P<name>[a-z][a-z \-]*?)\s*$")
_TURNED = re.compile(r"^\s*(?P<name>[a-z][a-z \-]*?)\s*(?P<percent>\d+(?:[.,]\d+)?)\s*%?\s*$")
_MOST = Decimal(10_000_000)
_MOST_COUNT = 100_000


class Unreadable(ValueError):
    """What was typed cannot be read; the message says how to write it."""


def read_print_width(typed: str, unit: LengthUnit) -> float:
    """A print width in millimetres; a bare number is in `unit`.

    Raises:
        UnreadableLength: it is no length.
        Unreadable: no print is so narrow or so wide.
    """
    width_mm = parse_length(typed, unit)
    if not LEAST_WIDTH_MM <= width_mm <= MOST_WIDTH_MM:
        least, most = (format_length(limit, unit) for limit in (LEAST_WIDTH_MM, MOST_WIDTH_MM))
        raise Unreadable(field_words.print_within(least, most))
    return width_mm


def read_fibres(typed: str) -> tuple[FibreShare, ...]:
    """The fibre mix as a label says it: "60 % cotton, 40 % polyester", "cotton 100", "cotton".

    Raises:
        Unreadable: a fibre is unknown, or the shares are not 100 % together.
    """
    text = typed.strip().lower()
    if not text:
        raise Unreadable(field_words.NO_FIBRES)
    parts = [part for part in re.split(r"(?<!\d),|,(?!\d)|[;/+\n]| and ", text) if part.strip()]
    if len(parts) == 1 and parts[0].strip().isalpha():
        parts = [f"100 {parts[0]}"]
    shares: dict[Fibre, float] = {}
    for part in parts:
        match = _SHARE.match(part) or _TURNED.match(part)
        if match is None:
            raise Unreadable(field_words.no_share(part.strip()))
        fibre = _fibre(match["name"])
        shares[fibre] = shares.get(fibre, 0) + float(match["percent"].replace(",", "."))
    together = sum(shares.values())
    if not 99 <= together <= 101:
        raise Unreadable(field_words.not_whole_mix(together))
    try:
        return tuple(FibreShare(fibre=fibre, percent=percent) for fibre, percent in shares.items())
    except ValidationError as error:
        raise Unreadable(field_words.SHARE_OUT_OF_RANGE) from error


def _fibre(name: str) -> Fibre:
    names = {kind_name(fibre): fibre for fibre in Fibre}
    word = name.strip().removeprefix("of ").strip()
    if word in _OTHER_NAMES:
        return _OTHER_NAMES[word]
    # Labels say "combed cotton" or "recycled polyester": the last word is the fibre.
    for candidate in (word, word.split()[-1]):
        if candidate in _OTHER_NAMES:
            return _OTHER_NAMES[candidate]
        if candidate in names:
            return names[candidate]
    known = [kind_name(fibre) for fibre in Fibre if fibre is not Fibre.OTHER]
    raise Unreadable(field_words.no_fibre(word, known))


def say_fibres(fibres: tuple[FibreShare, ...]) -> str:
    return ", ".join(f"{figures.short(share.percent)} % {kind_name(share.fibre)}" for share in fibres)


def read_figure(text: str, no_figure: str) -> Decimal:
    """A figure of at least nothing, as the region in force writes it.

    Raises:
        Unreadable: it is none, which `no_figure` says, or it can be read in two ways.
    """
    try:
        return figures.read(text)
    except figures.NoFigure:
        raise Unreadable(no_figure) from None
    except figures.TwoFigures as error:
        raise Unreadable(str(error)) from None


def read_money(typed: str, currency: str) -> Decimal:
    """An amount of money of at least nothing, as the region writes it; currency signs and blanks are fine.

    Raises:
        Unreadable: it is no amount, is negative, or has more decimals than the currency.
    """
    # The point of "Fr." or "kr." is none of the amount's.
    text = re.sub(r"[^\W\d]+\.?|[^\d.,\-−]", "", typed)
    amount = read_figure(text.lstrip("-−"), field_words.no_money(typed.strip()))
    if text[:1] in ("-", "−") or amount >= _MOST:
        raise Unreadable(field_words.MONEY_OUT_OF_RANGE)
    exponent = amount.as_tuple().exponent
    if isinstance(exponent, int) and -exponent > minor_units(currency):
        raise Unreadable(field_words.too_many_decimals(currency, minor_units(currency)))
    return amount


def read_count(typed: str) -> int:
    """A whole number of pieces; nothing typed is none.

    Raises:
        Unreadable: it is no whole number, or more than a shop can press.
    """
    text = typed.strip()
    if not text:
        return 0
    count = read_figure(text, field_words.no_count(text))
    if count.as_tuple().exponent != 0 or count > _MOST_COUNT:
        raise Unreadable(field_words.no_count(text))
    return int(count)


_MONTHS = tuple(month.lower() for month in field_words.MONTHS)
_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def read_date(typed: str, today: date) -> date | None:
    """A day: "2026-12-11", "Dec 11", "11 Dec 2026", "12/11", "fri", "+10"; None where nothing is typed.

    A day without a year is the next one to come. Figures are month/day where the region in force has that
    order, as the US has; elsewhere day/month, or "18.12.".

    Raises:
        Unreadable: no calendar has such a day, or it can be two where both orders are written.
    """
    text = re.sub(r"^(mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]\s*(?=\S)", "", typed.strip().lower())
    if not text:
        return None
    if text in ("today", "tomorrow"):
        return today + timedelta(days=int(text == "tomorrow"))
    if match := re.fullmatch(r"\+\s*(\d{1,3})(?:\s*days?)?", text):
        return today + timedelta(days=int(match[1]))
    if re.fullmatch(r"[a-z]+", text) and text[:3] in _DAYS:
        ahead = (_DAYS.index(text[:3]) - today.weekday() - 1) % 7 + 1
        return today + timedelta(days=ahead)
    year, month, day = _figures(text)
    try:
        if year is not None:
            return date(year, month, day)
        found = date(today.year, month, day)
        return found if found >= today else date(today.year + 1, month, day)
    except ValueError:
        raise Unreadable(field_words.no_day(typed.strip())) from None


def read_past_date(typed: str, today: date) -> date | None:
    """A day that is no later than today; without a year the last such day.

    Raises:
        Unreadable: no calendar has such a day, or it is still to come.
    """
    found = read_date(typed, today)
    if found is None or found <= today:
        return found
    if typed.strip()[:3].lower() in _DAYS:
        return found - timedelta(days=7)
    if not re.search(r"\d{4}|\+", typed) and typed.strip().lower() != "tomorrow":
        return found.replace(year=found.year - 1) if (found.month, found.day) != (2, 29) else found
    raise Unreadable(field_words.still_to_come(typed.strip()))


def _figures(text: str) -> tuple[int | None, int, int]:
    """Year, month and day; zeros where the text is no date."""
    tight = re.sub(r"\s*([./-])\s*", r"\1", text)
    if match := re.fullmatch(r"(\d{4})([./-])(\d{1,2})\2(\d{1,2})\.?", tight):
        return int(match[1]), int(match[3]), int(match[4])
    if match := re.fullmatch(r"(\d{1,2})([./-])(\d{1,2})(?:\2(\d{4}|\d{2})?)?", tight):
        if match[2] != "/" and figures.current().day_first is False:
            return None, 0, 0
        return _year(match[4]), *_month_and_day(int(match[1]), int(match[3]))
    words = re.findall(r"[a-z]+|\d+", text)
    months = [_MONTHS.index(word[:3]) + 1 for word in words if word[:3] in _MONTHS]
    numbers = [word for word in words if word.isdigit()]
    if len(months) != 1 or not 1 <= len(numbers) <= 2:
        return None, 0, 0
    return _year(numbers[1] if len(numbers) == 2 else None), months[0], int(numbers[0])


def _month_and_day(first: int, second: int) -> tuple[int, int]:
    day_first = figures.current().day_first
    if day_first is None and first != second and max(first, second) <= 12:
        raise Unreadable(field_words.two_days(f"{first}/{second}", first, second))
    return (second, first) if day_first or (day_first is None and first > 12) else (first, second)


def _year(digits: str | None) -> int | None:
    if digits is None:
        return None
    return int(digits) + 2000 if len(digits) <= 2 else int(digits)


def read_colour(typed: str) -> str:
    """A colour as "#rrggbb" from its everyday name, or from three or six hexadecimal digits.

    Raises:
        Unreadable: it is no such colour.
    """
    named = swatch_named(typed)
    known = named.hex if named else hex_of_name(typed)
    if known is not None:
        return known
    text = typed.strip().lower().removeprefix("#")
    if re.fullmatch(r"[0-9a-f]{3}", text):
        text = "".join(digit * 2 for digit in text)
    if not re.fullmatch(r"[0-9a-f]{6}", text):
        raise Unreadable(field_words.no_colour(typed.strip()))
    return f"#{text}"
