"""The prices a job was quoted with, kept beside it while the shop book moves on."""

from datetime import date
from typing import Self

from pydantic import Field, model_validator

from planner.shop.book import Rates, Shop
from planner.shop.document import Document, changed
from planner.shop.offers import Offer, Rush
from planner.shop.prices import Amount, PriceTable


class OfferPrices(Document):
    """What one offer cost; how it is printed and pressed stays as the shop book says."""

    key: str
    price: PriceTable
    least_order: Amount
    delivery: Amount
    free_delivery_from: Amount | None
    rush: Rush | None


class KeptPrices(Document):
    """All that a quote's figures rest on and that shops change: price tables, rates and tax."""

    since: date
    currency: str = Field(pattern=r"^[A-Z]{3}$")
    rates: Rates
    offers: tuple[OfferPrices, ...] = ()

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        if len({offer.key for offer in self.offers}) != len(self.offers):
            raise ValueError("An offer's prices are kept twice.")
        return self


def prices_of(shop: Shop, since: date) -> KeptPrices:
    """The shop book's prices as they are now, to be kept from that day on."""
    offers = tuple(OfferPrices(key=offer.key, **_money(offer)) for offer in shop.offers)
    return KeptPrices(since=since, currency=shop.currency, rates=shop.rates, offers=offers)


def at_prices(shop: Shop, kept: KeptPrices | None) -> Shop:
    """The shop book with the prices that a job keeps.

    Press settings, limits and days are today's: a corrected heat must reach old jobs too. An offer made since
    has today's price.
    """
    if kept is None:
        return shop
    by_key = {offer.key: offer for offer in kept.offers}
    offers = tuple(
        changed(offer, **_money(by_key[offer.key])) if offer.key in by_key else offer for offer in shop.offers
    )
    return changed(shop, currency=kept.currency, rates=kept.rates, offers=offers)


def _money(of: Offer | OfferPrices) -> dict[str, object]:
    return {name: getattr(of, name) for name in OfferPrices.model_fields if name != "key"}
