"""Nesting by outline: never worse than boxes, safe against bad outlines, gone when stopped."""

import multiprocessing
import threading
from dataclasses import replace
from math import nan
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way, placed_about, sheets_with
from planner.sheets.arrange import arrange, pack_one
from planner.sheets.nest import grown_outline
from planner.sheets.problem import Arrangement, FixedSheet, Piece, Request, Roll
from planner.sheets.validate import faults, placed_outline
from planner.work.ticket import Ticket

ANGLE = Piece("angle", 100, 100, 4, outline=((0, 0), (100, 0), (100, 30), (30, 30), (30, 100), (0, 100)))
DOT = ((30, 0), (60, 30), (30, 60), (0, 30))
PENNANT = Piece("pennant", 100, 90, 6, outline=((0, 0), (100, 0), (0, 90)))


def assert_sound(request: Request, answer: Arrangement) -> None:
    outlines = {piece.key: piece.outline for piece in request.pieces}
    for layout in answer.layouts:
        assert not faults(
            layout, gap_mm=request.gap_mm, margin_mm=request.margin_mm, way=Way.OUTLINE, outlines=outlines
        )
    for piece in request.pieces:
        assert sum(layout.count_of(piece.key) for layout in answer.layouts) == piece.count


def test_angles_nest_into_a_shorter_length_than_their_boxes() -> None:
    request = Request((ANGLE,), (Roll(210, 2000, 1),), 2, 3, Way.OUTLINE, budget_s=1.5)
    answer = arrange(request)
    assert_sound(request, answer)
    # Boxes need two rows of two: 2 × 100 + 2 + 2 × 3.
    assert answer.layouts[0].sheet.height_mm < 208


def test_pennants_share_boxes_and_save_a_sheet() -> None:
    # Two pennants of 100 × 90 make one 100 × 90 rectangle; with gaps two still go where one box goes.
    request = Request((PENNANT,), (FixedSheet(Size(225, 100)),), 2, 1, Way.OUTLINE, budget_s=4)
    answer = arrange(request)
    assert_sound(request, answer)
    assert answer.sheets < 3


def test_lengths_of_a_roll_get_shorter_by_outline_while_a_set_stays_on_one_of_them() -> None:
    pair = [replace(PENNANT, key=side, count=2, together="pair") for side in ("left", "right")]
    # Four boxes go on a length; two pennants go where one box does.
    pieces = (replace(PENNANT, count=8), *pair)
    request = Request(pieces, (Roll(225, 200, 1),), 2, 1, Way.OUTLINE, budget_s=4)
    answer = arrange(request)
    assert_sound(request, answer)
    assert sheets_with({"left", "right"}, answer.layouts) == 1
    boxes = arrange(replace(request, way=Way.LOOSE, budget_s=0.2))
    assert answer.area_mm2 < 0.8 * boxes.area_mm2


def test_one_sheet_is_packed_by_outline_where_boxes_do_not_fit() -> None:
    pair, sheet = (replace(PENNANT, count=2),), Size(120, 110)
    boxes = pack_one(pair, sheet, gap_mm=2, margin_mm=1, way=Way.LOOSE, budget_s=0.2)
    assert boxes is None
    layout = pack_one(pair, sheet, gap_mm=2, margin_mm=1, way=Way.OUTLINE, budget_s=6)
    assert layout is not None
    assert layout.count_of("pennant") == 2


@pytest.mark.parametrize(
    "outline",
    [
        ((0, 0), (80, 60), (80, 0), (0, 60)),
        ((0, 0), (80, 60)),
        ((0, 0), (40, 30), (80, 60)),
        ((0, 0), (0, 0), (0, 0)),
        ((0, 0), (80, nan), (80, 60)),
    ],
    ids=["bow-tie", "two corners", "no area", "one point", "not a number"],
)
def test_broken_outlines_do_no_harm(outline: tuple[tuple[float, float], ...]) -> None:
    request = Request(
        (Piece("odd", 80, 60, 3, outline=outline), PENNANT),
        (Roll(210, 2000, 1),),
        2,
        3,
        Way.OUTLINE,
        budget_s=0.8,
    )
    answer = arrange(request)
    assert sum(len(layout.placements) for layout in answer.layouts) == 9
    assert not answer.left_over


