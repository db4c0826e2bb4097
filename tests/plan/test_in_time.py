"""Ways to be in time: each one is taken, planned again, and nothing is late."""

from datetime import date, timedelta

from planner.job.document import Job
from planner.job.findings import FindingKind
from planner.plan.in_time import WayKind, ways_in_time
from planner.plan.make_plan import make_plan
from planner.shop.document import changed
from tests.builders import A_DAY, a_job, a_shop

THURSDAY = date(2026, 12, 3)
"""Six working days after `A_DAY` less Thanksgiving: gang sheets take six working days, rushed four."""


def late_job(**fields: object) -> Job:
    job, _ = a_job()
    return changed(job, **{"due": THURSDAY, **fields})


def is_late(job: Job) -> bool:
    plan = make_plan(job, a_shop(), facts={}, today=A_DAY)
    return any(finding.kind is FindingKind.LATE for finding in plan.findings)


def test_every_way_offered_is_in_time_and_the_cheapest_stands_first() -> None:
    assert is_late(late_job())
    ways = ways_in_time(late_job(), a_shop(), facts={}, today=A_DAY)
    assert {WayKind.OFFER, WayKind.DUE} <= {way.kind for way in ways}
    assert not any(is_late(way.job) for way in ways)
    costs = [way.dearer for way in ways[:-1]]
    assert costs == sorted(costs)
    assert ways[-1].kind is WayKind.DUE


def test_the_later_day_is_the_first_that_will_do() -> None:
    later = ways_in_time(late_job(), a_shop(), facts={}, today=A_DAY)[-1].job
    assert later.due is not None
    assert not is_late(later)
    assert is_late(changed(later, due=later.due - timedelta(days=1)))


def test_rush_is_offered_with_its_fee_where_it_suffices() -> None:
    due = date(2026, 12, 4)
    while not is_late(late_job(due=due)):
        due -= timedelta(days=1)
    ways = ways_in_time(late_job(due=due), a_shop(), facts={}, today=A_DAY)
    rush = next(way for way in ways if way.kind is WayKind.RUSH)
    assert rush.job.terms.rush
    assert rush.dearer > 0


def test_prints_that_no_one_offer_may_take_are_split() -> None:
    """A bag of polyester and a shirt of spandex: no single offer may be used for both."""
    from planner.job.document import Print
    from planner.shop.cloth import Cloth, Fibre, FibreShare
    from planner.shop.garments import Location

    job = late_job()
    stretchy = Cloth(
        fibres=(FibreShare(fibre=Fibre.COTTON, percent=90), FibreShare(fibre=Fibre.SPANDEX, percent=10))
    )
    line = changed(job.lines[0], key="g2", cloth=stretchy)
    second = Print(key="p2", artwork="a1", line="g2", location=Location.LEFT_CHEST, width_mm=76.2)
    both = changed(job, lines=(*job.lines, line), prints=(*job.prints, second))
    shop = a_shop()
    quick = tuple(
        changed(offer, production_days=1, delivery_days=1) if offer.key != "film-sheet" else offer
        for offer in shop.offers
    )
    ways = ways_in_time(both, changed(shop, offers=quick), facts={}, today=A_DAY)
    split = next((way for way in ways if way.kind is WayKind.SPLIT), None)
    assert split is not None
    # Neither offer of the split has a faster service: asked for it, they are no other way.
    assert [way.offers for way in ways].count(split.offers) == 1
    assert not split.job.terms.rush
    assert split.job.offer_of(split.job.print_of("p2")) == "stretch"
    assert split.job.offer_of(split.job.print_of("p1")) != "film-sheet"


def test_a_job_in_time_needs_no_way() -> None:
    job, _ = a_job()
    assert ways_in_time(job, a_shop(), facts={}, today=A_DAY) == ()
