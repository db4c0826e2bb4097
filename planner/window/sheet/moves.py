"""What hands do to pieces: each function takes the layouts of one offer and gives the next ones.

Pieces that were moved, turned or added by hand come back pinned: the arranger leaves them where they are.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from math import ceil

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement, placed_about
from planner.sheets.outline import Outline
from planner.window.sheet.spots import nearest_spot

Layouts = tuple[Layout, ...]
_NOISE_MM = 0.001
"""Less than that is no reason for one more step of a roll."""


@dataclass(frozen=True, slots=True, order=True)
class Ref:
    """One piece by the number of its sheet and its own number on it, both from 0."""

    sheet: int
    piece: int


@dataclass(frozen=True, slots=True)
class Roll:
    """A sheet that is cut to length: in whole steps, up to the longest."""

    step_mm: float
    longest_mm: float

    def length_for(self, used_mm: float) -> float:
        """The length at which a roll is cut that is used so far; what reaches too far hangs over."""
        return min(max(1, ceil((used_mm - _NOISE_MM) / self.step_mm)) * self.step_mm, self.longest_mm)


@dataclass(frozen=True, slots=True)
class Room:
    """What an offer asks to be kept clear: between pieces, and along the sheet's edge."""

    gap_mm: float
    margin_mm: float
    outlines: Mapping[str, Outline] | None = field(default=None, compare=False)
    """True outlines by piece key, where these are cut by and hence kept apart; else boxes are."""
    roll: Roll | None = None
    """How sheets are cut to length; None where they are of fixed sizes."""
    sizes: tuple[Size, ...] = ()
    """Sizes of sheet that the offer sells, where they are fixed."""

    def reach(self, sheet: Size) -> Size:
        """How large a sheet may become: a roll grows with what lies on it."""
        return Size(sheet.width_mm, self.roll.longest_mm) if self.roll else sheet


class Side(StrEnum):
    """What pieces are lined up by."""

    LEFT = "left edges"
    CENTRE = "centres across"
    RIGHT = "right edges"
    TOP = "top edges"
    MIDDLE = "centres down"
    BOTTOM = "bottom edges"


def placement_at(layouts: Layouts, ref: Ref) -> Placement:
    return layouts[ref.sheet].placements[ref.piece]


def bounds(placements: Iterable[Placement]) -> Rect:
    """The smallest box around placements; there must be one at least."""
    boxes = [placement.box for placement in placements]
    left, top = min(box.x_mm for box in boxes), min(box.y_mm for box in boxes)
    return Rect(
        left, top, max(box.right_mm for box in boxes) - left, max(box.bottom_mm for box in boxes) - top
    )


def transferred(
    layouts: Layouts, arrivals: Mapping[Ref, tuple[int, Placement]]
) -> tuple[Layouts, tuple[Ref, ...]]:
    """Pieces replaced where they are, or carried over to another sheet; and where they are now.

    Sheets that lose their last piece disappear.
    """
    leaving = {ref for ref, (sheet, _) in arrivals.items() if sheet != ref.sheet}
    pieces: list[list[tuple[Placement, Ref | None]]] = [
        [
            (arrivals[ref][1], ref) if ref in arrivals else (placement, None)
            for number, placement in enumerate(layout.placements)
            if (ref := Ref(at, number)) not in leaving
        ]
        for at, layout in enumerate(layouts)
    ]
    for ref in sorted(leaving):
        sheet, placement = arrivals[ref]
        pieces[sheet].append((placement, ref))
    now: dict[Ref, Ref] = {}
    result: list[Layout] = []
    for layout, on_it in zip(layouts, pieces, strict=True):
        if not on_it:
            continue
        now.update(
            (ref, Ref(len(result), number)) for number, (_, ref) in enumerate(on_it) if ref is not None
        )
        result.append(replace(layout, placements=tuple(placement for placement, _ in on_it)))
    return tuple(result), tuple(now[ref] for ref in arrivals)


def moved(layouts: Layouts, refs: Collection[Ref], dx_mm: float, dy_mm: float) -> Layouts:
    """Pieces shifted on their sheets."""
    arrivals = {}
    for ref in refs:
        was = placement_at(layouts, ref)
        arrivals[ref] = (
            ref.sheet,
            replace(was, x_mm=was.x_mm + dx_mm, y_mm=was.y_mm + dy_mm, pinned=True),
        )
    return transferred(layouts, arrivals)[0]


def turned(layouts: Layouts, refs: Collection[Ref]) -> Layouts:
    """Pieces a quarter turn clockwise, each about its own centre."""
    arrivals = {}
    for ref in refs:
        was = placement_at(layouts, ref)
        shift = (was.width_mm - was.height_mm) / 2
        arrivals[ref] = (
            ref.sheet,
            replace(
                was,
                x_mm=was.x_mm + shift,
                y_mm=was.y_mm - shift,
                width_mm=was.height_mm,
                height_mm=was.width_mm,
                turned_deg=(was.turned_deg + 90) % 360,
                pinned=True,
            ),
        )
    return transferred(layouts, arrivals)[0]


