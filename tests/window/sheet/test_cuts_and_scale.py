"""The cut list, real size as measured, true outlines, and the ways to move the view."""

from math import cos, radians, sin
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, QSettings, Qt
from PySide6.QtGui import QInputDevice, QNativeGestureEvent, QPointingDevice, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from shapely.geometry import Polygon

from planner.measures.layout import Layout, Placement, Way
from planner.measures.lengths import LengthUnit, format_length
from planner.sheets.cuts import Direction, replay, set_ups
from planner.sheets.validate import placed_outline
from planner.window.screens import Screens, screen_ppi
from planner.window.sheet import words
from planner.window.sheet.cut_marks import cuts_on
from planner.window.sheet.items import cut_out
from planner.window.sheet.measure_screen import CARD_MM, MeasureScreen
from planner.window.sheet.moves import Ref
from tests.window.sheet.setting import OFFER, SHEET, a_job, a_plan, a_shop, placed
from tests.window.sheet.test_panel import Table, first_sheet, second_sheet, table

__all__ = ["table"]

HOOK = ((0.0, 0.0), (60.0, 0.0), (60.0, 10.0), (10.0, 10.0), (10.0, 60.0), (0.0, 60.0))


def straight(table: Table, *layouts: Layout) -> None:
    job = a_job().model_copy(update={"way": Way.STRAIGHT})
    table.panel.show_plan(job, a_shop(), a_plan(*layouts))


def test_the_cut_list_has_every_cut_in_order_with_what_to_set(table: Table) -> None:
    straight(table, first_sheet())
    cuts = cuts_on(first_sheet())
    assert replay(cuts, first_sheet()).is_clean
    rows = table.panel.cut_list.rows
    told = [rows.item(at).text() for at in range(rows.count())]
    assert len(told) == len(cuts)
    for cut, row in zip(cuts, told, strict=True):
        edge = "left" if cut.direction is Direction.DOWN else "top"
        measure = format_length(cut.measure_mm, LengthUnit.INCH)
        assert row.strip("\u2007 ").startswith(str(cut.step))
        assert row.endswith(f"{measure if cut.is_new_setting else 'as it is'} from the {edge}")
    assert f"{set_ups(cuts)} times" in table.panel.cut_list.words.text()


def test_a_row_of_the_cut_list_lets_its_cut_stand_out_and_keys_go_on_to_the_next(table: Table) -> None:
    straight(table, first_sheet())
    panel, rows = table.panel, table.panel.cut_list.rows
    cuts = cuts_on(first_sheet())
    QTest.mouseClick(
        rows.viewport(), Qt.MouseButton.LeftButton, pos=rows.visualItemRect(rows.item(0)).center()
    )
    assert panel.bench.cuts.chosen == cuts[0]
    QTest.keyClick(rows, Qt.Key.Key_Down)
    assert panel.bench.cuts.chosen == cuts[1]
    panel.canvas.grab()
    assert 2 in panel.bench.cuts.numbers


def test_numbers_of_cuts_are_drawn_where_there_is_room(table: Table) -> None:
    straight(table, first_sheet())
    table.panel.canvas.go_to(table.panel.bench.spots[0])
    table.panel.canvas.grab()
    drawn = table.panel.bench.cuts.numbers
    assert len(drawn) > len(cuts_on(first_sheet())) / 2


def test_a_key_puts_the_cut_list_away_and_loose_sheets_have_none(table: Table) -> None:
    straight(table, first_sheet())
    panel = table.panel
    assert panel.cut_list.isVisible()
    panel.canvas.setFocus()
    table.key(Qt.Key.Key_K)
    assert not panel.cut_list.isVisible()
    assert panel.bench.cuts.count == 0
    table.key(Qt.Key.Key_K)
    assert panel.cut_list.isVisible()
    command = panel.commands["cuts"]
    assert command.isEnabled()
    assert command.isChecked()
    table.show(first_sheet())
    assert not panel.cut_list.isVisible()
    assert not command.isEnabled()
    assert not command.isChecked()
    assert command.statusTip() == words.NO_CUTS_HINT
    straight(table, first_sheet())
    assert command.isChecked()
    assert command.statusTip() == words.CUTS_HINT


