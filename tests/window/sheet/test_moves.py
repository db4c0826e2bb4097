"""Edits of layouts, snapping and the nearest good spot, without a window."""

import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement, Way
from planner.measures.lengths import LengthUnit, UnreadableLength, parse_length
from planner.sheets.nudge import Feature
from planner.sheets.validate import faults
from planner.window.positions import read_position, say_position
from planner.window.sheet import moves
from planner.window.sheet.fault_marks import FaultMark, marks_of
from planner.window.sheet.moves import Ref, Room, Side
from planner.window.sheet.rulers import steps_for
from planner.window.sheet.snapping import Catcher
from planner.window.sheet.spots import nearest_spot

SHEET = Size(300, 400)
ROOM = Room(3, 5)


def piece(x_mm: float, y_mm: float, width_mm: float = 40, height_mm: float = 20) -> Placement:
    return Placement("p1", x_mm, y_mm, width_mm, height_mm)


def layouts(*placements: Placement) -> moves.Layouts:
    return (Layout(SHEET, placements),)


BOXES = st.builds(piece, st.integers(-50, 320), st.integers(-50, 420), st.integers(5, 90), st.integers(5, 90))


@settings(max_examples=80, deadline=None)
@given(BOXES, st.lists(BOXES, max_size=12))
def test_the_nearest_spot_has_nothing_in_the_way_of_the_piece(
    moving: Placement, rest: list[Placement]
) -> None:
    spot = nearest_spot([moving], rest, SHEET, gap_mm=3, margin_mm=5)
    if spot is None:
        return
    there = replace(moving, x_mm=moving.x_mm + spot[0], y_mm=moving.y_mm + spot[1])
    found = faults(Layout(SHEET, (there, *rest)), gap_mm=3, margin_mm=5, way=Way.LOOSE)
    # What is wrong among the others is not the piece's business.
    assert not [fault for fault in found if 0 in fault.indices]


@settings(max_examples=60, deadline=None)
@given(BOXES, BOXES, st.lists(BOXES, max_size=8))
def test_several_pieces_find_a_spot_together(one: Placement, two: Placement, rest: list[Placement]) -> None:
    spot = nearest_spot([one, two], rest, SHEET, gap_mm=3, margin_mm=5)
    if spot is None:
        return
    there = [replace(p, x_mm=p.x_mm + spot[0], y_mm=p.y_mm + spot[1]) for p in (one, two)]
    found = faults(Layout(SHEET, (*there, *rest)), gap_mm=3, margin_mm=5, way=Way.LOOSE)
    assert not [fault for fault in found if set(fault.indices) & {0, 1} and fault.indices != (0, 1)]


def test_a_gap_to_a_piece_that_lies_elsewhere_does_not_catch() -> None:
    # The gap right of the other would be at 103; it lies far above, so nothing is caught.
    catcher = Catcher(Size(40, 20), [piece(60, 20).box], SHEET, gap_mm=3, margin_mm=5)
    assert catcher.snap(Rect(103.4, 150, 40, 20), 1).guides == ()


@settings(max_examples=30, deadline=None)
@given(BOXES, st.lists(BOXES, max_size=4))
def test_no_spot_on_a_raster_is_nearer_than_the_one_found(moving: Placement, rest: list[Placement]) -> None:
    spot = nearest_spot([moving], rest, SHEET, gap_mm=3, margin_mm=5)
    best = None if spot is None else spot[0] ** 2 + spot[1] ** 2
    for dx in range(-320, 321, 20):
        for dy in range(-420, 421, 20):
            there = replace(moving, x_mm=moving.x_mm + dx, y_mm=moving.y_mm + dy)
            found = faults(Layout(SHEET, (there, *rest)), gap_mm=3, margin_mm=5, way=Way.LOOSE)
            if not [fault for fault in found if 0 in fault.indices]:
                assert best is not None
                assert best <= dx * dx + dy * dy + 0.01


def test_a_turn_keeps_the_centre_and_four_turns_are_none() -> None:
    was = layouts(piece(100, 100))
    now = was
    for _ in range(4):
        now = moves.turned(now, [Ref(0, 0)])
    assert now[0].placements[0] == replace(was[0].placements[0], pinned=True)


def test_equal_space_leaves_the_outermost_two() -> None:
    three = layouts(piece(10, 0), piece(200, 0), piece(60, 0))
    after = moves.distributed(three, [Ref(0, 0), Ref(0, 1), Ref(0, 2)], across=True)
    assert [p.x_mm for p in after[0].placements] == [10, 200, 105]


@pytest.mark.parametrize(
    ("side", "corner"),
    [
        (Side.LEFT, (5, 70)),
        (Side.RIGHT, (255, 70)),
        (Side.CENTRE, (130, 70)),
        (Side.TOP, (50, 5)),
        (Side.BOTTOM, (50, 375)),
        (Side.MIDDLE, (50, 190)),
    ],
)
def test_one_piece_alone_aligns_with_the_margin_or_the_centre_line(
    side: Side, corner: tuple[float, float]
) -> None:
    after = moves.lined_up(layouts(piece(50, 70)), [Ref(0, 0)], side, ROOM)[0].placements[0]
    assert (after.x_mm, after.y_mm) == corner


def test_several_pieces_align_with_each_other() -> None:
    after = moves.lined_up(layouts(piece(50, 70), piece(90, 10)), [Ref(0, 0), Ref(0, 1)], Side.LEFT, ROOM)
    assert [p.x_mm for p in after[0].placements] == [50, 50]


