"""Cut lists free every piece, cross none, and set the stop seldom."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.arrange import arrange
from planner.sheets.cuts import Direction, NotSeparable, cut_list, replay, set_ups
from planner.sheets.problem import FixedSheet, Piece, Request


def grid(columns: int, rows: int, gap_mm: float, margin_mm: float) -> Layout:
    placements = tuple(
        Placement("badge", margin_mm + c * (50 + gap_mm), margin_mm + r * (30 + gap_mm), 50, 30)
        for r in range(rows)
        for c in range(columns)
    )
    width = 2 * margin_mm + columns * (50 + gap_mm) - gap_mm
    height = 2 * margin_mm + rows * (30 + gap_mm) - gap_mm
    return Layout(Size(width, height), placements)


def test_a_grid_without_gaps_needs_two_settings() -> None:
    cuts = cut_list(grid(4, 3, 0, 0))
    # 3 cuts down make 4 columns, 2 cuts across each: 3 + 4 × 2, or the other way round 2 + 3 × 3.
    assert len(cuts) == 11
    assert set_ups(cuts) == 2
    assert replay(cuts, grid(4, 3, 0, 0)).is_clean


def test_gaps_and_margins_are_trimmed_off_with_few_settings() -> None:
    layout = grid(3, 2, 4, 6)
    cuts = cut_list(layout)
    assert replay(cuts, layout).is_clean
    # One setting each for margin and gap, and for either side of the pieces.
    assert set_ups(cuts) <= 5


def test_a_measure_serves_both_ways_with_one_setting() -> None:
    # A lone piece in margins of 6 mm all round: cut, turn, cut; then its own two sides.
    cuts = cut_list(grid(1, 1, 0, 6))
    assert len(cuts) == 4
    assert {cut.measure_mm for cut in cuts if cut.is_new_setting} == {6, 50, 30}
    assert set_ups(cuts) == 3
    assert replay(cuts, grid(1, 1, 0, 6)).is_clean


def test_steps_are_numbered_and_measures_are_taken_from_the_part() -> None:
    cuts = cut_list(grid(2, 1, 0, 10))
    assert [cut.step for cut in cuts] == list(range(1, len(cuts) + 1))
    for cut in cuts:
        start = cut.part.x_mm if cut.direction is Direction.DOWN else cut.part.y_mm
        assert cut.measure_mm == pytest.approx(cut.at_mm - start)


def test_a_pinwheel_has_no_cut_list() -> None:
    boxes = [(0, 0, 60, 40), (60, 0, 40, 60), (40, 60, 60, 40), (0, 40, 40, 60)]
    layout = Layout(Size(100, 100), tuple(Placement("blade", *box) for box in boxes))
    with pytest.raises(NotSeparable) as caught:
        cut_list(layout)
    assert caught.value.indices == (0, 1, 2, 3)


def test_the_replay_sees_a_cut_through_a_piece_and_a_piece_left_unparted() -> None:
    layout = grid(2, 1, 0, 0)
    (cut,) = cut_list(layout)
    crossing = replay([replace(cut, at_mm=30.0)], layout)
    assert crossing.crossed == ((1, 0),)
    assert not crossing.is_clean
    assert replay([], layout).pieces == (None, None)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(10, 200), st.integers(10, 200), st.integers(1, 4)), min_size=1, max_size=6
    ),
    st.sampled_from([0, 2, 3.175]),
    st.sampled_from([0, 5, 6.35]),
)
def test_every_straight_layout_has_a_list_that_frees_every_piece(
    sizes: list[tuple[int, int, int]], gap_mm: float, margin_mm: float
) -> None:
    pieces = tuple(Piece(f"print {i}", w, h, n) for i, (w, h, n) in enumerate(sizes))
    sheet = FixedSheet(Size(290, 410))
    for layout in arrange(Request(pieces, (sheet,), gap_mm, margin_mm, Way.STRAIGHT, rounds=3)).layouts:
        assert replay(cut_list(layout), layout).is_clean