def test_a_grown_outline_keeps_half_the_gap_and_few_corners() -> None:
    # A twelve-pointed star with 240 corners.
    from math import cos, pi, sin

    star = tuple(
        (50 + r * cos(a), 50 + r * sin(a))
        for number in range(240)
        for a in [2 * pi * number / 240]
        for r in [40 + 10 * cos(12 * a)]
    )
    piece = Piece("star", 100, 100, 1, outline=star)
    grown = Polygon(grown_outline(piece, 4))
    assert len(grown.exterior.coords) < 130
    assert grown.contains(Polygon(star).buffer(2 - 1e-6, quad_segs=64))


def test_a_stopped_search_hands_over_what_it_has_and_leaves_no_process() -> None:
    ticket = Ticket()
    threading.Timer(0.6, ticket.stop).start()
    request = Request((ANGLE, PENNANT), (Roll(210, 2000, 1),), 2, 3, Way.OUTLINE, budget_s=60)
    answer = arrange(request, ticket)
    assert_sound(request, answer)
    assert not multiprocessing.active_children()


def test_an_outline_smaller_than_its_picture_is_placed_where_the_picture_is_printed() -> None:
    # The ink keeps to the picture's right lower part, as with a logo on a clear ground.
    badge = Piece("badge", 80, 60, 6, outline=((30, 20), (80, 20), (80, 60)))
    request = Request((badge,), (Roll(150, 2000, 1),), 2, 3, Way.OUTLINE, budget_s=1.5)
    answer = arrange(request)
    assert_sound(request, answer)
    for placement in answer.layouts[0].placements:
        assert {round(placement.width_mm, 6), round(placement.height_mm, 6)} == {80, 60}


def test_any_angle_is_used_only_where_a_piece_allows_it() -> None:
    bar = Piece("bar", 130, 10, 8, outline=((0, 0), (130, 0), (130, 8), (65, 10), (0, 8)), any_angle=True)
    request = Request((bar,), (Roll(110, 2000, 1),), 2, 3, Way.OUTLINE, budget_s=1.5)
    free = arrange(request)
    assert_sound(request, free)
    still = arrange(replace(request, pieces=(replace(bar, any_angle=False),)))
    assert all(p.turned_deg % 90 == 0 for layout in still.layouts for p in layout.placements)


@settings(max_examples=60, deadline=None)
@given(
    st.floats(5, 300),
    st.floats(5, 300),
    st.floats(0, 360).filter(lambda deg: abs(deg % 90 - 45) > 0.01),
    st.floats(-50, 500),
)
def test_a_turned_piece_tells_its_own_size_and_keeps_its_middle(
    width_mm: float, height_mm: float, turned_deg: float, x_mm: float
) -> None:
    placement = placed_about("one", Size(width_mm, height_mm), (x_mm, 40), turned_deg)
    assert placement.unturned.width_mm == pytest.approx(width_mm, abs=1e-6)
    assert placement.unturned.height_mm == pytest.approx(height_mm, abs=1e-6)
    shape = placed_outline(placement, ((0, 0), (width_mm, 0), (width_mm, height_mm), (0, height_mm)))
    assert shape.bounds == pytest.approx(
        (placement.x_mm, placement.y_mm, placement.box.right_mm, placement.box.bottom_mm), abs=1e-6
    )


@settings(max_examples=25, deadline=None)
@given(
    st.integers(15, 180), st.integers(15, 280), st.sampled_from([0.0, 30.0, 200.0]), st.sampled_from([0, 3])
)
def test_outlines_go_around_a_pinned_one(x_mm: int, y_mm: int, turned_deg: float, gap_mm: float) -> None:
    pinned = replace(placed_about("angle", Size(100, 100), (x_mm + 50, y_mm + 50), turned_deg), pinned=True)
    sheet = Size(300, 400)
    request = Request(
        (ANGLE, PENNANT),
        (FixedSheet(sheet),),
        gap_mm,
        5,
        Way.OUTLINE,
        budget_s=0.2,
        pinned=(Layout(sheet, (pinned,)),),
    )
    answer = arrange(request)
    assert answer.layouts[0].placements[0] == pinned
    for piece in request.pieces:
        assert sum(layout.count_of(piece.key) for layout in answer.layouts) == piece.count
    outlines = {piece.key: piece.outline for piece in request.pieces}
    for layout in answer.layouts:
        found = faults(layout, gap_mm=gap_mm, margin_mm=5, way=Way.OUTLINE, outlines=outlines)
        # A pinned piece may itself have been put over the margin.
        assert all(fault.indices == (0,) for fault in found)


