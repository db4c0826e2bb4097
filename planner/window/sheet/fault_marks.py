"""Faults of a layout as areas to hatch and sentences to read."""

from collections.abc import Callable
from dataclasses import dataclass

from planner.measures.geometry import Rect
from planner.measures.layout import Layout
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.sheets.validate import Fault, FaultKind

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
    areas: tuple[Rect, ...]
    tag: str
    sentence: str


def exact(length_mm: float, unit: LengthUnit) -> str:
    """A short length to the hundredth of an inch or millimetre; less than that is said so."""
    figure = length_mm / MM_PER_INCH if unit is LengthUnit.INCH else length_mm
    return f"{figure:.2f} {unit.value}" if figure >= 0.005 else f"less than 0.01 {unit.value}"


def marks_of(
    layout: Layout,
    found: tuple[Fault, ...],
    *,
    gap_mm: float,
    margin_mm: float,
    unit: LengthUnit,
    name_of: Callable[[str], str],
) -> tuple[FaultMark, ...]:
    """Areas and words for faults that `planner.sheets.validate` found on the layout, worst first."""
    return tuple(
        FaultMark(
            fault.kind,
            fault.indices,
            _areas(layout, fault, gap_mm, margin_mm),
            _tag(fault, unit),
            _sentence(fault, unit, gap_mm, margin_mm, name_of),
        )
        for fault in sorted(found, key=lambda fault: (_WORST.index(fault.kind), -fault.by_mm))
    )


def _areas(layout: Layout, fault: Fault, gap_mm: float, margin_mm: float) -> tuple[Rect, ...]:
    boxes = [layout.placements[index].box for index in fault.indices]
    sheet = Rect(0, 0, layout.sheet.width_mm, layout.sheet.height_mm)
    if fault.kind is FaultKind.OVERLAP:
        shared = boxes[0].overlap(boxes[1])
        return (shared,) if shared else tuple(boxes)
    if fault.kind is FaultKind.TOO_CLOSE:
        # Half the gap added to both meets in the middle of the strip between them.
        shared = boxes[0].grown(gap_mm / 2).overlap(boxes[1].grown(gap_mm / 2))
        return (shared,) if shared else tuple(boxes)
    if fault.kind is FaultKind.OFF_SHEET:
        return tuple(_outside(boxes[0], sheet))
    if fault.kind is FaultKind.IN_MARGIN:
        return tuple(_outside(boxes[0], sheet.grown(-margin_mm)))
    return tuple(boxes)


def _outside(box: Rect, inside: Rect) -> list[Rect]:
    """The parts of a box that stick out to each side."""
    parts = []
    if box.x_mm < inside.x_mm:
        parts.append(Rect(box.x_mm, box.y_mm, min(box.right_mm, inside.x_mm) - box.x_mm, box.height_mm))
    if box.right_mm > inside.right_mm:
        start = max(box.x_mm, inside.right_mm)
        parts.append(Rect(start, box.y_mm, box.right_mm - start, box.height_mm))
    if box.y_mm < inside.y_mm:
        parts.append(Rect(box.x_mm, box.y_mm, box.width_mm, min(box.bottom_mm, inside.y_mm) - box.y_mm))
    if box.bottom_mm > inside.bottom_mm:
        start = max(box.y_mm, inside.bottom_mm)
        parts.append(Rect(box.x_mm, start, box.width_mm, box.bottom_mm - start))
    return parts


def _tag(fault: Fault, unit: LengthUnit) -> str:
    by = exact(fault.by_mm, unit)
    return {
        FaultKind.OVERLAP: f"overlap {by}",
        FaultKind.TOO_CLOSE: f"{by} too close",
        FaultKind.OFF_SHEET: f"{by} off the sheet",
        FaultKind.IN_MARGIN: f"{by} into the margin",
        FaultKind.NOT_SEPARABLE: "no straight cut",
    }[fault.kind]


def _sentence(
    fault: Fault, unit: LengthUnit, gap_mm: float, margin_mm: float, name_of: Callable[[str], str]
) -> str:
    names = [f"“{name_of(key)}”" for key in fault.keys]
    by = exact(fault.by_mm, unit)
    if fault.kind is FaultKind.OVERLAP:
        who = (
            f"Two copies of {names[0]} overlap" if names[0] == names[1] else f"{' and '.join(names)} overlap"
        )
        return f"{who} by {by}. Move one of them {by} aside."
    if fault.kind is FaultKind.TOO_CLOSE:
        who = f"Two copies of {names[0]}" if names[0] == names[1] else " and ".join(names)
        return f"{who} lie {by} too close: this offer needs a gap of {exact(gap_mm, unit)}."
    if fault.kind is FaultKind.OFF_SHEET:
        return f"{names[0]} reaches {by} over the sheet's edge and would be cut off. Move it in."
    if fault.kind is FaultKind.IN_MARGIN:
        return f"{names[0]} reaches {by} into the margin: this offer keeps {exact(margin_mm, unit)} clear."
    return (
        f"No straight cut from edge to edge frees these {len(fault.indices)} pieces. "
        f"Move one {by} aside, or cut this job loose."
    )
