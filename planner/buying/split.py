"""A job's prints shared out among offers: hoodies here, leggings there."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from itertools import permutations

from planner.buying.compare import QUICK, Effort, Facts, OfferResult, result_at
from planner.job.document import Job, Print
from planner.shop.book import Shop
from planner.shop.document import Document
from planner.shop.offers import Offer
from planner.work.ticket import Ticket

_Chosen = dict[str, str]
"""Keys of offers by those of prints."""
_Wanted = Mapping[str, tuple[str, ...]]
"""Keys of the offers that may be used for each print."""
_Moved = Callable[["_Bench", _Chosen, _Wanted], Iterator[_Chosen]]
_MOST_STARTS = 3
"""Ways to begin that are improved, the cheapest ones: from dearer ones hardly any better way was found."""
_ALL_SIZES = 8
"""Among so many prints groups of every size are tried; among more, all that are cheaper at the other
offer by themselves, and groups each twice as large as the last."""


class Share(Document):
    """The prints bought at one offer."""

    prints: tuple[str, ...]
    result: OfferResult


class Split(Document):
    """Which print is bought where, and what that costs in all."""

    shares: tuple[Share, ...]
    cost: Decimal
    nowhere: tuple[str, ...] = ()
    """Prints that no offer of the shop book may be used for."""

    def offer_of(self, print_key: str) -> str | None:
        return next((share.result.offer for share in self.shares if print_key in share.prints), None)


def cheapest_split(
    job: Job, shop: Shop, facts: Facts, effort: Effort = QUICK, *, ticket: Ticket | None = None
) -> Split:
    """The cheapest way found to buy every print at an offer that may be used for it.

    Starts from each offer taking all that it may, and moves prints, one or several, while that saves; an
    offer more costs its least order and delivery again, so that prints stay together unless parting pays.
    Prints on no garment are passed over.

    Raises:
        Cancelled: the ticket was stopped.
    """
    bench = _Bench(job, shop, facts, effort, ticket or Ticket())
    usable = {print_.key: bench.usable(print_) for print_ in job.prints if job.line(print_.line).count}
    nowhere = tuple(key for key, offers in usable.items() if not offers)
    wanted = {key: offers for key, offers in usable.items() if offers}
    if not wanted:
        return Split(shares=(), cost=Decimal(0), nowhere=nowhere)
    starts = [
        {
            key: first if first in offers else bench.cheapest_alone(key, offers)
            for key, offers in wanted.items()
        }
        for first in dict.fromkeys(offer for offers in wanted.values() for offer in offers)
    ]
    starts = sorted(starts, key=bench.cost)[:_MOST_STARTS]
    chosen = min((_improved(bench, start, wanted, _one_moved) for start in starts), key=bench.cost)
    chosen = _improved(bench, chosen, wanted, _some_moved)
    return Split(shares=bench.shares(chosen), cost=bench.cost(chosen), nowhere=nowhere)


def _improved(bench: "_Bench", chosen: _Chosen, wanted: _Wanted, moved: _Moved) -> _Chosen:
    """The same after every move that saves."""
    while True:
        cost = bench.cost(chosen)
        better = next((tried for tried in moved(bench, chosen, wanted) if bench.cost(tried) < cost), None)
        if better is None:
            return chosen
        chosen = better


def _one_moved(bench: "_Bench", chosen: _Chosen, wanted: _Wanted) -> Iterator[_Chosen]:
    """One print at another offer."""
    for key, offers in wanted.items():
        yield from ({**chosen, key: offer} for offer in offers if offer != chosen[key])


def _some_moved(bench: "_Bench", chosen: _Chosen, wanted: _Wanted) -> Iterator[_Chosen]:
    """One print at another offer, or several together, since one alone may not pay a delivery.

    Those that differ most in cost between the two offers go together: what an order costs before its
    goods is the same for each print, so that it does not change who is first.
    """
    yield from _one_moved(bench, chosen, wanted)
    every = dict.fromkeys(offer for offers in wanted.values() for offer in offers)
    for at, other in permutations(every, 2):
        saves = {
            key: bench.cost({key: at}) - bench.cost({key: other})
            for key, offer in chosen.items()
            if offer == at and other in wanted[key]
        }
        first = sorted(saves, key=saves.__getitem__, reverse=True)
        cheaper = sum(saved > 0 for saved in saves.values())
        yield from ({**chosen, **dict.fromkeys(first[:size], other)} for size in _sizes(len(first), cheaper))


def _sizes(most: int, likely: int) -> list[int]:
    """How many of so many prints are tried together."""
    if most <= _ALL_SIZES:
        return list(range(2, most + 1))
    sizes = [likely or most, 2]
    while sizes[-1] < most:
        sizes.append(min(2 * sizes[-1], most))
    return sizes


class _Bench:
    """Prices shares of the job, each once."""

    def __init__(self, job: Job, shop: Shop, facts: Facts, effort: Effort, ticket: Ticket) -> None:
        self._job, self._shop, self._facts, self._effort = job, shop, facts, effort
        self._ticket = ticket
        self._known: dict[tuple[str, frozenset[str]], OfferResult] = {}

    def usable(self, print_: Print) -> tuple[str, ...]:
        """Keys of the offers that may be used for a print and can print it."""
        results = [self._result(offer, frozenset((print_.key,))) for offer in self._shop.offers]
        return tuple(r.offer for r in results if r.may_be_used and not r.order.not_placed)

    def cheapest_alone(self, print_key: str, offers: tuple[str, ...]) -> str:
        return min(offers, key=lambda offer: self.cost({print_key: offer}))

    def cost(self, chosen: Mapping[str, str]) -> Decimal:
        return sum((share.result.cost for share in self.shares(chosen)), Decimal(0))

    def shares(self, chosen: Mapping[str, str]) -> tuple[Share, ...]:
        shares = []
        for offer in self._shop.offers:
            keys = tuple(key for key, at in chosen.items() if at == offer.key)
            if keys:
                shares.append(Share(prints=keys, result=self._result(offer, frozenset(keys))))
        return tuple(shares)

    def _result(self, offer: Offer, keys: frozenset[str]) -> OfferResult:
        asked = (offer.key, keys)
        if asked not in self._known:
            self._ticket.step(0, 0)
            prints = [print_ for print_ in self._job.prints if print_.key in keys]
            self._known[asked] = result_at(
                offer, self._job, self._shop, self._facts, self._effort, prints=prints
            )
        return self._known[asked]
