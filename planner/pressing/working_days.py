"""Working days: which days count, and stepping over those that do not."""

from collections.abc import Container
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache

_DAY = timedelta(days=1)
_FARTHEST = 3 * 366
"""Days looked at before giving up on finding a working day: a shop that is never open has none."""
_COUNTED_WEEKS = 4 * 52
"""Beyond some four years whole weeks are counted without a look at holidays."""
_ANY_YEAR = 2026
"""Whether a region is known does not depend on the year."""
TRADE_WEEKDAYS = (0, 1, 2, 3, 4)
"""Transfer printers and carriers work Monday to Friday (common practice)."""


class NeverOpen(ValueError):
    """No working day within three years; the message says what to change."""

    def __init__(self) -> None:
        super().__init__(
            "The shop book leaves no working day: tick at least one weekday, or take out closed days."
        )


@dataclass(frozen=True)
class WorkingDays:
    """A calendar of working days."""

    weekdays: tuple[int, ...]
    """Monday is 0."""
    days_off: tuple[Container[date], ...]
    """Holidays, closed days."""

    def __contains__(self, day: date) -> bool:
        return day.weekday() in self.weekdays and not any(day in off for off in self.days_off)

    def at_or_before(self, day: date) -> date:
        """The day itself where it is a working day, else the last one before it.

        Raises:
            NeverOpen: there is none.
        """
        for _ in range(_FARTHEST):
            if day in self:
                return day
            day = _day_before(day)
        raise NeverOpen

    def back(self, day: date, count: int) -> date:
        """The working day `count` working days before `day`; `day` is first moved onto a working day."""
        day = self.at_or_before(day)
        for _ in range(count):
            day = self.at_or_before(_day_before(day))
        return day

    def ahead(self, day: date, count: int) -> date:
        """The working day `count` working days after `day`.

        Raises:
            NeverOpen: there is none.
        """
        for _ in range(count):
            day = self._next(day)
        return day

    def _next(self, day: date) -> date:
        for _ in range(_FARTHEST):
            if day == date.max:
                break
            day += _DAY
            if day in self:
                return day
        raise NeverOpen

    def between(self, start: date, end: date) -> int:
        """Working days after `start` up to and with `end`; negative where `end` lies before `start`.

        A day that has passed is at least one day ago, whatever lies between.
        """
        if end < start:
            return -max(1, self._count(end, start))
        return self._count(start, end)

    def _count(self, start: date, end: date) -> int:
        # A slip of the hand in the year must not make every edit of the job wait.
        weeks = max(0, (end - start).days // 7 - _COUNTED_WEEKS)
        days = range(1, (end - start).days - 7 * weeks + 1)
        return weeks * len(set(self.weekdays)) + sum(start + timedelta(days=n) in self for n in days)


def _day_before(day: date) -> date:
    if day == date.min:
        raise NeverOpen
    return day - _DAY


@dataclass(frozen=True)
class PublicHolidays:
    """The public holidays of a country (ISO 3166-1), or of a part of it, in any year."""

    country: str
    part: str | None

    def __contains__(self, day: object) -> bool:
        return isinstance(day, date) and day in _holidays_in(day.year, self.country, self.part)


def holidays_of(region: str) -> tuple[Container[date], bool]:
    """Public holidays of a country or a part of it (ISO 3166), and whether the region is known.

    A part of a country that is not known falls back to the country; an unknown country has none.
    """
    country, _, part = region.partition("-")
    if part and _is_known(country, part):
        return PublicHolidays(country, part), True
    if _is_known(country, None):
        return PublicHolidays(country, None), not part
    return (), False


@lru_cache(maxsize=64)
def _is_known(country: str, part: str | None) -> bool:
    try:
        _holidays_in(_ANY_YEAR, country, part)
    except NotImplementedError:
        return False
    return True


# The library's own object is filled while it is asked, which two threads must not share.
@lru_cache(maxsize=256)
def _holidays_in(year: int, country: str, part: str | None) -> frozenset[date]:
    # Imported here: the library is large, and only this needs it.
    import holidays

    return frozenset(holidays.country_holidays(country, subdiv=part, years=year, expand=False))
