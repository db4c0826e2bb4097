"""Dates in working days, held against 5 U.S.C. 6103 and sums by hand on a wall calendar."""

import warnings
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.job.findings import FindingKind, Seriousness
from planner.plan.wording_dates import dates_notes
from planner.pressing.calendar import Calendar, Milestone
from planner.pressing.calendar_reckoning import (
    days_of_pressing,
    late_findings,
    offers_in_time,
    reckon_calendar,
)
from planner.pressing.working_days import WorkingDays, holidays_of
from planner.shop.offers import Rush
from tests.pressing.jobs import MONDAY, a_job, a_line, a_shop, an_offer

M = Milestone


def nth(year: int, month: int, weekday: int, n: int) -> date:
    """The n-th such weekday of a month; the last one for n = -1."""
    days = [date(year, month, 1) + timedelta(days=d) for d in range(31)]
    in_month = [day for day in days if day.month == month and day.weekday() == weekday]
    return in_month[n - 1 if n > 0 else n]


def federal_holidays(year: int) -> set[date]:
    """5 U.S.C. 6103(a), and (b)(1) with Executive Order 11582 for days that fall on a weekend."""
    mon, thu = 0, 3
    fixed = [
        date(year, 1, 1),
        date(year, 6, 19),
        date(year, 7, 4),
        date(year, 11, 11),
        date(year, 12, 25),
        date(year + 1, 1, 1),
    ]
    moving = [
        nth(year, 1, mon, 3),  # birthday of Martin Luther King, Jr.
        nth(year, 2, mon, 3),  # Washington's birthday
        nth(year, 5, mon, -1),  # Memorial Day
        nth(year, 9, mon, 1),  # Labor Day
        nth(year, 10, mon, 2),  # Columbus Day
        nth(year, 11, thu, 4),  # Thanksgiving Day
    ]
    observed = []
    for day in fixed:
        observed.append(day)
        if day.weekday() == 5:
            observed.append(day - timedelta(days=1))
        elif day.weekday() == 6:
            observed.append(day + timedelta(days=1))
    return {day for day in (*observed, *moving) if day.year == year}


@pytest.mark.parametrize("year", [2025, 2026, 2027])
def test_federal_holidays_are_those_of_the_statute(year: int) -> None:
    holidays, is_known = holidays_of("US")
    assert is_known
    days = [date(year, 1, 1) + timedelta(days=d) for d in range(365)]
    assert {day for day in days if day in holidays} == federal_holidays(year)


@pytest.mark.parametrize(
    ("region", "is_known", "christmas"),
    [
        ("US", True, True),
        ("US-CA", True, True),
        ("GB-SCT", True, True),
        ("US-ZZ", False, True),
        ("XX", False, False),
    ],
)
def test_an_unknown_region_is_told_and_its_country_still_counts(
    region: str, is_known: bool, christmas: bool
) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        holidays, known = holidays_of(region)
        assert (known, date(2026, 12, 25) in holidays) == (is_known, christmas)
    job = a_job(due=date(2026, 10, 30))
    calendar = reckon_calendar(job, a_shop(region=region), {}, 60, MONDAY)
    assert calendar.unknown_region == ("" if is_known else region)
    assert [region in note for note in dates_notes(calendar)] == ([] if is_known else [True])
    assert calendar.deadlines


def by_milestone(calendar: Calendar) -> dict[Milestone, date]:
    return {deadline.milestone: deadline.by for deadline in calendar.deadlines}


