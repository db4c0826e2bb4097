"""What is worth saying about a comparison, as facts with something to do about them. No Qt here."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from planner.buying.purchase import Purchase
from planner.buying.quantity import CostByQuantity, QuantityCurve, QuantityPoint
from planner.buying.split import Split
from planner.job.document import Job
from planner.job.pieces import print_of_piece
from planner.measures.lengths import format_length
from planner.plan.room_left import RoomLeft
from planner.plan.wording import money
from planner.shop.book import Shop
from planner.window.names import print_name
from planner.window.offers import words
from planner.window.offers.figures import OfferShown
from planner.window.offers.other_quantities import garments_of
from planner.window.wording import short_name

_NEAR = Decimal("1.35")
"""How far above the present quantity another is still worth a word."""
_WORTH = Decimal("0.03")
"""Share of the cost a garment that must fall before a larger quantity is worth a word."""


@dataclass(frozen=True, slots=True)
class Hint:
    """A sentence, and what its button does: take an offer, plan for another quantity, arrange."""

    sentence: str
    action: str = ""
    offer: str | None = None
    quantity: int | None = None
    arrange: bool = False
    room: RoomLeft | None = None
    """Let these ride along."""
    shared: tuple[tuple[str, str], ...] = ()
    """Keys of prints, each with that of the offer to buy it at."""
    saves: Decimal = Decimal(0)
    """What its button saves of the job as it stands."""
    is_first: bool = False
    """Read before the rows: without it no row is of use."""


def hints_for(
    job: Job,
    shop: Shop,
    rows: Iterable[OfferShown],
    *,
    costs: CostByQuantity | None,
    purchase: Purchase | None,
    scope: str | None,
    room: RoomLeft | None = None,
    split: Split | None = None,
) -> tuple[Hint, ...]:
    """Hints, the one that saves most first within its kind."""
    rows = tuple(rows)
    found = []
    if scope is None:
        found = _by_print(job, shop, split, rows, purchase) if split else []
        found = found or _together(shop, rows, purchase)
    found += _cheaper_offer(shop, rows)
    standing = next((row for row in rows if row.chosen), None)
    if standing is not None and purchase is not None and scope is None:
        found += _arranging(shop, standing, purchase)
    if purchase is not None and scope is None:
        found += _riding_along(job, purchase)
        found += [_room_for(job, shop, room)] if room else []
    about = standing or next((row for row in rows if row.cheapest), None)
    if about is not None:
        found += _savings(job, shop, about)
        if costs is not None and scope is None:
            curve = next((each for each in costs.curves if each.offer == about.key), None)
            found += _more_garments(shop, about, curve, garments_of(job)) if curve else []
    return tuple(found)


def _by_print(
    job: Job, shop: Shop, split: Split, rows: tuple[OfferShown, ...], purchase: Purchase | None
) -> list[Hint]:
    """Which offer could take which prints where none takes all, or where that saves; or that it is so."""
    if not split.shares:
        return []
    names = {print_.key: print_name(job, print_) for print_ in job.prints}
    shared = tuple((key, share.result.offer) for share in split.shares for key in share.prints)
    is_so = all(job.offer_of(job.print_of(key)) == offer for key, offer in shared)
    offers = {offer.key: offer.name for offer in shop.offers}
    told = [(offers[share.result.offer], [names[key] for key in share.prints]) for share in split.shares]
    cost, whole = money(split.cost, shop.currency), takes_all(rows)
    if whole is not None:
        return _saving(shop, split, whole, purchase, None if is_so else (told, shared))
    if split.nowhere:
        return [Hint(words.nowhere_to_buy([names[key] for key in split.nowhere]), is_first=True)]
    if is_so:
        return [Hint(words.BOUGHT_BY_PRINT, is_first=True)]
    return [Hint(words.buy_by_print(told, cost), words.BUY_BY_PRINT, shared=shared, is_first=True)]


def _saving(
    shop: Shop,
    split: Split,
    whole: OfferShown,
    purchase: Purchase | None,
    to_share: tuple[list[tuple[str, list[str]]], tuple[tuple[str, str], ...]] | None,
) -> list[Hint]:
    """Prints shared out cost less than all of them at the cheapest offer; nothing to share: they are."""
    now = purchase.cost if _is_shared(purchase) and purchase else None
    cost = now if to_share is None and now is not None else split.cost
    saves = whole.result.cost - cost
    if len(split.shares) < 2 or saves <= 0:
        return []
    saved = money(saves, shop.currency)
    if to_share is None:
        return [Hint(words.shared_saves(saved, whole.name))]
    if now is not None and now <= cost:
        return []
    told, shared = to_share
    sentence = words.cheaper_by_print(told, money(cost, shop.currency), saved, whole.name)
    stands = purchase.cost if purchase is not None and purchase.orders else whole.result.cost
    return [Hint(sentence, words.BUY_BY_PRINT, shared=shared, saves=max(Decimal(0), stands - cost))]


def _together(shop: Shop, rows: tuple[OfferShown, ...], purchase: Purchase | None) -> list[Hint]:
    """The job is shared out, and all of it at one offer costs less."""
    whole = takes_all(rows)
    if whole is None or purchase is None or not _is_shared(purchase) or purchase.cost <= whole.result.cost:
        return []
    saved = money(purchase.cost - whole.result.cost, shop.currency)
    sentence = words.cheaper_together(whole.name, saved, len(purchase.orders))
    saves = purchase.cost - whole.result.cost
    return [Hint(sentence, words.take(whole.name), offer=whole.key, saves=saves)]


def takes_all(rows: Iterable[OfferShown]) -> OfferShown | None:
    """The cheapest offer that may be used and prints every copy."""
    return next((row for row in rows if row.cheapest and not row.result.order.not_placed), None)


def _is_shared(purchase: Purchase | None) -> bool:
    return purchase is not None and len(purchase.orders) > 1


def _cheaper_offer(shop: Shop, rows: tuple[OfferShown, ...]) -> list[Hint]:
    chosen = next((row for row in rows if row.chosen), None)
    cheapest = next((row for row in rows if row.cheapest), None)
    if chosen is None or cheapest is None or chosen.key == cheapest.key:
        return []
    saves = chosen.result.cost - cheapest.result.cost
    if saves <= 0 or chosen.result.order.not_placed:
        return []
    percent = saves / chosen.result.cost * 100
    return [
        Hint(
            words.cheaper_offer(cheapest.name, money(saves, shop.currency), float(percent)),
            words.take(cheapest.name),
            offer=cheapest.key,
            saves=saves,
        )
    ]


def _arranging(shop: Shop, row: OfferShown, purchase: Purchase) -> list[Hint]:
    """A search found cheaper sheets than the job has at its one offer."""
    order = purchase.order_at(row.key)
    if order is None or len(purchase.orders) > 1 or row.result.cost >= order.cost:
        return []
    return [
        Hint(
            words.cheaper_sheets(
                row.name, money(row.result.cost, shop.currency), money(order.cost, shop.currency)
            ),
            words.ARRANGE_SHEETS,
            arrange=True,
        )
    ]


def _riding_along(job: Job, purchase: Purchase) -> list[Hint]:
    """Extras that the sheets as they stand carry for nothing."""
    extras = {extra.key: extra for extra in job.extras}
    return [
        Hint(words.riding_along(piece.ordered, short_name(job.artwork(extras[piece.piece].artwork).name)))
        for order in purchase.orders
        for piece in order.pieces
        if piece.piece in extras and piece.ordered
    ]


def _room_for(job: Job, shop: Shop, room: RoomLeft) -> Hint:
    """Copies that would ride along if they were asked for."""
    artwork = job.artwork(room.extra.artwork)
    width = format_length(room.extra.width_mm, shop.unit)
    return Hint(
        words.room_for(room.extra.most, short_name(artwork.name), width), words.LET_RIDE_ALONG, room=room
    )


def _savings(job: Job, shop: Shop, row: OfferShown) -> list[Hint]:
    keys = {print_.key for print_ in job.prints}
    found = []
    for saving in sorted(row.result.order.savings, key=lambda saving: -saving.saves):
        if saving.piece is None:
            what = words.more_sold(saving.more, _model(shop, row))
        else:
            key = print_of_piece(saving.piece)
            name = print_name(job, job.print_of(key)) if key in keys else words.AN_EXTRA
            what = words.more_pieces(saving.more, name)
        found.append(Hint(words.cheaper_with_more(what, row.name, money(saving.saves, shop.currency))))
    return found


def _more_garments(shop: Shop, row: OfferShown, curve: QuantityCurve | None, now: int) -> list[Hint]:
    """A larger quantity at which the whole order, or else a garment, costs less."""
    if curve is None:
        return []
    here = next((point for point in curve.points if point.quantity == now), None)
    # Figures of a search and the curve's quick ones must not be held against each other.
    if here is None or not here.cost or here.cost != row.result.cost:
        return []
    near = [point for point in curve.points if now < point.quantity <= now * _NEAR]
    less = [point for point in near if point.cost < here.cost]
    if less:
        return [_less_in_all(shop, row, here, min(less, key=lambda point: point.quantity))]
    lower = [point for point in near if point.cost_each <= here.cost_each * (1 - _WORTH)]
    if not lower:
        return []
    point = min(lower, key=lambda point: point.quantity)
    return [
        Hint(
            words.cheaper_each(
                point.quantity - now,
                point.quantity,
                money(point.cost_each, shop.currency),
                money(here.cost_each, shop.currency),
                row.name,
            ),
            words.plan_for(point.quantity),
            quantity=point.quantity,
        )
    ]


def _less_in_all(shop: Shop, row: OfferShown, here: QuantityPoint, there: QuantityPoint) -> Hint:
    more = there.quantity - here.quantity
    return Hint(
        words.cheaper_in_all(more, there.quantity, money(here.cost - there.cost, shop.currency), row.name),
        words.plan_for(there.quantity),
        quantity=there.quantity,
    )


def _model(shop: Shop, row: OfferShown) -> str:
    offer = shop.offer(row.key)
    return offer.price.model if offer else ""
