"""A job, a shop of three offers, and comparisons worked out by the real core."""

from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from planner.buying.compare import Facts, OfferResult, compare
from planner.buying.quantity import CostByQuantity, Crossing, QuantityCurve, QuantityPoint
from planner.job.document import Job, Print
from planner.job.edits import add_print, change_line
from planner.plan.make_plan import make_plan
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.shop.cloth import Cloth, Fibre, FibreShare
from planner.shop.document import changed
from planner.shop.garments import Location
from planner.window.offers.question import Question, priced_part
from tests.builders import A_DAY, a_job, a_line, a_shop

FACTS = Facts(today=A_DAY)
SHEETS, ROLL, SINGLES, SUBLIMATION = "film-sheet", "film-roll", "film-single", "sublimation"
STRETCH = "stretch"


def a_small_shop(*keys: str) -> Shop:
    """The starting shop with these offers alone."""
    shop = a_shop()
    wanted = keys or (SHEETS, ROLL, SINGLES, SUBLIMATION)
    return changed(shop, offers=tuple(offer for offer in shop.offers if offer.key in wanted))


def two_prints() -> Job:
    """Twenty T-shirts with a print on the chest and one on the back."""
    job, _ = a_job(offer=SHEETS)
    return add_print(job, Print(key="p2", artwork="a1", line="g1", location=Location.FULL_BACK, width_mm=250))


@lru_cache(maxsize=8)
def compared(job: Job | None = None) -> tuple[OfferResult, ...]:
    return compare(job or two_prints(), a_small_shop(), FACTS)


def result_of(key: str) -> OfferResult:
    return next(result for result in compared() if result.offer == key)


def a_plan(job: Job, shop: Shop) -> Plan:
    return make_plan(job, shop, facts={}, today=A_DAY)


def question(job: Job, scope: str | None = None) -> Question:
    return Question(priced_part(job), a_small_shop(), replace(FACTS), scope)


def curve(offer: str, costs: dict[int, str], breaks: tuple[int, ...] = ()) -> QuantityCurve:
    """A curve from the cost of whole orders by quantity."""
    return QuantityCurve(
        offer=offer,
        points=tuple(
            QuantityPoint(
                quantity=quantity,
                cost=Decimal(cost),
                cost_each=Decimal(cost) / quantity,
                is_break=quantity in breaks,
            )
            for quantity, cost in costs.items()
        ),
    )


def costs_of_two() -> CostByQuantity:
    """Singles are the cheapest up to 20, the sheets from 30 on."""
    return CostByQuantity(
        curves=(
            curve(SHEETS, {10: "80", 20: "90", 30: "60", 40: "76"}, breaks=(30,)),
            curve(SINGLES, {10: "50", 20: "80", 30: "120", 40: "160"}),
        ),
        crossings=(Crossing(quantity=30, before=SINGLES, after=SHEETS),),
    )


def with_medium(job: Job, count: int) -> Job:
    """The job with so many of size M."""
    line = job.lines[0]
    sizes = (changed(line.sizes[0], count=count), *line.sizes[1:])
    return change_line(job, line.key, sizes=sizes)


def back_and_leggings(*, back_in: float = 20) -> Job:
    """A back print too wide for the stretch kind's sheets, and stretchy leggings that need this kind."""
    job, _ = a_job(offer=SHEETS)
    stretchy = Cloth(
        fibres=(FibreShare(fibre=Fibre.COTTON, percent=92), FibreShare(fibre=Fibre.SPANDEX, percent=8)),
        iron_dots=2,
    )
    leggings = changed(a_line("g2"), style="Leggings", cloth=stretchy)
    back = changed(job.prints[0], location=Location.FULL_BACK, width_mm=back_in * 25.4)
    leg = changed(job.prints[0], key="p2", line="g2", location=Location.LEFT_CHEST)
    return changed(job, lines=(*job.lines, leggings), prints=(back, leg))
