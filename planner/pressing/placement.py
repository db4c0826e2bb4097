"""Where each print sits on its garment, and what is wrong with that place.

Boxes are measured on the flat garment: the origin is where the centre line meets the front (or back)
collar seam, x runs towards the wearer's left, y runs down.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.job.document import GarmentLine, GroupWidth, Job, Print, SizeCount
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.pieces import print_size
from planner.measures.geometry import Rect, Size
from planner.measures.lengths import MM_PER_INCH
from planner.pressing.card import Edge
from planner.pressing.hard_parts import hard_part_boxes
from planner.pressing.platen import pressings_on
from planner.pressing.usual import (
    CAP_MOST_HEIGHT_MM,
    SIDES,
    Side,
    mark_of,
    start_width_mm,
    usual,
    usual_width,
)
from planner.shop.book import Press
from planner.shop.garments import GarmentKind, HardPart, Location, SizeGroup, UsualWidth

SHOULDER_ABOVE_COLLAR_MM = 3.5 * MM_PER_INCH
"""From the shoulder seam at the collar down to the front collar seam, garment flat (from memory)."""
SEAM_CLEARANCE_MM = 1.0 * MM_PER_INCH
"""Kept free along side seams and hem, so that none lies under the print (common practice)."""
PRINT_DISTANCE_MM = 0.5 * MM_PER_INCH
"""Kept free between two prints on one side of a garment (from memory)."""
MUCH_WIDER = 1.15
"""From this much over the usual width on, a person must look."""
_BODY = (Location.FULL_FRONT, Location.LEFT_CHEST, Location.FULL_BACK, Location.NAPE, Location.TOTE_FRONT)


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a print sits on one group of sizes.

    `top_mm` runs from `measured_from` to the print's edge `measured_to`; `aside_mm` from the garment's
    centre line to the centre of the print, towards the wearer's left.
    """

    top_mm: float
    aside_mm: float
    measured_from: str
    measured_to: Edge = Edge.TOP


def place(print_: Print, group: SizeGroup, kind: GarmentKind = GarmentKind.T_SHIRT) -> Placed:
    """Where a print sits: the print's own figures for the group, or else the location's starting values."""
    known = usual(print_.location, group) or usual(Location.FULL_FRONT, group)
    assert known is not None  # full front is known for every group
    mark, edge = mark_of(print_.location, kind)
    top_mm, aside_mm = print_.place_for(group)
    top_mm = known.top_in * MM_PER_INCH if top_mm is None else top_mm
    aside_mm = known.aside_in * MM_PER_INCH if aside_mm is None else aside_mm
    return Placed(round(top_mm, 2), round(aside_mm, 2), mark, edge)


def starting_widths(
    line: GarmentLine, location: Location, own: Sequence[UsualWidth] = ()
) -> tuple[float, tuple[GroupWidth, ...]]:
    """Width of a new print, and the widths of those groups of the line's sizes that usually differ.

    The first is for adult sizes where the line has any; the others are for the print's `group_widths`.
    `own` is the shop's table of usual widths.
    """
    groups = sorted({size.group for size in line.sizes} or {SizeGroup.ADULT}, key=list(SizeGroup).index)
    width_mm = start_width_mm(location, groups[0], own)
    others = {group: start_width_mm(location, group, own) for group in groups[1:]}
    return width_mm, tuple(
        GroupWidth(group=group, width_mm=own_mm) for group, own_mm in others.items() if own_mm != width_mm
    )


def print_box(job: Job, print_: Print, group: SizeGroup) -> Rect:
    """The print's box on the flat garment; hem and brim prints lie above their mark, at negative y."""
    size = print_size(job.artwork(print_.artwork), print_.width_for(group))
    placed = place(print_, group, job.line(print_.line).kind)
    y_mm = placed.top_mm
    if placed.measured_to is Edge.BOTTOM:
        y_mm = -placed.top_mm - size.height_mm
    elif print_.location is Location.LEFT_CHEST:
        y_mm -= SHOULDER_ABOVE_COLLAR_MM
    return Rect(placed.aside_mm - size.width_mm / 2, y_mm, size.width_mm, size.height_mm)


def hard_parts_near(
    line: GarmentLine, print_: Print, body_length_mm: float | None
) -> list[tuple[HardPart, Rect]]:
    """What presses badly on the print's side of its garment, and the boxes it takes on one size."""
    length_mm = None if body_length_mm is None else _length_below_mark(print_, body_length_mm)
    side = SIDES[print_.location]
    return [(part, box) for part in line.hard_parts for box in hard_part_boxes(part, side, length_mm)]


