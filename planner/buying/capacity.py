"""What one sheet can hold at most, as linear rows: for every row, Σ row[i] × copies of i ≤ 1 on any sheet.

A dual feasible function f maps lengths so that lengths which fit in a line side by side have images that
add up to at most 1. For two such functions f, g, whatever the layout, Σ f(width) × g(height) over the
pieces of one sheet is at most 1 (S. Fekete & J. Schepers, "A general framework for bounds for
higher-dimensional orthogonal packing problems", Math. Methods Oper. Res. 60, 2004). Pieces that may turn
count with the smaller of their two images. On the same sheet a piece lies one way for all functions at
once, so a mean of rows, taken before the smaller image is, can hold back more than any row of it; a linear
programme finds the mean that holds back most of what is needed. Everything is rounded so that a row may
only get weaker.
"""

from collections.abc import Sequence
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from planner.buying.measured_rows import Places, made_to_measure
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way

Rows = NDArray[np.float64]
_UNITS_A_MM = 100
_SAFE = 1e-9


def capacity_rows(wants: Sequence[Want], sheet: Size, *, gap_mm: float, margin_mm: float, way: Way) -> Rows:
    """All rows that are known for these wants: one line a row, one column a want.

    For each want there is also a row of its own: so many copies at most fit on a sheet. And there is the
    mean of rows that asks for most sheets.
    """
    room = Size(
        sheet.width_mm - 2 * margin_mm + gap_mm,
        sheet.height_mm - 2 * margin_mm + gap_mm,
    )
    if way is Way.OUTLINE:
        return np.array([_outline_row(wants, sheet)])
    sides = [
        (
            floor((w.size.width_mm + gap_mm) * _UNITS_A_MM + 1e-6),
            floor((w.size.height_mm + gap_mm) * _UNITS_A_MM + 1e-6),
        )
        for w in wants
    ]
    turns = [want.may_turn for want in wants]
    full = (ceil(room.width_mm * _UNITS_A_MM - 1e-6), ceil(room.height_mm * _UNITS_A_MM - 1e-6))
    across = [s for (w, h), turn in zip(sides, turns, strict=True) for s in ((w, h) if turn else (w,))]
    along = [s for (w, h), turn in zip(sides, turns, strict=True) for s in ((h, w) if turn else (h,))]
    places = Places(sides, turns, _reachable(full[0], across), _reachable(full[1], along))
    needs = np.array([want.wanted for want in wants], dtype=float)
    both = places.usual()
    most = np.floor(1 / np.maximum(places.smaller(both).max(axis=0), 1e-4) + 1e-6)
    singly = np.diag(1 / most - _SAFE)
    measured, mean = made_to_measure(places, np.concatenate([both, np.tile(singly, 2)]), needs)
    rows = np.unique(places.smaller(np.concatenate([both, measured])), axis=0)
    return np.concatenate([rows, singly, places.smaller(mean)])


def _outline_row(wants: Sequence[Want], sheet: Size) -> tuple[float, ...]:
    """Cut by outline pieces may reach into each other's boxes: only what they cover counts."""
    return tuple(covered_mm2(want) / sheet.area_mm2 - _SAFE for want in wants)


def covered_mm2(want: Want) -> float:
    """The area that one copy covers: within its outline, or its box."""
    outline = want.outline
    if outline is None:
        return want.size.area_mm2
    ends = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in ends)) / 2


def _reachable(room: int, sides: Sequence[int]) -> int:
    """The longest sum of sides within the room: no layout can use more of it."""
    if min(sides) * 2_000 < room:
        return room
    within = (1 << (room + 1)) - 1
    sums = 1
    for side in sorted(set(sides)):
        shift = side
        while shift <= room:
            sums |= (sums << shift) & within
            shift *= 2
    return sums.bit_length() - 1 or room
