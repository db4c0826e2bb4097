"""Where a print is on the picture of its garment, and back from there to millimetres.

The picture is the outline stretched to the size's own measures; prints are never stretched.
"""

import math
from dataclasses import dataclass, replace

from planner.job.document import Artwork, GarmentLine, Job, Print, SizeCount
from planner.job.pieces import print_size
from planner.measures.geometry import Rect, Size
from planner.paper.outlines import Outline, Spot, outline_of, spot_of
from planner.pressing.card import Edge
from planner.pressing.placement import place
from planner.pressing.usual import SIDES, Side
from planner.shop.garments import Location, SizeGroup

LOWEST_TOP_MM, LARGEST_TOP_MM, LARGEST_ASIDE_MM = -500.0, 3000.0, 1500.0
"""What a job can hold (see `planner.job.document.Print`)."""
Point = tuple[float, float]
_MARK_OF = {Side.FRONT: Location.FULL_FRONT, Side.BACK: Location.FULL_BACK, Side.CAP: Location.CAP_FRONT}
"""Where the flat garment's origin is, by side."""


@dataclass(frozen=True, slots=True)
class ShownPrint:
    """One print on one size."""

    key: str
    artwork: Artwork
    location: Location
    size: Size
    top_mm: float
    aside_mm: float
    measured: str
    """"below collar seam"."""

    def at(self, top_mm: float, aside_mm: float) -> "ShownPrint":
        """The same print elsewhere, kept within what a job can hold."""
        return replace(
            self,
            top_mm=round(min(max(top_mm, LOWEST_TOP_MM), LARGEST_TOP_MM), 2),
            aside_mm=round(min(max(aside_mm, -LARGEST_ASIDE_MM), LARGEST_ASIDE_MM), 2),
        )


def shown_print(job: Job, print_: Print, group: SizeGroup) -> ShownPrint:
    """A print as it sits on one group of sizes."""
    artwork, line = job.artwork(print_.artwork), job.line(print_.line)
    placed = place(print_, group, line.kind)
    side = "above" if placed.measured_to is Edge.BOTTOM else "below"
    return ShownPrint(
        print_.key,
        artwork,
        print_.location,
        print_size(artwork, print_.width_for(group)),
        placed.top_mm,
        placed.aside_mm,
        f"{side} {placed.measured_from}",
    )


def is_back(location: Location) -> bool:
    return SIDES[location] is Side.BACK


def most_ordered(line: GarmentLine) -> SizeCount | None:
    return max(line.sizes, key=lambda size: size.count, default=None)


@dataclass(frozen=True, slots=True)
class Frame:
    """From millimetres on the flat garment to pixels of the picture."""

    outline: Outline
    left: float
    """Pixels from the picture's left to the centre line."""
    top: float
    """Pixels from the picture's top to the shoulder seam at the collar."""
    scale: float
    stretch_x: float
    stretch_y: float
    back: bool

    def point(self, x_mm: float, y_mm: float) -> Point:
        """A point of the outline, stretched with the garment."""
        return (
            self.left + x_mm * self.stretch_x * self.scale,
            self.top + y_mm * self.stretch_y * self.scale,
        )

    def spot(self, print_: ShownPrint) -> Spot:
        return spot_of(self.outline, print_.location)

    def mark(self, print_: ShownPrint) -> Point:
        """What the print is measured from."""
        spot = self.spot(print_)
        return self.point(spot.x_mm, spot.y_mm)

    def box(self, box: Rect, side: Side) -> tuple[float, float, float, float]:
        """A box on the flat garment (see `planner.pressing.placement`): left, top, width, height."""
        mark = spot_of(self.outline, _MARK_OF.get(side, Location.OTHER))
        x, y = self.point(mark.x_mm, mark.y_mm)
        left_mm = -box.right_mm if self.back else box.x_mm
        return (
            x + left_mm * self.scale,
            y + box.y_mm * self.scale,
            box.width_mm * self.scale,
            box.height_mm * self.scale,
        )

    def _axes(self, print_: ShownPrint) -> tuple[Point, Point]:
        """Unit steps in pixels for one millimetre more aside and one more from the mark."""
        spot = self.spot(print_)
        turn = math.radians(spot.up_deg)
        right, up = (math.cos(turn), math.sin(turn)), (math.sin(turn), -math.cos(turn))
        # On the back the wearer's left is the viewer's left.
        towards_left = -1 if self.back else 1
        away = 1 if spot.from_below else -1
        return (
            (right[0] * towards_left * self.scale, right[1] * towards_left * self.scale),
            (up[0] * away * self.scale, up[1] * away * self.scale),
        )

    def centre(self, print_: ShownPrint) -> Point:
        """The middle of the print in pixels."""
        aside, along = self._axes(print_)
        reach = print_.top_mm + print_.size.height_mm / 2
        x, y = self.mark(print_)
        return (
            x + print_.aside_mm * aside[0] + reach * along[0],
            y + print_.aside_mm * aside[1] + reach * along[1],
        )

    def moved(self, print_: ShownPrint, dx: float, dy: float) -> ShownPrint:
        """The print after a move by so many pixels of the picture."""
        aside, along = self._axes(print_)
        square = self.scale * self.scale
        return print_.at(
            print_.top_mm + (dx * along[0] + dy * along[1]) / square,
            print_.aside_mm + (dx * aside[0] + dy * aside[1]) / square,
        )


def frame_for(
    line: GarmentLine, size: SizeCount | None, *, width: float, height: float, middle: float, back: bool
) -> Frame:
    """The garment as large as so many pixels allow, its centre line `middle` from the picture's left."""
    outline = outline_of(line.kind)
    body_width = size.body_width_mm if size else None
    body_length = size.body_length_mm if size else None
    stretch_x = (body_width or outline.width_mm) / outline.width_mm
    stretch_y = (body_length or outline.length_mm) / outline.length_mm
    wide = 2 * outline.reach_mm * stretch_x
    high = (outline.top_mm + outline.length_mm + outline.beyond_mm) * stretch_y
    scale = max(0.01, min(width / wide, height / high))
    top = (height - high * scale) / 2 + outline.top_mm * stretch_y * scale
    return Frame(outline, middle, top, scale, stretch_x, stretch_y, back)