def test_pieces_share_a_pinned_ones_hollow_and_save_a_sheet() -> None:
    sheet = Size(210, 105)
    pinned = replace(placed_about("angle", Size(100, 100), (52.5, 52.5)), pinned=True)
    request = Request(
        (replace(ANGLE, count=1), replace(PENNANT, count=1), Piece("dot", 60, 60, 1, outline=DOT)),
        (FixedSheet(sheet),),
        2,
        2,
        Way.OUTLINE,
        budget_s=3,
        pinned=(Layout(sheet, (pinned,)),),
    )
    answer = arrange(request)
    assert_sound(request, answer)
    assert answer.sheets < arrange(replace(request, way=Way.LOOSE)).sheets


def test_sheets_with_pinned_pieces_are_filled_up_by_outline_and_nothing_pinned_moves() -> None:
    sheet = Size(225, 210)
    pinned = [
        replace(placed_about("pennant", Size(100, 90), centre, turned_deg), pinned=True)
        for centre, turned_deg in (((60, 60), 0.0), ((150, 130), 33.0))
    ]
    request = Request(
        (replace(PENNANT, count=14),),
        (FixedSheet(sheet),),
        2,
        1,
        Way.OUTLINE,
        budget_s=3,
        pinned=tuple(Layout(sheet, (placement,)) for placement in pinned),
    )
    answer = arrange(request)
    assert_sound(request, answer)
    assert [layout.placements[0] for layout in answer.layouts[:2]] == pinned
    assert answer.sheets < arrange(replace(request, way=Way.LOOSE, budget_s=0.5)).sheets


def test_a_set_that_pins_have_parted_nests_and_goes_on_no_sheet_more() -> None:
    sheet = Size(225, 210)
    pair = [replace(PENNANT, key=side, count=3, together="pair") for side in ("left", "right")]
    pinned = [replace(placed_about(piece.key, Size(100, 90), (52, 50)), pinned=True) for piece in pair]
    request = Request(
        (replace(PENNANT, count=8), *pair),
        (FixedSheet(sheet),),
        2,
        1,
        Way.OUTLINE,
        budget_s=3,
        pinned=tuple(Layout(sheet, (placement,)) for placement in pinned),
    )
    answer = arrange(request)
    assert_sound(request, answer)
    assert sheets_with({"left", "right"}, answer.layouts) == 2
    boxes = arrange(replace(request, way=Way.LOOSE, budget_s=0.5))
    assert answer.sheets < boxes.sheets


def test_outlines_on_sheets_are_the_same_each_time_where_only_rounds_count() -> None:
    pieces = (replace(PENNANT, count=10), replace(ANGLE, count=6))
    request = Request(pieces, (FixedSheet(Size(225, 210)),), 2, 1, Way.OUTLINE, budget_s=60, rounds=4)
    answer = arrange(request)
    assert_sound(request, answer)
    assert answer.sheets < arrange(replace(request, way=Way.LOOSE)).sheets
    assert arrange(request) == answer


def test_a_set_stays_on_one_of_fewer_sheets() -> None:
    pair = [replace(PENNANT, key=side, count=2, together="pair") for side in ("left", "right")]
    request = Request(
        (replace(PENNANT, count=12), *pair), (FixedSheet(Size(225, 210)),), 2, 1, Way.OUTLINE, budget_s=3
    )
    answer = arrange(request)
    assert_sound(request, answer)
    assert sheets_with({"left", "right"}, answer.layouts) == 1
    assert answer.sheets < arrange(replace(request, way=Way.LOOSE, budget_s=0.5)).sheets