def test_a_card_held_against_the_bar_makes_real_size_real_and_it_is_remembered(
    table: Table, tmp_path: Path
) -> None:
    panel = table.panel
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    screens = Screens(settings)
    panel.screen_measured.connect(lambda ppi: screens.keep(panel.screen(), ppi))
    said = screen_ppi(panel)
    try:
        panel.commands["measure screen"].trigger()
        asking = panel.window().findChild(MeasureScreen)
        asking.slider.setValue(337)
        QTest.mouseClick(asking.keep, Qt.MouseButton.LeftButton)
        # ISO/IEC 7810, ID-1: 85.60 mm are 337 px, so an inch is 100.
        assert CARD_MM == 85.6
        assert screen_ppi(panel) == pytest.approx(337 / 85.6 * 25.4)
        assert panel.canvas.px_per_mm * 85.6 == pytest.approx(337)
        panel.screen().setProperty("measured ppi", None)
        Screens(settings)
        assert screen_ppi(panel) == pytest.approx(337 / 85.6 * 25.4)
    finally:
        screens.keep(panel.screen(), None)
    assert screen_ppi(panel) == pytest.approx(said)


def test_a_length_that_no_screen_has_is_refused_with_a_sentence(table: Table) -> None:
    panel = table.panel
    told: list[object] = []
    panel.screen_measured.connect(told.append)
    panel.commands["measure screen"].trigger()
    asking = panel.window().findChild(MeasureScreen)
    asking.length.setFocus()
    asking.length.selectAll()
    QTest.keyClicks(asking.length, "3 mm")
    QTest.mouseClick(asking.keep, Qt.MouseButton.LeftButton)
    assert told == []
    assert "On no screen" in asking.trouble.text()
    assert asking.trouble.isVisible()


@pytest.mark.parametrize("turned_deg", [0.0, 30.0, 90.0, 217.5])
def test_outlines_are_drawn_where_the_validator_judges_them(turned_deg: float) -> None:
    # The box of a 60 mm square turned so.
    side = 60 * (abs(cos(radians(turned_deg))) + abs(sin(radians(turned_deg))))
    placement = Placement("p1", 20, 30, side, side, turned_deg)
    judged = placed_outline(placement, HOOK)
    drawn = cut_out(placement, HOOK)
    shape = Polygon([(20 + point.x(), 30 + point.y()) for point in drawn])
    assert shape.symmetric_difference(judged).area == pytest.approx(0, abs=0.01)


def test_a_piece_at_an_angle_is_drawn_as_a_turned_rectangle() -> None:
    box = Placement(
        "p1", 20, 30, 50 * cos(radians(30)) + 10, 50 * sin(radians(30)) + 20 * cos(radians(30)), 30
    )
    corners = [(point.x(), point.y()) for point in cut_out(box, None)]
    # A 50 × 20 rectangle a third of a right angle clockwise: its top edge falls by 50 sin 30°.
    assert corners[1][1] - corners[0][1] == pytest.approx(25)
    assert Polygon(corners).area == pytest.approx(1000)
    assert Polygon(corners).bounds == pytest.approx((0, 0, box.width_mm, box.height_mm))


def test_a_piece_in_anothers_hollow_is_the_one_that_a_click_there_takes(table: Table) -> None:
    job = a_job().model_copy(update={"way": Way.OUTLINE})
    nested = Layout(SHEET, (placed("p1", 125, 125, 30, 30), placed("p2", 100, 100, 60, 60)))
    table.panel.show_plan(job, a_shop(), a_plan(nested))
    square = ((0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0))
    table.panel.set_outlines({"p1": square, "p2": HOOK})
    assert table.panel.bar.sentence == ""
    for point, ref in (((140, 140), Ref(0, 0)), ((104, 150), Ref(0, 1))):
        QTest.mouseClick(table.panel.canvas.viewport(), Qt.MouseButton.LeftButton, pos=table.at(0, *point))
        assert [piece.ref for piece in table.panel.bench.chosen()] == [ref]


def turn_wheel(
    table: Table, pixels: QPoint, angle: QPoint, phase: Qt.ScrollPhase, over: QWidget | None = None
) -> None:
    view = over or table.panel.canvas.viewport()
    at = QPointF(view.rect().center())
    none, plain = Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier
    event = QWheelEvent(at, QPointF(view.mapToGlobal(at)), pixels, angle, none, plain, phase, False)
    QApplication.sendEvent(view, event)


