"""Layouts settled before the rest is planned: what the shop pinned, and what must share one sheet."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from planner.buying.ask import Ask
from planner.buying.wants import Want
from planner.measures.layout import Layout
from planner.sheets.arrange import arrange, pack_one
from planner.sheets.problem import FixedSheet, Request
from planner.sheets.validate import faults
from planner.shop.prices import BySheet


def kept_layouts(ask: Ask) -> tuple[Layout, ...]:
    """The pinned layouts with their runs, free room filled with copies that are still wanted."""
    kept: list[Layout] = []
    for layout in ask.pinned:
        pinned = tuple(placed for placed in layout.placements if placed.pinned)
        if pinned:
            bare = Layout(layout.sheet, pinned, layout.runs)
            kept.append(_filled(ask, bare, still_wanted(ask.wants, (*kept, bare))))
    return (*kept, *_shared_sheet(ask, kept))


def _shared_sheet(ask: Ask, kept: Sequence[Layout]) -> tuple[Layout, ...]:
    """The smallest sheet found to hold all that must share one, its free room filled; else none."""
    marked = tuple(want for want in still_wanted(ask.wants, kept) if want.one_sheet)
    if not marked or not isinstance(ask.offer.price, BySheet):
        return ()
    for sheet in sorted(ask.offer.price.sheets, key=lambda sheet: sheet.size.area_mm2):
        layout = pack_one(
            tuple(want.piece(want.wanted) for want in marked),
            sheet.size,
            gap_mm=ask.offer.gap_mm,
            margin_mm=ask.offer.margin_mm,
            way=ask.way,
            budget_s=max(0.05, ask.budget_s / 4) if ask.rounds is None else 10.0,
            seed=ask.seed,
            rounds=None if ask.rounds is None else max(1, ask.rounds),
        )
        if layout is not None:
            held = tuple(replace(placed, pinned=True) for placed in layout.placements)
            settled = Layout(layout.sheet, held)
            full = _filled(ask, settled, still_wanted(ask.wants, (*kept, settled)))
            loose = tuple(replace(placed, pinned=False) for placed in full.placements)
            return (Layout(full.sheet, loose),)
    return ()


def still_wanted(wants: Sequence[Want], layouts: Sequence[Layout]) -> tuple[Want, ...]:
    """The wants less what the layouts yield; those met are left out."""
    left = []
    for want in wants:
        carried = sum(layout.count_of(want.key) for layout in layouts)
        if carried < want.wanted:
            # Need and spares are told apart when the order is counted; here only their sum matters.
            left.append(replace(want, need=want.wanted - carried, spares=0))
    return tuple(left)


def _filled(ask: Ask, layout: Layout, wanted: Sequence[Want]) -> Layout:
    here = Counter(placed.print for placed in layout.placements)
    by_key = {want.key: want for want in ask.wants}
    offered = tuple(
        replace(want.piece(want.wanted // layout.runs), value=want.size.area_mm2)
        for want in wanted
        if want.wanted >= layout.runs
    )
    if not offered or any(key not in by_key for key in here):
        return layout
    answer = arrange(
        Request(
            tuple(by_key[key].piece(count) for key, count in here.items()),
            (FixedSheet(layout.sheet, most=1),),
            ask.offer.gap_mm,
            ask.offer.margin_mm,
            ask.way,
            seed=ask.seed,
            budget_s=min(0.2, max(0.02, ask.budget_s / 4)),
            rounds=ask.rounds,
            pinned=(Layout(layout.sheet, layout.placements),),
            extras=offered,
        )
    )
    if len(answer.layouts) != 1:
        return layout
    full = Layout(layout.sheet, answer.layouts[0].placements, layout.runs)
    outlines = {want.key: want.outline for want in ask.wants}
    wrong = faults(
        full, gap_mm=ask.offer.gap_mm, margin_mm=ask.offer.margin_mm, way=ask.way, outlines=outlines
    )
    moved = {placed for placed in layout.placements} - {placed for placed in full.placements if placed.pinned}
    return layout if wrong or moved else full
