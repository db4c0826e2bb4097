"""Prices that a job keeps, and what the shop book still says today."""

from datetime import date
from decimal import Decimal

import pytest
from pydantic import ValidationError

from planner.plan.make_plan import make_plan
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.kept_prices import KeptPrices, at_prices, prices_of
from tests.builders import a_job, a_shop

_THEN = date(2026, 11, 3)


def dearer(shop: Shop) -> Shop:
    """Everything that may change of an offer, and the rates."""
    first = shop.offers[0]
    other = changed(
        first,
        price=shop.offers[1].price,
        delivery=first.delivery + 5,
        press=changed(first.press, press_s=first.press.press_s + 3),
    )
    return changed(
        shop,
        offers=(other, *shop.offers[1:]),
        rates=changed(shop.rates, labour_hour=Decimal(99)),
        currency="EUR",
    )


def test_money_is_that_of_then_and_pressing_that_of_today() -> None:
    then, today = a_shop(), dearer(a_shop())
    worked_with = at_prices(today, prices_of(then, _THEN))
    assert worked_with.rates == then.rates
    assert worked_with.currency == then.currency
    assert worked_with.offers[0].price == then.offers[0].price
    assert worked_with.offers[0].delivery == then.offers[0].delivery
    # A corrected setting must reach old jobs too: too hot scorches.
    assert worked_with.offers[0].press == today.offers[0].press
    assert worked_with.offers[1:] == then.offers[1:]


def test_offers_made_since_have_todays_price_and_those_gone_are_gone() -> None:
    then = a_shop()
    new = changed(then.offers[0], key="new one", delivery=Decimal(7))
    today = changed(then, offers=(*then.offers[1:], new))
    worked_with = at_prices(today, prices_of(then, _THEN))
    assert worked_with.offers == today.offers


def test_spares_and_times_are_those_of_then_and_the_press_itself_is_todays() -> None:
    then = a_shop()
    slower = changed(then.presses[0], loading_s=99, warm_up_min=44, reset_min=33, platen_width_mm=777)
    spares = changed(then.spares, misprint_rate=0.2, confidence=0.5)
    today = changed(then, presses=(slower, *then.presses[1:]), spares=spares)
    worked_with = at_prices(today, prices_of(then, _THEN))
    assert worked_with.spares == then.spares
    assert worked_with.presses == (changed(then.presses[0], platen_width_mm=777), *then.presses[1:])
    # Jobs quoted before these were kept are worked out with what the book says.
    older = changed(prices_of(then, _THEN), spares=None, presses=())
    assert at_prices(today, older) == today


def test_the_quote_of_a_job_quoted_earlier_stands_until_asked() -> None:
    job, _ = a_job()
    then = a_shop()
    slower = tuple(changed(press, loading_s=press.loading_s + 60) for press in then.presses)
    today = changed(
        then,
        presses=slower,
        spares=changed(then.spares, misprint_rate=0.3),
        rates=changed(then.rates, labour_hour=Decimal(99)),
    )
    quoted = changed(job, prices=prices_of(then, _THEN))

    def totals(shop: Shop) -> tuple[Decimal, Decimal]:
        plan = make_plan(quoted, shop, facts={}, today=_THEN)
        return plan.quote.total, plan.costs.total

    assert totals(at_prices(today, quoted.prices)) == totals(then)
    assert totals(today) != totals(then)
    # Each alone would have changed it.
    for fields in ({"presses": slower}, {"spares": today.spares}):
        assert totals(changed(then, **fields)) != totals(then)


def test_a_book_that_did_not_change_stays_as_it_is() -> None:
    shop = a_shop()
    assert at_prices(shop, prices_of(shop, _THEN)) == shop
    assert at_prices(shop, None) is shop


def test_prices_survive_being_written_and_read() -> None:
    kept = prices_of(a_shop(), _THEN)
    assert KeptPrices.model_validate_json(kept.model_dump_json()) == kept


def test_an_offer_twice_is_refused() -> None:
    kept = prices_of(a_shop(), _THEN)
    with pytest.raises(ValidationError):
        changed(kept, offers=(kept.offers[0], kept.offers[0]))
    with pytest.raises(ValidationError):
        changed(kept, presses=(kept.presses[0], kept.presses[0]))
