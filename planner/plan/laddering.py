"""The price ladder of a job: every quantity really planned, for the window, the quote and commands alike."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from planner.job.document import Job
from planner.plan.model import Plan
from planner.plan.ordering import Facts, purchase_of
from planner.pressing.work_order import press_work
from planner.pricing.costs import Costs
from planner.pricing.ladder import Rung, StepUp, ladder, rung_of, step_up
from planner.pricing.reckon import reckon_costs
from planner.shop.book import Shop
from planner.work.ticket import Ticket


@dataclass(frozen=True, slots=True)
class Ladder:
    """The job's own quantity and the others, smallest first; empty for a job without counts or transfers."""

    rungs: tuple[Rung, ...] = ()
    now: Rung | None = None
    """The job as it is planned; among `rungs` where the shop shows that quantity."""

    @property
    def step_up(self) -> StepUp | None:
        """The next quantity at which more garments cost less each."""
        return step_up(self.rungs, self.now) if self.now else None

    @property
    def prices(self) -> tuple[tuple[int, Decimal], ...]:
        """Quantities and prices, for a customer's eyes."""
        return tuple((rung.quantity, rung.price_each) for rung in self.rungs)


def price_ladder(job: Job, shop: Shop, plan: Plan, *, facts: Facts, ticket: Ticket | None = None) -> Ladder:
    """The job at every quantity that the shop likes to show, each with a quick arrangement of its own.

    The job's own quantity is taken from `plan`, so that the ladder never contradicts the quote.

    Raises:
        Cancelled: the ticket was stopped.
    """
    count = sum(line.count for line in job.lines)
    if not count or plan.purchase is None:
        return Ladder()
    ticket = ticket or Ticket()
    others: Sequence[int] = [quantity for quantity in shop.ladder if quantity != count]
    done = 0

    def plan_at(scaled_job: Job) -> Costs:
        nonlocal done
        ticket.step(done, len(others))
        done += 1
        purchase = purchase_of(scaled_job, shop, facts)
        return reckon_costs(scaled_job, shop, purchase, press_work(scaled_job, shop))

    now = rung_of(count, plan.costs)
    rungs = [*ladder(job, others, plan_at), *((now,) if count in shop.ladder else ())]
    ticket.step(len(others), len(others))
    return Ladder(tuple(sorted(rungs, key=lambda rung: rung.quantity)), now)


def quoted_ladder(
    job: Job, shop: Shop, plan: Plan, *, facts: Facts, ticket: Ticket | None = None
) -> tuple[tuple[int, Decimal], ...]:
    """Quantities and prices for the quote, where the job wants them there; else none.

    Raises:
        Cancelled: the ticket was stopped.
    """
    if not job.terms.ladder_on_quote:
        return ()
    return price_ladder(job, shop, plan, facts=facts, ticket=ticket).prices
