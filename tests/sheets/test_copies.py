"""Copies of one piece on one sheet, held against what is tried out without any table."""

from functools import cache

from hypothesis import given
from hypothesis import strategies as some

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.arrange import most_copies
from planner.sheets.problem import Piece
from planner.sheets.validate import faults

SIDES = some.integers(2, 9)


@given(SIDES, SIDES, some.integers(5, 24), some.integers(5, 24))
def test_straight_cuts_free_as_many_copies_as_trying_every_cut_does(
    width: int, height: int, across: int, down: int
) -> None:
    layout = most_copies(
        Piece("box", width, height, 1), Size(across, down), gap_mm=0, margin_mm=0, way=Way.STRAIGHT
    )
    assert len(layout.placements) == by_every_cut(width, height, across, down)
    assert not faults(layout, gap_mm=0, margin_mm=0, way=Way.STRAIGHT)


@given(SIDES, SIDES, some.integers(5, 24), some.integers(5, 24))
def test_loose_pieces_are_never_fewer_than_with_straight_cuts(
    width: int, height: int, across: int, down: int
) -> None:
    box, sheet = Piece("box", width, height, 1), Size(across, down)
    loose = most_copies(box, sheet, gap_mm=0, margin_mm=0, way=Way.LOOSE)
    assert by_every_cut(width, height, across, down) <= len(loose.placements)
    assert len(loose.placements) <= across * down // (width * height)
    assert not faults(loose, gap_mm=0, margin_mm=0, way=Way.LOOSE)


@cache
def by_every_cut(width: int, height: int, across: int, down: int) -> int:
    """Most copies by edge-to-edge cuts at whole units: the recursion of Gilmore and Gomory (1965)."""
    if across > down:
        return by_every_cut(width, height, down, across)
    best = int(min(width, height) <= across and max(width, height) <= down)
    for cut in range(1, across // 2 + 1):
        best = max(
            best, by_every_cut(width, height, cut, down) + by_every_cut(width, height, across - cut, down)
        )
    for cut in range(1, down // 2 + 1):
        best = max(
            best, by_every_cut(width, height, across, cut) + by_every_cut(width, height, across, down - cut)
        )
    return best
