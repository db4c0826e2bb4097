"""Prices from costs. Margin is on price, markup on cost, as in any cost-accounting text."""

from decimal import Decimal as D

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.job.document import Terms
from planner.pricing.prices import price_of, round_up
from planner.shop.book import PriceBy, Rates, RoundTo


def rates(price_by: PriceBy, percent: str, **fields: object) -> Rates:
    return Rates.model_validate(
        {"price_by": price_by, "percent": D(percent), "round_to": RoundTo.NONE} | fields
    )


@pytest.mark.parametrize(
    ("cost", "price_by", "percent", "price"),
    [
        ("60", PriceBy.MARGIN, "40", "100.00"),  # 60 ÷ 0.60
        ("60", PriceBy.MARKUP, "40", "84.00"),  # 60 × 1.40, a margin of 28.6 %
        ("80", PriceBy.MARGIN, "20", "100.00"),
        ("80", PriceBy.MARKUP, "25", "100.00"),  # a fifth of the price is a quarter of the cost
        ("50", PriceBy.MARGIN, "50", "100.00"),
        ("50", PriceBy.MARKUP, "100", "100.00"),
        ("7.42", PriceBy.MARGIN, "45", "13.50"),  # 13.4909…, rounded up to a cent, is 13.50
        ("10", PriceBy.MARGIN, "0", "10.00"),
        ("10", PriceBy.MARKUP, "150", "25.00"),
    ],
)
def test_margin_is_on_the_price_and_markup_on_the_cost(
    cost: str, price_by: PriceBy, percent: str, price: str
) -> None:
    assert price_of(D(cost), rates(price_by, percent), Terms(), "USD").price == D(price)


@given(st.integers(1, 90), st.integers(1, 100_000))
def test_a_markup_of_m_over_one_minus_m_gives_the_same_price_as_a_margin_of_m(m: int, cents: int) -> None:
    cost = D(cents) / 100
    by_margin = price_of(cost, rates(PriceBy.MARGIN, str(m)), Terms(), "USD").price
    by_markup = price_of(cost, rates(PriceBy.MARKUP, str(D(m) / (100 - m) * 100)), Terms(), "USD").price
    # The markup is a rounded decimal, so at an exact cent it may tip over to the next one.
    assert abs(by_margin - by_markup) <= D("0.01")
    assert (by_margin - cost) / by_margin >= D(m) / 100


def test_payment_fees_of_the_sum_with_tax_leave_the_target_margin_whole() -> None:
    # Worked by hand: 2.5 % of a price with 20 % tax is 3 % of the price: 6.70 ÷ (1 − 0.30 − 0.03) = 10.
    # Check: 10.00 − 6.70 − 2.5 % of 12.00 = 3.00, 30 % of 10.
    fees = {"payment_fee_percent": D("2.5"), "tax_percent": D(20)}
    priced = price_of(D("6.70"), rates(PriceBy.MARGIN, "30", **fees), Terms(), "USD")
    assert priced.price == D("10.00")
    assert priced.how == "6.70 ÷ (1 − 30 % − 3 %)"
    # On cost: 8.00 × 1.25 = 10, and 3 % of the price at that markup: 10 ÷ (1 − 0.03 × 1.25) = 10.3896.
    marked_up = price_of(D(8), rates(PriceBy.MARKUP, "25", **fees), Terms(), "USD")
    assert marked_up.price == D("10.39")
    profit = marked_up.price * (1 - D("0.03")) - 8
    assert profit / (8 + marked_up.price * D("0.03")) == pytest.approx(D("0.25"), abs=D("0.001"))
    exempt = price_of(D("6.75"), rates(PriceBy.MARGIN, "30", **fees), Terms(tax_exempt=True), "USD")
    assert exempt.price == D("10.00")  # 6.75 ÷ (1 − 0.30 − 0.025)


@pytest.mark.parametrize(
    ("exact", "rule", "price"),
    [
        ("13.4909", RoundTo.NONE, "13.50"),
        ("13.4900", RoundTo.NONE, "13.49"),
        ("13.4909", RoundTo.FIVE_CENTS, "13.50"),
        ("13.5001", RoundTo.FIVE_CENTS, "13.55"),
        ("13.50", RoundTo.HALF, "13.50"),
        ("13.51", RoundTo.HALF, "14.00"),
        ("13.51", RoundTo.NINETY_NINE, "13.99"),
        ("13.99", RoundTo.NINETY_NINE, "13.99"),
        ("13.991", RoundTo.NINETY_NINE, "14.99"),
        ("0", RoundTo.NINETY_NINE, "0.00"),
    ],
)
def test_prices_are_rounded_up_to_where_the_shop_lets_them_end(exact: str, rule: RoundTo, price: str) -> None:
    assert round_up(D(exact), rule, "USD") == D(price)


@pytest.mark.parametrize(("currency", "price"), [("JPY", "1235"), ("KWD", "1234.600")])
def test_rounding_keeps_to_the_currencys_own_coins(currency: str, price: str) -> None:
    assert round_up(D("1234.5601"), RoundTo.FIVE_CENTS, currency) == D(price)


@given(st.decimals(0, 10_000, places=6), st.sampled_from(RoundTo))
def test_rounding_never_goes_down_and_never_by_more_than_one(exact: D, rule: RoundTo) -> None:
    rounded = round_up(exact, rule, "USD")
    assert exact <= rounded < exact + 1


@pytest.mark.parametrize(
    ("by", "percent", "fee"), [(PriceBy.MARGIN, "100", "0"), (PriceBy.MARGIN, "98", "3")]
)
def test_a_margin_that_no_price_reaches_is_said_and_priced_at_cost(
    by: PriceBy, percent: str, fee: str
) -> None:
    priced = price_of(D("7.42"), rates(by, percent, payment_fee_percent=D(fee)), Terms(), "USD")
    assert (priced.price, priced.target_reachable) == (D("7.42"), False)


def test_the_jobs_own_percent_and_rounding_win_over_the_shops() -> None:
    terms = Terms(percent=D(50), round_to=RoundTo.NINETY_NINE)
    priced = price_of(D("7.42"), rates(PriceBy.MARGIN, "45"), terms, "USD")
    assert priced.price == D("14.99")
    assert priced.how == "7.42 ÷ (1 − 50 %) = 14.84, rounded up"
