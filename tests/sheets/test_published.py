"""Published instances are solved to their proven optimum."""

from collections import Counter
from math import ceil

import pytest

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.arrange import arrange, most_copies, pack_one
from planner.sheets.problem import FixedSheet, Piece, Request, Roll
from planner.sheets.validate import faults
from tests.sheets.published import SHEETS, STRIPS


def pieces_of(sides: tuple[tuple[int, int], ...]) -> tuple[Piece, ...]:
    return tuple(Piece(f"{w} × {h}", w, h, count) for (w, h), count in Counter(sides).items())


@pytest.mark.parametrize("way", [Way.LOOSE, Way.STRAIGHT])
@pytest.mark.parametrize("name", SHEETS)
def test_no_more_sheets_than_the_area_needs(name: str, way: Way) -> None:
    side, sides = SHEETS[name]
    request = Request(pieces_of(sides), (FixedSheet(Size(side, side)),), 0, 0, way, rounds=300, budget_s=20)
    answer = arrange(request)
    assert answer.sheets == ceil(sum(w * h for w, h in sides) / side**2)
    for layout in answer.layouts:
        assert not faults(layout, gap_mm=0, margin_mm=0, way=way)


@pytest.mark.parametrize("name", STRIPS)
def test_strips_without_waste_are_found(name: str) -> None:
    width, height, sides = STRIPS[name]
    assert height == sum(w * h for w, h in sides) / width
    request = Request(
        pieces_of(sides), (Roll(width, 10 * height, 1),), 0, 0, Way.LOOSE, rounds=600, budget_s=20
    )
    (layout,) = arrange(request).layouts
    assert layout.sheet.height_mm == height
    assert not faults(layout, gap_mm=0, margin_mm=0, way=Way.LOOSE)


def test_copies_of_one_piece_reach_the_area_bound_where_it_can_be_reached() -> None:
    # 23 boxes of 5 × 3 on a pallet of 22 × 16, from memory the smallest case that needs more than
    # straight cuts; the area bound, 352 ÷ 15, says that 24 are impossible.
    box, pallet = Piece("box", 5, 3, 1), Size(22, 16)
    loose = most_copies(box, pallet, gap_mm=0, margin_mm=0, way=Way.LOOSE)
    assert len(loose.placements) == 23
    assert not faults(loose, gap_mm=0, margin_mm=0, way=Way.LOOSE)
    straight = most_copies(box, pallet, gap_mm=0, margin_mm=0, way=Way.STRAIGHT)
    assert len(straight.placements) == 22
    assert not faults(straight, gap_mm=0, margin_mm=0, way=Way.STRAIGHT)


def test_most_copies_counts_gaps_and_margins() -> None:
    badge = Piece("badge", 3 * 25.4, 2 * 25.4, 1)
    layout = most_copies(badge, Size(11.5 * 25.4, 18 * 25.4), gap_mm=3.175, margin_mm=6.35, way=Way.STRAIGHT)
    assert not faults(layout, gap_mm=3.175, margin_mm=6.35, way=Way.STRAIGHT)
    # A plain grid holds 5 × 5 of them turned or 3 × 8 of them upright.
    assert len(layout.placements) >= 25


def test_one_sheet_is_accepted_when_all_fits_and_refused_when_the_area_is_too_much() -> None:
    badge, sheet = Piece("badge", 50, 30, 8), Size(200, 60)
    kwargs = {"gap_mm": 0.0, "margin_mm": 0.0, "way": Way.STRAIGHT, "budget_s": 0.2}
    layout = pack_one((badge,), sheet, **kwargs)  # type: ignore[arg-type]
    assert layout is not None
    assert layout.count_of("badge") == 8
    assert pack_one((badge, Piece("dot", 1, 1, 1)), sheet, **kwargs) is None  # type: ignore[arg-type]


def test_the_same_rounds_give_the_same_answer() -> None:
    side, sides = SHEETS["class 10, n = 20, number 1"]
    request = Request(
        pieces_of(sides), (FixedSheet(Size(side, side)),), 1, 0, Way.LOOSE, rounds=20, budget_s=20
    )
    assert arrange(request) == arrange(request)
