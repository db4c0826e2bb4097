"""The page of offers under a real mouse and real keys."""

import itertools
from dataclasses import dataclass, field
from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent, QFontMetricsF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from planner.buying.compare import compare
from planner.job.document import Job
from planner.job.edits import change_print
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window.look import Type, type_font
from planner.window.names import piece_name, print_name
from planner.window.offers import words
from planner.window.offers.columns import columns_for
from planner.window.offers.figures import Column
from planner.window.offers.panel import OffersPanel
from planner.window.offers.row import RowHead
from tests.window.offers.setting import (
    FACTS,
    ROLL,
    SHEETS,
    SUBLIMATION,
    a_plan,
    a_small_shop,
    compared,
    costs_of_two,
    question,
    two_prints,
    with_medium,
)
from tests.window.rig import click, pick


@dataclass
class Page:
    """A shown page and everything it told."""

    panel: OffersPanel
    wanted: list[str | None] = field(default_factory=list)
    chosen: list[tuple[str, str | None]] = field(default_factory=list)
    quantities: list[int] = field(default_factory=list)

    def show(self, job: Job, shop: Shop | None = None) -> None:
        shop = shop or a_small_shop()
        self.panel.show_plan(job, shop, a_plan(job, shop))
        if shop.offers:
            self.panel.show_results(question(job, self.panel.scope_key), compared())
        QApplication.processEvents()

    def head(self, key: str) -> RowHead:
        return self.panel.offers.rows[key].head

    def order(self) -> list[str]:
        """Offers from the top, as they stand on the screen."""
        rows = self.panel.offers.rows
        return sorted(rows, key=lambda key: rows[key].mapTo(self.panel, QPoint(0, 0)).y())


@pytest.fixture
def page(qtbot: QtBot) -> Page:
    panel = OffersPanel()
    page = Page(panel)
    panel.comparison_wanted.connect(page.wanted.append)
    panel.offer_chosen.connect(lambda offer, print_key: page.chosen.append((offer, print_key)))
    panel.quantity_chosen.connect(page.quantities.append)
    qtbot.addWidget(panel)
    panel.resize(625, 900)
    panel.show()
    with qtbot.waitActive(panel):
        panel.activateWindow()
    page.show(two_prints())
    return page


def test_the_page_asks_for_a_comparison_when_it_is_looked_at(page: Page) -> None:
    before = len(page.wanted)
    page.panel.hide()
    page.panel.show_plan(two_prints(), a_small_shop(), a_plan(two_prints(), a_small_shop()))
    assert len(page.wanted) == before
    page.panel.show()
    assert page.wanted[before:] == [None]


def test_a_click_on_a_head_sorts_and_a_second_one_turns_round(page: Page) -> None:
    usable = [key for key in page.order() if key != SUBLIMATION]
    click(page.panel.offers.header.buttons[Column.PRESS])
    QApplication.processEvents()
    times = {row.offer: row.press_s for row in compared()}
    assert page.order() == [*sorted(usable, key=lambda key: times[key]), SUBLIMATION]
    click(page.panel.offers.header.buttons[Column.PRESS])
    QApplication.processEvents()
    assert page.order() == [*sorted(usable, key=lambda key: -times[key]), SUBLIMATION]


def test_keys_sort_too_and_say_which_way(page: Page) -> None:
    head = page.panel.offers.header.buttons[Column.NAME]
    head.setFocus()
    QTest.keyClick(head, Qt.Key.Key_Space)
    QApplication.processEvents()
    names = {key: page.head(key).shown for key in page.order() if key != SUBLIMATION}
    told = [shown.name for shown in names.values() if shown]
    assert told == sorted(told)
    assert "smallest first" in head.accessibleName()


def test_showing_offers_opens_no_window_of_its_own(page: Page) -> None:
    shown = [each for each in QApplication.topLevelWidgets() if each.isVisible()]
    assert shown == [page.panel]


def test_arrows_go_from_row_to_row_and_enter_opens_one(page: Page) -> None:
    first, second, *_ = page.order()
    page.head(first).setFocus()
    QTest.keyClick(page.head(first), Qt.Key.Key_Down)
    assert page.head(second).hasFocus()
    QTest.keyClick(page.head(second), Qt.Key.Key_Return)
    assert [key for key, row in page.panel.offers.rows.items() if row.is_open] == [second]
    QTest.keyClick(page.head(second), Qt.Key.Key_Left)
    assert not page.panel.offers.rows[second].is_open


def test_one_row_is_open_at_a_time(page: Page) -> None:
    click(page.head(ROLL))
    click(page.head(SUBLIMATION))
    assert [key for key, row in page.panel.offers.rows.items() if row.is_open] == [SUBLIMATION]


def test_an_open_row_stays_open_when_figures_change(page: Page) -> None:
    click(page.head(ROLL))
    page.show(changed(two_prints(), title="Summer fair"))
    assert page.panel.offers.rows[ROLL].is_open


