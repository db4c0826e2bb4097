"""A closer look at every offer, one after the other, each answer handed out as it is found. No Qt here."""

from collections.abc import Callable, Sequence

from planner.buying.compare import Effort, Facts, OfferResult, result_at
from planner.job.document import Job, Print
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.work.ticket import Ticket

_PARTS = 100
"""Steps that the search at one offer counts for."""


class PartTicket(Ticket):
    """One part of a whole piece of work: its steps count within that part, its stop is the whole's."""

    def __init__(self, whole: Ticket, part: int, parts: int) -> None:
        super().__init__()
        self._whole, self._part, self._parts = whole, part, parts

    @property
    def is_stopped(self) -> bool:
        return self._whole.is_stopped

    def stop(self) -> None:
        self._whole.stop()

    def step(self, done: int, of: int) -> None:
        within = round(_PARTS * min(1.0, done / of)) if of else 0
        self._whole.step(self._part * _PARTS + within, self._parts * _PARTS)


def search_offers(
    job: Job,
    shop: Shop,
    facts: Facts,
    effort: Effort,
    ticket: Ticket,
    *,
    prints: Sequence[Print],
    found: Callable[[OfferResult], None],
) -> None:
    """Search at every offer; `found` hears each result.

    Raises:
        Cancelled: the ticket was stopped; what was found until then has been told.
    """
    for number, offer in enumerate(shop.offers):
        part = PartTicket(ticket, number, len(shop.offers))
        part.step(0, 1)
        found(result_at(offer, job, shop, facts, effort, prints=prints, ticket=part))


def better_of(known: OfferResult, searched: OfferResult) -> OfferResult:
    """The cheaper of two answers for one offer, with the bound that the search proved."""
    fewer_left_out = len(searched.order.not_placed) < len(known.order.not_placed)
    if searched.cost <= known.cost or fewer_left_out:
        return searched
    order = changed(
        known.order,
        least_cost=searched.order.least_cost,
        most_layouts=searched.order.most_layouts,
        one_size=searched.order.one_size,
        provisional=False,
    )
    return changed(known, order=order, provisional=False)
