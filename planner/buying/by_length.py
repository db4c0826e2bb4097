"""Orders at offers by the length of a roll."""

from decimal import Decimal
from math import ceil

from planner.buying.ask import Ask, Found
from planner.buying.capacity import covered_mm2
from planner.buying.price import Printed, length_lines, steps_of
from planner.buying.purchase import Saving
from planner.buying.together import arranged_together
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.measures.money import total
from planner.sheets.problem import Request, Roll, grouped
from planner.shop.prices import ByLength
from planner.work.ticket import Ticket


def plan_length(ask: Ask, table: ByLength, ticket: Ticket | None) -> Found:
    """As short a length as arranging finds, several where one would be over the longest."""
    answer = arranged_together(
        ask,
        Request(
            tuple(want.piece(want.wanted) for want in ask.wants),
            (Roll(table.width_mm, table.longest_mm, table.step_mm),),
            ask.offer.gap_mm,
            ask.offer.margin_mm,
            ask.way,
            seed=ask.seed,
            budget_s=ask.budget_s,
            rounds=ask.rounds,
            pinned=ask.pinned,
        ),
        ticket,
    )
    layouts = grouped(tuple(_to_steps(layout, table, ask.offer.margin_mm) for layout in answer.layouts))
    layouts, savings = _up_to_break(ask, table, layouts)
    return Found(layouts, least_goods=_least_goods(ask, table), savings=savings)


def _to_steps(layout: Layout, table: ByLength, margin_mm: float) -> Layout:
    """The layout on a length cut at the end of the last step it starts."""
    used_mm = max(placed.box.bottom_mm for placed in layout.placements) + margin_mm
    length_mm = min(steps_of(table, used_mm) * table.step_mm, table.longest_mm)
    # The box around a piece at an odd angle reaches further down than its outline.
    if any(placed.turned_deg % 90 for placed in layout.placements):
        length_mm = min(length_mm, layout.sheet.height_mm)
    return Layout(Size(table.width_mm, length_mm), layout.placements, layout.runs)


def _cost(ask: Ask, table: ByLength, layouts: tuple[Layout, ...]) -> Decimal:
    printed = [Printed(layout.sheet, layout.runs) for layout in layouts]
    return total(line.amount for line in length_lines(table, printed, ask.currency))


def _up_to_break(
    ask: Ask, table: ByLength, layouts: tuple[Layout, ...]
) -> tuple[tuple[Layout, ...], tuple[Saving, ...]]:
    """A longer last length where the steps up to a later break cost less than stopping short of it."""
    plain = best_cost = _cost(ask, table, layouts)
    best, savings = layouts, ()  # type: tuple[Layout, ...], tuple[Saving, ...]
    steps = sum(layout.runs * steps_of(table, layout.sheet.height_mm) for layout in layouts)
    for step in table.breaks.steps:
        more = ceil(step.from_count) - steps
        longer = _lengthened(table, layouts, more) if more > 0 else None
        if longer is None:
            continue
        cost = _cost(ask, table, longer)
        if cost < best_cost:
            best, best_cost, savings = longer, cost, (Saving(more=more, saves=plain - cost),)
    return best, savings


def _lengthened(table: ByLength, layouts: tuple[Layout, ...], more: int) -> tuple[Layout, ...] | None:
    for number, layout in enumerate(layouts):
        length_mm = layout.sheet.height_mm + more * table.step_mm
        if layout.runs == 1 and length_mm <= table.longest_mm + 1e-6:
            longer = Layout(Size(table.width_mm, length_mm), layout.placements)
            return (*layouts[:number], longer, *layouts[number + 1 :])
    return None


def _least_goods(ask: Ask, table: ByLength) -> Decimal:
    """A proven bound: the area of all pieces with their gaps over the roll's usable width, in steps.

    Cut by outline pieces may reach into each other's boxes: then only what they cover counts.
    """
    gap, margin = ask.offer.gap_mm, ask.offer.margin_mm
    usable_mm = table.width_mm - 2 * margin + gap
    tallest_mm = max(
        min(side for side in _sides_across(want.size, want.may_turn, table.width_mm - 2 * margin))
        for want in ask.wants
    )
    if ask.way is Way.OUTLINE:
        area = sum(want.wanted * covered_mm2(want) for want in ask.wants)
        usable_mm, gap = table.width_mm, 0.0
    else:
        area = sum(w.wanted * (w.size.width_mm + gap) * (w.size.height_mm + gap) for w in ask.wants)
    length_mm = max(area / usable_mm - gap, tallest_mm) + 2 * margin
    steps = max(1, steps_of(table, length_mm))
    later = [ceil(s.from_count) for s in table.breaks.steps if s.from_count > steps]
    costs = [_steps_cost(ask, table, count) for count in (steps, *later)]
    return min(costs)


def _steps_cost(ask: Ask, table: ByLength, steps: int) -> Decimal:
    printed = [Printed(Size(table.width_mm, steps * table.step_mm), 1)]
    return total(line.amount for line in length_lines(table, printed, ask.currency))


def _sides_across(size: Size, may_turn: bool, width_mm: float) -> list[float]:
    """Lengths along the roll that a piece may take up."""
    ways = (size, size.turned()) if may_turn else (size,)
    return [way.height_mm for way in ways if way.width_mm <= width_mm + 1e-6]
