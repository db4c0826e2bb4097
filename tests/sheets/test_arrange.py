"""What every arrangement must be, whatever was asked."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.arrange import arrange
from planner.sheets.problem import Arrangement, FixedSheet, Group, Piece, Request
from planner.sheets.validate import faults

SIDES_MM = st.integers(1, 4000).map(lambda tenths: tenths / 10)


@st.composite
def requests(draw: st.DrawFn, way: Way) -> Request:
    pieces = tuple(
        Piece(f"print {number}", draw(SIDES_MM), draw(SIDES_MM), draw(st.integers(0, 7)), draw(st.booleans()))
        for number in range(draw(st.integers(0, 6)))
    )
    sheet = FixedSheet(Size(draw(SIDES_MM), draw(SIDES_MM)))
    gap_mm, margin_mm = draw(st.sampled_from([0, 1, 3.175])), draw(st.sampled_from([0, 6.35]))
    return Request(pieces, (sheet,), gap_mm, margin_mm, way, budget_s=1, rounds=20)


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
