"""What would save a late job: a faster service or offer, prints shared out among offers, a later day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from enum import StrEnum

from planner.buying.compare import Facts as BuyingFacts
from planner.buying.split import cheapest_split
from planner.job import edits
from planner.job.document import Job
from planner.job.findings import FindingKind, Seriousness
from planner.plan.make_plan import make_plan
from planner.plan.model import Plan
from planner.plan.ordering import Facts, traits
from planner.pressing.calendar_reckoning import offers_in_time
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.work.ticket import Ticket

_FARTHEST_DAYS = 120


class WayKind(StrEnum):
    """Ways to be in time."""

    RUSH = "faster service"
    OFFER = "another offer"
    SPLIT = "several offers"
    DUE = "a later day"


@dataclass(frozen=True, slots=True)
class WayInTime:
    """One way to be in time, and the job that takes it."""

    kind: WayKind
    job: Job
    offers: tuple[str, ...]
    """Keys of the offers that transfers then come from."""
    rush: bool
    """Whether one of them is asked for its faster service."""
    dearer: Decimal
    """What the job costs more than now; negative where it costs less."""


def ways_in_time(
    job: Job, shop: Shop, *, facts: Facts, today: date, ticket: Ticket | None = None
) -> tuple[WayInTime, ...]:
    """Every way found in which nothing is late and nothing new forbids it: cheapest first, a later day last.

    Empty where nothing is late. How many plans it takes is not known beforehand.

    Raises:
        Cancelled: the ticket was stopped.
    """
    ticket = ticket or Ticket()
    now = make_plan(job, shop, facts=facts, today=today)
    late = [finding for finding in (*now.findings, *now.decided) if finding.kind is FindingKind.LATE]
    if not late:
        return ()
    late_offers = {finding.offer for finding in late if finding.offer}
    found: list[WayInTime] = []
    if late_offers:
        for kind, tried in _tried(job, shop, now, late_offers, facts=facts, today=today):
            ticket.step(0, 0)
            plan = make_plan(tried, shop, facts=facts, today=today)
            if _stops(plan) <= _stops(now) and not _is_late(plan):
                found.append(_way(kind, tried, shop, plan, now))
    found.sort(key=lambda way: (way.dearer, list(WayKind).index(way.kind)))
    # One offer for all prints is found as an offer and again as a share of one; offers without a faster
    # service are found again with it.
    firsts = {(way.offers, way.rush): way for way in reversed(found)}
    later = _later(job, shop, now, facts=facts, today=today, ticket=ticket)
    return (*(way for way in found if firsts[way.offers, way.rush] is way), *([later] if later else []))


def _tried(
    job: Job, shop: Shop, now: Plan, late_offers: set[str], *, facts: Facts, today: date
) -> Iterator[tuple[WayKind, Job]]:
    """Jobs that may be in time."""
    hurried = edits.set_fields(job, terms=changed(job.terms, rush=True))
    if not job.terms.rush:
        yield WayKind.RUSH, hurried
    reachable = offers_in_time(job, shop, now.press_work.total_min, today)
    for one in reachable:
        if one.offer not in late_offers:
            start = hurried if one.rush else job
            yield (
                WayKind.OFFER,
                _moved(start, late_offers, dict.fromkeys(_late_prints(job, late_offers), one.offer)),
            )
    for rush in (False, True):
        keys = {one.offer for one in reachable if rush or not one.rush}
        within = changed(shop, offers=tuple(offer for offer in shop.offers if offer.key in keys))
        prints = _late_prints(job, late_offers)
        if len(prints) > 1 and len(keys) > 1:
            start = hurried if rush else job
            asked = changed(start, prints=tuple(p for p in start.prints if p.key in prints))
            known = BuyingFacts(today=today, traits={key: traits(found) for key, found in facts.items()})
            split = cheapest_split(asked, within, known)
            shared = {key: offer for key in prints if (offer := split.offer_of(key)) is not None}
            if not split.nowhere and len(set(shared.values())) > 1:
                yield WayKind.SPLIT, _moved(start, late_offers, shared)


def _late_prints(job: Job, late_offers: set[str]) -> list[str]:
    return [print_.key for print_ in job.prints if job.offer_of(print_) in late_offers]


def _moved(job: Job, late_offers: set[str], to: dict[str, str]) -> Job:
    """The job with prints bought elsewhere; where all go to one offer it is the job's."""
    offers = set(to.values())
    if job.offer in late_offers and len(offers) == 1:
        job = edits.set_fields(job, offer=offers.pop())
        to = {key: offer for key, offer in to.items() if job.print_of(key).offer is not None}
    for key, offer in to.items():
        job = edits.change_print(job, key, offer=None if offer == job.offer else offer)
    return job


def _later(job: Job, shop: Shop, now: Plan, *, facts: Facts, today: date, ticket: Ticket) -> WayInTime | None:
    """The first due day on which nothing is late."""
    assert job.due is not None
    slack_days = now.calendar.slack_days or 0
    due = max(job.due, today)
    # Working days take at least as many days of the calendar.
    due = max(due, job.due + timedelta(days=max(0, -slack_days - 1)))
    for _ in range(_FARTHEST_DAYS):
        ticket.step(0, 0)
        tried = edits.set_fields(job, due=due)
        plan = make_plan(tried, shop, facts=facts, today=today)
        if plan.calendar.never_open:
            return None
        if not _is_late(plan):
            return _way(WayKind.DUE, tried, shop, plan, now)
        due += timedelta(days=1)
    return None


def _way(kind: WayKind, job: Job, shop: Shop, plan: Plan, now: Plan) -> WayInTime:
    orders = plan.purchase.orders if plan.purchase else ()
    offers = tuple(order.offer for order in orders)
    return WayInTime(
        kind=kind,
        job=job,
        offers=offers,
        rush=job.terms.rush and any(offer.rush for offer in shop.offers if offer.key in offers),
        dearer=plan.costs.total - now.costs.total,
    )


def _stops(plan: Plan) -> int:
    return sum(
        found.seriousness is Seriousness.STOP and found.kind is not FindingKind.LATE
        for found in plan.findings
    )


def _is_late(plan: Plan) -> bool:
    return any(found.kind is FindingKind.LATE for found in (*plan.findings, *plan.decided))
