"""Spares against the binomial distribution of another library."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from planner.buying.spares import spares_for
from planner.shop.book import Spares


def test_nothing_needed_needs_no_spares() -> None:
    assert spares_for(0, Spares()) == 0


def test_no_misprints_need_no_spares() -> None:
    assert spares_for(500, Spares(misprint_rate=0)) == 0


def test_one_garment_at_a_misprint_in_ten_by_hand() -> None:
    # P(no misprint in 1) = 0.90; P(at most one in 2) = 1 − 0.01 = 0.99.
    assert spares_for(1, Spares(misprint_rate=0.1, confidence=0.90)) == 0
    assert spares_for(1, Spares(misprint_rate=0.1, confidence=0.95)) == 1
    assert spares_for(1, Spares(misprint_rate=0.1, confidence=0.995)) == 2


@given(
    need=st.integers(1, 3000),
    rate=st.floats(0.0005, 0.3),
    confidence=st.floats(0.5, 0.999),
)
def test_the_smallest_number_that_reaches_the_confidence(need: int, rate: float, confidence: float) -> None:
    # scipy.stats.binom: P(Binomial(need + s, rate) <= s).
    spare = spares_for(need, Spares(misprint_rate=rate, confidence=confidence))
    assert binom.cdf(spare, need + spare, rate) >= confidence - 1e-9
    if spare:
        assert binom.cdf(spare - 1, need + spare - 1, rate) < confidence + 1e-9


def test_a_very_large_order_does_not_leave_the_range_of_floats() -> None:
    spare = spares_for(100_000, Spares(misprint_rate=0.05, confidence=0.95))
    assert binom.cdf(spare, 100_000 + spare, 0.05) >= 0.95 > binom.cdf(spare - 1, 99_999 + spare, 0.05)


@pytest.mark.parametrize(("need", "percent", "spare"), [(100, 3, 3), (101, 3, 4), (10, 1.1, 1), (1, 0, 0)])
def test_a_plain_percentage_is_rounded_up(need: int, percent: float, spare: int) -> None:
    assert spares_for(need, Spares(percent=percent)) == spare


def test_a_tenth_of_thirty_is_exactly_three() -> None:
    # 30 × 10 / 100 must not become 4 through float noise; nor 110 × 2.2 / 110.
    assert spares_for(30, Spares(percent=10)) == 3
    assert spares_for(50, Spares(percent=2.2 - 0.2)) == 1


def test_a_plain_count_is_taken_as_it_is_and_the_larger_of_two_rules_holds() -> None:
    assert spares_for(40, Spares(count=2)) == 2
    assert spares_for(40, Spares(count=2, percent=10)) == 4
