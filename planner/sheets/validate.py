"""What is wrong with a layout, found without any of the arrangers' code.

Rectangles are checked by a sweep over whole micrometres, outlines by shapely.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import shapely
from shapely import STRtree, affinity
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from planner.measures.layout import Layout, Placement, Way
from planner.sheets.micrometres import place_um, size_um, to_mm
from planner.sheets.outline import Outline, rectangle, sound_outline
from planner.sheets.problem import Piece

TOLERANCE_UM = 1
"""What rounding to whole micrometres may cost; less than a hundredth of any knife's cut."""
OUTLINE_TOLERANCE_MM = 0.02
"""What simplified outlines and the search's float arithmetic may cost."""

_Box = tuple[int, int, int, int]


class FaultKind(StrEnum):
    """What can be wrong with where a piece is."""

    OVERLAP = "overlap"
    """Two pieces share area; `by_mm` is the least distance one must move."""
    TOO_CLOSE = "too_close"
    """Two pieces are nearer than the gap; `by_mm` is what the gap lacks."""
    OFF_SHEET = "off_sheet"
    """A piece reaches over the sheet's edge; `by_mm` is how far."""
    IN_MARGIN = "in_margin"
    """A piece reaches into the edge margin; `by_mm` is how far."""
    NOT_SEPARABLE = "not_separable"
    """No straight cut from edge to edge parts these pieces; `by_mm` is how far one is in the way at least."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: its kind, the placements concerned by position and print, and how much in mm."""

    kind: FaultKind
    indices: tuple[int, ...]
    keys: tuple[str, ...]
    by_mm: float


def faults(
    layout: Layout,
    *,
    gap_mm: float,
    margin_mm: float,
    way: Way,
    outlines: Mapping[str, Outline | None] | None = None,
) -> tuple[Fault, ...]:
    """All that is wrong with one layout; empty when it can be printed and cut apart as asked.

    `outlines` gives the pieces' outlines by print key for layouts cut by outline; pieces without one are
    rectangles. Nothing is raised for odd layouts: whatever is wrong with them comes back as faults.
    """
    placements = layout.placements
    if way is Way.OUTLINE and outlines:
        found = _outline_faults(layout, gap_mm, margin_mm, outlines)
    else:
        boxes = [_box(placement) for placement in placements]
        sheet = (place_um(layout.sheet.width_mm), place_um(layout.sheet.height_mm))
        found = _edge_faults(boxes, sheet, place_um(margin_mm)) + _pair_faults(boxes, place_um(gap_mm))
        if way is Way.STRAIGHT:
            found += _cut_faults(boxes)
    return tuple(
        Fault(kind, indices, tuple(placements[i].print for i in indices), by_mm)
        for kind, indices, by_mm in found
    )


def is_sound(layout: Layout, pieces: Iterable[Piece], *, gap_mm: float, margin_mm: float) -> bool:
    """Whether nothing is wrong with a layout of these pieces where each is cut by its outline."""
    outlines = {piece.key: piece.outline for piece in pieces}
    return not faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=Way.OUTLINE, outlines=outlines)


_Found = list[tuple[FaultKind, tuple[int, ...], float]]


def _box(placement: Placement) -> _Box:
    left, top = place_um(placement.x_mm), place_um(placement.y_mm)
    return left, top, left + size_um(placement.width_mm), top + size_um(placement.height_mm)


def _edge_faults(boxes: Sequence[_Box], sheet: tuple[int, int], margin: int) -> _Found:
    found: _Found = []
    for index, (left, top, right, bottom) in enumerate(boxes):
        off = max(-left, -top, right - sheet[0], bottom - sheet[1])
        if off > TOLERANCE_UM:
            found.append((FaultKind.OFF_SHEET, (index,), to_mm(off)))
        elif off + margin > TOLERANCE_UM:
            found.append((FaultKind.IN_MARGIN, (index,), to_mm(off + margin)))
    return found


def _pair_faults(boxes: Sequence[_Box], gap: int) -> _Found:
    """Pairs that overlap or are too close, by a sweep from left to right."""
    found: _Found = []
    order = sorted(range(len(boxes)), key=lambda i: boxes[i][0])
    active: list[int] = []
    for index in order:
        left, top, right, bottom = boxes[index]
        active = [i for i in active if boxes[i][2] + gap > left]
        for other in active:
            other_left, other_top, other_right, other_bottom = boxes[other]
            apart = max(left - other_right, other_left - right, top - other_bottom, other_top - bottom)
            if apart < gap - TOLERANCE_UM:
                pair = (min(index, other), max(index, other))
                if apart < -TOLERANCE_UM:
                    found.append((FaultKind.OVERLAP, pair, to_mm(-apart)))
                elif gap > 0:
                    found.append((FaultKind.TOO_CLOSE, pair, to_mm(gap - apart)))
        active.append(index)
    return sorted(found, key=lambda fault: fault[1])