def test_an_offer_is_taken_for_the_job_by_its_button(page: Page) -> None:
    click(page.head(ROLL))
    click(page.panel.offers.rows[ROLL].detail.take)
    assert page.chosen == [(ROLL, None)]


def test_the_offer_chosen_cannot_be_taken_again(page: Page) -> None:
    click(page.head(SHEETS))
    take = page.panel.offers.rows[SHEETS].detail.take
    assert take.text() == words.IS_CHOSEN
    assert not take.isEnabled()


def test_an_offer_is_taken_for_one_print_from_the_menu(page: Page) -> None:
    job = two_prints()
    click(page.head(ROLL))
    menu = page.panel.offers.rows[ROLL].detail.for_print.menu()
    pick(menu, print_name(job, job.print_of("p2")))
    assert page.chosen == [(ROLL, "p2")]


def test_an_offer_ruled_out_says_why_and_can_be_taken_all_the_same(page: Page) -> None:
    click(page.head(SUBLIMATION))
    detail = page.panel.offers.rows[SUBLIMATION].detail
    assert detail.take.text() == words.TAKE_ANYWAY
    click(detail.take)
    assert page.chosen == [(SUBLIMATION, None)]


@pytest.mark.qt_log_ignore("^This plugin does not support", extend=True)
def test_the_context_menu_takes_an_offer_too(page: Page) -> None:
    head = page.head(ROLL)
    at = head.rect().center()
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, head.mapToGlobal(at))
    QApplication.sendEvent(head, event)
    menu = page.panel.offers.menu
    assert menu is not None
    pick(menu, words.TAKE_FOR_JOB)
    assert page.chosen == [(ROLL, None)]


def test_comparing_for_one_print_asks_for_it_and_takes_for_it(page: Page) -> None:
    page.panel.scope.setFocus()
    QTest.keyClick(page.panel.scope, Qt.Key.Key_Down)
    page.panel.scope.activated.emit(page.panel.scope.currentIndex())
    assert page.wanted[-1] == "p1"
    page.show(two_prints())
    click(page.head(ROLL))
    click(page.panel.offers.rows[ROLL].detail.take)
    assert page.chosen == [(ROLL, "p1")]


def test_an_answer_to_another_question_is_not_shown(page: Page) -> None:
    before = page.head(SHEETS).shown
    other = with_medium(two_prints(), 99)
    dearer = tuple(changed(result, cost=result.cost * 2) for result in compared())
    page.panel.show_results(question(other), dearer)
    assert page.head(SHEETS).shown == before


def test_a_split_job_marks_both_offers(page: Page) -> None:
    page.show(change_print(two_prints(), "p2", offer=ROLL))
    for key in (SHEETS, ROLL):
        shown = page.head(key).shown
        assert shown is not None
        assert words.CHOSEN_FOR_SOME in shown.marks


def test_a_job_with_nothing_in_it_says_what_to_do(page: Page) -> None:
    job = Job(quoted_on=two_prints().quoted_on)
    page.show(job)
    assert page.panel.findChildren(RowHead)[0].isVisible() is False
    assert _visible_texts(page.panel) >= {words.NOTHING_YET, words.NOTHING_YET_WHY}


def test_a_shop_without_offers_says_so(page: Page) -> None:
    page.show(two_prints(), changed(a_small_shop(), offers=()))
    assert _visible_texts(page.panel) >= {words.NO_OFFERS, words.NO_OFFERS_WHY}


def test_the_search_shows_its_progress_and_can_be_stopped(page: Page, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.panel.closer_look_requested):
        click(page.panel.look)
    page.panel.show_search(30, 400)
    assert page.panel.progress.value() == 30
    assert not page.panel.look.isVisible()
    with qtbot.waitSignal(page.panel.closer_look_stopped):
        click(page.panel.stop)
    page.panel.show_search(0, 0)
    assert page.panel.look.isVisible()


def test_a_hint_takes_the_offer_it_speaks_of(page: Page) -> None:
    cheapest = next(key for key in page.order() if (row := page.head(key).shown) and row.cheapest)
    hint = next(
        each for each in page.panel.findChildren(type(page.panel.look)) if each.text().startswith("Take Film")
    )
    click(hint)
    assert page.chosen == [(cheapest, None)]


@pytest.mark.parametrize("width", [388, 560, 625, 900, 1800])
@pytest.mark.parametrize("font_px", [13, 20])
def test_no_figure_is_cut_at_any_width(page: Page, width: int, font_px: int) -> None:
    font = page.panel.font()
    font.setPixelSize(font_px)
    body = QFontMetricsF(type_font(font, Type.BODY, strong=True))
    small = QFontMetricsF(type_font(font, Type.SMALL))
    columns = columns_for(width, font)
    for key in page.order():
        shown = page.head(key).shown
        assert shown is not None
        for column, cell in shown.cells.items():
            left, room, _ = columns.at[column]
            assert left + room <= width
            if column is not Column.NAME:
                needs = body.horizontalAdvance(cell.figure) + small.horizontalAdvance(f"{cell.unit}x")
                assert needs <= room + 1
            if column not in (Column.NAME, Column.COST):
                assert small.horizontalAdvance(cell.below) <= room + 1
    spans = sorted((band, left, left + room) for left, room, band in columns.at.values())
    for (band, _, right), (next_band, left, _) in itertools.pairwise(spans):
        assert band != next_band or right <= left