def placement_findings(
    job: Job, print_: Print, presses: tuple[Press, ...] = (), widths: Sequence[UsualWidth] = ()
) -> tuple[Finding, ...]:
    """What is wrong with a print's size and place on its garment, on the sizes that are ordered.

    Without `presses` no platen is checked. `widths` is the shop's own table of usual widths.
    """
    ordered = [size for size in job.line(print_.line).sizes if size.count]
    groups = tuple(dict.fromkeys(size.group for size in ordered))
    found = [
        _wider_than_usual(print_, groups, widths),
        _higher_than_cap(job, print_, groups),
        _over_platen(job, print_, groups, presses),
        _over_garment(job, print_, ordered),
        *_over_hard_parts(job, print_, ordered),
        _too_close(job, print_, groups),
    ]
    return tuple(finding for finding in found if finding is not None)


def _wider_than_usual(
    print_: Print, groups: tuple[SizeGroup, ...], widths: Sequence[UsualWidth]
) -> Finding | None:
    """The group on which the print is widest beside what is usual."""
    over: list[tuple[float, SizeGroup, float]] = []
    for group in groups:
        known = usual_width(print_.location, group, widths)
        if known is not None and print_.width_for(group) > known.most_mm + 0.05:
            over.append((print_.width_for(group) / known.most_mm, group, known.most_mm))
    if not over:
        return None
    ratio, group, most_mm = max(over, key=lambda item: item[0])
    return _finding(
        print_,
        FindingKind.WIDER_THAN_USUAL,
        Seriousness.LOOK if ratio > MUCH_WIDER else Seriousness.NOTE,
        found=print_.width_for(group),
        needed=most_mm,
        subject=group.value,
        best_width_mm=most_mm,
    )


def _higher_than_cap(job: Job, print_: Print, groups: tuple[SizeGroup, ...]) -> Finding | None:
    if print_.location is not Location.CAP_FRONT or not groups:
        return None
    artwork = job.artwork(print_.artwork)
    width_mm = max(print_.width_for(group) for group in groups)
    height_mm = print_size(artwork, width_mm).height_mm
    if height_mm <= CAP_MOST_HEIGHT_MM + 0.05:
        return None
    return _finding(
        print_,
        FindingKind.OVER_GARMENT,
        Seriousness.LOOK,
        found=height_mm,
        needed=CAP_MOST_HEIGHT_MM,
        subject="height of a cap's front",
        best_width_mm=width_mm * CAP_MOST_HEIGHT_MM / height_mm,
    )


def _over_platen(
    job: Job, print_: Print, groups: tuple[SizeGroup, ...], presses: tuple[Press, ...]
) -> Finding | None:
    """The largest print beside the platen that takes it in the fewest pressings."""
    artwork = job.artwork(print_.artwork)
    sizes = [print_size(artwork, print_.width_for(group)) for group in groups]
    if not sizes or not presses:
        return None
    size = max(sizes, key=lambda size: size.area_mm2)
    press = min(presses, key=lambda press: (pressings_on(size, press), -_platen(press).area_mm2))
    if pressings_on(size, press) == 1:
        return None
    platen = _platen(press)
    best_mm = max(_largest_width(size, platen), _largest_width(size, platen.turned()))
    over_width = (size.width_mm - platen.width_mm, size.width_mm, platen.width_mm)
    over_height = (size.height_mm - platen.height_mm, size.height_mm, platen.height_mm)
    _, found, needed = max(over_width, over_height)
    return _finding(
        print_,
        FindingKind.OVER_PLATEN,
        Seriousness.LOOK,
        found=found,
        needed=needed,
        subject=press.name,
        best_width_mm=best_mm,
    )


def _platen(press: Press) -> Size:
    return Size(press.platen_width_mm, press.platen_height_mm)


def _largest_width(size: Size, platen: Size) -> float:
    """The widest print of the same proportions that a platen takes at once."""
    return min(platen.width_mm, platen.height_mm * size.width_mm / size.height_mm)


def _over_garment(job: Job, print_: Print, ordered: list[SizeCount]) -> Finding | None:
    """The size on which the print is most too large for what its place on the panel leaves."""
    if print_.location not in _BODY:
        return None
    rooms = [room for size in ordered for room in _rooms(job, print_, size)]
    worst = max(rooms, key=lambda room: room.takes_mm - room.clear_mm, default=None)
    if worst is None or worst.takes_mm <= worst.clear_mm + 0.05:
        return None
    return _finding(
        print_,
        FindingKind.OVER_GARMENT,
        Seriousness.STOP if worst.takes_mm > worst.clear_mm + worst.seams_mm else Seriousness.LOOK,
        found=worst.takes_mm,
        needed=max(0.0, worst.clear_mm),
        subject=worst.size,
    )