def test_carrying_to_a_full_sheet_still_lands_and_loses_nothing() -> None:
    two = (Layout(SHEET, (piece(0, 0),)), Layout(SHEET, (piece(5, 5, 290, 390),)))
    after, refs = moves.carried(two, [Ref(0, 0)], 1, ROOM)
    assert [len(layout.placements) for layout in after] == [2]
    assert refs == (Ref(0, 1),)


def test_a_new_sheet_is_printed_as_often_as_the_one_its_piece_comes_from() -> None:
    often = (Layout(SHEET, (piece(0, 0), piece(100, 100)), runs=31),)
    after, refs = moves.carried(often, [Ref(0, 0)], SHEET, ROOM)
    assert [layout.runs for layout in after] == [31, 31]
    assert refs == (Ref(1, 0),)


def test_a_gap_wins_over_an_edge_equally_near() -> None:
    box, other = Rect(103.2, 50, 40, 20), Rect(60, 45, 40, 30)
    catcher = Catcher(Size(40, 20), [other], SHEET, gap_mm=3, margin_mm=5)
    caught = catcher.snap(box, 2)
    assert caught.dx_mm == pytest.approx(-0.2)
    assert caught.guides[0].feature is Feature.GAP
    assert caught.dy_mm == pytest.approx(0)  # centre lines: 60 and 60


def test_nothing_within_reach_leaves_the_box_alone() -> None:
    caught = Catcher(Size(40, 20), [], SHEET, gap_mm=3, margin_mm=5).snap(Rect(97, 151, 40, 20), 2)
    assert (caught.dx_mm, caught.dy_mm, caught.guides) == (0, 0, ())


def test_hatched_areas_are_where_the_faults_are() -> None:
    layout = Layout(SHEET, (piece(-4, 100), piece(30, 110), piece(2, 200)))
    found = faults(layout, gap_mm=3, margin_mm=5, way=Way.LOOSE)
    marks = marks_of(layout, found, ROOM, unit=LengthUnit.MILLIMETRE, name_of=lambda key: "logo")
    by_tag = {mark.tag: mark for mark in marks}
    assert set(by_tag) == {"4.00 mm off the sheet", "overlap 6.00 mm", "3.00 mm into the margin"}
    assert by_tag["4.00 mm off the sheet"].areas[0].bounds == (-4, 100, 0, 120)
    assert by_tag["overlap 6.00 mm"].areas[0].bounds == (30, 110, 36, 120)
    assert by_tag["3.00 mm into the margin"].areas[0].bounds == (2, 200, 5, 220)
    assert by_tag["overlap 6.00 mm"].sentence == (
        "Two copies of “logo” overlap by 6.00 mm. This offer needs a gap of 3.00 mm: "
        "move one of them 9.00 mm aside."
    )
    assert by_tag["4.00 mm off the sheet"].sentence == (
        "“logo” reaches 4.00 mm over the sheet's edge and would be cut off. "
        "This offer keeps 5.00 mm clear inside it: move it in."
    )


@pytest.mark.parametrize("unit", LengthUnit)
@pytest.mark.parametrize("gap_mm", [3.0, 0.0])
@pytest.mark.parametrize("x_mm", [69.123, 62.0, 75.999])
def test_a_piece_moved_aside_as_far_as_told_overlaps_no_more_and_keeps_the_gap(
    x_mm: float, gap_mm: float, unit: LengthUnit
) -> None:
    def faulty(x_mm: float) -> tuple[FaultMark, ...]:
        layout = Layout(SHEET, (piece(40, 100), piece(x_mm, 100)))
        found = faults(layout, gap_mm=gap_mm, margin_mm=5, way=Way.LOOSE)
        room = replace(ROOM, gap_mm=gap_mm)
        return marks_of(layout, found, room, unit=unit, name_of=lambda key: "logo")

    (mark,) = faulty(x_mm)
    told = re.search(r"([\d.]+) (mm|in) aside", mark.sentence)
    assert told is not None
    assert faulty(x_mm + parse_length(told[1], unit)) == ()


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ("0", 0),
        ("0 in", 0),
        ("0.0mm", 0),
        ("-1/4", -6.35),
        ("−2 mm", -2),
        ("3 1/2 in", 88.9),
        ("12.5 mm", 12.5),
    ],
)
def test_places_may_be_zero_or_negative(typed: str, mm: float) -> None:
    assert read_position(typed, LengthUnit.INCH) == pytest.approx(mm)


@pytest.mark.parametrize("typed", ["", "in", "-", "left", "1 2 3"])
def test_what_is_no_place_is_refused_with_a_sentence(typed: str) -> None:
    with pytest.raises(UnreadableLength, match="is not a length"):
        read_position(typed, LengthUnit.INCH)


def test_places_are_said_as_they_are_read() -> None:
    assert say_position(-6.35, LengthUnit.INCH) == "-0.25 in"
    assert say_position(-0.000001, LengthUnit.INCH) == "0 in"
    assert say_position(62.5, LengthUnit.MILLIMETRE) == "62.5 mm"


@pytest.mark.parametrize("scale", [0.05, 0.2, 0.9, 3.7, 20.0])
def test_ruler_labels_stand_on_ticks_and_never_crowd(scale: float) -> None:
    for unit in LengthUnit:
        tick, label = steps_for(scale, unit)
        assert label / tick == pytest.approx(round(label / tick))
        assert label * scale >= 40
        assert tick * scale >= 3
