"""The buying list of blank garments: by style, colour and size, with spares for spoilage."""

from decimal import ROUND_CEILING, Decimal

from planner.job.document import GarmentLine, Job
from planner.measures.sharing import share_out
from planner.shop.book import Shop
from planner.shop.document import Document


class BlankToBuy(Document):
    """One size of one style and colour."""

    style: str
    colour_name: str
    size: str
    need: int
    spares: int
    cost_each: Decimal
    lines: tuple[str, ...]
    """Keys of the garment lines it is for."""

    @property
    def order(self) -> int:
        return self.need + self.spares


def blanks_to_buy(job: Job, shop: Shop) -> tuple[BlankToBuy, ...]:
    """Blanks in the order of the job's lines and sizes; the same style and colour on two lines once.

    Spares of a style and colour are the shop's spoilage of all its sizes, rounded up, most for the
    sizes ordered most.
    """
    groups: dict[tuple[str, str], list[GarmentLine]] = {}
    for line in job.lines:
        groups.setdefault((line.style, line.colour.name), []).append(line)
    return tuple(blank for lines in groups.values() for blank in _of_one_colour(lines, shop))


def _of_one_colour(lines: list[GarmentLine], shop: Shop) -> list[BlankToBuy]:
    needs: dict[tuple[str, Decimal], int] = {}
    used_by: dict[tuple[str, Decimal], list[str]] = {}
    for line in lines:
        for size in line.sizes:
            if size.count:
                key = (size.size, line.blank_cost + size.surcharge)
                needs[key] = needs.get(key, 0) + size.count
                used_by.setdefault(key, []).append(line.key)
    share = shop.rates.spoilage_percent * sum(needs.values()) / 100
    spares = share_out(int(share.to_integral_value(rounding=ROUND_CEILING)), list(needs.values()))
    return [
        BlankToBuy(
            style=lines[0].style,
            colour_name=lines[0].colour.name,
            size=size,
            need=need,
            spares=spare,
            cost_each=cost,
            lines=tuple(used_by[size, cost]),
        )
        for ((size, cost), need), spare in zip(needs.items(), spares, strict=True)
    ]