def turned_to(layouts: Layouts, ref: Ref, turned_deg: float) -> Layouts:
    """One piece at an angle, clockwise from upright, about its own centre."""
    was = placement_at(layouts, ref)
    centre = was.x_mm + was.width_mm / 2, was.y_mm + was.height_mm / 2
    put = placed_about(was.print, was.unturned, centre, turned_deg)
    return transferred(layouts, {ref: (ref.sheet, replace(put, pinned=True))})[0]


def pinned(layouts: Layouts, refs: Collection[Ref], *, pin: bool) -> Layouts:
    """Pieces held where they are, or let go for the arranger to move."""
    arrivals = {ref: (ref.sheet, replace(placement_at(layouts, ref), pinned=pin)) for ref in refs}
    return transferred(layouts, arrivals)[0]


def removed(layouts: Layouts, refs: Collection[Ref]) -> Layouts:
    """The layouts without some pieces; sheets left empty disappear."""
    gone = frozenset(refs)
    kept = (
        replace(
            layout,
            placements=tuple(p for number, p in enumerate(layout.placements) if Ref(at, number) not in gone),
        )
        for at, layout in enumerate(layouts)
    )
    return tuple(layout for layout in kept if layout.placements)


def duplicated(layouts: Layouts, refs: Collection[Ref], room: Room) -> tuple[Layouts, tuple[Ref, ...]]:
    """One more copy of each piece, as near to it as there is room; and where the copies are."""
    changed = list(layouts)
    copies = []
    for ref in sorted(refs):
        was = placement_at(layouts, ref)
        beside = replace(was, x_mm=was.x_mm + was.width_mm + room.gap_mm, pinned=True)
        layout = changed[ref.sheet]
        copy = _at_good_spot(beside, layout, room)
        copies.append(Ref(ref.sheet, len(layout.placements)))
        changed[ref.sheet] = replace(layout, placements=(*layout.placements, copy))
    return tuple(changed), tuple(copies)


def carried(
    layouts: Layouts, refs: Collection[Ref], sheet: int | Size, room: Room
) -> tuple[Layouts, tuple[Ref, ...]]:
    """Pieces on another sheet, or a new one of a size, as near to their old place as there is room.

    A new one is printed as often as those they come from, so that no copy is missing then.
    """
    if isinstance(sheet, Size):
        runs = max(layouts[ref.sheet].runs for ref in refs)
        layouts = (*layouts, Layout(sheet, (), runs))
        sheet = len(layouts) - 1
    target = layouts[sheet]
    arrivals = {}
    for ref in sorted(refs):
        if ref.sheet == sheet:
            continue
        lands = _at_good_spot(replace(placement_at(layouts, ref), pinned=True), target, room)
        arrivals[ref] = (sheet, lands)
        target = replace(target, placements=(*target.placements, lands))
    return transferred(layouts, arrivals)


def lined_up(layouts: Layouts, refs: Collection[Ref], side: Side, room: Room) -> Layouts:
    """Pieces in line with each other, sheet by sheet; one alone goes to the margin or the centre line."""
    arrivals = {}
    for sheet, group in by_sheet(refs).items():
        size = layouts[sheet].sheet
        frame = bounds(placement_at(layouts, ref) for ref in group)
        if len(group) == 1:
            frame = Rect(0, 0, size.width_mm, size.height_mm).grown(-room.margin_mm)
        for ref in group:
            was = placement_at(layouts, ref)
            x_mm, y_mm = _in_line(was, frame, side)
            arrivals[ref] = (sheet, replace(was, x_mm=x_mm, y_mm=y_mm, pinned=True))
    return transferred(layouts, arrivals)[0]


def distributed(layouts: Layouts, refs: Collection[Ref], *, across: bool) -> Layouts:
    """Pieces with equal space between them; the outermost two stay. Sheets with fewer than three stay."""
    arrivals = {}
    for sheet, group in by_sheet(refs).items():
        if len(group) < 3:
            continue
        ordered = sorted(group, key=lambda ref: _span(placement_at(layouts, ref), across)[0])
        spans = [_span(placement_at(layouts, ref), across) for ref in ordered]
        reach = spans[-1][0] + spans[-1][1] - spans[0][0]
        space = (reach - sum(length for _, length in spans)) / (len(spans) - 1)
        at = spans[0][0]
        for ref, (_, length) in zip(ordered, spans, strict=True):
            was = placement_at(layouts, ref)
            put = replace(was, x_mm=at, pinned=True) if across else replace(was, y_mm=at, pinned=True)
            arrivals[ref] = (sheet, put)
            at += length + space
    return transferred(layouts, arrivals)[0]


