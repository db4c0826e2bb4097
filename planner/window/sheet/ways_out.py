"""Where pieces could go from a bad spot: the nearest good one on their sheet, on another, on a new one."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.validate import faults
from planner.window.sheet.moves import Layouts, Ref, Room, by_sheet, placement_at, transferred, way_out


@dataclass(frozen=True, slots=True)
class WayOut:
    """For each piece the sheet it would go to and its placement there, sheets numbered as they are now."""

    arrivals: Mapping[Ref, tuple[int, Placement]]
    sheet: int | None
    """The other sheet that they would go to; None where each stays on its own."""
    new_size: Size | None = None
    """Where that sheet is none of those there are: how large it is."""

    @property
    def is_new(self) -> bool:
        return self.new_size is not None

    def taken(self, layouts: Layouts) -> tuple[Layouts, tuple[Ref, ...]]:
        """The layouts after it, and where the pieces are in them."""
        if self.new_size is not None:
            # Printed as often as the sheets they come from, no copy is missing then.
            runs = max(layouts[ref.sheet].runs for ref in self.arrivals)
            layouts = (*layouts, Layout(self.new_size, (), runs))
        return transferred(layouts, self.arrivals)


def nearest_way_out(layouts: Layouts, refs: Collection[Ref], room: Room) -> WayOut | None:
    """The nearest spots where nothing is in the pieces' way; None where no sheet that is sold holds them.

    Pieces of one sheet keep their places among each other. Another sheet is looked for only where all are
    on one: first among those printed as often, the nearest first, so that no copy is lost.
    """
    groups = by_sheet(refs)
    own = _where_they_are(layouts, groups, room)
    if own is not None or len(groups) != 1:
        return own
    ((sheet, group),) = groups.items()
    others = sorted(
        (at for at in range(len(layouts)) if at != sheet),
        key=lambda at: (layouts[at].runs < layouts[sheet].runs, abs(at - sheet)),
    )
    for at in others:
        put = _put(layouts, group, layouts[at].placements, layouts[at], room)
        if put is not None:
            return WayOut({ref: (at, placement) for ref, placement in put.items()}, at)
    for size in _new_sizes(layouts[sheet].sheet, room):
        put = _put(layouts, group, (), Layout(size, ()), room)
        if put is not None:
            arrivals = {ref: (len(layouts), placement) for ref, placement in put.items()}
            return WayOut(arrivals, len(layouts), size)
    return None


def _new_sizes(own: Size, room: Room) -> tuple[Size, ...]:
    """Sizes that a new sheet may have: the pieces' own first, then the others from the smallest."""
    others = sorted((size for size in room.sizes if size != own), key=lambda size: size.area_mm2)
    return (own, *others)


def _where_they_are(layouts: Layouts, groups: Mapping[int, list[Ref]], room: Room) -> WayOut | None:
    arrivals: dict[Ref, tuple[int, Placement]] = {}
    for sheet, group in groups.items():
        resting = tuple(
            placement
            for number, placement in enumerate(layouts[sheet].placements)
            if Ref(sheet, number) not in group
        )
        put = _put(layouts, group, resting, layouts[sheet], room)
        if put is None:
            return None
        arrivals.update((ref, (sheet, placement)) for ref, placement in put.items())
    return WayOut(arrivals, None)


def _put(
    layouts: Layouts, group: Collection[Ref], resting: Collection[Placement], target: Layout, room: Room
) -> dict[Ref, Placement] | None:
    """The pieces moved together to the nearest spot among what rests on a sheet.

    Those in each other's way are moved one by one, the largest first.
    """
    moving = {ref: placement_at(layouts, ref) for ref in group}
    if not _in_each_others_way(tuple(moving.values()), target, room):
        way = way_out(tuple(moving.values()), tuple(resting), target.sheet, room)
        return None if way is None else {ref: _moved(was, way) for ref, was in moving.items()}
    put: dict[Ref, Placement] = {}
    for ref, was in sorted(moving.items(), key=lambda item: -item[1].box.area_mm2):
        way = way_out((was,), (*resting, *put.values()), target.sheet, room)
        if way is None:
            return None
        put[ref] = _moved(was, way)
    return put


def _in_each_others_way(moving: tuple[Placement, ...], target: Layout, room: Room) -> bool:
    found = faults(
        Layout(target.sheet, moving),
        gap_mm=room.gap_mm,
        margin_mm=0.0,
        way=Way.OUTLINE if room.outlines else Way.LOOSE,
        outlines=room.outlines,
    )
    return any(len(fault.indices) > 1 for fault in found)


def _moved(was: Placement, way: tuple[float, float]) -> Placement:
    if way == (0, 0):
        return was
    return replace(was, x_mm=was.x_mm + way[0], y_mm=was.y_mm + way[1], pinned=True)
