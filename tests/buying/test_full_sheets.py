"""The sheet that is worth most, against a plain recursion over all cuts; and mixtures of such sheets."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.buying.effort import Effort
from planner.buying.full_sheets import FullSheets
from planner.buying.packer import Packer
from planner.buying.run_plan import RunProblem, one_layout_a_design
from planner.buying.run_pool import full_layouts, recombined
from planner.buying.run_prices import run_prices
from planner.buying.wants import Want
from planner.measures.geometry import Size
from planner.measures.layout import Way
from planner.sheets.validate import faults
from planner.shop.prices import CountedBy
from tests.buying.offers import SHEET, by_sheet, inches

Side = tuple[int, int]


def most_worth(room: Side, sides: list[Side], worths: list[float], turns: list[bool]) -> float:
    """What three stages of cuts can make of a room at most: strips, columns in them, pieces in those."""
    lying = [(w, h, worth) for (w, h), worth in zip(sides, worths, strict=True)]
    turned = zip(sides, worths, turns, strict=True)
    lying += [(h, w, worth) for (w, h), worth, may_turn in turned if may_turn]

    @cache
    def sheet(height: int, across: bool) -> float:
        width = room[1 if across else 0]
        ways = [strip(width, tall, across) + sheet(height - tall, across) for tall in range(1, height + 1)]
        return max(ways, default=0.0)

    @cache
    def strip(width: int, height: int, across: bool) -> float:
        ways = [
            column(wide, height, across) + strip(width - wide, height, across) for wide in range(1, width + 1)
        ]
        return max(ways, default=0.0)

    @cache
    def column(width: int, height: int, across: bool) -> float:
        pieces = [(h, w, v) if across else (w, h, v) for w, h, v in lying]
        ways = [v + column(width, height - h, across) for w, h, v in pieces if w <= width and h <= height]
        return max(ways, default=0.0)

    return max(sheet(room[1], False), sheet(room[0], True))


@settings(max_examples=40, deadline=None)
@given(
    room=st.tuples(st.integers(6, 11), st.integers(6, 11)),
    sides=st.lists(st.tuples(st.integers(2, 6), st.integers(2, 6)), min_size=1, max_size=3),
    worths=st.lists(st.integers(1, 9), min_size=3, max_size=3),
    turns=st.lists(st.booleans(), min_size=3, max_size=3),
    gap_mm=st.sampled_from([0.0, 10.0]),
    margin_mm=st.sampled_from([0.0, 7.5]),
    way=st.sampled_from([Way.LOOSE, Way.STRAIGHT]),
)
def test_the_best_sheet_is_worth_what_trying_every_cut_finds_and_really_fits(
    room: Side,
    sides: list[Side],
    worths: list[int],
    turns: list[bool],
    gap_mm: float,
    margin_mm: float,
    way: Way,
) -> None:
    wants = tuple(
        Want(str(n), str(n), Size(10.0 * w - gap_mm, 10.0 * h - gap_mm), 1, 0, may_turn=turns[n])
        for n, (w, h) in enumerate(sides)
    )
    lost_mm = 2 * margin_mm - gap_mm
    sheet = Size(10.0 * room[0] + lost_mm, 10.0 * room[1] + lost_mm)
    packer = Packer(wants, sheet, gap_mm=gap_mm, margin_mm=margin_mm, way=way)
    each = [float(worth) for worth in worths[: len(sides)]]
    worth, counts = FullSheets(packer).best(np.array(each))
    assert worth == pytest.approx(most_worth(room, sides, each, turns[: len(sides)]))
    assert worth == pytest.approx(sum(n * one for n, one in zip(counts, each, strict=True)))
    layout = packer.pack(counts, rounds=0)
    assert layout is not None, "the packer has learnt it"
    assert not faults(layout, gap_mm=gap_mm, margin_mm=margin_mm, way=way)
    assert [layout.count_of(want.key) for want in wants] == list(counts)


def test_sides_that_are_on_no_grid_fit_too() -> None:
    sides = ((71.37, 40.11), (33.333, 90.909), (120.05, 51.7))
    wants = tuple(Want(str(n), str(n), Size(*side), 9, 0) for n, side in enumerate(sides))
    packer = Packer(wants, SHEET, gap_mm=2.7, margin_mm=4.9, way=Way.LOOSE)
    filler = FullSheets(packer)
    for worths in ((1.0, 1.0, 1.0), (0.1, 0.11, 0.2), (1.0, 1.2, 2.6)):
        _, counts = filler.best(np.array(worths))
        layout = packer.pack(counts, rounds=0)
        assert layout is not None
        assert not faults(layout, gap_mm=2.7, margin_mm=4.9, way=Way.LOOSE)
        covered = sum(n * s for n, s in zip(counts, packer.shares, strict=True))
        assert covered > 0.8


def test_mixtures_of_full_sheets_need_hardly_more_than_the_area() -> None:
    table = by_sheet((1, "5"), counted_by=CountedBy.ORDER)
    sides = ((4.0, 2.5), (7.0, 2.25), (3.0, 1.75), (8.5, 3.25), (4.0, 2.5))
    needs = (650, 400, 800, 540, 75)
    wants = tuple(Want(str(n), str(n), inches(*side), needs[n], 0) for n, side in enumerate(sides))
    packer = Packer(wants, SHEET, gap_mm=0, margin_mm=0, way=Way.LOOSE, budget_s=10)
    problem = RunProblem(needs, packer, run_prices(table, "USD")[0])
    singly = one_layout_a_design(problem)
    assert singly is not None
    full = full_layouts(problem, lambda: False)
    plan = recombined(problem, singly, Effort(60, 8), full=full)
    assert plan is not None
    for number, need in enumerate(needs):
        assert sum(run * c[number] for run, c in zip(plan.runs, plan.counts, strict=True)) >= need
    for layout in plan.layouts:
        assert not faults(layout, gap_mm=0, margin_mm=0, way=Way.LOOSE)
    area = sum(need * share for need, share in zip(needs, packer.shares, strict=True))
    assert sum(plan.runs) < 1.05 * area < sum(singly.runs)
