"""Whether pieces fit at all: against sheets cut up and against plain reasoning."""

from collections import Counter
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from planner.buying.exact_fit import Fits, Spot, exact_fit

ENOUGH = 20_000


def lies_right(spots: tuple[Spot, ...], room: tuple[int, int]) -> bool:
    boxes = [(s.x, s.y, s.x + s.sides[0], s.y + s.sides[1]) for s in spots]
    inside = all(x >= 0 and y >= 0 and right <= room[0] and top <= room[1] for x, y, right, top in boxes)
    apart = all(
        a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1] for a, b in combinations(boxes, 2)
    )
    return inside and apart


@st.composite
def cut_up_rooms(draw: st.DrawFn) -> tuple[tuple[int, int], list[tuple[int, int]]]:
    """A room, and the pieces that some cuts from edge to edge make of it."""
    room = (draw(st.integers(6, 20)), draw(st.integers(6, 20)))
    pieces = [room]
    for _ in range(draw(st.integers(1, 5))):
        width, height = pieces.pop(0)
        if draw(st.booleans()) and width > 1:
            at = draw(st.integers(1, width - 1))
            pieces += [(at, height), (width - at, height)]
        elif height > 1:
            at = draw(st.integers(1, height - 1))
            pieces += [(width, at), (width, height - at)]
        else:
            pieces.append((width, height))
    return room, pieces


@settings(max_examples=60, deadline=None)
@given(cut_up_rooms())
def test_what_a_room_was_cut_into_fits_it_again_and_lies_right(
    cut: tuple[tuple[int, int], list[tuple[int, int]]],
) -> None:
    room, pieces = cut
    kinds = Counter(tuple(sorted(piece)) for piece in pieces)
    verdict, spots = exact_fit(
        list(kinds), list(kinds.values()), [True] * len(kinds), room, most_nodes=ENOUGH
    )
    assert verdict is Fits.YES
    assert Counter(tuple(sorted(spot.sides)) for spot in spots) == kinds
    assert lies_right(spots, room)


def test_four_pieces_around_a_fifth_are_found_though_no_cut_goes_from_edge_to_edge() -> None:
    verdict, spots = exact_fit([(2, 1), (1, 1)], [4, 1], [True, True], (3, 3), most_nodes=ENOUGH)
    assert verdict is Fits.YES
    assert lies_right(spots, (3, 3))


def test_what_needs_a_turn_never_fits_unturned() -> None:
    assert exact_fit([(2, 1)], [4], [True], (3, 3), most_nodes=ENOUGH)[0] is Fits.YES
    assert exact_fit([(2, 1)], [4], [False], (3, 3), most_nodes=ENOUGH)[0] is Fits.NEVER


def test_two_squares_over_half_the_room_wide_never_fit_though_their_area_does() -> None:
    assert exact_fit([(3, 3)], [2], [True], (5, 5), most_nodes=ENOUGH)[0] is Fits.NEVER


def test_nine_bricks_of_four_never_fill_a_square_of_six() -> None:
    # De Bruijn 1969, "Filling boxes with bricks": 1 × 4 bricks fill a box only if a side is a multiple of 4.
    assert exact_fit([(4, 1)], [9], [True], (6, 6), most_nodes=200_000)[0] is Fits.NEVER
    assert exact_fit([(4, 1)], [8], [True], (6, 6), most_nodes=200_000)[0] is Fits.YES


def test_a_search_that_is_given_up_decides_nothing() -> None:
    assert exact_fit([(4, 1)], [9], [True], (6, 6), most_nodes=1) == (Fits.UNDECIDED, ())
