"""Sizes, points and rectangles on a sheet, in millimetres.

The origin is a sheet's top left corner, x runs right and y runs down, as on screen.
"""

from dataclasses import dataclass
from typing import Any, ClassVar


@dataclass(frozen=True, slots=True)
class Size:
    """Width by height in millimetres."""

    # Read by pydantic when a job file is opened; a plain attribute to everybody else.
    __pydantic_config__: ClassVar[dict[str, Any]] = {"extra": "forbid", "allow_inf_nan": False}

    width_mm: float
    height_mm: float

    @property
    def area_mm2(self) -> float:
        return self.width_mm * self.height_mm

    def turned(self) -> "Size":
        """The same size after a quarter turn."""
        return Size(self.height_mm, self.width_mm)


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle: its top left corner and its size, in millimetres."""

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    @property
    def right_mm(self) -> float:
        return self.x_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        return self.y_mm + self.height_mm

    @property
    def area_mm2(self) -> float:
        return self.width_mm * self.height_mm

    def overlap(self, other: "Rect") -> "Rect | None":
        """The common part of both, or None where they share no area."""
        left, top = max(self.x_mm, other.x_mm), max(self.y_mm, other.y_mm)
        right, bottom = min(self.right_mm, other.right_mm), min(self.bottom_mm, other.bottom_mm)
        if right <= left or bottom <= top:
            return None
        return Rect(left, top, right - left, bottom - top)

    def grown(self, by_mm: float) -> "Rect":
        """The rectangle with every side moved outwards by `by_mm`."""
        return Rect(
            self.x_mm - by_mm, self.y_mm - by_mm, self.width_mm + 2 * by_mm, self.height_mm + 2 * by_mm
        )
