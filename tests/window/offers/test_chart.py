"""The chart of cost a garment by quantity under mouse and keys, and what it draws."""

from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.window.look import contrast, tokens_for
from planner.window.offers import words
from planner.window.offers.chart import QuantityChart
from planner.window.offers.chart_painter import LINE_COLOURS, LINE_DASHES, ChartPainter
from planner.window.offers.curves import Curves, Known, cheapest_words, curves_from
from tests.window.offers.setting import SHEETS, SINGLES, a_small_shop, costs_of_two


def curves() -> Curves:
    return curves_from(costs_of_two(), a_small_shop(), now=20, chosen=SHEETS, rough=False)


@pytest.fixture
def chart(qtbot: QtBot) -> QuantityChart:
    made = QuantityChart()
    qtbot.addWidget(made)
    made.resize(620, 300)
    made.show_curves(curves())
    made.show()
    qtbot.waitExposed(made)
    return made


def test_the_mouse_points_at_the_nearest_point_and_tells_its_figures(
    chart: QuantityChart, qtbot: QtBot
) -> None:
    spot = chart.spot(SINGLES, 30)
    assert spot is not None
    with qtbot.waitSignal(chart.pointed) as told:
        QTest.mouseMove(chart, spot.toPoint() + QPoint(2, -3))
    assert chart.cursor_at == (SINGLES, 30)
    assert told.args == ["Film singles, no minimum: 30 garments at $4.00 each, $120.00 in all."]


@pytest.mark.parametrize("offer", [SHEETS, SINGLES])
def test_of_two_lines_close_together_the_nearer_one_is_pointed_at(chart: QuantityChart, offer: str) -> None:
    sheets, singles = chart.spot(SHEETS, 20), chart.spot(SINGLES, 20)
    assert sheets is not None
    assert singles is not None
    assert 6 < singles.y() - sheets.y() < 40
    QTest.mouseMove(chart, (sheets if offer == SHEETS else singles).toPoint())
    assert chart.cursor_at == (offer, 20)


def test_the_mouse_far_from_all_lines_points_at_nothing(chart: QuantityChart) -> None:
    QTest.mouseMove(chart, QPoint(610, 2))
    assert chart.cursor_at is None


def test_keys_go_along_a_line_and_from_line_to_line(chart: QuantityChart) -> None:
    chart.setFocus()
    QApplication.processEvents()
    assert chart.cursor_at == (SHEETS, 20)
    QTest.keyClick(chart, Qt.Key.Key_Right)
    assert chart.cursor_at == (SHEETS, 30)
    assert "A price break is passed here." in chart.accessibleDescription()
    assert "From here on Film gang sheets is the cheapest." in chart.accessibleDescription()
    QTest.keyClick(chart, Qt.Key.Key_Up)
    assert chart.cursor_at == (SINGLES, 30)
    QTest.keyClick(chart, Qt.Key.Key_End)
    assert chart.cursor_at == (SINGLES, 40)
    QTest.keyClick(chart, Qt.Key.Key_Right)
    assert chart.cursor_at == (SINGLES, 40)
    QTest.keyClick(chart, Qt.Key.Key_Home)
    assert chart.cursor_at == (SINGLES, 10)


def test_points_are_drawn_where_they_are_told_to_be(chart: QuantityChart) -> None:
    spot = chart.spot(SINGLES, 20)
    assert spot is not None
    style = next(curve.style for curve in curves().curves if curve.offer == SINGLES)
    seen = chart.grab().toImage().pixelColor(spot.toPoint())
    assert seen.name() == LINE_COLOURS[False][style]


def test_dearer_is_higher_and_more_is_further_right(chart: QuantityChart) -> None:
    cheap, dear = chart.spot(SHEETS, 30), chart.spot(SINGLES, 30)
    later = chart.spot(SHEETS, 40)
    assert cheap is not None
    assert dear is not None
    assert later is not None
    assert dear.y() < cheap.y()
    assert later.x() > cheap.x()
    # 4.00 a garment stands twice as far above zero as 2.00; 8.00 four times.
    eight = chart.spot(SHEETS, 10)
    assert eight is not None
    assert dear.y() - eight.y() == pytest.approx(2 * (cheap.y() - dear.y()))


@pytest.mark.parametrize("dark", [False, True])
def test_lines_stand_out_from_the_ground_and_differ_by_more_than_colour(dark: bool) -> None:
    # WCAG 2.2, 1.4.11: 3:1 for graphics.
    ground = tokens_for(dark).ground
    assert all(contrast(colour, ground) >= 3 for colour in LINE_COLOURS[dark])
    assert len(set(LINE_DASHES)) == len(LINE_COLOURS[dark]) == 4


def test_a_cursor_on_a_point_that_is_gone_is_let_go(chart: QuantityChart) -> None:
    chart.setFocus()
    QApplication.processEvents()
    chart.show_curves(None)
    assert chart.cursor_at is None


def known(cost: str, *, is_accepted: bool = True) -> Curves:
    """The sheets at the present quantity cost so much, and no quick arrangement is needed to know it."""
    sheets = {SHEETS: Known(Decimal(cost), is_accepted)}
    return curves_from(costs_of_two(), a_small_shop(), now=20, chosen=SHEETS, rough=False, known=sheets)


def test_the_present_quantity_costs_what_the_row_tells_and_the_line_stays_quick(chart: QuantityChart) -> None:
    quick, later = chart.spot(SHEETS, 20), chart.spot(SHEETS, 30)
    chart.show_curves(known("60"))
    here = chart.spot(SHEETS, 20)
    assert quick is not None
    assert here is not None
    assert here.y() > quick.y()
    assert chart.spot(SHEETS, 30) == later
    style = next(curve.style for curve in curves().curves if curve.offer == SHEETS)
    shot = chart.grab().toImage()
    assert shot.pixelColor(here.toPoint()).name() == LINE_COLOURS[False][style]
    # From the line down to the point off it.
    assert shot.pixelColor(((here + quick) / 2).toPoint()).name() == LINE_COLOURS[False][style]
    QTest.mouseMove(chart, here.toPoint())
    assert chart.cursor_at == (SHEETS, 20)
    told = chart.toolTip()
    assert "20 garments at $3.00 each, $60.00 in all. The job's sheets as they stand;" in told
    assert "comes to $90.00." in told
    (curve,) = [each for each in known("70", is_accepted=False).curves if each.offer == SHEETS]
    assert curve.here is not None
    assert "Found by looking closer" in known("70", is_accepted=False).told(curve, curve.here)


def test_the_sentence_agrees_with_the_rows_on_what_is_cheapest_now() -> None:
    # A quick arrangement at 20 costs 90, singles 80: only the job's own sheets undo that.
    assert cheapest_words(known("70")).endswith("there Film gang sheets is the cheapest.")
    assert cheapest_words(known("85")).endswith("there Film singles, no minimum is the cheapest.")
    # Known to be what a quick arrangement costs, it is no other point.
    assert known("90") == curves()


@pytest.mark.parametrize("width", [620, 600])
def test_what_the_axis_tells_is_not_cut(chart: QuantityChart, width: int) -> None:
    def painter(wide: int) -> ChartPainter:
        return ChartPainter(curves(), QRectF(0, 0, wide, 300), chart.font(), tokens_for(False))

    assert painter(width).unit_told == words.axis_of_cost("USD")
    assert painter(300).unit_told.endswith("…")
