"""Where a dragged box catches: margin, gap, neighbours' edges and centre lines, with the guides to show."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot

from shapely import affinity, distance, total_bounds
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry import box as box_of
from shapely.ops import nearest_points

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement
from planner.sheets.nudge import Feature, SnapLine, snap_lines
from planner.sheets.nudge_outlines import contact_along, contact_move
from planner.sheets.outline import Outline
from planner.sheets.validate import placed_outline

_RANK = (Feature.MARGIN, Feature.GAP, Feature.EDGE, Feature.SHEET_CENTRE, Feature.CENTRE)
"""Of lines equally near the first of these wins."""
_SAME_MM = 0.001
_MOST_MOVED = 12
"""More pieces than that are looked at as one box while they are dragged."""
_TANGENT_MM = 12.0
"""Half the length of the line that shows where outlines meet."""


@dataclass(frozen=True, slots=True)
class Guide:
    """A line to show from one point to another, in mm on the sheet."""

    feature: Feature
    start: tuple[float, float]
    end: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Snap:
    """How far to shift the box, and the lines it then lies on."""

    dx_mm: float
    dy_mm: float
    guides: tuple[Guide, ...]


class Catcher:
    """All that one box of pieces can catch on while it is dragged over one sheet; made once for a drag."""

    def __init__(
        self, size: Size, resting: Sequence[Rect], sheet: Size, *, gap_mm: float, margin_mm: float
    ) -> None:
        self._resting = resting
        self._sheet, self._gap_mm = sheet, gap_mm
        boxes = [Rect(0, 0, size.width_mm, size.height_mm), *resting]
        layout = Layout(sheet, tuple(Placement("", b.x_mm, b.y_mm, b.width_mm, b.height_mm) for b in boxes))
        self._lines = [
            replace(line, other=None if line.other is None else line.other - 1)
            for line in snap_lines(layout, 0, gap_mm, margin_mm).lines
        ]

    def snap(self, box: Rect, reach_mm: float) -> Snap:
        """The nearest lines within reach on both axes; a box near nothing stays where it is."""
        dx_mm, across = self._nearest(box, reach_mm, upright=True)
        dy_mm, down = self._nearest(box, reach_mm, upright=False)
        put = Rect(box.x_mm + dx_mm, box.y_mm + dy_mm, box.width_mm, box.height_mm)
        guides = {
            (line.is_vertical, round(line.guide_mm, 3)): self._guide(line, put) for line in (*across, *down)
        }
        return Snap(dx_mm, dy_mm, tuple(guides.values()))

    def _nearest(self, box: Rect, reach_mm: float, *, upright: bool) -> tuple[float, list[SnapLine]]:
        start = box.x_mm if upright else box.y_mm
        within = [
            line
            for line in self._lines
            if line.is_vertical is upright
            and abs(line.to_mm - start) <= reach_mm
            and self._is_of_use(line, box)
        ]
        if not within:
            return 0.0, []
        best = min(within, key=lambda line: (round(abs(line.to_mm - start), 4), _RANK.index(line.feature)))
        same = [line for line in within if abs(line.to_mm - best.to_mm) < _SAME_MM]
        return best.to_mm - start, sorted(same, key=lambda line: -_RANK.index(line.feature))

    def _is_of_use(self, line: SnapLine, box: Rect) -> bool:
        """A gap matters only to pieces that lie side by side."""
        if line.other is None or line.feature is not Feature.GAP:
            return True
        other = self._resting[line.other].grown(self._gap_mm)
        if line.is_vertical:
            return other.y_mm < box.bottom_mm and box.y_mm < other.bottom_mm
        return other.x_mm < box.right_mm and box.x_mm < other.right_mm

    def _guide(self, line: SnapLine, box: Rect) -> Guide:
        """From the box to what it caught on; margins and the sheet's middle run all through."""
        other = Rect(0, 0, self._sheet.width_mm, self._sheet.height_mm)
        if line.other is not None:
            other = self._resting[line.other]
        at = line.guide_mm
        if line.is_vertical:
            low, high = min(box.y_mm, other.y_mm), max(box.bottom_mm, other.bottom_mm)
            return Guide(line.feature, (at, low), (at, high))
        low, high = min(box.x_mm, other.x_mm), max(box.right_mm, other.right_mm)
        return Guide(line.feature, (low, at), (high, at))