def test_every_control_has_a_name_for_a_screen_reader(page: Page) -> None:
    click(page.head(ROLL))
    panel = page.panel
    named = [panel.scope, panel.look, panel.chart, panel.progress, *panel.offers.header.buttons.values()]
    rows = panel.offers.rows.values()
    named += [row.head for row in rows] + [panel.offers.rows[ROLL].detail.take]
    assert all(widget.accessibleName() for widget in named)


def test_the_chart_and_its_sentence_follow_the_costs(page: Page) -> None:
    page.panel.show_costs(question(two_prints()), costs_of_two(), False)
    assert page.panel.chart.curves is not None
    assert "Film gang sheets from 30" in " ".join(_visible_texts(page.panel))


def _visible_texts(panel: OffersPanel) -> set[str]:
    from PySide6.QtWidgets import QLabel

    return {each.text() for each in panel.findChildren(QLabel) if each.isVisible()}


def test_an_open_offer_tells_what_is_over_by_name(page: Page) -> None:
    """Need and spares of every print stand beside what the sheets give beyond them."""
    click(page.head(SHEETS))
    detail = page.panel.offers.rows[SHEETS].detail
    told = [shown.text() for shown in detail.findChildren(QLabel)]
    order = next(result.order for result in compared() if result.offer == SHEETS)
    assert "What it yields" in told
    for piece in order.pieces:
        at = told.index(piece_name(two_prints(), piece.piece))
        assert told[at + 1 : at + 4] == [str(piece.need), str(piece.spares), str(piece.surplus)]
    runs = [layout.runs for layout in order.layouts]
    assert words.printed_so_often(tuple(runs)) in told


def test_runs_are_counted_up_while_they_are_few() -> None:
    assert words.printed_so_often((1,)) == "One layout, printed 1 time."
    assert words.printed_so_often((31, 24)) == "2 layouts, printed 31 and 24 times."
    assert words.printed_so_often((31, 24, 2)) == "3 layouts, printed 31, 24 and 2 times."
    assert words.printed_so_often((1, 1)) == "2 layouts, each printed 1 time."
    assert words.printed_so_often((3,) * 9) == "9 layouts, each printed 3 times."
    assert words.printed_so_often((*(1,) * 8, 2)) == "9 layouts, printed 10 times in all."


def test_at_the_present_quantity_the_chart_agrees_with_every_row(page: Page) -> None:
    page.panel.show_costs(question(two_prints()), costs_of_two(), False)
    curves = page.panel.chart.curves
    assert curves is not None
    for curve in curves.curves:
        point, row = curve.at(curves.now), page.head(curve.offer).shown
        assert point is not None
        assert row is not None
        assert point.cost == row.result.cost
        assert point.cost_each == row.result.cost_each
    # Of costs for another job no row tells anything.
    page.panel.show_costs(question(two_prints()), costs_of_two(), False)
    page.panel.show_plan(
        with_medium(two_prints(), 40), a_small_shop(), a_plan(with_medium(two_prints(), 40), a_small_shop())
    )
    curves = page.panel.chart.curves
    assert curves is not None
    assert all(curve.here is None for curve in curves.curves)


def test_the_cursor_goes_from_the_closer_look_to_its_stop_and_back(page: Page) -> None:
    page.panel.look.setFocus()
    page.panel.show_search(0, 400)
    assert QApplication.focusWidget() is page.panel.stop
    page.panel.show_search(0, 0)
    assert QApplication.focusWidget() is page.panel.look


@pytest.mark.parametrize(("free_from", "told"), [("10", "0.00"), ("9000", "11.00"), (None, "11.00")])
def test_an_open_offer_tells_from_which_order_on_delivery_is_free(
    page: Page, free_from: str | None, told: str
) -> None:
    threshold = Decimal(free_from) if free_from else None
    shop = a_small_shop()
    offers = tuple(
        changed(offer, free_delivery_from=threshold) if offer.key == SHEETS else offer
        for offer in shop.offers
    )
    shop = changed(shop, offers=offers)
    page.panel.show_plan(two_prints(), shop, a_plan(two_prints(), shop))
    page.panel.show_results(question(two_prints()), compare(two_prints(), shop, FACTS))
    click(page.head(SHEETS))
    shown = [each.text() for each in page.panel.offers.rows[SHEETS].detail.findChildren(QLabel)]
    at = next(at for at, text in enumerate(shown) if text.startswith("delivery"))
    assert ("free from" in shown[at]) is (free_from is not None)
    assert told in shown[at - 1 : at + 2]