def test_a_job_before_thanksgiving_counted_back_on_a_wall_calendar() -> None:
    # Due Mon 30 Nov 2026. Two days at the press: Fri 27 and Wed 25, for Thu 26 is Thanksgiving.
    # Transfers take 5 days: Tue 24, Mon 23, Fri 20, Thu 19, Wed 18. Blanks 3: Tue 24, Mon 23, Fri 20.
    job = a_job(due=date(2026, 11, 30))
    calendar = reckon_calendar(job, a_shop(hours_a_day=6), {"film": 5}, 7 * 60, date(2026, 11, 11))
    assert calendar.press_days == 2
    assert by_milestone(calendar) == {
        M.DELIVER: date(2026, 11, 30),
        M.PRESS: date(2026, 11, 25),
        M.ORDER_BLANKS: date(2026, 11, 20),
        M.ORDER_TRANSFERS: date(2026, 11, 18),
        M.APPROVE: date(2026, 11, 18),
    }
    # From Wed 11 Nov (Veterans Day): Thu 12, Fri 13, Mon 16, Tue 17, Wed 18.
    assert calendar.slack_days == 5
    # Then Thu 19, Fri 20, Mon 23, Tue 24, Wed 25, Fri 27, Mon 30.
    assert calendar.days_left == 12
    assert late_findings(calendar) == ()


def test_deadlines_run_in_the_order_of_their_dates() -> None:
    job = a_job(due=date(2026, 10, 30))
    calendar = reckon_calendar(job, a_shop(), {"slow": 9, "film": 2}, 60, MONDAY)
    assert [(d.milestone, d.offer) for d in calendar.deadlines] == [
        (M.APPROVE, None),
        (M.ORDER_TRANSFERS, "slow"),
        (M.ORDER_BLANKS, None),
        (M.ORDER_TRANSFERS, "film"),
        (M.PRESS, None),
        (M.DELIVER, None),
    ]
    dates = [deadline.by for deadline in calendar.deadlines]
    assert dates == sorted(dates)


def test_closed_days_of_the_shop_stop_its_press_but_not_the_printer() -> None:
    # Due Fri 25 Sep 2026, one day at the press. The shop is closed Tue to Thu.
    closed = tuple(date(2026, 9, day) for day in (22, 23, 24))
    calendar = reckon_calendar(
        a_job(due=date(2026, 9, 25)), a_shop(closed_days=closed), {"film": 2}, 60, MONDAY
    )
    days = by_milestone(calendar)
    assert days[M.PRESS] == date(2026, 9, 21)
    assert days[M.ORDER_TRANSFERS] == date(2026, 9, 17)
    open_shop = reckon_calendar(a_job(due=date(2026, 9, 25)), a_shop(), {"film": 2}, 60, MONDAY)
    assert by_milestone(open_shop)[M.PRESS] == date(2026, 9, 24)


def test_a_shop_open_on_saturday_presses_then_but_no_parcel_travels() -> None:
    # Due Mon 21 Sep: pressed on Sat 19; two days of the trade back from Fri 18 is Wed 16.
    shop = a_shop(open_weekdays=(0, 1, 2, 3, 4, 5))
    days = by_milestone(reckon_calendar(a_job(due=date(2026, 9, 21)), shop, {"film": 2}, 60, MONDAY))
    assert days[M.PRESS] == date(2026, 9, 19)
    assert days[M.ORDER_TRANSFERS] == date(2026, 9, 16)


def test_a_due_date_on_a_sunday_is_delivered_on_friday() -> None:
    days = by_milestone(reckon_calendar(a_job(due=date(2026, 9, 27)), a_shop(), {}, 60, MONDAY))
    assert days[M.DELIVER] == date(2026, 9, 25)
    assert M.APPROVE not in days


@pytest.mark.parametrize(
    ("minutes", "days"), [(0, 0), (1, 1), (360, 1), (360.0000001, 1), (361, 2), (1000, 3)]
)
def test_started_days_at_the_press_count_in_full(minutes: float, days: int) -> None:
    assert days_of_pressing(minutes, a_shop(hours_a_day=6)) == days


