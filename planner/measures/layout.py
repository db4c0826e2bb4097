"""Pieces placed on one sheet, as plain values that a job can keep and an arranger can give."""

from dataclasses import dataclass
from enum import StrEnum
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

    `print` names the print (or the extra) that the piece is a copy of. `width_mm` and `height_mm`
    are measured after turning. `turned_deg` is clockwise; anything but 0, 90, 180 and 270 appears only
    on layouts cut by outline. A `pinned` piece stays where it is when the rest is arranged again.
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

    @property
    def fill(self) -> float:
        """Share of the sheet that pieces' boxes cover, from 0 to 1."""
        return sum(placement.box.area_mm2 for placement in self.placements) / self.sheet.area_mm2
