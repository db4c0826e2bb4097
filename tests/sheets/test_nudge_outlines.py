"""A piece let go among outlines is offered the nearest good spot, hollows included."""

from dataclasses import replace
from math import hypot

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry import MultiPolygon

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.nudge_outlines import contact_along, contact_move, nearest_good_move
from planner.sheets.outline import Outline
from planner.sheets.validate import faults, placed_outline

SHEET = Size(60, 60)
OUTLINES: dict[str, Outline] = {
    "hook": ((0, 0), (30, 0), (30, 6), (6, 6), (6, 30), (0, 30)),
    "wedge": ((0, 0), (16, 0), (0, 12)),
    "kite": ((4, 0), (8, 10), (4, 14), (0, 10)),
}
SIZES = {"hook": (30, 30), "wedge": (16, 12), "kite": (8, 14)}


def at(key: str, x_mm: float, y_mm: float) -> Placement:
    return Placement(key, x_mm, y_mm, *SIZES[key])


def move_of(layout: Layout, gap_mm: float, margin_mm: float = 2) -> tuple[float, float] | None:
    """The nearest good move of the first piece."""
    first, *rest = [placed_outline(p, OUTLINES[p.print]) for p in layout.placements]
    return nearest_good_move([first], rest, layout.sheet, gap_mm=gap_mm, margin_mm=margin_mm)


def is_good(layout: Layout, by: tuple[float, float], gap_mm: float) -> bool:
    first, *rest = layout.placements
    put = replace(first, x_mm=first.x_mm + by[0], y_mm=first.y_mm + by[1])
    found = faults(
        Layout(layout.sheet, (put, *rest)), gap_mm=gap_mm, margin_mm=2, way=Way.OUTLINE, outlines=OUTLINES
    )
    return not any(0 in fault.indices for fault in found)


def test_a_good_spot_is_left_alone() -> None:
    assert move_of(Layout(SHEET, (at("kite", 40, 40), at("hook", 4, 4))), gap_mm=2) == (0, 0)


def test_a_piece_on_a_hooks_arm_goes_into_its_hollow() -> None:
    # The wedge's square corner belongs 2 mm off both arms: 6 + 2 from the hook's corner.
    move = move_of(Layout(SHEET, (at("wedge", 10, 10), at("hook", 4, 4))), gap_mm=2)
    assert move == pytest.approx((2, 2), abs=0.02)


def test_a_hollow_that_fits_exactly_is_found() -> None:
    arms = Layout(SHEET, (at("hook", 21, 21), at("hook", 12, 12)))
    # The arms lie 21 - (12 + 6) = 3 mm apart, and 60 - (21 + 30) = 9 mm are left to the sheet's edge.
    assert move_of(arms, gap_mm=3, margin_mm=9) == pytest.approx((0, 0), abs=0.02)


def test_several_pieces_move_together() -> None:
    moving = [placed_outline(at(key, x, 20), OUTLINES[key]) for key, x in (("kite", 10), ("wedge", 30))]
    move = nearest_good_move(moving, [placed_outline(at("kite", 12, 20), None)], SHEET, gap_mm=1, margin_mm=2)
    assert move is not None
    assert hypot(*move) > 3


def test_where_only_far_room_is_left_it_is_found() -> None:
    full = [at("hook", x, y) for x in (2, 34) for y in (2, 34) if (x, y) != (34, 34)]
    covered = [replace(p, print="box") for p in full]
    shapes = [placed_outline(p, None) for p in covered]
    move = nearest_good_move(
        [placed_outline(at("kite", 4, 4), OUTLINES["kite"])], shapes, SHEET, gap_mm=1, margin_mm=2
    )
    assert move is not None
    assert 4 + move[0] + 4 > 30
    assert 4 + move[1] + 8 > 30


def test_a_full_sheet_has_no_spot() -> None:
    everything = placed_outline(Placement("box", 2, 2, 56, 56), None)
    mover = placed_outline(at("kite", 10, 10), OUTLINES["kite"])
    assert nearest_good_move([mover], [everything], SHEET, gap_mm=1, margin_mm=2) is None
    assert nearest_good_move([everything], [], Size(50, 60), gap_mm=1, margin_mm=2) is None


@settings(max_examples=40, deadline=None)
@example([("hook", 0, 3), ("kite", 8, 8)], 0)
@given(
    st.lists(
        st.tuples(st.sampled_from(sorted(OUTLINES)), st.integers(-4, 50), st.integers(-4, 50)),
        min_size=2,
        max_size=5,
    ),
    st.sampled_from([0, 1, 3]),
)
def test_the_spot_is_good_and_no_half_millimetre_nearer_is(
    pieces: list[tuple[str, int, int]], gap_mm: int
) -> None:
    layout = Layout(SHEET, tuple(at(*piece) for piece in pieces))
    move = move_of(layout, gap_mm)
    around = [(dx / 2, dy / 2) for dx in range(-10, 11) for dy in range(-10, 11)]
    good = [by for by in around if is_good(layout, by, gap_mm)]
    if move is not None:
        assert is_good(layout, move, gap_mm)
    if good:
        assert move is not None
        assert hypot(*move) <= min(hypot(*by) for by in good) + 0.05


@settings(max_examples=60, deadline=None)
@example(1.0, 34.0, 1.5, True)
@given(st.floats(-40, 40), st.floats(-40, 40), st.sampled_from([0.0, 1.5, 12.0]), st.booleans())
def test_a_contact_is_just_the_gap_away_and_within_reach(
    dx_mm: float, dy_mm: float, gap_mm: float, turned: bool
) -> None:
    hook = placed_outline(at("hook", 0, 0), OUTLINES["hook"])
    wedge = placed_outline(at("wedge", dx_mm, dy_mm), OUTLINES["wedge"])
    wedge = affinity.rotate(wedge, 37) if turned else wedge
    move = contact_move(MultiPolygon([wedge]), [hook], gap_mm=gap_mm, reach_mm=4)
    if move is None:
        assert not gap_mm <= wedge.distance(hook) <= gap_mm + 4
        return
    assert hypot(*move) <= 4 + 1e-9
    assert affinity.translate(wedge, *move).distance(hook) == pytest.approx(gap_mm, abs=0.016)
    for is_across in (True, False):
        way = contact_along(MultiPolygon([wedge]), [hook], gap_mm=gap_mm, reach_mm=4, is_across=is_across)
        if way is not None:
            put = affinity.translate(wedge, *((way, 0) if is_across else (0, way)))
            assert put.distance(hook) == pytest.approx(gap_mm, abs=0.016)
            assert abs(way) >= hypot(*move) - 0.02