def _cut_faults(boxes: Sequence[_Box]) -> _Found:
    """Blocks of pieces that no edge-to-edge cut divides, looking both ways, block by block."""
    found: _Found = []
    waiting = [list(range(len(boxes)))]
    while waiting:
        block = waiting.pop()
        if len(block) < 2:
            continue
        across, across_by = _parted(boxes, block, 0)
        if len(across) > 1:
            waiting += across
            continue
        along, along_by = _parted(boxes, block, 1)
        if len(along) > 1:
            waiting += along
            continue
        found.append((FaultKind.NOT_SEPARABLE, tuple(sorted(block)), to_mm(min(across_by, along_by))))
    return found


def _parted(boxes: Sequence[_Box], block: Sequence[int], axis: int) -> tuple[list[list[int]], int]:
    """The block divided at every coordinate of one axis that no piece spans, and the least hindrance."""
    ordered = sorted(block, key=lambda i: boxes[i][axis])
    parts = [[ordered[0]]]
    reach = boxes[ordered[0]][axis + 2]
    least = 1 << 62
    for index in ordered[1:]:
        start = boxes[index][axis]
        if start >= reach - TOLERANCE_UM:
            parts.append([])
        else:
            least = min(least, reach - start)
        parts[-1].append(index)
        reach = max(reach, boxes[index][axis + 2])
    return parts, least


def placed_outline(placement: Placement, outline: Outline | None) -> Polygon:
    """A placement's outline where it lies on the sheet, in mm; its turned box where there is none.

    The outline is measured from the unturned piece's top left and turned clockwise with the piece, about
    the middle of the placement's box: as the picture is when it is printed.
    """
    size = placement.unturned
    sound = sound_outline(outline)
    shape = rectangle(size.width_mm, size.height_mm) if sound is None else Polygon(sound)
    middle = placement.x_mm + placement.width_mm / 2, placement.y_mm + placement.height_mm / 2
    centred = affinity.translate(shape, middle[0] - size.width_mm / 2, middle[1] - size.height_mm / 2)
    # y runs down, so what shapely turns counter-clockwise is turned clockwise on the sheet.
    return affinity.rotate(centred, placement.turned_deg, origin=middle)


def _outline_faults(
    layout: Layout, gap_mm: float, margin_mm: float, outlines: Mapping[str, Outline | None]
) -> _Found:
    shapes = [placed_outline(p, outlines.get(p.print)) for p in layout.placements]
    found: _Found = []
    for index, shape in enumerate(shapes):
        left, top, right, bottom = shape.bounds
        off = max(-left, -top, right - layout.sheet.width_mm, bottom - layout.sheet.height_mm)
        if off > OUTLINE_TOLERANCE_MM:
            found.append((FaultKind.OFF_SHEET, (index,), off))
        elif off + margin_mm > OUTLINE_TOLERANCE_MM:
            found.append((FaultKind.IN_MARGIN, (index,), off + margin_mm))
    near = STRtree(shapes).query(shapes, predicate="dwithin", distance=gap_mm)
    for other, index in sorted((int(one), int(two)) for one, two in near.T if one < two):
        fault = _outline_pair(shapes[index], shapes[other], gap_mm)
        if fault is not None:
            found.append((fault[0], (other, index), fault[1]))
    return found


def _outline_pair(one: Polygon, other: Polygon, gap_mm: float) -> tuple[FaultKind, float] | None:
    """What is wrong between two outlines; an overlap is measured by the width of what they share."""
    distance = one.distance(other)
    if distance > 0:
        lacks = gap_mm - distance
        return (FaultKind.TOO_CLOSE, lacks) if lacks > OUTLINE_TOLERANCE_MM else None
    shared = one.buffer(0).intersection(other.buffer(0))
    # Each place by itself: where they merely touch elsewhere, an overlap is no less deep.
    depth = max((_depth(part) for part in shapely.get_parts(shared)), default=0.0)
    if depth > OUTLINE_TOLERANCE_MM:
        return FaultKind.OVERLAP, depth
    return (FaultKind.TOO_CLOSE, gap_mm) if gap_mm > OUTLINE_TOLERANCE_MM else None


def _depth(part: BaseGeometry) -> float:
    """How deep two outlines lie in each other where they share this."""
    if not part.area:
        return 0.0
    left, top, right, bottom = part.bounds
    # Area over the longer side tells a thin sliver from a deep overlap, whatever its direction.
    return float(min(right - left, bottom - top, 2 * part.area / max(right - left, bottom - top)))
