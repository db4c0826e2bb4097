"""The bound by what copies are worth, against trying every layout and every run."""

import itertools
from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.buying.run_bound import run_lengths
from planner.buying.run_prices import run_prices
from planner.buying.run_worths import Worths
from planner.shop.prices import CountedBy
from tests.buying.offers import SHEET, by_sheet

STEPS = ((1, "18"), (6, "12.50"), (12, "9.25"))
SHARES = (0.3, 0.2)
SELECTIONS = [(a, b) for a in range(4) for b in range(6) if 0.3 * a + 0.2 * b <= 1]


def runs_that_work(needs: tuple[int, int], layouts: int) -> Iterator[tuple[int, ...]]:
    """Every tuple of runs, longest first, for which some selections of copies meet the needs."""
    for runs in itertools.combinations_with_replacement(range(max(needs), 0, -1), layouts):
        for columns in itertools.product(SELECTIONS, repeat=layouts):
            made = [sum(r * column[want] for r, column in zip(runs, columns, strict=True)) for want in (0, 1)]
            if made[0] >= needs[0] and made[1] >= needs[1]:
                yield runs
                break


@settings(max_examples=25, deadline=None)
@given(st.tuples(st.integers(1, 14), st.integers(1, 14)), st.data())
def test_no_plan_costs_less_than_the_ranges_it_lies_in_are_said_to(
    needs: tuple[int, int], data: st.DataObject
) -> None:
    prices = run_prices(by_sheet(*STEPS, size=SHEET), "USD")[0]
    longest = max(needs)
    costs = np.array([prices.of_run(run) for run in range(1, longest + 1)], dtype=float)
    worths = Worths(np.array(needs), np.array([SHARES]), costs)
    for layouts in (1, 2):
        low = data.draw(st.integers(1, longest))
        worths.learn((low,) * layouts, (longest,) * layouts)
    least_of_any, least_of_two = (
        Worths(np.array(needs), np.array([SHARES]), costs).least_of_more(layouts) for layouts in (1, 2)
    )
    for layouts in (1, 2):
        for runs in runs_that_work(needs, layouts):
            lows = np.array([[data.draw(st.integers(1, run)) for run in runs]])
            cost = prices.of_plan(runs)
            assert worths.least(lows, np.array([runs]))[0] <= cost + 0.01
            assert least_of_any <= cost + 0.01
            assert layouts == 1 or least_of_two <= cost + 0.01


def test_what_is_proven_is_not_nothing() -> None:
    # 3 sheets' worth of area, and no sheet is cheaper than 9.25: far more than the cheapest layout.
    prices = run_prices(by_sheet((1, "9.25"), size=SHEET), "USD")[0]
    costs = np.array([prices.of_run(run) for run in range(1, 8)], dtype=float)
    worths = Worths(np.array([5, 7]), np.array([SHARES]), costs)
    assert worths.least_of_more(1) == pytest.approx(2.9 * 925, rel=0.01)
    worths.learn((1,), (7,))
    # Run once, the only layout would have to carry 2.9 sheets of copies.
    assert np.isinf(worths.least(np.array([[1]]), np.array([[1]]))[0])


def test_more_layouts_cost_more_set_ups() -> None:
    prices = run_prices(by_sheet((1, "9.25"), size=SHEET, set_up="20"), "USD")[0]
    costs = np.array([prices.of_run(run) for run in range(1, 8)], dtype=float)
    worths = Worths(np.array([5, 7]), np.array([SHARES]), costs)
    # 2.9 sheets at least, and the set-ups of what they are on; 4 layouts are 4 sheets.
    assert worths.least_of_more(4) == pytest.approx(4 * (925 + 2_000))
    assert worths.least_of_more(1) < 2.9 * 925 + 3 * 2_000
    assert worths.least_of_more(4) == pytest.approx(4 * (925 + 2_000))


def test_runs_that_cost_as_much_as_longer_ones_are_not_looked_at() -> None:
    prices = run_prices(by_sheet(*STEPS, size=SHEET, counted_by=CountedBy.LAYOUT), "USD")[0]
    # From 5 sheets on six cost less or the same (75.00), from 9 on twelve do (111.00).
    assert list(run_lengths(prices, 14)) == [1, 2, 3, 4, 6, 7, 8, 12, 13, 14]
