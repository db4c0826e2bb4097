"""What every arrangement must be, whatever was asked."""

from collections import Counter
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.arrange import arrange
from planner.sheets.problem import Arrangement, FixedSheet, Group, Media, Piece, Request, Roll
from planner.sheets.validate import faults

SIDES_MM = st.integers(1, 4000).map(lambda tenths: tenths / 10)


@st.composite
def requests(draw: st.DrawFn, way: Way) -> Request:
    pieces = tuple(
        Piece(f"print {number}", draw(SIDES_MM), draw(SIDES_MM), draw(st.integers(0, 7)), draw(st.booleans()))
        for number in range(draw(st.integers(0, 6)))
    )
    size = Size(draw(SIDES_MM), draw(SIDES_MM))
    roll = Roll(size.width_mm, size.height_mm, 10)
    medium: Media = draw(st.sampled_from([FixedSheet(size), FixedSheet(size, most=2), roll, Group(size)]))
    gap_mm, margin_mm = draw(st.sampled_from([0, 1, 3.175])), draw(st.sampled_from([0, 6.35]))
    return Request(pieces, (medium,), gap_mm, margin_mm, way, budget_s=1, rounds=20)


def assert_sound(request: Request, answer: Arrangement) -> None:
    """Nothing wrong on any sheet, nothing lost, nothing invented."""
    for layout in answer.layouts:
        assert not faults(layout, gap_mm=request.gap_mm, margin_mm=request.margin_mm, way=request.way)
    found: Counter[str] = Counter({left.key: left.count for left in answer.left_over})
    for layout in answer.layouts:
        for placement in layout.placements:
            found[placement.print] += layout.runs
    assert found == Counter({piece.key: piece.count for piece in request.pieces if piece.count})


@settings(max_examples=60, deadline=None)
@given(requests(Way.LOOSE))
def test_loose_pieces_lie_apart_inside_the_margins_and_none_is_lost(request: Request) -> None:
    assert_sound(request, arrange(request))


@settings(max_examples=60, deadline=None)
@given(requests(Way.STRAIGHT))
def test_straight_layouts_come_apart_by_edge_to_edge_cuts_and_no_piece_is_lost(request: Request) -> None:
    assert_sound(request, arrange(request))


def test_two_chest_prints_fill_a_sheet_half_an_inch_wider() -> None:
    # Common practice: an 11 in wide print goes two to a sheet 11.5 in wide by 18 in.
    chest = Piece("chest", 11 * 25.4, 8.5 * 25.4, 2)
    answer = arrange(
        Request((chest,), (FixedSheet(Size(11.5 * 25.4, 18 * 25.4)),), 3.175, 6.35, Way.LOOSE, rounds=1)
    )
    assert answer.sheets == 1


def test_a_group_that_just_fits_keeps_all_pieces_where_a_narrower_one_has_no_start() -> None:
    pieces = (Piece("long", 10, 20, 3), Piece("badge", 10, 10, 7, False), Piece("mark", 10, 10, 7, False))
    answer = arrange(Request(pieces, (Group(Size(200, 10)),), 0, 0, Way.STRAIGHT, rounds=20, budget_s=20))
    assert sum(len(layout.placements) for layout in answer.layouts) == 17
    assert answer.left_over == ()


@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
@pytest.mark.parametrize("seed", range(4))
def test_the_last_sheet_is_filled_from_one_end_hardly_further_than_a_roll_would_be(
    seed: int, way: Way
) -> None:
    chance = Random(seed)
    pieces = [
        Piece(f"print {number}", chance.randint(40, 160), chance.randint(40, 160), 1) for number in range(30)
    ]
    request = Request(tuple(pieces), (FixedSheet(Size(300, 400)),), 2, 5, way, rounds=100, budget_s=60)
    last = arrange(request).layouts[-1]
    held = {placement.print for placement in last.placements}
    alone = tuple(piece for piece in pieces if piece.key in held)
    (length,) = arrange(replace(request, pieces=alone, media=(Roll(300, 400, 1),))).layouts
    reach_mm = max(placement.box.bottom_mm for placement in last.placements) + 5
    assert reach_mm <= 1.1 * length.sheet.height_mm


def test_of_two_kinds_of_sheets_neither_takes_the_time_that_the_other_needs() -> None:
    chance = Random(13)
    sides = [(chance.randint(410, 700), chance.randint(60, 200)) for _ in range(40)]
    tall = tuple(Piece(f"tall {at}", short, long, 1, False) for at, (long, short) in enumerate(sides))
    wide = tuple(Piece(f"wide {at}", long, short, 1, False) for at, (long, short) in enumerate(sides))
    media = FixedSheet(Size(400, 1600)), FixedSheet(Size(1600, 400))
    both = Request((*tall, *wide), media, 2, 4, Way.LOOSE, rounds=60, budget_s=60)
    alone = [
        replace(both, pieces=pieces, media=(medium,), rounds=20)
        for pieces, medium in zip((tall, wide), media, strict=True)
    ]
    assert arrange(both).sheets == sum(arrange(request).sheets for request in alone)
