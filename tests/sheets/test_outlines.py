"""Nesting by outline: never worse than boxes, safe against bad outlines, gone when stopped."""

import multiprocessing
import threading
from dataclasses import replace
from math import nan

import pytest
from shapely.geometry import Polygon

from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.arrange import arrange, pack_one
from planner.sheets.nest import grown_outline
from planner.sheets.problem import Arrangement, FixedSheet, Piece, Request, Roll
from planner.sheets.validate import faults
from planner.work.ticket import Ticket

ANGLE = Piece("angle", 100, 100, 4, outline=((0, 0), (100, 0), (100, 30), (30, 30), (30, 100), (0, 100)))
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
