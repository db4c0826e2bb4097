"""Layouts of boxes bettered by nesting the pieces' true outlines; boxes stay wherever they are as good."""

from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import replace
from math import ceil
from random import Random

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.sheets.effort import Effort
from planner.sheets.hollows import Hollows
from planner.sheets.lattice import FINE_CELLS, Lattice, filled_around
from planner.sheets.lots import counted
from planner.sheets.nest import Nesting, nested
from planner.sheets.outline import covered_area
from planner.sheets.problem import Arrangement, FixedSheet, Group, Media, Request, Roll
from planner.sheets.validate import is_sound, placed_outline

_PART = 0.5
"""Share of the effort for doing with fewer lengths, before each is made shorter."""
_TRIES = 12
"""Orders in which pieces are put around pinned ones."""

Improved = Callable[[Arrangement], None]
Note = Callable[[Sequence[Layout]], None]


def bettered(request: Request, boxes: Arrangement, effort: Effort, improved: Improved) -> Arrangement:
    """The arrangement, or one that needs fewer sheets, less length or less area.

    What is pinned stays, and the room around it is filled by outline too. Pieces that must be on one sheet
    stay on one; where pinned ones have parted them already, they go on no sheet more.
    """
    if effort.is_over() or all(piece.outline is None for piece in request.pieces):
        return boxes
    kept = [layout for layout in boxes.layouts if any(p.pinned for p in layout.placements)]
    own = [layout for layout in boxes.layouts if layout not in kept]
    medium = _only(request.media, boxes.layouts)
    if medium is None:
        return boxes

    def note(layouts: Sequence[Layout]) -> None:
        nonlocal boxes
        boxes = Arrangement(tuple(layouts), boxes.left_over)
        improved(boxes)

    if isinstance(medium, FixedSheet):
        if own:
            _on_fewer(request, medium.size, kept, own, effort, note)
    elif kept:
        if isinstance(medium, Roll) and not own and len(kept) == 1:
            _shorter_around_pins(request, medium, kept[0], effort, note)
    else:
        _less(request, medium, own, effort, note)
    return boxes


def _counts(layouts: Sequence[Layout]) -> Counter[str]:
    """Copies that may be moved, by piece."""
    return Counter(p.print for layout in layouts for p in layout.placements if not p.pinned)


def _nesting(request: Request, counts: Counter[str]) -> Nesting:
    pieces = tuple(replace(piece, count=counts[piece.key]) for piece in request.pieces if counts[piece.key])
    return Nesting(pieces, request.gap_mm, request.margin_mm, request.seed)


def _on_fewer(
    request: Request, size: Size, kept: Sequence[Layout], own: Sequence[Layout], effort: Effort, note: Note
) -> None:
    """All that may be moved on fewer sheets of one size, those with pinned pieces filled up too."""
    # A pinned sheet of another size stays as it is.
    apart = [layout for layout in kept if layout.sheet != size]
    nesting = _nesting(request, _counts(own))
    hollows = Hollows(
        request.pieces,
        size,
        gap_mm=request.gap_mm,
        margin_mm=request.margin_mm,
        seed=request.seed,
        kept=[layout for layout in kept if layout.sheet == size],
        nest=lambda lots, part: _on_one_sheet(nesting, counted(lots), size, part),
    )
    hollows.run(own, effort, lambda layouts: note([*apart, *layouts]))


def _shorter_around_pins(request: Request, medium: Roll, boxes: Layout, effort: Effort, note: Note) -> None:
    """A roll with pinned pieces cut shorter, as far as its other pieces still find room around them."""
    counts = _counts([boxes])
    step_mm = max(medium.step_mm, 0.001)
    least, most = 0, ceil(boxes.sheet.height_mm / step_mm - 1e-6)
    while most - least > 1 and not effort.is_over():
        middle = (least + most) // 2
        sheet = Size(medium.width_mm, middle * step_mm)
        layout = _filled(request, boxes, sheet, counts, effort)
        if _counts([layout]) == counts and _are_sound(request, [layout]):
            most = middle
            note([layout])
        else:
            least = middle


def _filled(request: Request, layout: Layout, sheet: Size, counts: Counter[str], effort: Effort) -> Layout:
    """What is pinned of a layout, and as much of the counts as was found to go around it."""
    pinned = tuple(p for p in layout.placements if p.pinned)
    outlines = {piece.key: piece.outline for piece in request.pieces}
    lattice = Lattice(
        request.pieces, sheet, gap_mm=request.gap_mm, margin_mm=request.margin_mm, cells=FINE_CELLS
    )
    taken = [lattice.fixed(placed_outline(p, outlines.get(p.print))) for p in pinned]
    copies = [replace(p, count=1) for p in _nesting(request, counts).pieces for _ in range(p.count)]
    areas = {piece.key: covered_area(piece) for piece in copies}
    ranks = [areas[piece.key] for piece in copies]
    chance = Random(request.seed)
    best: tuple[Placement, ...] = ()
    most = 0.0
    for number in range(_TRIES):
        order = sorted(range(len(copies)), key=lambda at: -ranks[at])
        added = filled_around(
            lattice, taken, [copies[at] for at in order], is_across=number % 2 == 1, effort=effort
        )
        covered = sum(areas[placement.print] for placement in added)
        if covered > most:
            best, most = added, covered
        if len(best) == len(copies) or effort.is_over():
            break
        # Largest first to begin with, downwards and across; then chance has a say.
        if number:
            ranks = [areas[piece.key] * chance.uniform(0.2, 1) for piece in copies]
    return replace(layout, sheet=sheet, placements=(*pinned, *best))


