"""Faults of a layout as areas to hatch and sentences to read."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from shapely import get_parts
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from planner.measures.figures import plain
from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.sheets.outline import rectangle
from planner.sheets.validate import Fault, FaultKind, placed_outline
from planner.window.sheet import words
from planner.window.sheet.moves import Room

_WORST = (
    FaultKind.OVERLAP,
    FaultKind.OFF_SHEET,
    FaultKind.IN_MARGIN,
    FaultKind.TOO_CLOSE,
    FaultKind.NOT_SEPARABLE,
)


@dataclass(frozen=True, slots=True)
class FaultMark:
    """One fault: where it is on the sheet, in a few words for the spot, and in a sentence."""

    kind: FaultKind
    indices: tuple[int, ...]
    tag: str
    sentence: str
    layout: Layout
    room: Room

    @property
    def areas(self) -> tuple[Polygon, ...]:
        """What to hatch, in mm on the sheet: by true outlines where the room is kept by those."""
        shapes = tuple(shape_of(self.layout.placements[index], self.room) for index in self.indices)
        wrong = _wrong_part(self.kind, shapes, self.layout.sheet, self.room)
        return tuple(part for part in get_parts(wrong) if isinstance(part, Polygon)) or shapes

    @property
    def box(self) -> Rect:
        """The box around what is hatched."""
        left, top, right, bottom = MultiPolygon(self.areas).bounds
        return Rect(left, top, right - left, bottom - top)


def exact(length_mm: float, unit: LengthUnit, *, at_least: bool = False) -> str:
    """A short length to the hundredth of an inch or millimetre; less than that is said so.

    `at_least` rounds up, for what must suffice.
    """
    figure = length_mm / MM_PER_INCH if unit is LengthUnit.INCH else length_mm
    if at_least:
        # What is a hundredth but for the arithmetic must not become the next one.
        figure = ceil(figure * 100 - 0.001) / 100
    return f"{plain(figure, 2)} {unit.value}" if figure >= 0.005 else words.least(unit.value)


def marks_of(
    layout: Layout,
    found: tuple[Fault, ...],
    room: Room,
    *,
    unit: LengthUnit,
    name_of: Callable[[str], str],
) -> tuple[FaultMark, ...]:
    """Areas and words for faults that `planner.sheets.validate` found on the layout, worst first."""
    return tuple(
        FaultMark(
            fault.kind,
            fault.indices,
            _tag(fault, unit),
            _sentence(fault, unit, room, name_of),
            layout,
            room,
        )
        for fault in sorted(found, key=lambda fault: (_WORST.index(fault.kind), -fault.by_mm))
    )


def shape_of(placement: Placement, room: Room) -> Polygon:
    """What of a piece is kept apart from others: its true outline, or its box."""
    if room.outlines:
        return placed_outline(placement, room.outlines.get(placement.print))
    box = placement.box
    return rectangle(box.width_mm, box.height_mm, box.x_mm, box.y_mm)


def grown(shape: Polygon, by_mm: float, room: Room) -> BaseGeometry:
    """A shape and all that is nearer to it than so much, as the room reckons."""
    return shape.buffer(by_mm, join_style="round" if room.outlines else "mitre")


def _wrong_part(kind: FaultKind, shapes: Sequence[Polygon], sheet: Size, room: Room) -> BaseGeometry:
    if kind is FaultKind.OVERLAP:
        return shapes[0].intersection(shapes[1])
    if kind is FaultKind.TOO_CLOSE:
        # Half the gap added to both meets in the middle of the strip between them.
        one, other = (grown(shape, room.gap_mm / 2, room) for shape in shapes)
        return one.intersection(other)
    if kind is FaultKind.OFF_SHEET:
        return shapes[0].difference(rectangle(sheet.width_mm, sheet.height_mm))
    if kind is FaultKind.IN_MARGIN:
        lost, margin = 2 * room.margin_mm, room.margin_mm
        return shapes[0].difference(rectangle(sheet.width_mm - lost, sheet.height_mm - lost, margin, margin))
    return MultiPolygon(shapes)


def _tag(fault: Fault, unit: LengthUnit) -> str:
    by = exact(fault.by_mm, unit)
    return {
        FaultKind.OVERLAP: words.overlap(by),
        FaultKind.TOO_CLOSE: words.too_close(by),
        FaultKind.OFF_SHEET: words.off_sheet(by),
        FaultKind.IN_MARGIN: words.in_margin(by),
        FaultKind.NOT_SEPARABLE: words.NO_STRAIGHT_CUT,
    }[fault.kind]


def _sentence(fault: Fault, unit: LengthUnit, room: Room, name_of: Callable[[str], str]) -> str:
    names = [f"“{name_of(key)}”" for key in fault.keys]
    by = exact(fault.by_mm, unit)
    gap, margin = (exact(asked, unit) if asked > 0 else "" for asked in (room.gap_mm, room.margin_mm))
    if fault.kind is FaultKind.OVERLAP:
        aside = exact(fault.by_mm + room.gap_mm, unit, at_least=True)
        return words.overlaps(names[0], names[1], by, gap, aside)
    if fault.kind is FaultKind.TOO_CLOSE:
        return words.lie_too_close(names[0], names[1], by, gap)
    if fault.kind is FaultKind.OFF_SHEET:
        return words.reaches_off(names[0], by, margin)
    if fault.kind is FaultKind.IN_MARGIN:
        return words.reaches_in(names[0], by, margin)
    return words.not_separable(len(fault.indices), by)
