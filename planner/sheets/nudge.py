"""Help for a hand that moves pieces: the nearest good spot, and lines to snap to."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from planner.measures.layout import Layout
from planner.sheets.micrometres import place_um, size_um, to_mm

_Box = tuple[int, int, int, int]


def nearest_good_spot(
    layout: Layout, index: int, *, gap_mm: float, margin_mm: float
) -> tuple[float, float] | None:
    """Where the placement's top left corner would have to go to be in nobody's way, as near as can be.

    Its present spot where that is good already; None where the sheet has no room for it. Boxes count,
    not outlines. The answer is exact: the nearest good spot is against an edge of another piece, of the
    margin, or straight across from where the piece is, and all of these are looked at.
    """
    piece = layout.placements[index]
    x, y = place_um(piece.x_mm), place_um(piece.y_mm)
    width, height = size_um(piece.width_mm), size_um(piece.height_mm)
    gap, margin = place_um(gap_mm), place_um(margin_mm)
    lowest_x, lowest_y = margin, margin
    highest_x = place_um(layout.sheet.width_mm) - margin - width
    highest_y = place_um(layout.sheet.height_mm) - margin - height
    if highest_x < lowest_x or highest_y < lowest_y:
        return None
    barred = [
        (box[0] - gap - width, box[1] - gap - height, box[2] + gap, box[3] + gap)
        for i, box in enumerate(_boxes(layout))
        if i != index
    ]
    home_x, home_y = min(max(x, lowest_x), highest_x), min(max(y, lowest_y), highest_y)
    if (home_x, home_y) == (x, y) and _is_free(barred, x, y):
        return piece.x_mm, piece.y_mm
    xs = _candidates((edge for b in barred for edge in (b[0], b[2])), home_x, lowest_x, highest_x)
    best: tuple[int, int, int] | None = None
    for at_x in sorted({home_x, *xs}, key=lambda value: abs(value - x)):
        far = (at_x - x) ** 2
        if best is not None and far >= best[0]:
            break
        spans = sorted((b[1], b[3]) for b in barred if b[0] < at_x < b[2])
        for at_y in _free_beside(spans, home_y, lowest_y, highest_y):
            distance = far + (at_y - y) ** 2
            if best is None or distance < best[0]:
                best = distance, at_x, at_y
    return None if best is None else (to_mm(best[1]), to_mm(best[2]))


def _boxes(layout: Layout) -> list[_Box]:
    found = []
    for placement in layout.placements:
        left, top = place_um(placement.x_mm), place_um(placement.y_mm)
        found.append((left, top, left + size_um(placement.width_mm), top + size_um(placement.height_mm)))
    return found


def _candidates(edges: Iterable[int], home: int, lowest: int, highest: int) -> set[int]:
    return {home, lowest, highest, *(edge for edge in edges if lowest <= edge <= highest)}


def _is_free(barred: list[_Box], x: int, y: int) -> bool:
    return not any(left < x < right and top < y < bottom for left, top, right, bottom in barred)


def _free_beside(spans: list[tuple[int, int]], home: int, lowest: int, highest: int) -> list[int]:
    """The nearest coordinates up and down from `home` that no span bars (ends are free)."""
    merged: list[tuple[int, int]] = []
    for start, end in spans:
        if merged and start < merged[-1][1]:
            merged[-1] = merged[-1][0], max(merged[-1][1], end)
        else:
            merged.append((start, end))
    for start, end in merged:
        if start < home < end:
            return [value for value in (start, end) if lowest <= value <= highest]
    return [home]


class Feature(StrEnum):
    """What a snap line belongs to."""

    MARGIN = "margin"
    SHEET_CENTRE = "sheet_centre"
    EDGE = "edge"
    """In line with an edge of another piece."""
    GAP = "gap"
    """Exactly the gap away from another piece."""
    CENTRE = "centre"
    """In line with the middle of another piece."""


@dataclass(frozen=True, slots=True)
class SnapLine:
    """A place where one side or the middle of the moved piece meets something.

    `is_vertical` lines fix x: put the piece's left edge at `to_mm` and the guide is drawn at `guide_mm`;
    others fix y in the same manner with the top edge. `other` is the placement it belongs to, if any.
    """

    feature: Feature
    is_vertical: bool
    to_mm: float
    guide_mm: float
    other: int | None = None


class SnapLines:
    """All lines for one moved piece, made once at the start of a drag and asked at every move."""

    def __init__(self, lines: Iterable[SnapLine]) -> None:
        self.lines = tuple(lines)
        self._by_axis: dict[bool, tuple[list[float], list[SnapLine]]] = {}
        for is_vertical in (True, False):
            rank = list(Feature)
            own = sorted(
                (line for line in self.lines if line.is_vertical == is_vertical),
                key=lambda line: (line.to_mm, rank.index(line.feature)),
            )
            self._by_axis[is_vertical] = [line.to_mm for line in own], own

    def nearest(self, at_mm: float, within_mm: float, *, is_vertical: bool) -> SnapLine | None:
        """The line nearest to a left (or top) edge at `at_mm`, if one is within reach."""
        places, lines = self._by_axis[is_vertical]
        near = lines[bisect_left(places, at_mm - within_mm) : bisect_right(places, at_mm + within_mm)]
        return min(near, key=lambda line: abs(line.to_mm - at_mm), default=None)


def snap_lines(layout: Layout, index: int, gap_mm: float, margin_mm: float) -> SnapLines:
    """Where the placement may snap to: margins, the sheet's middle, other pieces' edges, gaps, middles."""
    moved = layout.placements[index]
    lines: list[SnapLine] = []
    for is_vertical in (True, False):
        length = moved.width_mm if is_vertical else moved.height_mm
        whole = layout.sheet.width_mm if is_vertical else layout.sheet.height_mm
        lines += [
            SnapLine(Feature.MARGIN, is_vertical, margin_mm, margin_mm),
            SnapLine(Feature.MARGIN, is_vertical, whole - margin_mm - length, whole - margin_mm),
            SnapLine(Feature.SHEET_CENTRE, is_vertical, (whole - length) / 2, whole / 2),
        ]
        for number, other in enumerate(layout.placements):
            if number == index:
                continue
            start = other.x_mm if is_vertical else other.y_mm
            end = start + (other.width_mm if is_vertical else other.height_mm)
            middle = (start + end) / 2
            lines += [
                SnapLine(Feature.EDGE, is_vertical, start, start, number),
                SnapLine(Feature.EDGE, is_vertical, end - length, end, number),
                SnapLine(Feature.GAP, is_vertical, end + gap_mm, end + gap_mm, number),
                SnapLine(Feature.GAP, is_vertical, start - gap_mm - length, start - gap_mm, number),
                SnapLine(Feature.CENTRE, is_vertical, middle - length / 2, middle, number),
            ]
    return SnapLines(lines)
