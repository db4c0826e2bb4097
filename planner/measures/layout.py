"""Pieces placed on one sheet, as plain values that a job can keep and an arranger can give."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from enum import StrEnum
from math import cos, radians, sin
from typing import Any, ClassVar

from planner.measures.geometry import Rect, Size


class Way(StrEnum):
    """How the pieces of a printed sheet are cut apart."""

    LOOSE = "loose"
    """Rectangles anywhere, cut by hand."""
    STRAIGHT = "straight"
    """Every piece freed by edge-to-edge cuts: a paper trimmer, or a ruler and a knife."""
    OUTLINE = "outline"
    """Scissors along each piece's true outline."""


@dataclass(frozen=True, slots=True)
class Placement:
    """One piece on a sheet: the upright box it covers after turning, in millimetres.

    `print` names the print (or the extra) that the piece is a copy of. `width_mm` and `height_mm` are
    measured after turning. `turned_deg` is clockwise, about the middle of the box; anything but 0, 90, 180
    and 270 appears only on layouts cut by outline, where the box may reach beyond the outline in it. A
    `pinned` piece stays where it is when the rest is arranged again.
    """

    # Read by pydantic when a job file is opened; a plain attribute to everybody else.
    __pydantic_config__: ClassVar[dict[str, Any]] = {"extra": "forbid", "allow_inf_nan": False}

    print: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    turned_deg: float = 0.0
    pinned: bool = False

    @property
    def box(self) -> Rect:
        return Rect(self.x_mm, self.y_mm, self.width_mm, self.height_mm)

    @property
    def unturned(self) -> Size:
        """The piece's size before turning.

        At 45° the box tells no more than the sides' sum; there a square is assumed.
        """
        if self.turned_deg % 180 == 0:
            return Size(self.width_mm, self.height_mm)
        if self.turned_deg % 90 == 0:
            return Size(self.height_mm, self.width_mm)
        along, across = _shares(self.turned_deg)
        differ = along**2 - across**2
        if abs(differ) < _SQUARE:
            side_mm = (self.width_mm + self.height_mm) / (along + across) / 2
            return Size(side_mm, side_mm)
        return Size(
            (self.width_mm * along - self.height_mm * across) / differ,
            (self.height_mm * along - self.width_mm * across) / differ,
        )


_SQUARE = 1e-6
"""So near to 45° that rounding would decide which side is the longer."""


def placed_about(
    print_key: str, size: Size, centre_mm: tuple[float, float], turned_deg: float = 0.0
) -> Placement:
    """A piece of this size before turning, turned clockwise about a point of the sheet."""
    along, across = _shares(turned_deg)
    width_mm = size.width_mm * along + size.height_mm * across
    height_mm = size.width_mm * across + size.height_mm * along
    left_mm, top_mm = centre_mm[0] - width_mm / 2, centre_mm[1] - height_mm / 2
    return Placement(print_key, left_mm, top_mm, width_mm, height_mm, turned_deg)


def _shares(turned_deg: float) -> tuple[float, float]:
    """How much of a side lies along its own direction, and how much across it; whole for quarter turns."""
    if turned_deg % 90 == 0:
        return (1.0, 0.0) if turned_deg % 180 == 0 else (0.0, 1.0)
    return abs(cos(radians(turned_deg))), abs(sin(radians(turned_deg)))


@dataclass(frozen=True, slots=True)
class Layout:
    """What goes on one sheet, and how many times that sheet is printed."""

    __pydantic_config__: ClassVar[dict[str, Any]] = {"extra": "forbid", "allow_inf_nan": False}

    sheet: Size
    placements: tuple[Placement, ...]
    runs: int = 1

    def count_of(self, print_key: str) -> int:
        """Copies of one print that all runs together yield."""
        return self.runs * sum(1 for placement in self.placements if placement.print == print_key)


def sheets_with(keys: Collection[str], layouts: Iterable[Layout]) -> int:
    """Sheets that carry any of these pieces, runs counted."""
    return sum(layout.runs for layout in layouts if any(p.print in keys for p in layout.placements))
