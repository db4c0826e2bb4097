"""What finished jobs teach: held against scipy's beta distribution and sums by hand."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from planner.pressing.card import PressWork
from planner.pricing.actuals import compare, learned_loading_s, learned_misprint_rate, taught
from planner.pricing.costs import Costs
from planner.shop.actuals import Actuals
from tests.pressing.jobs import MONDAY, a_press, a_shop


def a_past(
    pressings: int = 100, misprints: int = 0, press_min: float = 60, planned_min: float = 60
) -> Actuals:
    return Actuals(
        title="Past",
        finished_on=MONDAY,
        pressings=pressings,
        misprints=misprints,
        press_min=press_min,
        planned_min=planned_min,
        cost=D(90),
    )


@given(st.floats(0.001, 0.5), st.integers(0, 2000), st.integers(0, 50))
def test_the_misprint_rate_is_the_mean_of_the_posterior(typed: float, good: int, bad: int) -> None:
    # Conjugate beta prior for a binomial rate, worth 200 pressings.
    posterior = beta(200 * typed + bad, 200 * (1 - typed) + good)
    assert learned_misprint_rate(typed, [a_past(good + bad, bad)]) == pytest.approx(posterior.mean())


def test_a_shop_that_never_spoils_and_one_that_often_does_learn_it() -> None:
    assert learned_misprint_rate(0.01, []) == 0.01
    assert learned_misprint_rate(0.01, [a_past(200, 0)]) == pytest.approx(0.005)
    assert learned_misprint_rate(0.01, [a_past(400, 10), a_past(400, 10)]) == pytest.approx(0.022)


def test_loading_follows_the_minutes_that_plans_fell_short_of() -> None:
    # 800 pressings took 100 minutes more: 6000 s over 800 and the 200 that the typed 30 s count like.
    past = [a_past(800, 0, press_min=400, planned_min=300)]
    assert learned_loading_s(a_press(loading_s=30), past) == pytest.approx(36)
    hasty = [a_past(800, 0, press_min=0, planned_min=1000)]
    assert learned_loading_s(a_press(loading_s=30), hasty) == 5


def test_the_shop_book_takes_both_over_and_keeps_the_rest() -> None:
    shop = a_shop()
    past = [a_past(800, 98, press_min=400, planned_min=300)]
    after = taught(shop, past)
    assert after.spares.misprint_rate == pytest.approx(0.1)
    assert [press.loading_s for press in after.presses] == [36]
    assert after.offers == shop.offers
    assert taught(shop, []) == shop


def test_a_finished_job_stands_beside_its_plan() -> None:
    costs = Costs(currency="USD", pieces=10, total=D(80), revenue=D(120), profit=D(40))
    seen = compare(costs, PressWork(total_min=50), a_past(press_min=60))
    assert (seen.minutes.planned, seen.minutes.real, seen.minutes.more_percent) == (50, 60, 20)
    assert (seen.cost.more_percent, seen.profit.real) == (D("12.5"), D(30))
    assert compare(costs, PressWork(), a_past()).minutes.more_percent is None
