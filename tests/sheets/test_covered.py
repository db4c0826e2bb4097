"""How full a sheet is, by sums worked out by hand."""

import pytest

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement
from planner.sheets.covered import covered_share

SHEET = Size(100, 200)


def test_pieces_side_by_side_add_up() -> None:
    layout = Layout(SHEET, (Placement("a", 0, 0, 50, 100), Placement("b", 50, 0, 50, 100)))
    assert covered_share(layout) == pytest.approx(0.5)


def test_what_lies_twice_in_one_place_counts_once() -> None:
    full = Placement("a", 0, 0, 100, 200)
    assert covered_share(Layout(SHEET, (full, full, Placement("b", 10, 10, 50, 50)))) == pytest.approx(1)


def test_what_hangs_over_the_edge_counts_for_nothing() -> None:
    layout = Layout(SHEET, (Placement("a", -50, 0, 100, 200), Placement("b", 0, 300, 100, 100)))
    assert covered_share(layout) == pytest.approx(0.5)


def test_a_piece_covers_what_lies_inside_its_outline_however_it_is_turned() -> None:
    half = {"a": ((0.0, 0.0), (60.0, 0.0), (0.0, 80.0))}
    for turned_deg, wide, high in ((0.0, 60, 80), (90.0, 80, 60)):
        layout = Layout(SHEET, (Placement("a", 10, 10, wide, high, turned_deg),))
        assert covered_share(layout, half) == pytest.approx(60 * 80 / 2 / SHEET.area_mm2)
