"""A request's pieces as plain numbers for the inner loops, and the way back to placements.

Every piece is grown by the gap to the right and downwards, and so is the room inside the margins: then
"at least a gap apart" becomes "not overlapping".
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.sheets.micrometres import place_um, size_um, to_mm
from planner.sheets.problem import Piece

Placed = tuple[int, int, int, bool]
"""A kind's number, x, y, turned."""


@dataclass(frozen=True, slots=True)
class Shapes:
    """Kinds of pieces by number: grown sides in micrometres, turning, areas; pieces to go back to."""

    pieces: tuple[Piece, ...]
    widths: tuple[int, ...]
    heights: tuple[int, ...]
    turns: tuple[bool, ...]
    areas: tuple[int, ...]
    gap: int
    margin: int

    @property
    def least(self) -> int:
        """The shortest side of all, 1 where there are no pieces."""
        return min((*self.widths, *self.heights), default=1)

    def items(self) -> list[int]:
        """One entry per copy: the number of its kind."""
        return [kind for kind, piece in enumerate(self.pieces) for _ in range(piece.count)]

    def room(self, sheet: Size) -> tuple[int, int]:
        """Width and height that grown pieces may fill on a sheet; not positive where margins meet."""
        lost = 2 * self.margin - self.gap
        return place_um(sheet.width_mm) - lost, place_um(sheet.height_mm) - lost

    def fits(self, kind: int, width: int, height: int) -> bool:
        """Whether one copy alone fits in so much room."""
        w, h = self.widths[kind], self.heights[kind]
        return (w <= width and h <= height) or (self.turns[kind] and h <= width and w <= height)


def shapes_of(pieces: Sequence[Piece], *, gap_mm: float, margin_mm: float) -> Shapes:
    """Pieces as numbers. Sides must be positive; `planner.sheets.arrange` sees to that."""
    gap = place_um(gap_mm)
    widths = tuple(size_um(piece.width_mm) + gap for piece in pieces)
    heights = tuple(size_um(piece.height_mm) + gap for piece in pieces)
    return Shapes(
        pieces=tuple(pieces),
        widths=widths,
        heights=heights,
        turns=tuple(p.may_turn and w != h for p, w, h in zip(pieces, widths, heights, strict=True)),
        areas=tuple(w * h for w, h in zip(widths, heights, strict=True)),
        gap=gap,
        margin=place_um(margin_mm),
    )


def layout_of(
    shapes: Shapes, placed: Iterable[Placed], sheet: Size, pinned: Iterable[Placement] = ()
) -> Layout:
    """Numbers back to a layout in millimetres, pinned placements first."""
    placements = list(pinned)
    for kind, x, y, turned in placed:
        piece = shapes.pieces[kind]
        width, height = piece.width_mm, piece.height_mm
        if turned:
            width, height = height, width
        placements.append(
            Placement(
                piece.key,
                to_mm(x + shapes.margin),
                to_mm(y + shapes.margin),
                width,
                height,
                90.0 if turned else 0.0,
            )
        )
    return Layout(sheet, tuple(placements))
