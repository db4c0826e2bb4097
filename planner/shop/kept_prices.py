"""The prices a job was quoted with, kept beside it while the shop book moves on."""

from collections.abc import Sequence
from datetime import date
from typing import Self, TypeVar

from pydantic import Field, model_validator

from planner.shop.book import Press, Rates, Shop, Spares
from planner.shop.document import Document, changed
from planner.shop.offers import Offer, Rush
from planner.shop.prices import Amount, PriceTable

Item = TypeVar("Item", Offer, Press)


class OfferPrices(Document):
    """What one offer cost; how it is printed and pressed stays as the shop book says."""

    key: str
    price: PriceTable
    least_order: Amount
    delivery: Amount
    free_delivery_from: Amount | None
    rush: Rush | None


class PressTimes(Document):
    """How long the work at one press was reckoned to take; its platen stays as the shop book says."""

    key: str
    warm_up_min: float = Field(ge=0)
    reset_min: float = Field(ge=0)
    loading_s: float = Field(ge=0)


class KeptPrices(Document):
    """All that a quote's figures rest on and that shops change: price tables, rates, spares, times, tax."""

    since: date
    currency: str = Field(pattern=r"^[A-Z]{3}$")
    rates: Rates
    offers: tuple[OfferPrices, ...] = ()
    spares: Spares | None = None
    """None in jobs quoted before these were kept: as the shop book says."""
    presses: tuple[PressTimes, ...] = ()

    @model_validator(mode="after")
    def _each_once(self) -> Self:
        for kept, what in ((self.offers, "offer's prices"), (self.presses, "press's times")):
            if len({one.key for one in kept}) != len(kept):
                raise ValueError(f"One {what} are kept twice.")
        return self


def prices_of(shop: Shop, since: date) -> KeptPrices:
    """The shop book's prices as they are now, to be kept from that day on."""
    return KeptPrices(
        since=since,
        currency=shop.currency,
        rates=shop.rates,
        offers=tuple(OfferPrices(key=offer.key, **_fields(offer, OfferPrices)) for offer in shop.offers),
        spares=shop.spares,
        presses=tuple(PressTimes(key=press.key, **_fields(press, PressTimes)) for press in shop.presses),
    )


def at_prices(shop: Shop, kept: KeptPrices | None) -> Shop:
    """The shop book with the prices that a job keeps.

    Press settings, limits and days are today's: a corrected heat must reach old jobs too. An offer or a press
    that came since is as it is today.
    """
    if kept is None:
        return shop
    return changed(
        shop,
        currency=kept.currency,
        rates=kept.rates,
        offers=_as_kept(shop.offers, kept.offers),
        spares=kept.spares or shop.spares,
        presses=_as_kept(shop.presses, kept.presses),
    )


def _as_kept(today: tuple[Item, ...], kept: Sequence[OfferPrices | PressTimes]) -> tuple[Item, ...]:
    by_key = {one.key: one for one in kept}
    return tuple(
        changed(one, **_fields(by_key[one.key], type(by_key[one.key]))) if one.key in by_key else one
        for one in today
    )


def _fields(of: Document, kind: type[OfferPrices | PressTimes]) -> dict[str, object]:
    return {name: getattr(of, name) for name in kind.model_fields if name != "key"}