def test_two_fingers_push_the_bench_and_a_wheel_that_tells_pixels_too_zooms(table: Table) -> None:
    canvas = table.panel.canvas
    canvas.zoom_by(4)
    scale, corner = canvas.px_per_mm, canvas.mapToScene(QPoint(0, 0))
    turn_wheel(table, QPoint(-30, -20), QPoint(-60, -40), Qt.ScrollPhase.ScrollUpdate)
    moved = canvas.mapToScene(QPoint(0, 0)) - corner
    assert canvas.px_per_mm == scale
    assert moved.x() * scale == pytest.approx(30, abs=1)
    assert moved.y() * scale == pytest.approx(20, abs=1)
    turn_wheel(table, QPoint(0, 120), QPoint(0, 120), Qt.ScrollPhase.NoScrollPhase)
    assert canvas.px_per_mm == pytest.approx(scale * 1.2)


def test_a_plain_wheel_goes_along_the_strip_of_many_sheets(table: Table, qtbot: QtBot) -> None:
    table.show(*[second_sheet()] * 20)
    bar = table.panel.strip.horizontalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 240)
    strip = table.panel.strip.viewport()
    for _ in range(2):
        turn_wheel(table, QPoint(), QPoint(0, -120), Qt.ScrollPhase.NoScrollPhase, strip)
    assert bar.value() == 240
    turn_wheel(table, QPoint(), QPoint(0, 120), Qt.ScrollPhase.NoScrollPhase, strip)
    assert bar.value() == 120


def test_a_pinch_zooms_about_the_fingers(table: Table) -> None:
    canvas, view = table.panel.canvas, table.panel.canvas.viewport()
    at = QPointF(200, 150)
    scale, under = canvas.px_per_mm, canvas.mapToScene(at.toPoint())
    pad = QPointingDevice(
        "pad",
        7,
        QInputDevice.DeviceType.TouchPad,
        QPointingDevice.PointerType.Finger,
        QInputDevice.Capability.Position,
        2,
        0,
    )
    pinch = Qt.NativeGestureType.ZoomNativeGesture
    event = QNativeGestureEvent(pinch, pad, 2, at, at, QPointF(view.mapToGlobal(at)), 0.5, QPointF())
    QApplication.sendEvent(view, event)
    assert canvas.px_per_mm == pytest.approx(scale * 1.5)
    assert (canvas.mapToScene(at.toPoint()) - under).manhattanLength() < 2 / canvas.px_per_mm


def test_real_size_is_shown_about_what_is_chosen(table: Table) -> None:
    canvas = table.panel.canvas
    piece = table.piece(1, 0)
    canvas.choose([piece])
    canvas.zoom_by(-3)
    QTest.keyClick(canvas, Qt.Key.Key_1)
    assert canvas.percent == pytest.approx(100)
    middle = canvas.mapFromScene(piece.sceneBoundingRect().center())
    assert (middle - canvas.viewport().rect().center()).manhattanLength() <= 2


def test_sheets_never_shrink_out_of_sight(table: Table) -> None:
    canvas = table.panel.canvas
    canvas.fit()
    fitted = canvas.px_per_mm
    canvas.zoom_by(-40)
    assert fitted / 6 < canvas.px_per_mm < fitted / 3
    canvas.zoom_by(2)
    assert canvas.px_per_mm > fitted / 4


def test_space_and_a_drag_push_the_bench_and_move_no_piece(table: Table) -> None:
    canvas, view = table.panel.canvas, table.panel.canvas.viewport()
    canvas.zoom_by(4)
    corner, start = canvas.mapToScene(QPoint(0, 0)), table.at(0, 50, 40)
    QTest.keyPress(canvas, Qt.Key.Key_Space)
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(view, start + QPoint(25, 10))
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=start + QPoint(25, 10))
    QTest.keyRelease(canvas, Qt.Key.Key_Space)
    moved = canvas.mapToScene(QPoint(0, 0)) - corner
    assert moved.x() * canvas.px_per_mm == pytest.approx(-25, abs=1)
    assert table.told == []
    assert table.piece(0, 0).placement.x_mm == 20
    assert table.panel.bench.offers[0].key == OFFER


@pytest.mark.parametrize("steps", [-6, 0, 6])
def test_a_bench_of_any_size_is_pushed_almost_out_of_view_and_no_further(table: Table, steps: int) -> None:
    canvas, bench = table.panel.canvas, table.panel.bench
    canvas.zoom_by(steps)
    for way in (-1, 1):
        canvas.pan(9999 * way, 9999 * way)
        seen = canvas.mapFromScene(bench.bench_box()).boundingRect() & canvas.viewport().rect()
        assert (seen.width(), seen.height()) == pytest.approx((80, 80), abs=3)


def test_the_settings_folder_may_hold_anything(qtbot: QtBot, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    screen = QApplication.primaryScreen()
    Screens(settings).keep(screen, 9999.0)
    assert screen.property("measured ppi") is None
