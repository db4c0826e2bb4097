"""Figures and days as a region writes them, in English words: "1,215.07" in the US, "1.215,07" in Germany.

Source: Unicode CLDR as babel carries it. Its English locales of regions are taken ("en_DE" is English as it
is written in Germany). A region without one keeps English names of months, day before month, and takes its
figures from the language that most people there speak.

The region in force is one value for the process, set where a shop book is laid on the desk or read by a
command: a hundred sentences hold a figure, and few of them know of any shop. What must be the same for the
same shop book on every machine, such as plans and papers, is made inside `written_for`, which holds for the
calling thread alone.
"""

import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Any


class NoFigure(ValueError):
    """What was typed is no figure."""


class TwoFigures(ValueError):
    """What was typed can be read as two figures, one a thousand times the other; the message names both."""


@dataclass(frozen=True, slots=True)
class Region:
    """How a region writes figures and days."""

    locale: str
    """CLDR's name of the locale whose words and names are used: "en_DE"."""
    decimal: str = "."
    group: str = ","
    twos: bool = False
    """Whether digits above the thousands stand in pairs: 12,34,567."""
    day: str = "E, MMM d, y"
    """A day with its weekday, in the letters of Unicode TR 35."""
    short_day: str = "E, MMM d"
    """The same without the year."""
    day_first: bool | None = False
    """Whether 3/4 is the third of April; None where the region's own habits differ."""
    money_like: str = ""
    """The locale whose place for the currency sign is used; empty: `locale`."""

    @property
    def says_day_first(self) -> bool:
        """Whether a day in words begins with its number: 11 Dec."""
        return _is_day_first(self.day)

    def written(self, figure: str) -> str:
        """A figure as Python writes it ("1,215.07") as the region does."""
        if self.decimal == "." and self.group == "," and not self.twos:
            return figure
        if self.twos and "," in figure:
            figure = _in_pairs(figure)
        return figure.translate({ord("."): self.decimal, ord(","): self.group})

    def read(self, typed: str, *, grouped: bool = True) -> Decimal:
        """A figure of at least nothing from digits with points and commas, as anybody may write them.

        What can be read in one way only is read in every region: "3,5", "1.234,50", "0.125". "1.234" is what
        it is in the region; with `grouped` off, no thousands are set apart there.

        Raises:
            NoFigure: it is none.
            TwoFigures: the region says neither which of two figures it is.
        """
        text = _APART.sub("", typed.strip())
        if not re.fullmatch(r"[\d.,]*\d[\d.,]*", text, re.ASCII):
            raise NoFigure(typed)
        if "." in text and "," in text:
            sign = max(".,", key=text.rfind)
            whole, _, part = text.rpartition(sign)
            return Decimal(f"{_together(whole, ',' if sign == '.' else '.')}.{part}")
        sign = "," if "," in text else "."
        if text.count(sign) > 1:
            return Decimal(_together(text, sign))
        whole, _, part = text.partition(sign)
        if not _may_be_thousands(whole, part) or sign == self.decimal:
            return Decimal(f"{whole or 0}.{part}")
        if sign == self.group and grouped:
            return Decimal(whole + part)
        raise TwoFigures(
            f"“{typed.strip()}” can be read in two ways: type {whole}{part} or {whole}{self.decimal}{part}."
        )


def decimal_sign_in(typed: Iterable[str]) -> str:
    """The decimal sign that figures of one hand show, point or comma; empty where they show none, or both."""
    shown = {sign for figure in typed if (sign := _decimal_sign(figure))}
    return shown.pop() if len(shown) == 1 else ""


def _decimal_sign(figure: str) -> str:
    if "." in figure and "," in figure:
        return max(".,", key=figure.rfind)
    sign = "," if "," in figure else "."
    if figure.count(sign) > 1:
        return "." if sign == "," else ","
    whole, _, part = figure.partition(sign)
    return "" if _may_be_thousands(whole, part) or sign not in figure else sign


def _may_be_thousands(whole: str, part: str) -> bool:
    """Whether the sign between these digits may set thousands apart as well as decimals."""
    return len(part) == 3 and re.fullmatch(r"[1-9]\d{0,2}", whole, re.ASCII) is not None


