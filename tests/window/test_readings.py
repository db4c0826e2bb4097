"""What people type is read, or answered with a sentence."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.measures.lengths import LengthUnit
from planner.shop.cloth import Fibre, FibreShare
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
