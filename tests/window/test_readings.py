"""What people type is read, or answered with a sentence."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.measures import figures
from planner.measures.figures import written_for
from planner.measures.geometry import Size
from planner.measures.lengths import LengthUnit
from planner.plan import wording
from planner.shop.cloth import Fibre, FibreShare
from planner.window.positions import read_position, say_position
from planner.window.readings import (
    Unreadable,
    read_colour,
    read_count,
    read_date,
    read_fibres,
    read_money,
    read_print_width,
    say_fibres,
)
from planner.window.shop.readings import read_decimal, read_size, say_decimal, say_price, say_size

TODAY = date(2026, 11, 25)  # a Wednesday


@pytest.mark.parametrize(
    ("typed", "mix"),
    [
        ("60 % cotton, 40 % polyester", {"cotton": 60, "polyester": 40}),
        ("60% Cotton,40% Polyester", {"cotton": 60, "polyester": 40}),
        ("cotton", {"cotton": 100}),
        ("50 cotton / 50 poly", {"cotton": 50, "polyester": 50}),
        ("95 % combed cotton and 5 % elastane", {"cotton": 95, "spandex": 5}),
        ("polyester 65 %, viscose 35 %", {"polyester": 65, "viscose": 35}),
        (
            "33,4 % cotton; 33,3 % polyester; 33,3 % rayon",
            {"cotton": 33.4, "polyester": 33.3, "viscose": 33.3},
        ),
    ],
)
def test_a_fibre_mix_is_read_as_a_label_says_it(typed: str, mix: dict[str, float]) -> None:
    assert {share.fibre.value: share.percent for share in read_fibres(typed)} == mix


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("60 % cotton, 30 % polyester", "adds up to 90 %"),
        ("60 % cottn, 40 % polyester", "“cottn” is no fibre"),
        ("", "Type the mix"),
        ("soft", "“soft” is no fibre"),
        ("60 % cotton, %", "needs a percentage"),
    ],
)
def test_a_mix_that_cannot_be_read_is_answered_with_a_sentence(typed: str, said: str) -> None:
    with pytest.raises(Unreadable, match=said):
        read_fibres(typed)


@given(st.lists(st.sampled_from([f for f in Fibre]), min_size=1, max_size=4, unique=True))
def test_a_mix_said_is_read_back_the_same(fibres: list[Fibre]) -> None:
    each = 100 // len(fibres)
    shares = [FibreShare(fibre=fibre, percent=each) for fibre in fibres[:-1]]
    mix = (*shares, FibreShare(fibre=fibres[-1], percent=100 - each * (len(fibres) - 1)))
    assert read_fibres(say_fibres(mix)) == mix


@pytest.mark.parametrize(
    ("typed", "amount"),
    [("4.10", "4.10"), ("4,10", "4.10"), ("$ 4", "4"), ("1,234.50", "1234.50"), ("1.234,50", "1234.50")],
)
def test_money_is_read_with_point_or_comma(typed: str, amount: str) -> None:
    assert read_money(typed, "USD") == Decimal(amount)


@pytest.mark.parametrize("typed", ["", "four", "-1", "4.105", "1.2.3", "99999999"])
def test_money_that_is_none_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        read_money(typed, "USD")


def test_a_currency_without_cents_takes_none() -> None:
    # ISO 4217: the yen has no minor unit.
    assert read_money("1200", "JPY") == 1200
    with pytest.raises(Unreadable, match="JPY has 0 decimals"):
        read_money("12.50", "JPY")


@pytest.mark.parametrize(
    ("typed", "count"), [("", 0), ("24", 24), (" 7 ", 7), ("1,200", 1200), ("1 200", 1200)]
)
def test_counts_are_whole_numbers(typed: str, count: int) -> None:
    assert read_count(typed) == count


@pytest.mark.parametrize("typed", ["-1", "2.5", "many", "1000000"])
def test_what_is_no_count_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        read_count(typed)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-12-11", date(2026, 12, 11)),
        ("Dec 11", date(2026, 12, 11)),
        ("11 December", date(2026, 12, 11)),
        ("Fri, Dec 11, 2026", date(2026, 12, 11)),
        ("12/11", date(2026, 12, 11)),
        ("1/8", date(2027, 1, 8)),
        ("jan 8 27", date(2027, 1, 8)),
        ("fri", date(2026, 11, 27)),
        ("wed", date(2026, 12, 2)),
        ("+10", date(2026, 12, 5)),
        ("tomorrow", date(2026, 11, 26)),
        ("", None),
    ],
)
def test_days_are_read_in_many_ways(typed: str, day: date | None) -> None:
    assert read_date(typed, TODAY) == day


@pytest.mark.parametrize("typed", ["Feb 30", "13/13", "soon", "2026-02-29"])
def test_days_that_no_calendar_has_are_refused(typed: str) -> None:
    with pytest.raises(Unreadable, match="is no day"):
        read_date(typed, TODAY)


def test_colours_are_read_short_and_long() -> None:
    assert read_colour("#FFF") == "#ffffff"
    assert read_colour("1B2A49") == "#1b2a49"
    with pytest.raises(Unreadable):
        read_colour("navy-ish")


@pytest.mark.parametrize("typed", ["0.4 mm", "6 m", "250 in"])
def test_a_width_that_no_print_has_is_refused_with_the_limits(typed: str) -> None:
    with pytest.raises(Unreadable, match=r"A print is 0\.04 in to 196\.85 in wide\."):
        read_print_width(typed, LengthUnit.INCH)
    assert read_print_width("1 mm", LengthUnit.INCH) == 1


def test_a_colour_is_read_from_its_name_or_its_digits() -> None:
    assert read_colour(" Navy ") == "#1b2a49"
    assert read_colour("dark gray") == read_colour("dark grey") == "#4a4a4a"
    assert read_colour("fff") == read_colour("#FFFFFF") == "#ffffff"
    with pytest.raises(Unreadable, match="dark blue"):
        read_colour("choir blue")


EUROPE = ("GB", "DE", "FR", "CH", "AT", "NL")
REGIONS = (*EUROPE, "US", "IN", "CA", "AU", "ZA", "JP", "BR", "IE", "SE")


@given(st.sampled_from(REGIONS), st.dates(date(1990, 1, 1), date(2090, 1, 1)))
def test_a_day_told_in_any_region_is_read_back_there(region: str, day: date) -> None:
    with written_for(region):
        assert read_date(wording.day(day), TODAY) == day
        ahead = day.replace(year=TODAY.year + (day < day.replace(year=TODAY.year))) if day.day < 29 else day
        if ahead >= TODAY:
            assert read_date(wording.short_day(ahead), ahead) == ahead


@pytest.mark.parametrize("region", [*EUROPE, "IN", "AU", "BR"])
@pytest.mark.parametrize(
    "typed",
    [
        "18/12",
        "18.12.",
        "18.12",
        "18. 12.",
        "18-12",
        "18/12/2026",
        "18.12.26",
        "18 Dec",
        "Dec 18",
        "Fri 18 Dec",
    ],
)
def test_the_day_stands_first_where_cldr_has_it_first(region: str, typed: str) -> None:
    """Unicode CLDR: the skeleton Md of en_GB and en_DE is dd/MM, of en_CH dd.MM."""
    with written_for(region):
        assert read_date(typed, TODAY) == date(2026, 12, 18)


@pytest.mark.parametrize("region", ["CA", "ZA", "JP"])
def test_figures_that_can_be_two_days_are_asked_for_again_where_both_orders_are_written(region: str) -> None:
    """Unicode CLDR: en_CA has "Dec 11" and d/M, en_ZA "11 Dec" and MM/dd."""
    with written_for(region):
        with pytest.raises(Unreadable) as refused:
            read_date("12/11", TODAY)
        ways = str(refused.value).partition("Type ")[2].rstrip(".").split(" or ")
        assert {read_date(way, TODAY) for way in ways} == {date(2026, 12, 11), date(2027, 11, 12)}
        assert read_date("18/12", TODAY) == read_date("12/18", TODAY) == date(2026, 12, 18)
        assert read_date("12/12", TODAY) == date(2026, 12, 12)


@pytest.mark.parametrize("typed", ["12.18.", "18.12.", "12-18", "18/12"])
def test_in_the_us_only_month_slash_day_is_read(typed: str) -> None:
    with pytest.raises(Unreadable):
        read_date(typed, TODAY)


@given(
    st.sampled_from(REGIONS),
    st.decimals(0, 9_999_999, places=2),
    st.sampled_from(("USD", "EUR", "GBP", "CHF", "INR", "BRL", "SEK", "DKK")),
)
def test_money_told_in_any_region_is_read_back_there(region: str, amount: Decimal, currency: str) -> None:
    with written_for(region):
        assert read_money(wording.money(amount, currency), currency) == amount
        assert read_money(say_price(amount), currency) == amount
        assert read_decimal(say_decimal(amount)) == amount


@given(st.sampled_from(REGIONS), st.integers(0, 100_000))
def test_a_count_told_in_any_region_is_read_back_there(region: str, count: int) -> None:
    with written_for(region):
        assert read_count(figures.whole(count)) == read_count(str(count)) == count


@pytest.mark.parametrize(
    ("region", "typed", "amount"),
    [
        ("DE", "3,5", "3.5"),
        ("DE", "1.234,50", "1234.50"),
        ("DE", "1.234", "1234"),
        ("DE", "1.234,50 €", "1234.50"),
        ("DE", "4.10", "4.10"),
        ("CH", "Fr. 1’234.50", "1234.50"),
        ("DK", "4,10 kr.", "4.10"),
        ("IN", "₹12,34,567.50", "1234567.50"),
    ],
)
def test_money_is_read_as_the_region_writes_it(region: str, typed: str, amount: str) -> None:
    with written_for(region):
        assert read_money(typed, "EUR") == Decimal(amount)


@pytest.mark.parametrize(("region", "typed"), [("FR", "1.234"), ("CH", "1,234"), ("DE", "1,234")])
def test_no_count_or_price_is_guessed_a_thousand_times_off(region: str, typed: str) -> None:
    with written_for(region):
        for read in (read_count, lambda typed: read_money(typed, "EUR")):
            with pytest.raises(Unreadable):
                read(typed)


@given(st.sampled_from(REGIONS), st.floats(1, 4999), st.sampled_from(LengthUnit))
def test_a_size_told_in_any_region_is_read_back_there(region: str, width_mm: float, unit: LengthUnit) -> None:
    with written_for(region):
        told = say_size(Size(width_mm, 455.6), unit)
        assert say_size(read_size(told, unit), unit) == told
        place = say_position(-width_mm, unit)
        assert say_position(read_position(place, unit), unit) == place


@given(st.sampled_from(REGIONS), st.floats(0.5, 99.5))
def test_a_fibre_mix_told_in_any_region_is_read_back_there(region: str, percent: float) -> None:
    percent = round(percent, 1)
    mix = (
        FibreShare(fibre=Fibre.COTTON, percent=percent),
        FibreShare(fibre=Fibre.POLYESTER, percent=round(100 - percent, 1)),
    )
    with written_for(region):
        assert read_fibres(say_fibres(mix)) == mix


def test_what_is_asked_for_is_written_as_the_region_does() -> None:
    with written_for("DE"):
        with pytest.raises(Unreadable, match=r"Type for example 4,10\."):
            read_money("four", "EUR")
        with pytest.raises(Unreadable, match=r"Type for example 11 Dec or"):
            read_date("soon", TODAY)
        with pytest.raises(Unreadable, match=r"type 1234 or 1,234\."):
            read_size("1.234 × 20", LengthUnit.MILLIMETRE)