def cut_to_length(before: Layouts, after: Layouts, room: Room) -> Layouts:
    """Rolls as long as what lies on them now; those where as much is used as before keep their length."""
    roll = room.roll
    if roll is None:
        return after

    def used_mm(layout: Layout) -> float:
        return max(placement.box.bottom_mm for placement in layout.placements) + room.margin_mm

    known = {(layout.sheet.height_mm, roll.length_for(used_mm(layout))) for layout in before}
    result = []
    for layout in after:
        length_mm = roll.length_for(used_mm(layout))
        if (layout.sheet.height_mm, length_mm) not in known:
            layout = replace(layout, sheet=Size(layout.sheet.width_mm, length_mm))
        result.append(layout)
    return tuple(result)


def with_runs(layouts: Layouts, sheet: int, runs: int) -> Layouts:
    """One layout printed another number of times."""
    return tuple(replace(layout, runs=runs) if at == sheet else layout for at, layout in enumerate(layouts))


def with_copies(
    layouts: Layouts, copies: Iterable[tuple[str, Size, int]], room: Room
) -> tuple[Layouts, tuple[Ref, ...]]:
    """Copies of prints (key, size, count) put where there is room, on new sheets where there is none.

    They go on sheets printed once: on another, one place would give as many copies as it has runs.
    """
    full: set[tuple[str, int]] = set()
    changed = list(layouts)
    sheet = layouts[0].sheet
    refs = []
    for key, size, count in copies:
        for _ in range(count):
            wanted = Placement(
                key, room.margin_mm, room.margin_mm, size.width_mm, size.height_mm, pinned=True
            )
            at, put = _first_room(changed, wanted, room, full)
            if put is None:
                at, put = len(changed), wanted
                changed.append(Layout(sheet, ()))
            refs.append(Ref(at, len(changed[at].placements)))
            changed[at] = replace(changed[at], placements=(*changed[at].placements, put))
    return tuple(changed), tuple(refs)


def _first_room(
    layouts: Sequence[Layout], wanted: Placement, room: Room, full: set[tuple[str, int]]
) -> tuple[int, Placement | None]:
    """The first sheet with room for one copy; sheets found `full` for a print are not looked at again."""
    for at, layout in enumerate(layouts):
        if layout.runs > 1 or (wanted.print, at) in full:
            continue
        spot = way_out([wanted], layout.placements, layout.sheet, room)
        if spot is not None:
            return at, replace(wanted, x_mm=wanted.x_mm + spot[0], y_mm=wanted.y_mm + spot[1])
        full.add((wanted.print, at))
    return 0, None


def way_out(
    moving: Sequence[Placement], resting: Sequence[Placement], sheet: Size, room: Room
) -> tuple[float, float] | None:
    """The shortest move (right, down) in mm to where nothing is in the pieces' way, or None."""
    sheet = room.reach(sheet)
    return nearest_spot(
        moving, resting, sheet, gap_mm=room.gap_mm, margin_mm=room.margin_mm, outlines=room.outlines
    )


def _at_good_spot(wanted: Placement, layout: Layout, room: Room) -> Placement:
    spot = way_out([wanted], layout.placements, layout.sheet, room)
    # Where there is no room the piece still lands: the fault is shown, and the hand decides.
    dx_mm, dy_mm = spot or (0.0, 0.0)
    return replace(wanted, x_mm=wanted.x_mm + dx_mm, y_mm=wanted.y_mm + dy_mm)


def by_sheet(refs: Collection[Ref]) -> dict[int, list[Ref]]:
    """Pieces grouped by the sheet they are on, in order."""
    groups: dict[int, list[Ref]] = {}
    for ref in sorted(refs):
        groups.setdefault(ref.sheet, []).append(ref)
    return groups


def _span(placement: Placement, across: bool) -> tuple[float, float]:
    return (placement.x_mm, placement.width_mm) if across else (placement.y_mm, placement.height_mm)


def _in_line(was: Placement, frame: Rect, side: Side) -> tuple[float, float]:
    across = {
        Side.LEFT: frame.x_mm,
        Side.CENTRE: frame.x_mm + (frame.width_mm - was.width_mm) / 2,
        Side.RIGHT: frame.right_mm - was.width_mm,
    }
    down = {
        Side.TOP: frame.y_mm,
        Side.MIDDLE: frame.y_mm + (frame.height_mm - was.height_mm) / 2,
        Side.BOTTOM: frame.bottom_mm - was.height_mm,
    }
    return across.get(side, was.x_mm), down.get(side, was.y_mm)