@dataclass(frozen=True, slots=True)
class _Room:
    """What a print takes along one axis, what its place leaves clear of seams, and what seams take."""

    takes_mm: float
    clear_mm: float
    seams_mm: float
    size: str


def _rooms(job: Job, print_: Print, size: SizeCount) -> list[_Room]:
    box = print_box(job, print_, size.group)
    rooms = []
    if size.body_width_mm is not None:
        aside_mm = abs(box.x_mm + box.width_mm / 2)
        seams_mm = 2 * SEAM_CLEARANCE_MM
        rooms.append(_Room(box.width_mm, size.body_width_mm - 2 * aside_mm - seams_mm, seams_mm, size.size))
    if size.body_length_mm is not None:
        below_mm = _length_below_mark(print_, size.body_length_mm) - box.y_mm
        rooms.append(_Room(box.height_mm, below_mm - SEAM_CLEARANCE_MM, SEAM_CLEARANCE_MM, size.size))
    return rooms


def _length_below_mark(print_: Print, body_length_mm: float) -> float:
    """Garments are measured from the highest point of the shoulder; a bag from its opening."""
    if print_.location is Location.TOTE_FRONT or SIDES[print_.location] is Side.BACK:
        return body_length_mm
    return body_length_mm - SHOULDER_ABOVE_COLLAR_MM


def _over_hard_parts(job: Job, print_: Print, ordered: list[SizeCount]) -> list[Finding]:
    """One finding a part, on the size where the print covers most of it."""
    line = job.line(print_.line)
    worst: dict[str, float] = {}
    for size in ordered:
        box = print_box(job, print_, size.group)
        for part, part_box in hard_parts_near(line, print_, size.body_length_mm):
            common = box.overlap(part_box)
            if common is not None:
                depth = min(common.width_mm, common.height_mm)
                worst[part.value] = max(depth, worst.get(part.value, 0.0))
    return [
        _finding(print_, FindingKind.OVER_HARD_PART, Seriousness.LOOK, found=depth, needed=0, subject=part)
        for part, depth in worst.items()
    ]


def _too_close(job: Job, print_: Print, groups: tuple[SizeGroup, ...]) -> Finding | None:
    """The nearest earlier print on the same side of the garment, where it is too near."""
    nearest: tuple[float, Print] | None = None
    for other in job.prints_on(print_.line):
        if other.key == print_.key:
            break
        if not _same_side(print_, other):
            continue
        for group in groups:
            gap_mm = _gap_mm(print_box(job, print_, group), print_box(job, other, group))
            if nearest is None or gap_mm < nearest[0]:
                nearest = (gap_mm, other)
    if nearest is None or nearest[0] >= PRINT_DISTANCE_MM - 0.05:
        return None
    gap_mm, other = nearest
    return _finding(
        print_,
        FindingKind.PRINTS_TOO_CLOSE,
        Seriousness.LOOK,
        found=gap_mm,
        needed=PRINT_DISTANCE_MM,
        subject=other.place_name or other.location.value,
    )


def _same_side(one: Print, other: Print) -> bool:
    if SIDES[one.location] is not SIDES[other.location]:
        return False
    # Two places of the shop's own are the same only under the same name.
    return one.location is not Location.OTHER or one.place_name == other.place_name


def _gap_mm(one: Rect, other: Rect) -> float:
    """The shortest way from one box to the other; 0 where they touch or overlap."""
    across = max(one.x_mm - other.right_mm, other.x_mm - one.right_mm, 0.0)
    down = max(one.y_mm - other.bottom_mm, other.y_mm - one.bottom_mm, 0.0)
    return float((across**2 + down**2) ** 0.5)


def _finding(
    print_: Print,
    kind: FindingKind,
    seriousness: Seriousness,
    *,
    found: float,
    needed: float,
    subject: str,
    best_width_mm: float | None = None,
) -> Finding:
    return Finding(
        kind=kind,
        seriousness=seriousness,
        artwork=print_.artwork,
        print=print_.key,
        line=print_.line,
        found=round(found, 1),
        needed=round(needed, 1),
        subject=subject,
        # Rounded down: a width rounded up would be over the limit it is to meet.
        best_width_mm=None if best_width_mm is None else int(best_width_mm * 10 + 1e-6) / 10,
    )
