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
    """The layouts with pinned pieces, their runs as they are, free room filled with copies still wanted."""
    whole = [layout for layout in ask.pinned if any(placed.pinned for placed in layout.placements)]
    kept = [_without_loose(layout) for layout in whole]
    # Every pinned piece counts before any room is filled: what a later sheet carries needs no room before.
    for at, layout in enumerate(whole):
        kept[at] = _filled_well(ask, layout, kept[at], still_wanted(ask.wants, kept))
    return (*kept, *_shared_sheet(ask, kept))


def _without_loose(layout: Layout) -> Layout:
    return replace(layout, placements=tuple(placed for placed in layout.placements if placed.pinned))


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


def _filled_well(ask: Ask, whole: Layout, bare: Layout, wanted: Sequence[Want]) -> Layout:
    """Of several fillings around what is pinned the one that carries most of what is wanted.

    One is the layout as it was. A sheet that is printed anyway carries copies too many for nothing.
    """

    def of_use_mm2(layout: Layout) -> float:
        return sum(
            min(want.wanted, layout.count_of(want.key) - bare.count_of(want.key)) * want.size.area_mm2
            for want in wanted
        )

    def topped_up(layout: Layout) -> Layout:
        added = replace(layout, placements=layout.placements[len(bare.placements) :])
        return _filled(ask, layout, still_wanted(wanted, (added,)), over=True)

    as_it_was = replace(
        whole, placements=(*bare.placements, *(placed for placed in whole.placements if not placed.pinned))
    )
    fillings = [topped_up(_filled(ask, bare, wanted)), topped_up(bare)]
    if not _is_faulty(ask, as_it_was):
        fillings.insert(0, topped_up(as_it_was))
    return max(fillings, key=of_use_mm2)


def _filled(ask: Ask, layout: Layout, wanted: Sequence[Want], *, over: bool = False) -> Layout:
    """The layout's free room filled with copies that are wanted; with `over`, one run too many allowed."""
    here = Counter(placed.print for placed in layout.placements)
    by_key = {want.key: want for want in ask.wants}
    offered = tuple(
        replace(want.piece(copies), value=want.size.area_mm2 * min(1.0, want.wanted / layout.runs))
        for want in wanted
        if (copies := -(-want.wanted // layout.runs) if over else want.wanted // layout.runs)
    )
    if not offered or any(key not in by_key for key in here):
        return layout
    held = Layout(layout.sheet, tuple(replace(placed, pinned=True) for placed in layout.placements))
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
            pinned=(held,),
            extras=offered,
        )
    )
    if len(answer.layouts) != 1:
        return layout
    found = answer.layouts[0].placements
    added = tuple(placed for placed in found if not placed.pinned)
    full = Layout(layout.sheet, (*layout.placements, *added), layout.runs)
    moved = set(held.placements) - set(found)
    return layout if moved or _is_faulty(ask, full) else full


def _is_faulty(ask: Ask, layout: Layout) -> bool:
    outlines = {want.key: want.outline for want in ask.wants}
    gap_mm, margin_mm = ask.offer.gap_mm, ask.offer.margin_mm
    return bool(faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=ask.way, outlines=outlines))
