"""Sheets filled on a lattice keep to gap and margin, whatever lies there already."""

from itertools import product
from math import cos, pi, sin

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way, placed_about
from planner.sheets.lattice import Bed, Lattice, filled_around
from planner.sheets.nofit import overlaps
from planner.sheets.problem import Piece
from planner.sheets.validate import faults, placed_outline

SHEET = Size(260, 190)


@st.composite
def star_pieces(draw: st.DrawFn) -> tuple[Piece, ...]:
    pieces = []
    for number in range(draw(st.integers(1, 3))):
        lengths = draw(st.lists(st.floats(12, 45), min_size=5, max_size=9))
        turns = [2 * pi * at / len(lengths) for at in range(len(lengths))]
        corners = [(r * cos(turn), r * sin(turn)) for r, turn in zip(lengths, turns, strict=True)]
        left, top = (min(corner[axis] for corner in corners) for axis in (0, 1))
        outline = tuple((x - left, y - top) for x, y in corners)
        width_mm, height_mm = (max(corner[axis] for corner in outline) for axis in (0, 1))
        turned = draw(st.sampled_from([{}, {"may_turn": False}, {"any_angle": True}]))
        pieces.append(Piece(str(number), width_mm, height_mm, 30, outline=outline, **turned))
    return tuple(pieces)


@settings(max_examples=30, deadline=None)
@given(star_pieces(), st.sampled_from([0.0, 3.0]), st.booleans(), st.floats(0, 359))
def test_what_is_laid_down_beside_something_pinned_is_sound(
    pieces: tuple[Piece, ...], gap_mm: float, is_across: bool, turned_deg: float
) -> None:
    piece = pieces[0]
    pinned = placed_about(piece.key, Size(piece.width_mm, piece.height_mm), (130, 95), turned_deg)
    lattice = Lattice(pieces, SHEET, gap_mm=gap_mm, margin_mm=4)
    taken = [lattice.fixed(placed_outline(pinned, piece.outline))]
    placements = filled_around(lattice, taken, pieces, is_across=is_across)
    assert placements
    outlines = {piece.key: piece.outline for piece in pieces}
    layout = Layout(SHEET, (pinned, *placements))
    assert not faults(layout, gap_mm=gap_mm, margin_mm=4, way=Way.OUTLINE, outlines=outlines)


@settings(max_examples=30, deadline=None)
@given(star_pieces(), st.booleans())
def test_turned_pairs_are_in_each_other_s_way_where_their_contours_overlap(
    pieces: tuple[Piece, ...], is_across: bool
) -> None:
    lattice = Lattice(pieces, SHEET, gap_mm=2, margin_mm=4, cells=2000)
    stride = lattice.strides[is_across]
    for one, other in product(range(len(lattice.stamps)), repeat=2):
        a, b = lattice.stamps[one], lattice.stamps[other]
        rows, columns = (range(-a.last[axis], b.last[axis] + 1) for axis in (0, 1))
        direct = overlaps(a.contour, b.contour, rows, columns)
        places = {
            (columns[c] * stride + rows[r]) if is_across else (rows[r] * stride + columns[c])
            for r, c in np.argwhere(direct).tolist()
        }
        number, first = lattice.blocked(one, other, is_across)
        assert {first + at for at in range(number.bit_length()) if number >> at & 1} == places


def test_a_rectangle_is_not_tried_upside_down() -> None:
    lattice = Lattice([Piece("card", 50, 40, 1), Piece("tile", 40, 40, 1)], SHEET, gap_mm=2, margin_mm=4)
    assert [lattice.stamps[stamp].angle_deg for stamp in lattice.stamps_of["card"]] == [0, 90]
    assert len(lattice.stamps_of["tile"]) == 1


def test_a_piece_that_just_fits_turned_is_laid_turned() -> None:
    # 102.2 mm are a bit more than 20 cells of 5 mm: a box of whole cells is too long for the room.
    outline = ((0, 0), (30, 0), (30, 90), (0, 102.2))
    long = Piece("long", 30, 102.2, 1, outline=outline, angles_deg=(90,))
    lattice = Lattice([long], Size(102.3, 60), gap_mm=0, margin_mm=0, cells=246)
    assert Bed(lattice, is_across=False).put("long")


def test_rectangles_of_whole_cells_fill_a_sheet_exactly() -> None:
    card = Piece("card", 50, 40, 12, may_turn=False)
    lattice = Lattice([card], Size(200, 120), gap_mm=0, margin_mm=0, cells=200 * 120)
    for is_across in (False, True):
        bed = Bed(lattice, is_across=is_across)
        assert [bed.put("card") for _ in range(13)] == [*[True] * 12, False]


def test_what_is_taken_back_leaves_the_room_it_took() -> None:
    corner = Piece("corner", 60, 60, 9, outline=((0, 0), (60, 0), (60, 20), (20, 20), (20, 60), (0, 60)))
    lattice = Lattice([corner], Size(130, 130), gap_mm=2, margin_mm=1)
    bed = Bed(lattice, is_across=False)
    laid = 0
    while bed.put("corner"):
        laid += 1
    spots = bed.spots
    bed.take_back(2)
    assert bed.spots == spots[:-2]
    assert [bed.put("corner") for _ in range(3)] == [True, True, False]
    assert bed.spots == spots
