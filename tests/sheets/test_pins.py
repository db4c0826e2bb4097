"""Pinned pieces, pieces that belong together, extras."""

from collections import Counter
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.arrange import arrange
from planner.sheets.problem import FixedSheet, Group, LeftOverReason, Media, Piece, Request, Roll
from planner.sheets.validate import faults
from tests.sheets.published import SHEETS

SHEET = Size(300, 400)
BADGE = Piece("badge", 80, 60, 12)
BANNER = Piece("banner", 200, 50, 4)


def pinned_layout(x_mm: float, y_mm: float) -> Layout:
    return Layout(SHEET, (Placement("badge", x_mm, y_mm, 80, 60, pinned=True),))


@settings(max_examples=25, deadline=None)
@given(
    st.integers(10, 210),
    st.integers(10, 330),
    st.sampled_from([Way.LOOSE, Way.STRAIGHT]),
    st.sampled_from([0, 3]),
)
def test_pins_stay_and_the_rest_goes_around_them(x_mm: int, y_mm: int, way: Way, gap_mm: float) -> None:
    pinned = pinned_layout(x_mm, y_mm)
    answer = arrange(
        Request(
            (BADGE, BANNER), (FixedSheet(SHEET),), gap_mm, 10, way, rounds=5, budget_s=1, pinned=(pinned,)
        )
    )
    assert answer.layouts[0].placements[0] == pinned.placements[0]
    assert sum(layout.count_of("badge") for layout in answer.layouts) == BADGE.count
    assert sum(layout.count_of("banner") for layout in answer.layouts) == BANNER.count
    assert len(answer.layouts[0].placements) > 1, "the pinned sheet is used too"
    for layout in answer.layouts:
        assert not faults(layout, gap_mm=gap_mm, margin_mm=10, way=way)


def test_a_roll_with_a_pinned_piece_keeps_it_and_grows_around_it() -> None:
    pinned = Layout(Size(300, 100), (Placement("badge", 20, 15, 80, 60, pinned=True),))
    request = Request((BADGE, BANNER), (Roll(300, 2000, 10),), 3, 5, Way.LOOSE, rounds=10, pinned=(pinned,))
    answer = arrange(request)
    (layout,) = answer.layouts
    assert layout.placements[0] == pinned.placements[0]
    assert len(layout.placements) == 16
    assert layout.sheet.height_mm % 10 == 0
    assert not faults(layout, gap_mm=3, margin_mm=5, way=Way.LOOSE)


def test_pieces_together_share_a_sheet() -> None:
    sleeves = [Piece(f"sleeve {side}", 140, 190, 1, together="sleeves") for side in ("left", "right")]
    request = Request((BADGE, *sleeves, BANNER), (FixedSheet(SHEET),), 2, 5, Way.STRAIGHT, rounds=5)
    answer = arrange(request)
    (layout,) = [one for one in answer.layouts if one.count_of("sleeve left")]
    assert layout.count_of("sleeve right") == 1
    assert not answer.left_over
    for layout in answer.layouts:
        assert not faults(layout, gap_mm=2, margin_mm=5, way=Way.STRAIGHT)


def test_pieces_that_cannot_be_together_are_left_over_and_say_why() -> None:
    huge = [Piece(f"half {side}", 290, 250, 1, together="halves") for side in ("left", "right")]
    answer = arrange(Request((*huge, BADGE), (FixedSheet(SHEET),), 0, 0, Way.LOOSE, rounds=2))
    assert {(left.key, left.reason) for left in answer.left_over} == {
        ("half left", LeftOverReason.NOT_TOGETHER),
        ("half right", LeftOverReason.NOT_TOGETHER),
    }


def test_extras_fill_what_is_left_and_never_cost_a_sheet() -> None:
    extra = Piece("sticker", 40, 40, 50)
    answer = arrange(Request((BANNER,), (FixedSheet(SHEET),), 2, 5, Way.STRAIGHT, rounds=5, extras=(extra,)))
    (layout,) = answer.layouts
    # Four banners side by side or in a column leave at least 290 × 180 mm: 6 × 4 stickers at 42 mm.
    assert layout.count_of("sticker") >= 24
    assert layout.count_of("banner") == 4
    assert not faults(layout, gap_mm=2, margin_mm=5, way=Way.STRAIGHT)


def test_the_more_valuable_extra_goes_first() -> None:
    cheap, dear = Piece("cheap", 40, 40, 99, value=1), Piece("dear", 40, 40, 3, value=2)
    answer = arrange(
        Request((BANNER,), (FixedSheet(SHEET),), 0, 0, Way.LOOSE, rounds=1, extras=(cheap, dear))
    )
    assert answer.layouts[0].count_of("dear") == 3


def test_a_limit_on_sheets_leaves_over_and_the_roomier_sheet_is_used_where_it_is_less_area() -> None:
    answer = arrange(Request((BANNER,), (FixedSheet(Size(210, 60), most=3),), 0, 0, Way.LOOSE, rounds=1))
    assert [(left.count, left.reason) for left in answer.left_over] == [(1, LeftOverReason.NO_ROOM)]
    media: tuple[Media, ...] = (FixedSheet(Size(1000, 1000)), FixedSheet(Size(210, 210)))
    answer = arrange(Request((BANNER,), media, 0, 0, Way.LOOSE, rounds=1))
    assert [layout.sheet for layout in answer.layouts] == [Size(210, 210)]


def test_a_group_is_no_larger_than_its_pieces_need() -> None:
    tiles = (Piece("tile", 50, 30, 8), Piece("bar", 200, 20, 1))
    answer = arrange(Request(tiles, (Group(Size(500, 500)),), 0, 4, Way.STRAIGHT, rounds=40))
    (layout,) = answer.layouts
    # Four tiles by two under the bar: 200 × 80 mm without waste, and 4 mm of margin all round.
    assert layout.sheet.area_mm2 == 208 * 88
    assert not faults(layout, gap_mm=0, margin_mm=4, way=Way.STRAIGHT)


def test_too_large_a_piece_is_left_over_with_its_size_and_the_room() -> None:
    answer = arrange(Request((Piece("tall", 100, 500, 2), BADGE), (FixedSheet(SHEET),), 0, 10, Way.LOOSE))
    (left,) = answer.left_over
    assert (left.key, left.count, left.reason) == ("tall", 2, LeftOverReason.TOO_LARGE)
    assert (left.piece_mm, left.room_mm) == (Size(100, 500), Size(280, 380))


@pytest.mark.parametrize("name", ["class 3, n = 20, number 1", "class 7, n = 20, number 1"])
def test_what_one_medium_hands_on_to_the_next_is_placed_once(name: str) -> None:
    # The first filling needs a sheet more than the optimum here, the search then does without it.
    side, sides = SHEETS[name]
    fewest = ceil(sum(w * h for w, h in sides) / side**2)
    media: tuple[Media, ...] = (
        FixedSheet(Size(side, side), most=fewest),
        FixedSheet(Size(side, 1.5 * side), most=1),
    )
    pieces = tuple(Piece(str(number), w, h, 1) for number, (w, h) in enumerate(sides))
    answer = arrange(Request(pieces, media, 0, 0, Way.STRAIGHT, rounds=300, budget_s=20))
    placed = Counter(placement.print for layout in answer.layouts for placement in layout.placements)
    assert placed == Counter(piece.key for piece in pieces)