def test_a_late_job_is_stopped_with_days_late_and_days_needed() -> None:
    # Wed 23 Sep due, pressed Tue 22, transfers 9 days before: Wed 9 Sep. Today is Mon 14 Sep.
    calendar = reckon_calendar(a_job(due=date(2026, 9, 23)), a_shop(), {"film": 9}, 60, MONDAY)
    (finding,) = late_findings(calendar)
    assert (finding.kind, finding.seriousness) == (FindingKind.LATE, Seriousness.STOP)
    assert (finding.offer, finding.subject) == ("film", "order transfers")
    # Thu 10, Fri 11 and Mon 14 have gone by; from today to Wed 23 there are 7 working days, 10 are needed.
    assert (calendar.days_left, finding.found, finding.needed) == (7, 3, 10)


def test_a_day_that_has_passed_is_late_even_over_a_weekend() -> None:
    saturday = date(2026, 9, 19)
    job = a_job(due=date(2026, 9, 18), lines=[a_line(counts={"M": 0})])
    calendar = reckon_calendar(job, a_shop(), {}, 0, saturday)
    assert calendar.slack_days == -1
    assert {finding.subject for finding in late_findings(calendar)} == {"start pressing", "deliver"}


def test_offers_that_would_still_arrive_are_named_with_rush_only_where_it_is_needed() -> None:
    offers = [
        an_offer("slow", production_days=6, delivery_days=3),
        an_offer("hurried", production_days=6, delivery_days=3, rush=Rush(production_days=1)),
        an_offer("near", production_days=1, delivery_days=1, rush=Rush(production_days=0)),
    ]
    # Six working days to Tue 22 Sep, when pressing starts.
    found = offers_in_time(a_job(due=date(2026, 9, 23)), a_shop(offers), 60, MONDAY)
    assert [(one.offer, one.rush, one.days, one.slack_days) for one in found] == [
        ("near", False, 2, 4),
        ("hurried", True, 4, 2),
    ]


def test_without_a_due_date_there_are_no_dates_and_without_an_open_day_it_is_said() -> None:
    assert reckon_calendar(a_job(), a_shop(), {"film": 5}, 60, MONDAY) == Calendar()
    assert offers_in_time(a_job(), a_shop(), 60, MONDAY) == ()
    never = reckon_calendar(a_job(due=date(2026, 10, 1)), a_shop(open_weekdays=()), {}, 60, MONDAY)
    assert never.never_open
    assert dates_notes(never) == (
        "The shop book leaves no working day. Tick a weekday, or take out closed days.",
    )
    assert never.deadlines == ()
    assert offers_in_time(a_job(due=date(2026, 10, 1)), a_shop(open_weekdays=()), 60, MONDAY) == ()


@pytest.mark.parametrize("due", [date.min, date(1, 1, 9), date(1750, 3, 2), date.max])
def test_a_slip_of_the_hand_in_the_year_breaks_nothing(due: date) -> None:
    job = a_job(due=due)
    calendar = reckon_calendar(job, a_shop(), {"film": 5}, 60, MONDAY)
    offers_in_time(job, a_shop(), 60, MONDAY)
    assert bool(late_findings(calendar)) == (due < MONDAY and not calendar.never_open)


def test_far_days_are_counted_by_weeks_and_near_ones_exactly() -> None:
    week = WorkingDays((0, 1, 2, 3, 4), (frozenset({MONDAY + timedelta(days=1)}),))
    assert week.between(MONDAY, MONDAY + timedelta(weeks=10)) == 49
    # Ten thousand weeks of five days; the day off lies within the first four years.
    assert week.between(MONDAY, MONDAY + timedelta(weeks=10_000)) == 49_999


@given(st.dates(date(2024, 1, 1), date(2030, 1, 1)), st.integers(0, 40))
def test_so_many_days_back_are_so_many_days_forward(day: date, count: int) -> None:
    week = WorkingDays((0, 1, 2, 3, 4), (frozenset({date(2026, 1, 1)}),))
    earlier = week.back(day, count)
    assert earlier in week
    assert week.between(earlier, day) == count