_APART = re.compile(r"(?<=\d)[ \u00a0\u2009\u202f'’](?=\d{3}(?!\d))")
"""Blanks and apostrophes that set thousands apart."""
_GROUPS = re.compile(r"\d{1,3}(?:,\d{3})+|\d{1,2}(?:,\d{2})*,\d{3}", re.ASCII)


def _together(text: str, sign: str) -> str:
    if sign in text and not _GROUPS.fullmatch(text.replace(sign, ",")):
        raise NoFigure(text)
    return text.replace(sign, "")


def _in_pairs(figure: str) -> str:
    whole, point, part = figure.partition(".")
    digits = whole.replace(",", "")
    head, last = digits[:-3], digits[-3:]
    return re.sub(r"(?<=\d)(?=(?:\d\d)+$)", ",", head) + f",{last}{point}{part}"


US = Region("en_US")

_here: ContextVar[Region | None] = ContextVar("region of what is being written", default=None)
_everywhere: list[Region] = [US]


def current() -> Region:
    """The region in force."""
    return _here.get() or _everywhere[0]


def write_for(region: str) -> None:
    """Make a region (ISO 3166) the one in force for the whole process."""
    _everywhere[0] = region_of(region)


@contextmanager
def written_for(region: str) -> Iterator[None]:
    """A region (ISO 3166) in force for what the calling thread does inside."""
    token = _here.set(region_of(region))
    try:
        yield
    finally:
        _here.reset(token)


def region_of(region: str) -> Region:
    """How a country, or a part of it (ISO 3166: "DE", "DE-BY"), writes figures and days."""
    territory = region.partition("-")[0]
    # Asked before every plan; and a window for the US shows before CLDR is loaded.
    return US if territory == "US" else from_cldr(territory)


@lru_cache(maxsize=32)
def from_cldr(territory: str) -> Region:
    """The region as CLDR has it."""
    from babel import Locale, UnknownLocaleError

    try:
        english = own = Locale("en", territory)
    except UnknownLocaleError:
        english, own = Locale("en", "001"), _spoken(territory)
    figures = own.number_symbols["latn"]
    names = english.datetime_skeletons
    day = names["yMMMEd"].pattern
    writes = _is_day_first(day), _is_day_first(own.datetime_skeletons["Md"].pattern)
    return Region(
        str(english),
        decimal=figures["decimal"],
        group=figures["group"].replace("\u202f", "\u00a0"),  # Paragraphs on paper would break at it.
        twos=own.decimal_formats[None].grouping == (3, 2),
        day=day,
        short_day=names["MMMEd"].pattern,
        day_first=writes[0] if writes[0] == writes[1] else None,
        money_like=str(own),
    )


def _spoken(territory: str) -> Any:
    """The locale of the language that most people of a territory speak, as far as it suits English words."""
    from babel import Locale, UnknownLocaleError
    from babel.core import get_global

    world = Locale("en", "001")
    likely = get_global("likely_subtags").get(f"und_{territory}")
    try:
        own = Locale.parse(likely) if likely else world
    except UnknownLocaleError:
        return world
    return own if own.text_direction == "ltr" and "latn" in own.number_symbols else world


def _is_day_first(pattern: str) -> bool:
    return pattern.index("d") < pattern.index("M")


def whole(number: int) -> str:
    """A whole number, thousands set apart: "1,215"."""
    return current().written(f"{number:,}")


def decimal(value: float | Decimal, places: int) -> str:
    """A figure with so many decimals, thousands set apart: "1,215.07"."""
    return current().written(f"{value:,.{places}f}")


def plain(value: float | Decimal, places: int) -> str:
    """A figure with so many decimals, its thousands together as in a field: "1215.07"."""
    return current().written(f"{value:.{places}f}")


def short(value: float) -> str:
    """A figure with the decimals it has, at most six digits: "12", "2.9"."""
    return current().written(f"{value:g}")


def written(figure: str) -> str:
    """A figure as Python writes it ("1,215.07") as the region in force does."""
    return current().written(figure)


def read(typed: str, *, grouped: bool = True) -> Decimal:
    """A figure of at least nothing as the region in force reads it: see `Region.read`."""
    return current().read(typed, grouped=grouped)
