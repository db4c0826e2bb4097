"""Axes and labels of the chart."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.window.offers.scale import Scale, kept_apart, step_for, ticks


@pytest.mark.parametrize(
    ("span", "most", "step"), [(10.7, 6, 2.0), (202, 7, 50.0), (1.0, 10, 0.1), (0.2, 2, 0.1), (9, 4, 5.0)]
)
def test_steps_are_the_smallest_round_ones(span: float, most: int, step: float) -> None:
    assert step_for(span, most) == pytest.approx(step)


def test_a_step_is_never_finer_than_what_there_is_one_of() -> None:
    assert step_for(3, 60, least=1) == 1


@given(st.floats(0.01, 1e6), st.integers(1, 40))
def test_steps_cut_a_span_into_no_more_parts_than_asked_for(span: float, most: int) -> None:
    assert span / step_for(span, most) <= most * (1 + 1e-6)


def test_ticks_include_both_ends() -> None:
    assert ticks(0, 1, 0.25) == pytest.approx((0, 0.25, 0.5, 0.75, 1))


@given(st.floats(0, 100), st.floats(1, 500))
def test_pixels_lead_back_to_figures(low: float, span: float) -> None:
    scale = Scale(low, low + span, 300, 20)
    assert scale.figure(scale.pixel(low + span / 3)) == pytest.approx(low + span / 3)


@given(st.lists(st.floats(-50, 400), min_size=1, max_size=8))
def test_labels_do_not_touch_and_stay_inside(wanted: list[float]) -> None:
    placed = kept_apart(wanted, 20, 0, 300)
    tops = sorted(placed)
    assert all(after - before >= 20 - 1e-6 for before, after in pairwise(tops))
    assert tops[0] >= 10 - 1e-6
    assert tops[-1] <= 290 + 1e-6
    order = sorted(range(len(wanted)), key=lambda number: wanted[number])
    assert [placed[number] for number in order] == tops


def test_labels_with_room_stay_where_they_are_wanted() -> None:
    assert kept_apart([200, 40, 120], 20, 0, 300) == (200, 40, 120)
