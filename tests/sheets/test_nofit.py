"""Which moves make two outlines overlap, held against shapely's intersections."""

from math import cos, pi, sin

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import Polygon

from planner.sheets.nofit import contour, overlaps

Corners = list[tuple[float, float]]


@st.composite
def stars(draw: st.DrawFn) -> Corners:
    """Polygons with hollows, clockwise or not, from the corner of their box."""
    lengths = draw(st.lists(st.floats(2, 12), min_size=3, max_size=14))
    count = len(lengths)
    corners = [(r * cos(2 * pi * n / count), r * sin(2 * pi * n / count)) for n, r in enumerate(lengths)]
    left, top = (min(corner[axis] for corner in corners) for axis in (0, 1))
    moved = [(x - left, y - top) for x, y in corners]
    return moved[::-1] if draw(st.booleans()) else moved


@settings(max_examples=150, deadline=None)
@given(stars(), stars())
def test_overlapping_moves_are_those_that_share_area(one: Corners, other: Corners) -> None:
    still, moving = Polygon(one), Polygon(other)
    assume(still.is_valid and moving.is_valid)
    rows, columns = range(-25, 26), range(-26, 27)
    taken = overlaps(contour(one), contour(other), rows, columns)
    for row in rows[::3]:
        for column in columns[::3]:
            shared = still.intersection(affinity.translate(moving, column, row)).area
            # What shares next to nothing may be told either way.
            if shared == 0 or shared > 1e-4:
                assert taken[row - rows.start, column - columns.start] == (shared > 0)


def test_what_only_touches_does_not_overlap() -> None:
    square: Corners = [(0, 0), (4, 0), (4, 4), (0, 4)]
    taken = overlaps(contour(square), contour(square), range(-5, 6), range(-5, 6))
    inner = np.zeros((11, 11), dtype=bool)
    inner[2:9, 2:9] = True
    assert (taken == inner).all()


def test_a_hollow_takes_what_fits_into_it_exactly() -> None:
    angle: Corners = [(0, 0), (9, 0), (9, 3), (3, 3), (3, 9), (0, 9)]
    square: Corners = [(0, 0), (6, 0), (6, 6), (0, 6)]
    taken = overlaps(contour(angle), contour(square), range(0, 6), range(0, 6))
    assert not taken[3:, 3:].any()
    assert taken[:3].all()
    assert taken[:, :3].all()
