"""Sheets cut by outline: hatching, words, halo and the offered spot go by true outlines."""

from dataclasses import replace
from math import cos, pi, sin

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest

from planner.measures.geometry import Rect, Size
from planner.measures.layout import Layout, Placement, Way
from planner.sheets.nudge import Feature
from planner.window.sheet.moves import Room, with_copies
from planner.window.sheet.snapping import OutlineCatcher
from tests.window.sheet.setting import SHEET, a_job, a_plan, a_shop, placed
from tests.window.sheet.test_panel import Table, table

__all__ = ["table"]

HOOK = ((0.0, 0.0), (60.0, 0.0), (60.0, 10.0), (10.0, 10.0), (10.0, 60.0), (0.0, 60.0))
SQUARE = ((0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0))
OUTLINES = {"p1": SQUARE, "p2": HOOK}


def by_outline(table: Table, square_at: tuple[float, float]) -> None:
    """A square beside a hook of 60 mm whose hollow begins 10 mm from its corner at (100, 100)."""
    nested = Layout(SHEET, (placed("p1", *square_at, 20, 20), placed("p2", 100, 100, 60, 60)))
    table.panel.show_plan(a_job().model_copy(update={"way": Way.OUTLINE}), a_shop(), a_plan(nested))
    table.panel.set_outlines(OUTLINES)


def test_a_piece_dropped_on_an_arm_is_offered_the_hollow_and_takes_it(table: Table) -> None:
    by_outline(table, (200, 200))
    table.drag(table.at(0, 210, 210), table.at(0, 150, 150))
    table.panel.hand.place(108, 109)
    assert "overlap by" in table.panel.bar.sentence
    assert table.panel.bar.settle.isVisible()
    QTest.mouseClick(table.panel.bar.settle, Qt.MouseButton.LeftButton)
    put = table.piece(0, 0).placement
    # The offer's gap of 3 mm off both arms, in the hollow: by boxes it would have had to leave the hook.
    assert (put.x_mm, put.y_mm) == pytest.approx((113, 113), abs=0.02)
    assert table.panel.bar.sentence == ""


def test_hatching_covers_what_the_outlines_share_and_no_more(table: Table) -> None:
    by_outline(table, (108, 120))
    spot = table.panel.bench.spots[0]
    (mark,) = table.panel.bench.marks_on(spot)
    assert mark.tag == "overlap 0.08 in"
    assert sum(area.area for area in mark.areas) == pytest.approx(2 * 20)
    assert mark.areas[0].bounds == pytest.approx((108, 120, 110, 140))


def test_too_close_is_hatched_between_the_outlines(table: Table) -> None:
    by_outline(table, (111, 125))
    (mark,) = table.panel.bench.marks_on(table.panel.bench.spots[0])
    assert "too close" in mark.tag
    # Half the gap of 3 mm from each side, 1 mm apart: a strip 2 mm wide around the middle at 110.5.
    left, _, right, _ = mark.areas[0].bounds
    assert (left, right) == pytest.approx((109.5, 111.5))


def test_the_halo_follows_the_outline(table: Table) -> None:
    by_outline(table, (200, 200))
    table.panel.canvas.choose([table.piece(0, 1)])
    seen = table.panel.bench.halo
    origin = table.panel.bench.spots[0].origin + QPointF(100, 100)
    assert seen.contains(origin + QPointF(30, 12))
    assert not seen.contains(origin + QPointF(30, 30))


def test_missing_copies_go_into_hollows_before_a_new_sheet_is_begun() -> None:
    # A sheet full of one hook's box: by boxes there is no room, in its hollow there is.
    hook = tuple((x * 4, y * 4) for x, y in HOOK)
    full = Layout(SHEET, (Placement("p2", 5, 5, 280, 440),))
    outlines = {"p1": SQUARE, "p2": tuple((x * 280 / 240, y * 440 / 240) for x, y in hook)}
    copies = [("p1", Size(20, 20), 2)]
    by_boxes, _ = with_copies((full,), copies, Room(3, 5))
    nested, _ = with_copies((full,), copies, Room(3, 5, outlines))
    assert (len(by_boxes), len(nested)) == (2, 1)


@pytest.mark.parametrize("off_mm", [1.0, -1.5])
def test_a_dragged_outline_catches_at_the_gap_from_an_arm_inside_the_hook(
    table: Table, off_mm: float
) -> None:
    by_outline(table, (200, 200))
    table.panel.canvas.zoom_by(4)
    pixel_mm = 1 / table.panel.canvas.px_per_mm
    # Its left edge comes to 113 mm: 10 mm of arm and the gap of 3; a box would catch 60 mm further right.
    table.drag(table.at(0, 210, 210), table.at(0, 123 + off_mm, 140))
    put = table.piece(0, 0).placement
    assert put.x_mm == pytest.approx(113, abs=0.02)
    assert put.y_mm == pytest.approx(130, abs=2 * pixel_mm)
    assert table.panel.bar.sentence == ""


def test_an_outline_in_line_with_a_neighbour_catches_at_the_gap_too() -> None:
    disc = tuple((10 + 10 * cos(turn / 40 * pi), 10 + 10 * sin(turn / 40 * pi)) for turn in range(80))
    ball, still = Placement("ball", 0, 0, 20, 20), Placement("ball", 50, 50, 20, 20)
    catcher = OutlineCatcher([ball], [still], SHEET, {"ball": disc}, gap_mm=3, margin_mm=5)
    # Half a millimetre off the line through both middles, and one off the gap.
    caught = catcher.snap(Rect(74, 50.5, 20, 20), 2)
    assert (caught.dx_mm, caught.dy_mm) == pytest.approx((-1, -0.5), abs=0.02)
    assert {guide.feature for guide in caught.guides} >= {Feature.GAP, Feature.CENTRE}
    # At a slant boxes would touch at 23 mm on one axis; these come as near as true discs may.
    slant = 50 + 24 * cos(pi / 4)
    caught = catcher.snap(Rect(slant, slant, 20, 20), 2)
    assert (slant + caught.dx_mm, slant + caught.dy_mm) == pytest.approx(
        (50 + 23 * cos(pi / 4),) * 2, abs=0.03
    )
    assert [guide.feature for guide in caught.guides] == [Feature.GAP]


def test_an_outline_catches_on_the_margin_by_its_ink_not_by_its_picture() -> None:
    slim = ((8.0, 0.0), (12.0, 0.0), (12.0, 20.0), (8.0, 20.0))
    piece = Placement("slim", 0, 0, 20, 20)
    catcher = OutlineCatcher([piece], [], SHEET, {"slim": slim}, gap_mm=3, margin_mm=5)
    caught = catcher.snap(Rect(-2.5, 200, 20, 20), 1)
    assert -2.5 + caught.dx_mm + 8 == pytest.approx(5)
    assert [guide.feature for guide in caught.guides] == [Feature.MARGIN]


def test_a_sheet_is_as_full_as_its_outlines_make_it_and_never_more_than_full(table: Table) -> None:
    half = ((0.0, 0.0), (200.0, 0.0), (0.0, 300.0))
    placements = (placed("p1", 20, 20, 200, 300), placed("p1", 30, 20, 200, 300))
    turned = replace(placements[1], turned_deg=180.0)
    table.panel.show_plan(
        a_job().model_copy(update={"way": Way.OUTLINE}),
        a_shop(),
        a_plan(Layout(SHEET, (placements[0], turned))),
    )
    table.panel.set_outlines({"p1": half})
    percent = 100 * 200 * 300 / SHEET.area_mm2
    assert table.panel.strip.cards[0].fill.text() == f"{percent:.0f} % full"
