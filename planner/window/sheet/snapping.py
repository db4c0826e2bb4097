"""Where a dragged box catches: margin, gap, neighbours' edges and centre lines, with the guides to show."""

from collections.abc import Sequence
from dataclasses import dataclass

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement
from planner.sheets.nudge import Feature, SnapLine, snap_lines

_RANK = (Feature.MARGIN, Feature.GAP, Feature.EDGE, Feature.SHEET_CENTRE, Feature.CENTRE)
"""Of lines equally near the first of these wins."""
_SAME_MM = 0.001


@dataclass(frozen=True, slots=True)
class Guide:
    """A line to show: upright at x or level at y, from one end to the other, in mm on the sheet."""

    feature: Feature
    upright: bool
    at_mm: float
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Snap:
    """How far to shift the box, and the lines it then lies on."""

    dx_mm: float
    dy_mm: float
    guides: tuple[Guide, ...]


class Catcher:
    """All that one box of pieces can catch on while it is dragged over one sheet; made once for a drag."""

    def __init__(
        self, size: Size, resting: Sequence[Placement], sheet: Size, *, gap_mm: float, margin_mm: float
    ) -> None:
        self._resting = [placement.box for placement in resting]
        self._sheet, self._gap_mm = sheet, gap_mm
        moved = Placement("", 0, 0, size.width_mm, size.height_mm)
        layout = Layout(sheet, (*resting, moved))
        self._lines = snap_lines(layout, len(resting), gap_mm, margin_mm).lines

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
            and (line.feature is not Feature.GAP or self._beside(line, box))
        ]
        if not within:
            return 0.0, []
        best = min(within, key=lambda line: (round(abs(line.to_mm - start), 4), _RANK.index(line.feature)))
        same = [line for line in within if abs(line.to_mm - best.to_mm) < _SAME_MM]
        return best.to_mm - start, sorted(same, key=lambda line: -_RANK.index(line.feature))

    def _beside(self, line: SnapLine, box: Rect) -> bool:
        """A gap matters only to pieces that lie side by side."""
        if line.other is None:
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
        low, high = (
            (min(box.y_mm, other.y_mm), max(box.bottom_mm, other.bottom_mm))
            if line.is_vertical
            else (min(box.x_mm, other.x_mm), max(box.right_mm, other.right_mm))
        )
        return Guide(line.feature, line.is_vertical, line.guide_mm, low, high)
