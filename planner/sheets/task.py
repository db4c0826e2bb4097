"""What every part of the arranger needs at hand, and what each hands back."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.effort import Effort
from planner.sheets.filling import Sheet
from planner.sheets.maxrects import Box
from planner.sheets.micrometres import place_um, size_um
from planner.sheets.shapes import Placed, Shapes, layout_of


@dataclass(frozen=True, slots=True)
class Task:
    """Pieces as numbers, how they are cut, and how long to look."""

    shapes: Shapes
    way: Way
    seed: int
    effort: Effort
    kept: tuple[Layout, ...] = ()
    """The request's pinned layouts with nothing but their pinned placements, one run each."""


@dataclass(frozen=True, slots=True)
class Filled:
    """Layouts, and the kinds (once per copy) that are on none of them."""

    layouts: tuple[Layout, ...] = ()
    unplaced: tuple[int, ...] = ()


Heard = Callable[[Filled], None]


def grown_box(shapes: Shapes, placement: Placement) -> Box:
    """The box that a placement takes up among grown pieces, measured from the margins."""
    left = place_um(placement.x_mm) - shapes.margin
    top = place_um(placement.y_mm) - shapes.margin
    return (
        left,
        top,
        left + size_um(placement.width_mm) + shapes.gap,
        top + size_um(placement.height_mm) + shapes.gap,
    )


def kept_sheet(shapes: Shapes, layout: Layout, number: int, longest: int | None = None) -> Sheet:
    """A pinned layout as a sheet to fill; `longest` replaces its height where it may grow."""
    width, height = shapes.room(layout.sheet)
    height = height if longest is None else longest
    pins = []
    for placement in layout.placements:
        left, top, right, bottom = grown_box(shapes, placement)
        pin = (max(0, left), max(0, top), min(width, right), min(height, bottom))
        if pin[0] < pin[2] and pin[1] < pin[3]:
            pins.append(pin)
    return Sheet(max(0, width), max(0, height), tuple(pins), number)


def placed_box(shapes: Shapes, placed: Placed) -> Box:
    """The box of a grown piece."""
    kind, x, y, turned = placed
    width, height = shapes.widths[kind], shapes.heights[kind]
    return (x, y, x + height, y + width) if turned else (x, y, x + width, y + height)


def layout_from(task: Task, sheet: Sheet, size: Size) -> Layout:
    """A filled sheet as a layout: pinned pieces first, then those placed from the top down."""
    pinned = task.kept[sheet.number].placements if sheet.number >= 0 else ()
    placed: Sequence[Placed] = sorted((*sheet.seated, *sheet.placed), key=lambda p: (p[2], p[1]))
    return layout_of(task.shapes, placed, size, pinned)
