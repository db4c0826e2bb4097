"""Orders at offers by the printed area: single images, or small ones grouped to save minimum charges."""

from decimal import ROUND_CEILING, Decimal

from planner.buying.ask import Ask, Found
from planner.buying.price import Printed, area_in, area_lines, area_of
from planner.buying.purchase import Saving
from planner.buying.together import arranged_together, is_apart, marked_keys
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Layout
from planner.measures.money import minor_units, total
from planner.sheets.problem import Group, Request
from planner.shop.prices import ByArea
from planner.work.ticket import Ticket


def plan_area(ask: Ask, table: ByArea, ticket: Ticket | None) -> Found:
    """The cheapest of all single, the small ones grouped, and all grouped, each with and without buying
    up to the next break.

    Pieces that must share one sheet are a group, alone or with others, wherever one holds them all.
    """
    singles = {want.key: want.wanted for want in ask.wants}
    marked = marked_keys(ask)
    ways = [Found(singles=tuple(singles.items()))]
    for keys in _groupings(ask, table, marked):
        layouts = _groups(ask, table, [want for want in ask.wants if want.key in keys], ticket)
        if layouts:
            rest = tuple((key, count) for key, count in singles.items() if key not in keys)
            ways.append(Found(layouts=layouts, singles=rest))
    ways = [way for way in ways if not is_apart(ask, way)] or ways
    best = min((_up_to_break(ask, table, way) for way in ways), key=lambda way: _goods(ask, table, way))
    return Found(
        layouts=best.layouts,
        singles=best.singles,
        least_goods=_least_goods(ask, table, best),
        savings=best.savings,
    )


def _groupings(ask: Ask, table: ByArea, marked: frozenset[str]) -> list[frozenset[str]]:
    """Sets of wants that may pay to be one group, or must be."""
    wanted = {want.key: want.wanted for want in ask.wants}
    sets = [marked]
    if table.minimum_each:
        small = frozenset(want.key for want in ask.wants if _pays_minimum(ask, table, want))
        sets += [marked | small, frozenset(wanted)]
    return [keys for keys in dict.fromkeys(sets) if sum(wanted[key] for key in keys) > 1]


def _pays_minimum(ask: Ask, table: ByArea, want: Want) -> bool:
    area = area_of(table, [Printed(w.size, w.wanted) for w in ask.wants])
    return area_in(table.unit, want.size) * table.breaks.each_at(area) < table.minimum_each


def _groups(ask: Ask, table: ByArea, wants: list[Want], ticket: Ticket | None) -> tuple[Layout, ...]:
    """All copies in as few blocks as possible, or nothing where some find no room."""
    answer = arranged_together(
        ask,
        Request(
            tuple(want.piece(want.wanted) for want in wants),
            (Group(table.largest),),
            ask.offer.gap_mm,
            ask.offer.edge_mm,
            ask.way,
            seed=ask.seed,
            budget_s=ask.budget_s / 2,
            rounds=ask.rounds,
            pinned=ask.pinned,
        ),
        ticket,
    )
    return () if answer.left_over else answer.layouts


def _images(ask: Ask, found: Found) -> list[Printed]:
    sizes = {want.key: want.size for want in ask.wants}
    groups = [Printed(layout.sheet, layout.runs) for layout in found.layouts]
    return groups + [Printed(sizes[key], count, key) for key, count in found.singles]


def _goods(ask: Ask, table: ByArea, found: Found) -> Decimal:
    return total(line.amount for line in area_lines(table, _images(ask, found), ask.currency))


def _up_to_break(ask: Ask, table: ByArea, found: Found) -> Found:
    """More copies of one want where reaching a later break costs less in all."""
    if not found.singles:
        return found
    plain = best_cost = _goods(ask, table, found)
    best = found
    area = area_of(table, _images(ask, found))
    sizes: dict[str, Size] = {want.key: want.size for want in ask.wants}
    for step in table.breaks.steps:
        if step.from_count <= area:
            continue
        for key, _count in found.singles:
            one = area_in(table.unit, sizes[key])
            more = int(((step.from_count - area) / one).to_integral_value(rounding=ROUND_CEILING))
            singles = tuple((k, c + more if k == key else c) for k, c in found.singles)
            tried = Found(layouts=found.layouts, singles=singles)
            cost = _goods(ask, table, tried)
            if cost < best_cost:
                saving = Saving(piece=key, more=more, saves=plain - cost)
                best_cost, best = cost, Found(found.layouts, singles, savings=(saving,))
    return best


def _least_goods(ask: Ask, table: ByArea, found: Found) -> Decimal:
    """A proven bound: the boxes' area at the least it can cost from there on.

    No group is smaller than the boxes in it, and an order of more area may reach a later break, so the
    least of area × price over all larger areas bounds every way of grouping. Lines are rounded, each by
    half a coin at most; only where nothing is rounded away is the bound the cost itself.
    """
    area = area_of(table, [Printed(want.size, want.wanted) for want in ask.wants])
    starts = [step.from_count for step in table.breaks.steps if step.from_count > area]
    least = min(at * table.breaks.each_at(at) for at in (area, *starts))
    least = max(least, table.minimum_each)
    lines = len(found.layouts) + len(found.singles)
    coin = Decimal(1).scaleb(-minor_units(ask.currency))
    cost = _goods(ask, table, found)
    if abs(cost - least) <= lines * coin / 2:
        return cost
    return max(Decimal(0), least - lines * coin / 2)