class OutlineCatcher(Catcher):
    """The same by true outlines: lines go by how far these reach, and a gap is what lies between them."""

    def __init__(
        self,
        moving: Sequence[Placement],
        resting: Sequence[Placement],
        sheet: Size,
        outlines: Mapping[str, Outline],
        *,
        gap_mm: float,
        margin_mm: float,
    ) -> None:
        """`moving` lie where they do within the box that is dragged, its top left corner at (0, 0)."""
        shapes = [placed_outline(p, outlines.get(p.print)) for p in moving]
        self._moving = MultiPolygon(shapes if len(shapes) <= _MOST_MOVED else [box_of(*total_bounds(shapes))])
        self._rest = [placed_outline(p, outlines.get(p.print)) for p in resting]
        self._margin_mm = margin_mm
        reach = _extent(self._moving)
        self._corner = reach.x_mm, reach.y_mm
        self._size = Size(reach.width_mm, reach.height_mm)
        extents = [_extent(shape) for shape in self._rest]
        super().__init__(self._size, extents, sheet, gap_mm=gap_mm, margin_mm=margin_mm)

    def snap(self, box: Rect, reach_mm: float) -> Snap:
        """On a line and in contact with a neighbour where both are within reach, else the nearer of them."""
        shape = affinity.translate(self._moving, box.x_mm, box.y_mm)
        corner = box.x_mm + self._corner[0], box.y_mm + self._corner[1]
        by_lines = super().snap(Rect(*corner, self._size.width_mm, self._size.height_mm), reach_mm)
        both = self._contact_on_line(shape, by_lines, reach_mm)
        if both is not None:
            return both
        contact = contact_move(shape, self._rest, gap_mm=self._gap_mm, reach_mm=reach_mm)
        if contact is None or not self._is_inside(affinity.translate(shape, *contact)):
            return by_lines
        is_nearer = by_lines.guides and hypot(by_lines.dx_mm, by_lines.dy_mm) < hypot(*contact)
        if is_nearer and self._is_clear(affinity.translate(shape, by_lines.dx_mm, by_lines.dy_mm)):
            return by_lines
        return Snap(*contact, self._tangent(affinity.translate(shape, *contact)))

    def _is_of_use(self, line: SnapLine, box: Rect) -> bool:
        return line.feature is not Feature.GAP

    def _contact_on_line(self, shape: MultiPolygon, by_lines: Snap, reach_mm: float) -> Snap | None:
        """Along the one line that the pieces caught on to where they meet a neighbour."""
        upright = {guide.start[0] == guide.end[0] for guide in by_lines.guides}
        if len(upright) != 1:
            return None
        moved = affinity.translate(shape, by_lines.dx_mm, by_lines.dy_mm)
        is_across = upright == {False}
        way = contact_along(moved, self._rest, gap_mm=self._gap_mm, reach_mm=reach_mm, is_across=is_across)
        if way is None:
            return None
        dx_mm, dy_mm = (way, 0.0) if is_across else (0.0, way)
        put = affinity.translate(moved, dx_mm, dy_mm)
        guides = (*by_lines.guides, *self._tangent(put))
        return Snap(by_lines.dx_mm + dx_mm, by_lines.dy_mm + dy_mm, guides) if self._is_inside(put) else None

    def _is_clear(self, shape: MultiPolygon) -> bool:
        return float(distance(shape, self._rest).min()) >= self._gap_mm - _SAME_MM

    def _is_inside(self, shape: MultiPolygon) -> bool:
        reach = _extent(shape)
        low = self._margin_mm - _SAME_MM
        return (
            reach.x_mm >= low
            and reach.y_mm >= low
            and reach.right_mm <= self._sheet.width_mm - low
            and reach.bottom_mm <= self._sheet.height_mm - low
        )

    def _tangent(self, shape: MultiPolygon) -> tuple[Guide, ...]:
        """A short line between the pieces and the neighbour they meet, square to the way between them."""
        other = min(self._rest, key=shape.distance)
        here, there = nearest_points(shape, other)
        x, y, far = there.x - here.x, there.y - here.y, here.distance(there)
        if far < _SAME_MM:
            return ()
        along = -y / far * _TANGENT_MM, x / far * _TANGENT_MM
        start, end = (there.x - along[0], there.y - along[1]), (there.x + along[0], there.y + along[1])
        return (Guide(Feature.GAP, start, end),)


def _extent(shape: Polygon | MultiPolygon) -> Rect:
    left, top, right, bottom = shape.bounds
    return Rect(left, top, right - left, bottom - top)
