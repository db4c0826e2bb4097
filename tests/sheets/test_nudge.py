"""A piece let go in a bad place is offered the nearest good one."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.nudge import Feature, nearest_good_spot, snap_lines
from planner.sheets.validate import faults


def layout_of(*boxes: tuple[float, float, float, float]) -> Layout:
    return Layout(Size(60, 60), tuple(Placement(f"print {i}", *box) for i, box in enumerate(boxes)))


def moved(layout: Layout, index: int, x_mm: float, y_mm: float) -> Layout:
    placements = list(layout.placements)
    placements[index] = replace(placements[index], x_mm=x_mm, y_mm=y_mm)
    return replace(layout, placements=tuple(placements))


def is_good(layout: Layout, index: int, gap_mm: float, margin_mm: float) -> bool:
    found = faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=Way.LOOSE)
    return not any(index in fault.indices for fault in found)


def test_a_good_spot_is_left_alone() -> None:
    assert nearest_good_spot(layout_of((5, 5, 10, 10), (30, 30, 10, 10)), 0, gap_mm=2, margin_mm=3) == (5, 5)


def test_an_overlapping_piece_goes_to_the_gap_beside_its_neighbour() -> None:
    layout = layout_of((10, 10, 20, 20), (28, 11, 20, 20))
    assert nearest_good_spot(layout, 1, gap_mm=2, margin_mm=3) == (32, 11)


def test_a_full_sheet_has_no_spot() -> None:
    layout = layout_of((3, 3, 54, 40), (10, 30, 20, 20))
    assert nearest_good_spot(layout, 1, gap_mm=2, margin_mm=3) is None


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(-5, 55), st.integers(-5, 55), st.integers(4, 25), st.integers(4, 25)),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from([0, 1, 2]),
)
def test_no_whole_millimetre_spot_is_nearer(boxes: list[tuple[int, int, int, int]], gap_mm: int) -> None:
    layout = layout_of(*boxes)
    spot = nearest_good_spot(layout, 0, gap_mm=gap_mm, margin_mm=2)
    x, y, _, _ = boxes[0]
    # All numbers are whole millimetres, so trying every one of them is a complete search.
    good = [
        (a, b)
        for a in range(0, 60, 1)
        for b in range(0, 60, 1)
        if abs(a - x) + abs(b - y) < 24 and is_good(moved(layout, 0, a, b), 0, gap_mm, 2)
    ]
    if spot is None:
        assert not good
        return
    assert is_good(moved(layout, 0, *spot), 0, gap_mm, 2)
    least = min(((a - x) ** 2 + (b - y) ** 2 for a, b in good), default=None)
    if least is not None:
        assert (spot[0] - x) ** 2 + (spot[1] - y) ** 2 <= least + 1e-6


def test_snap_lines_know_margins_middles_edges_and_gaps() -> None:
    layout = layout_of((20, 20, 10, 10), (40, 45, 8, 6))
    lines = snap_lines(layout, 1, 2, 3)
    for at_mm, is_vertical, feature, to_mm in [
        (3.4, True, Feature.MARGIN, 3),
        (48.8, True, Feature.MARGIN, 60 - 3 - 8),
        (26.2, True, Feature.SHEET_CENTRE, 26),
        (19.6, True, Feature.EDGE, 20),
        (32.3, True, Feature.GAP, 32),
        (21.3, True, Feature.CENTRE, 21),
        (12.3, False, Feature.GAP, 20 - 2 - 6),
    ]:
        line = lines.nearest(at_mm, 0.5, is_vertical=is_vertical)
        assert line is not None
        assert (line.feature, line.to_mm) == (feature, pytest.approx(to_mm))
    assert lines.nearest(15.5, 0.5, is_vertical=True) is None
