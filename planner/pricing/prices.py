"""The price of a piece from its cost: margin or markup, then rounded up.

Margin is on the price, markup on the cost: price = cost ÷ (1 − margin) = cost × (1 + markup), as in any
cost-accounting text. Payment fees are a share of the price itself, so they join the sum there.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from planner.job.document import Terms
from planner.measures.money import minor_units
from planner.pricing.figures import figure, percent
from planner.shop.book import PriceBy, Rates, RoundTo


@dataclass(frozen=True, slots=True)
class Priced:
    """A price, how it came about, and whether the target could be met."""

    price: Decimal
    how: str
    target_reachable: bool = True


def price_of(cost_each: Decimal, rates: Rates, terms: Terms, currency: str) -> Priced:
    """The price of a piece that costs `cost_each` before payment fees, at the shop's or the job's target.

    Where margin and fees together reach the whole price no price will do: the piece is priced at cost.
    """
    target = (rates.percent if terms.percent is None else terms.percent) / 100
    fee = fee_share(rates, terms)
    cost_text = figure(cost_each, currency)
    if (terms.price_by or rates.price_by) is PriceBy.MARGIN:
        left = 1 - target - fee
        fee_text = f" − {percent(fee * 100)}" if fee else ""
        how = f"{cost_text} ÷ (1 − {percent(target * 100)}{fee_text})"
        exact = cost_each / left if left > 0 else None
    else:
        raised = 1 + target
        left = 1 - fee * raised
        fee_text = f" ÷ (1 − {percent(fee * raised * 100)})" if fee else ""
        how = f"{cost_text} × (1 + {percent(target * 100)}){fee_text}"
        exact = cost_each * raised / left if left > 0 else None
    if exact is None:
        return Priced(_up_to_step(cost_each, _coin(currency)), f"{cost_text}, at cost", False)
    price = round_up(exact, rates.round_to if terms.round_to is None else terms.round_to, currency)
    # Two digits beyond the coins, so that the reader sees why it was rounded up.
    reached = exact.quantize(_coin(currency).scaleb(-2)).normalize()
    end = "" if reached == price else f" = {figure(reached, currency)}, rounded up"
    return Priced(price, how + end)


def fee_share(rates: Rates, terms: Terms) -> Decimal:
    """Payment fees as a share of the price before tax: they are taken of the sum with tax."""
    tax = Decimal(0) if terms.tax_exempt else rates.tax_percent
    return rates.payment_fee_percent / 100 * (1 + tax / 100)


def round_up(price: Decimal, rule: RoundTo, currency: str) -> Decimal:
    """The next price up that the rule allows; nothing stays nothing.

    In currencies without a minor unit (ISO 4217) every rule rounds up to whole units.
    """
    coin = _coin(currency)
    if price <= 0 or rule is RoundTo.NONE or coin == 1:
        return _up_to_step(price, coin)
    if rule is RoundTo.FIVE_CENTS:
        return _up_to_step(price, Decimal("0.05")).quantize(coin)
    if rule is RoundTo.HALF:
        return _up_to_step(price, Decimal("0.50")).quantize(coin)
    below = Decimal("0.01")
    return (_up_to_step(price + below, Decimal(1)) - below).quantize(coin)


def _up_to_step(price: Decimal, step: Decimal) -> Decimal:
    return (price / step).to_integral_value(rounding=ROUND_CEILING) * step


def _coin(currency: str) -> Decimal:
    return Decimal(1).scaleb(-minor_units(currency))