def _are_sound(request: Request, layouts: Sequence[Layout]) -> bool:
    return all(
        is_sound(layout, request.pieces, gap_mm=request.gap_mm, margin_mm=request.margin_mm)
        for layout in layouts
    )


def _less(request: Request, medium: Roll | Group, own: Sequence[Layout], effort: Effort, note: Note) -> None:
    """Fewer lengths or blocks where there are several, then each of them as small as it gets."""
    layouts = list(own)

    def fewer(found: Sequence[Layout]) -> None:
        layouts[:] = found
        note(layouts)

    if len(own) > 1 and isinstance(medium, Roll):
        part = effort.share(_PART)
        _on_fewer(request, Size(medium.width_mm, medium.longest_mm), (), own, part, fewer)
        effort.spend(part)
    for number, layout in enumerate(tuple(layouts)):
        part = effort.share(1 / (len(layouts) - number))

        def smaller(found: Sequence[Layout], number: int = number) -> None:
            layouts[number : number + 1] = found
            note(layouts)

        _smaller(_nesting(request, _counts([layout])), medium, layout, part, smaller)
        effort.spend(part)


def nested_on_one(request: Request, sheet: Size, effort: Effort) -> Layout | None:
    """All of a request's pieces on one sheet by nesting, or None where that was not found in time."""
    nesting = Nesting(request.pieces, request.gap_mm, request.margin_mm, request.seed)
    counts = Counter({piece.key: piece.count for piece in request.pieces})
    return _on_one_sheet(nesting, counts, sheet, effort)


def _only(media: Sequence[Media], own: Sequence[Layout]) -> Media | None:
    """The medium that all the layouts are on, None where there are several."""
    if not own:
        return None
    if len(media) == 1:
        return media[0]
    sizes = {layout.sheet for layout in own}
    fitting = [medium for medium in media if isinstance(medium, FixedSheet) and {medium.size} == sizes]
    return fitting[0] if fitting else None


def _smaller(
    nesting: Nesting,
    medium: Roll | Group,
    boxes: Layout,
    effort: Effort,
    note: Note,
) -> None:
    """A shorter length of roll, or a block of less area."""
    best = boxes
    if isinstance(medium, Roll):
        widths, longest_mm = [medium.width_mm], medium.longest_mm
    else:
        width_mm = boxes.sheet.width_mm
        narrow_mm = max(0.8 * width_mm, _widest(nesting) + 2 * nesting.margin_mm)
        widths, longest_mm = [width_mm, min(narrow_mm, width_mm)], medium.most.height_mm
    for number, width_mm in enumerate(widths):
        part = effort.share(1 / (len(widths) - number))
        with closing(nested(nesting, Size(width_mm, longest_mm), part)) as layouts:
            for layout in layouts:
                sheet = _sold(nesting, medium, layout)
                if layout.sheet.height_mm <= longest_mm and sheet.area_mm2 < best.sheet.area_mm2 - 1e-6:
                    best = replace(layout, sheet=sheet)
                    note([best])


def _widest(nesting: Nesting) -> float:
    return max(
        min(piece.width_mm, piece.height_mm) if piece.may_turn else piece.width_mm for piece in nesting.pieces
    )


def _sold(nesting: Nesting, medium: Roll | Group, layout: Layout) -> Size:
    """What is paid for: whole steps of a roll, or the block around all pieces."""
    if isinstance(medium, Roll):
        step_mm = max(medium.step_mm, 0.001)
        steps = -(-(layout.sheet.height_mm - 1e-6) // step_mm)
        return Size(medium.width_mm, min(steps * step_mm, medium.longest_mm))
    outlines = {piece.key: piece.outline for piece in nesting.pieces}
    right_mm = max(placed_outline(p, outlines[p.print]).bounds[2] for p in layout.placements)
    return Size(min(layout.sheet.width_mm, right_mm + nesting.margin_mm), layout.sheet.height_mm)


def _on_one_sheet(nesting: Nesting, counts: Counter[str], size: Size, effort: Effort) -> Layout | None:
    """The pieces within the sheet's height, as soon as the search gets there."""
    pieces = tuple(replace(piece, count=counts[piece.key]) for piece in nesting.pieces)
    with closing(nested(replace(nesting, pieces=pieces), size, effort)) as layouts:
        for layout in layouts:
            if layout.sheet.height_mm <= size.height_mm + 1e-6:
                return replace(layout, sheet=size)
    return None
