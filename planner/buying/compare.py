"""Every offer of the shop book side by side for one job, and which is cheapest at which quantity."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal

from planner.buying.order import plan_order, quick_order
from planner.buying.purchase import ChargeKind, Order
from planner.buying.suits import ArtTraits, suits
from planner.buying.wants import Outline, extra_pieces
from planner.job.document import Job, Print
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import NeededPiece, pieces_of
from planner.measures.layout import Layout
from planner.shop.book import Shop
from planner.shop.document import Document
from planner.shop.offers import Offer, Peel
from planner.work.ticket import Ticket

Arrives = Callable[[date, int], date]
"""The day on which so many working days after a day are over."""


class OfferResult(Document):
    """One offer for all prints of a job (or those asked about): what it costs, how long it takes."""

    offer: str
    order: Order
    cost: Decimal
    cost_each: Decimal
    """Cost a garment that carries one of these prints; not rounded."""
    sheets: int
    surplus: int
    """Copies beyond need and spares, of all pieces together."""
    days: int
    """Working days until the transfers arrive."""
    arrives: date
    setting_c: float
    peel: Peel
    press_s: float
    """Seconds that all pressings take with the platen down, and handwork of this kind of transfer."""
    findings: tuple[Finding, ...]
    """What speaks against it, worst first."""
    provisional: bool = False

    @property
    def may_be_used(self) -> bool:
        """Nothing forbids it; warnings may still wait for a decision."""
        return not any(finding.seriousness is Seriousness.STOP for finding in self.findings)


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard a comparison looks: not at all (a blink), or so long at each offer."""

    budget_s: float = 0.0
    rounds: int | None = None
    seed: int = 0

    @property
    def is_quick(self) -> bool:
        return self.budget_s == 0 and not self.rounds


QUICK = Effort()


@dataclass(frozen=True)
class Facts:
    """What is known of the job beside the document: artwork traits, outlines by piece, the calendar."""

    today: date
    traits: Mapping[str, ArtTraits] = field(default_factory=dict)
    """By artwork key."""
    outlines: Mapping[str, Outline] = field(default_factory=dict)
    """By piece key."""
    arrives: Arrives | None = None
    """None: by the shop's open weekdays and closed days, without public holidays."""


def compare(
    job: Job,
    shop: Shop,
    facts: Facts,
    effort: Effort = QUICK,
    *,
    prints: Sequence[Print] | None = None,
    ticket: Ticket | None = None,
) -> tuple[OfferResult, ...]:
    """Every offer of the shop book, those that may be used first, cheapest first.

    Offers that are forbidden are priced for what they can print, so that one sees what is missed.
    `prints` narrows the comparison to some prints of the job. With `ticket` one step an offer is
    reported; stopping raises `Cancelled`.
    """
    chosen = tuple(job.prints if prints is None else prints)
    results = []
    for number, offer in enumerate(shop.offers):
        if ticket is not None:
            ticket.step(number, len(shop.offers))
        results.append(result_at(offer, job, shop, facts, effort, prints=chosen, ticket=ticket))
    return tuple(sorted(results, key=_rank))


def result_at(
    offer: Offer,
    job: Job,
    shop: Shop,
    facts: Facts,
    effort: Effort = QUICK,
    *,
    prints: Sequence[Print],
    ticket: Ticket | None = None,
) -> OfferResult:
    """One offer for these prints of a job."""
    pieces = tuple(piece for print_ in prints for piece in pieces_of(job, print_))
    order = _order(offer, pieces, job, shop, facts, effort, ticket)
    arrives = (facts.arrives or by_weekdays(shop))(facts.today, order.days)
    found = [
        finding
        for print_ in prints
        for finding in suits(job, print_, offer, facts.traits.get(print_.artwork), presses=shop.presses)
    ]
    if job.due is not None and arrives > job.due:
        found.append(_late(offer, order.days, arrives, job.due, facts.arrives or by_weekdays(shop)))
    garments = sum(job.line(key).count for key in {print_.line for print_ in prints})
    return OfferResult(
        offer=offer.key,
        order=order,
        cost=order.cost,
        cost_each=order.cost / garments if garments else Decimal(0),
        sheets=order.sheets,
        surplus=sum(max(0, piece.surplus) for piece in order.pieces),
        days=order.days,
        arrives=arrives,
        setting_c=offer.press.setting_c,
        peel=offer.press.peel,
        press_s=_press_s(offer) * sum(piece.count for piece in pieces),
        findings=tuple(sorted(found, key=lambda finding: list(Seriousness).index(finding.seriousness))),
        provisional=order.provisional,
    )


def by_weekdays(shop: Shop) -> Arrives:
    """Working days by the shop's open weekdays and closed days alone."""
    closed = set(shop.closed_days)
    open_on = set(shop.open_weekdays) or set(range(7))

    def arrives(start: date, days: int) -> date:
        day = start
        while days > 0:
            day += timedelta(days=1)
            if day.weekday() in open_on and day not in closed:
                days -= 1
        return day

    return arrives


def colours_by_artwork(traits: Mapping[str, ArtTraits]) -> dict[str, int]:
    """Colour counts for price tables by the piece; a photograph has more than any of their rows."""
    many = 1000
    counted = {key: many if t.photograph else t.colours for key, t in traits.items()}
    return {key: count for key, count in counted.items() if count is not None}


def _order(
    offer: Offer,
    pieces: tuple[NeededPiece, ...],
    job: Job,
    shop: Shop,
    facts: Facts,
    effort: Effort,
    ticket: Ticket | None,
) -> Order:
    way = job.way or shop.way
    colours = colours_by_artwork(facts.traits)
    rush = job.terms.rush
    if effort.is_quick:
        return quick_order(
            offer,
            pieces,
            spares=shop.spares,
            currency=shop.currency,
            way=way,
            rush=rush,
            colours=colours,
            outlines=facts.outlines,
        )
    return plan_order(
        offer,
        pieces,
        spares=shop.spares,
        currency=shop.currency,
        way=way,
        rush=rush,
        extras=extra_pieces(job),
        pinned=_pinned(job, offer),
        budget_s=effort.budget_s,
        rounds=effort.rounds,
        seed=effort.seed,
        ticket=ticket,
        colours=colours,
        outlines=facts.outlines,
    )


def _pinned(job: Job, offer: Offer) -> tuple[Layout, ...]:
    arranged = [layouts for part in job.arranged if part.offer == offer.key for layouts in part.layouts]
    return tuple(layout for layout in arranged if any(placed.pinned for placed in layout.placements))


def _press_s(offer: Offer) -> float:
    press = offer.press
    return press.pre_press_s + press.press_s + press.second_press_s + offer.finishing_s


def _late(offer: Offer, days: int, arrival: date, due: date, arrives: Arrives) -> Finding:
    """Figures are working days: how late the transfers arrive, and how many they take."""
    late = 1
    while arrives(due, late) < arrival:
        late += 1
    return Finding(
        kind=FindingKind.LATE,
        seriousness=Seriousness.STOP,
        offer=offer.key,
        found=late,
        needed=days,
        subject="transfers",
    )


def _rank(result: OfferResult) -> tuple[bool, bool, Decimal, str]:
    return not result.may_be_used, bool(result.order.not_placed), result.cost, result.offer


def goods_price(order: Order) -> tuple[Decimal | None, ...]:
    """Prices each that the goods were charged at: they change where a break is passed."""
    return tuple(line.each for line in order.lines if line.kind is ChargeKind.GOODS)