def test_a_roll_is_cut_shorter_around_a_pinned_outline() -> None:
    pinned = replace(placed_about("angle", Size(100, 100), (55, 55)), pinned=True)
    request = Request(
        (ANGLE,),
        (Roll(215, 900, 5),),
        2,
        3,
        Way.OUTLINE,
        budget_s=3,
        pinned=(Layout(Size(215, 120), (pinned,)),),
    )
    answer = arrange(request)
    assert_sound(request, answer)
    boxes = arrange(replace(request, way=Way.LOOSE))
    assert answer.layouts[0].sheet.height_mm < boxes.layouts[0].sheet.height_mm


def test_extras_lie_in_the_hollows_of_outlines() -> None:
    extra = Piece("corner", 40, 40, 60, outline=((0, 0), (40, 0), (0, 40)))
    request = Request(
        (ANGLE,), (FixedSheet(Size(300, 400)),), 2, 5, Way.OUTLINE, budget_s=0.2, extras=(extra,)
    )
    (layout,) = arrange(request).layouts
    outlines = {piece.key: piece.outline for piece in (ANGLE, extra)}
    assert not faults(layout, gap_mm=2, margin_mm=5, way=Way.OUTLINE, outlines=outlines)
    (boxes,) = arrange(replace(request, way=Way.LOOSE)).layouts
    assert layout.count_of("corner") > boxes.count_of("corner")


def test_several_lengths_of_roll_are_nested_each() -> None:
    request = Request((replace(ANGLE, count=12),), (Roll(210, 420, 1),), 2, 3, Way.OUTLINE, budget_s=6)
    answer = arrange(request)
    assert_sound(request, answer)
    boxes = arrange(replace(request, way=Way.LOOSE, budget_s=0.5))
    assert len(boxes.layouts) > 1
    assert answer.area_mm2 < 0.95 * boxes.area_mm2


@settings(max_examples=12, deadline=None)
@given(
    st.lists(st.tuples(st.integers(40, 120), st.integers(40, 120), st.integers(1, 6)), min_size=1, max_size=4)
)
def test_outlines_never_need_more_sheets_than_boxes(sizes: list[tuple[int, int, int]]) -> None:
    pieces = tuple(
        Piece(str(number), w, h, count, outline=((0, 0), (w, 0), (w, h / 3), (w / 4, h), (0, h)))
        for number, (w, h, count) in enumerate(sizes)
    )
    request = Request(pieces, (FixedSheet(Size(200, 180)),), 2, 3, Way.OUTLINE, budget_s=0.5)
    answer = arrange(request)
    assert_sound(request, answer)
    assert answer.sheets <= arrange(replace(request, way=Way.LOOSE, budget_s=0.1)).sheets


def test_several_sheets_of_pennants_become_fewer_in_each_other_s_hollows() -> None:
    request = Request(
        (replace(PENNANT, count=16),), (FixedSheet(Size(225, 210)),), 2, 1, Way.OUTLINE, budget_s=3
    )
    answer = arrange(request)
    assert_sound(request, answer)
    # Four boxes go on a sheet, and two pennants in little more than a box.
    assert answer.sheets < 4


@pytest.mark.parametrize(("seed", "sheets"), [(3, 12), (5, 14), (7, 9)])
def test_many_copies_of_few_pieces_go_on_sheets_that_repeat(seed: int, sheets: int) -> None:
    chance = Random(seed)
    pieces = []
    for number in range(6):
        w, h = chance.randint(40, 170), chance.randint(40, 170)
        part = chance.choice((0.2, 0.35, 0.5))
        corner = ((0, 0), (w, 0), (w, h * part), (w * part, h * part), (w * part, h), (0, h))
        slanted = ((0, 0), (w * part, 0), (w, h), (w - w * part, h))
        outline = chance.choice((((0, 0), (w, 0), (0, h)), corner, slanted))
        pieces.append(Piece(str(number), w, h, chance.randint(8, 20), outline=outline))
    request = Request(tuple(pieces), (FixedSheet(Size(240, 200)),), 2, 3, Way.OUTLINE, budget_s=60, rounds=4)
    answer = arrange(request)
    assert_sound(request, answer)
    # Pieces moved from sheet to sheet alone end at one more in as many rounds.
    assert answer.sheets == sheets
    assert arrange(request) == answer
