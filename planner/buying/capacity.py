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

from collections.abc import Callable, Sequence
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from planner.buying.solver import Programme, solve
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way

Rows = NDArray[np.float64]
_UNITS_A_MM = 100
_SAFE = 1e-9
_MEAN_S = 1.0
"""What the programme for a mean may take; it takes hundredths."""


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
    width, height = _reachable(full[0], across), _reachable(full[1], along)
    upright, turned = _products(sides, turns, width, height)
    rows = np.unique(_smaller(upright, turned), axis=0)
    most = np.floor(1 / np.maximum(rows.max(axis=0), 1e-4) + 1e-6)
    singly = np.diag(1 / most - _SAFE)
    mean = _mean_of_rows(
        np.concatenate([upright, singly]),
        np.concatenate([turned, singly]),
        np.array([want.wanted for want in wants], dtype=float),
    )
    return np.concatenate([rows, singly, mean])


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


def _functions(room: int, sides: Sequence[int]) -> list[Callable[[int], float]]:
    """Dual feasible functions on lengths within the room."""
    found: list[Callable[[int], float]] = [lambda x: x / room]
    shorts = sorted({side for side in sides if 2 * side <= room} | {room - s for s in sides if 2 * s > room})
    for short in [s for s in shorts if s > 0][:24]:

        def threshold(x: int, short: int = short) -> float:
            return 1.0 if x > room - short else 0.0 if x < short else x / room

        def counting(x: int, short: int = short) -> float:
            fits = room // short
            if 2 * x == room:
                return 0.5
            return ((fits - (room - x) // short) if 2 * x > room else x // short) / fits

        found += [threshold, counting]
    for k in range(1, 13):

        def rounded(x: int, k: int = k) -> float:
            scaled = (k + 1) * x
            return x / room if scaled % room == 0 else (scaled // room) / k

        found.append(rounded)
    return found


def _products(
    sides: Sequence[tuple[int, int]], turns: Sequence[bool], width: int, height: int
) -> tuple[Rows, Rows]:
    """All products of two functions, one column a want: (upright, turned), infinite where none lies so."""
    widths, heights = [w for w, _ in sides], [h for _, h in sides]
    everything = widths + heights
    across, along = _functions(width, everything), _functions(height, everything)

    def images(functions: list[Callable[[int], float]], lengths: list[int], room: int) -> Rows:
        # A side longer than the room: whatever is said of this position is taken back below.
        return np.array([[f(x) if x <= room else 0.0 for x in lengths] for f in functions])

    def products(lying_across: list[int], lying_along: list[int], may_lie_so: Sequence[bool]) -> Rows:
        one, other = images(across, lying_across, width), images(along, lying_along, height)
        both = (one[:, None, :] * other[None, :, :]).reshape(-1, len(sides))
        fit = (np.array(lying_across) <= width) & (np.array(lying_along) <= height)
        return np.where(fit & np.array(may_lie_so), both, np.inf)

    return products(widths, heights, [True] * len(sides)), products(heights, widths, turns)


def _smaller(upright: Rows, turned: Rows) -> Rows:
    """Rows in which every want counts as it counts least; what fits in no position holds nothing back."""
    rows = np.minimum(upright, turned)
    return np.maximum(0.0, np.where(np.isfinite(rows), rows, 1.0) - _SAFE)


def _mean_of_rows(upright: Rows, turned: Rows, needs: Rows) -> Rows:
    """The mean of rows that asks for most sheets, as one row; no row where none was found.

    The programme's variables are what each row weighs and what each want then counts at most: as much as
    either of its positions does.
    """
    both = np.unique(np.concatenate([upright, turned], axis=1), axis=0)
    many, wants = len(both), len(needs)
    can_lie = np.isfinite(both).all(axis=0)
    counts = np.concatenate([np.eye(wants), np.eye(wants)])
    lines = np.concatenate([-both.T, counts], axis=1)[can_lie]
    weighed = np.concatenate([np.ones(many), np.zeros(wants)])[None]
    none = np.full(len(lines), -np.inf)
    programme = Programme(
        np.concatenate([np.zeros(many), -needs]),
        np.concatenate([lines, weighed]),
        np.append(none, 1.0),
        np.append(np.zeros(len(lines)), 1.0),
        # What fits in no position is nothing to ask sheets for.
        np.concatenate([np.ones(many), 1.0 * (can_lie[:wants] | can_lie[wants:])]),
        whole=False,
    )
    solution = solve(programme, budget_s=_MEAN_S)
    weights = np.maximum(0.0, solution.values[:many])
    if not weights.any():
        return np.zeros((0, wants))
    used = weights > 0
    means = np.full(2 * wants, np.inf)
    means[can_lie] = weights[used] @ both[used][:, can_lie] / weights.sum()
    return _smaller(means[None, :wants], means[None, wants:])
