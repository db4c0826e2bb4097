"""Orders at offers by the piece: no sheets, only how many of each design."""

from collections.abc import Mapping
from decimal import Decimal

from planner.buying.ask import Ask, Found
from planner.buying.price import Design, colours_of, piece_lines
from planner.buying.purchase import Saving
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.money import total
from planner.shop.prices import ByPiece


def plan_pieces(ask: Ask, table: ByPiece) -> Found:
    """Every design at its cheapest count, which is the least possible: designs do not touch each other.

    Buying up to a later break happens where the design then costs less; the additional copies go to the
    want of that design which is needed most.
    """
    singles = {want.key: want.wanted for want in ask.wants}
    savings = []
    for wants in _by_design(ask).values():
        design = _design(ask, wants, singles)
        plain = _cost(table, design, ask.currency)
        best, count = plain, design.count
        for start in _later_starts(table, design.count):
            more = Design(design.piece, design.size, start, design.colours)
            cost = _cost(table, more, ask.currency)
            if cost < best:
                best, count = cost, start
        if count > design.count:
            lead = max(wants, key=lambda want: want.need)
            singles[lead.key] += count - design.count
            savings.append(Saving(piece=lead.key, more=count - design.count, saves=plain - best))
    goods = piece_lines(table, designs_of(ask, singles), ask.currency)
    return Found(
        singles=tuple(singles.items()),
        least_goods=total(line.amount for line in goods),
        savings=tuple(savings),
    )


def designs_of(ask: Ask, singles: Mapping[str, int]) -> tuple[Design, ...]:
    """What the price table counts: copies of one artwork at one size together, from whichever garment."""
    return tuple(_design(ask, wants, singles) for wants in _by_design(ask).values())


def _by_design(ask: Ask) -> dict[tuple[str, Size], list[Want]]:
    found: dict[tuple[str, Size], list[Want]] = {}
    for want in ask.wants:
        size = Size(round(want.size.width_mm, 2), round(want.size.height_mm, 2))
        found.setdefault((want.artwork, size), []).append(want)
    return found


def _design(ask: Ask, wants: list[Want], singles: Mapping[str, int]) -> Design:
    first = wants[0]
    colours = colours_of(ask.colours, first.key, first.artwork)
    return Design(first.key, first.size, sum(singles.get(want.key, 0) for want in wants), colours)


def _cost(table: ByPiece, design: Design, currency: str) -> Decimal:
    return total(line.amount for line in piece_lines(table, (design,), currency))


def _later_starts(table: ByPiece, count: int) -> list[int]:
    starts = {int(-(-step.from_count // 1)) for row in table.rows for step in row.breaks.steps}
    return sorted(start for start in starts if start > count)
