"""The price ladder: what a piece would cost the customer at other quantities, each really planned."""

from collections.abc import Callable, Iterable, Sequence
from decimal import Decimal

from planner.job.document import GarmentLine, Job
from planner.measures.money import round_money
from planner.measures.sharing import share_out
from planner.pricing.costs import Costs
from planner.shop.document import Document, changed


class NothingToScale(ValueError):
    """A job without counts cannot be scaled; the message says what to do."""

    def __init__(self) -> None:
        super().__init__("Type how many of each size first: other quantities follow the same mix of sizes.")


class Rung(Document):
    """The job at one quantity. `total`, `cost_each` and `margin_percent` as in `Costs`."""

    quantity: int
    price_each: Decimal
    """What the customer pays for a garment on average, before tax."""
    total: Decimal
    cost_each: Decimal
    margin_percent: Decimal


class StepUp(Document):
    """More garments at a lower price each: worth offering to the customer."""

    rung: Rung
    more: int
    extra: Decimal
    """What the customer pays beyond the smaller order; negative where the larger one costs less."""


def scaled(job: Job, quantity: int) -> Job:
    """The job with `quantity` garments in all, in the same mix of lines, and of sizes in each.

    Accepted layouts are left out: they were made for the other quantity.

    Raises:
        NothingToScale: the job has no counts to take the mix from.
    """
    if not any(line.count for line in job.lines):
        raise NothingToScale
    # Lines first: shared out by size at once, a small order would lose the lines that come in many sizes.
    shares = share_out(quantity, [line.count for line in job.lines])
    lines = tuple(_at(line, share) for line, share in zip(job.lines, shares, strict=True))
    return changed(job, lines=lines, arranged=())


def _at(line: GarmentLine, quantity: int) -> GarmentLine:
    counts = share_out(quantity, [size.count for size in line.sizes]) if quantity else [0] * len(line.sizes)
    sizes = zip(line.sizes, counts, strict=True)
    return changed(line, sizes=tuple(changed(size, count=count) for size, count in sizes))


def ladder(job: Job, quantities: Iterable[int], plan_at: Callable[[Job], Costs]) -> tuple[Rung, ...]:
    """One rung for each quantity, smallest first, from the costs of a real plan at it.

    Empty where the job has no counts yet.
    """
    if not any(line.count for line in job.lines):
        return ()
    wanted = sorted({quantity for quantity in quantities if quantity > 0})
    return tuple(rung_of(quantity, plan_at(scaled(job, quantity))) for quantity in wanted)


def rung_of(quantity: int, costs: Costs) -> Rung:
    """One quantity's rung from its costs."""
    return Rung(
        quantity=quantity,
        price_each=round_money(costs.revenue / quantity, costs.currency),
        total=costs.revenue,
        cost_each=costs.each,
        margin_percent=costs.margin_percent,
    )


def step_up(rungs: Sequence[Rung], now: Rung) -> StepUp | None:
    """The next larger quantity at which a garment costs the customer less than now, if there is one."""
    larger = [rung for rung in rungs if rung.quantity > now.quantity and rung.price_each < now.price_each]
    if not larger:
        return None
    rung = min(larger, key=lambda rung: rung.quantity)
    return StepUp(rung=rung, more=rung.quantity - now.quantity, extra=rung.total - now.total)
