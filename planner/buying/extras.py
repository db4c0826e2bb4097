"""Pieces that nobody needs, put into the room that is left on the layouts."""

from dataclasses import replace

from planner.buying.ask import Ask, Found
from planner.measures.layout import Layout, Placement
from planner.sheets.arrange import arrange
from planner.sheets.problem import FixedSheet, Piece, Request
from planner.sheets.validate import faults


def with_extras(ask: Ask, found: Found) -> Found:
    """The same layouts with extras added for nothing: runs and charges stay as they are.

    A layout that carries an extra already, or a piece that nobody asked for, is left alone.
    """
    if not ask.extras or not found.layouts or ask.offer.price.model not in ("sheet", "length"):
        return found
    left = {
        extra.key: extra.count - sum(layout.count_of(extra.key) for layout in found.layouts)
        for extra in ask.extras
    }
    known = {want.key for want in ask.wants}
    layouts = []
    for layout in found.layouts:
        if not all(placed.print in known for placed in layout.placements):
            layouts.append(layout)
            continue
        # An extra on a layout is printed as often as the layout.
        offered = tuple(
            replace(extra, count=left[extra.key] // layout.runs)
            for extra in ask.extras
            if left[extra.key] >= layout.runs
        )
        filled = _filled(ask, layout, offered) if offered else layout
        for extra in ask.extras:
            left[extra.key] -= filled.count_of(extra.key)
        layouts.append(filled)
    return replace(found, layouts=tuple(layouts))


def _filled(ask: Ask, layout: Layout, offered: tuple[Piece, ...]) -> Layout:
    kept = Layout(layout.sheet, tuple(replace(placed, pinned=True) for placed in layout.placements))
    outlines = {
        **{want.key: want.outline for want in ask.wants},
        **{extra.key: extra.outline for extra in offered},
    }
    counts: dict[str, int] = {}
    for placed in layout.placements:
        counts[placed.print] = counts.get(placed.print, 0) + 1
    answer = arrange(
        Request(
            tuple(want.piece(counts[want.key]) for want in ask.wants if want.key in counts),
            (FixedSheet(layout.sheet, most=1),),
            ask.offer.gap_mm,
            ask.offer.margin_mm,
            ask.way,
            seed=ask.seed,
            budget_s=min(0.2, ask.budget_s),
            rounds=ask.rounds,
            pinned=(kept,),
            extras=offered,
        )
    )
    if len(answer.layouts) != 1:
        return layout
    keys = {extra.key for extra in offered}
    added: list[Placement] = [placed for placed in answer.layouts[0].placements if placed.print in keys]
    full = Layout(layout.sheet, (*layout.placements, *added), layout.runs)
    wrong = faults(
        full, gap_mm=ask.offer.gap_mm, margin_mm=ask.offer.margin_mm, way=ask.way, outlines=outlines
    )
    return layout if wrong else full
