"""The sheets panel under a real mouse and real keys."""

from dataclasses import dataclass, field

import pytest
from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from planner.buying.purchase import PieceOrder, Purchase
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Placement, Way
from planner.plan.model import Missing
from planner.sheets.nudge import Feature
from planner.window.sheet.bench import GUIDE_LINES
from planner.window.sheet.items import HeaderItem, PieceItem
from planner.window.sheet.moves import Ref
from planner.window.sheet.overlays import HatchItem, TagItem
from planner.window.sheet.panel import SheetsPanel
from planner.window.sheet.piece_words import piece_hint
from tests.window.rig import typed
from tests.window.sheet.setting import OFFER, SHEET, a_job, a_plan, a_shop, arranged, picture, placed

LEFT = Qt.MouseButton.LeftButton
PLAIN = Qt.KeyboardModifier.NoModifier
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier
NUDGE_MM = 25.4 / 64


@dataclass
class Table:
    """A panel on two sheets, and everything it told."""

    panel: SheetsPanel
    told: list[tuple[str, tuple[Layout, ...], str, str]] = field(default_factory=list)

    def show(self, *layouts: Layout) -> None:
        self.panel.show_plan(a_job(), a_shop(), a_plan(*layouts))

    def piece(self, sheet: int, number: int) -> PieceItem:
        found = self.panel.bench.piece(OFFER, Ref(sheet, number))
        assert found is not None
        return found

    def at(self, sheet: int, x_mm: float, y_mm: float) -> QPoint:
        """A point of a sheet in pixels of the view."""
        spot = self.panel.bench.spot(OFFER, sheet)
        return self.panel.canvas.mapFromScene(spot.origin + QPointF(x_mm, y_mm))

    def drag(self, start: QPoint, end: QPoint, modifiers: Qt.KeyboardModifier = PLAIN) -> None:
        view = self.panel.canvas.viewport()
        QTest.mousePress(view, LEFT, modifiers, start)
        for step in range(1, 6):
            QTest.mouseMove(view, start + (end - start) * step / 5)
        QTest.mouseRelease(view, LEFT, modifiers, end)

    def key(self, key: Qt.Key, modifiers: Qt.KeyboardModifier = PLAIN) -> None:
        QTest.keyClick(self.panel.canvas, key, modifiers)

    def last(self) -> tuple[Layout, ...]:
        return self.told[-1][1]


def first_sheet() -> Layout:
    return Layout(SHEET, (placed("p1", 20, 20), placed("p2", 150, 100), placed("p3", 40, 300)))


def second_sheet() -> Layout:
    return Layout(SHEET, (placed("p1", 100, 200),))


@pytest.fixture
def table(qtbot: QtBot) -> Table:
    panel = SheetsPanel()
    qtbot.addWidget(panel)
    panel.set_picture_source(picture)
    panel.resize(1000, 760)
    panel.show()
    qtbot.waitExposed(panel)
    made = Table(panel)
    panel.layouts_edited.connect(lambda *told: made.told.append(told))
    made.show(first_sheet(), second_sheet())
    panel.canvas.setFocus()
    return made


def test_a_drag_is_one_edit_told_in_millimetres_with_the_piece_pinned(table: Table) -> None:
    panel = table.panel
    start, end = table.at(0, 180, 120), table.at(0, 137, 190)
    table.drag(start, end)
    assert len(table.told) == 1
    offer, layouts, title, _ = table.told[0]
    moved = layouts[0].placements[1]
    pixel_mm = 1 / panel.canvas.px_per_mm
    assert offer == OFFER
    assert title == "Move 1 piece"
    assert moved.x_mm - 150 == pytest.approx((end - start).x() * pixel_mm, abs=8 * pixel_mm)
    assert moved.y_mm - 100 == pytest.approx((end - start).y() * pixel_mm, abs=8 * pixel_mm)
    assert moved.pinned
    assert layouts[0].placements[0] == first_sheet().placements[0]
    assert layouts[1] == second_sheet()


def test_a_dragged_piece_catches_on_the_margin(table: Table) -> None:
    # 2 px right of the margin is within reach: it lands on the margin exactly (film-sheet: 5 mm).
    pixel_mm = 1 / table.panel.canvas.px_per_mm
    table.drag(table.at(0, 50, 40), table.at(0, 50 - 15 + 2 * pixel_mm, 90))
    assert table.last()[0].placements[0].x_mm == 5.0


def test_a_dragged_piece_catches_at_the_gap_beside_its_neighbour(table: Table) -> None:
    pixel_mm = 1 / table.panel.canvas.px_per_mm
    # Its left edge lands 2 px from one gap (3 mm) right of p2, which ends at 210 mm.
    table.drag(table.at(0, 50, 40), table.at(0, 50 + 193 + 2 * pixel_mm, 40 + 80))
    assert table.last()[0].placements[0].x_mm == pytest.approx(213.0)


def test_escape_takes_a_drag_back_and_tells_nothing(table: Table) -> None:
    view = table.panel.canvas.viewport()
    start = table.at(0, 50, 40)
    QTest.mousePress(view, LEFT, PLAIN, start)
    QTest.mouseMove(view, start + QPoint(40, 30))
    assert table.piece(0, 0).placement.x_mm == 20
    assert table.piece(0, 0).pos().x() > 21
    table.key(Qt.Key.Key_Escape)
    QTest.mouseRelease(view, LEFT, PLAIN, start + QPoint(40, 30))
    assert table.piece(0, 0).pos().x() == pytest.approx(20)
    assert table.told == []


def test_several_chosen_by_a_band_move_together(table: Table) -> None:
    table.drag(table.at(0, 8, 8), table.at(0, 240, 180))
    assert {piece.ref for piece in table.panel.bench.chosen()} == {Ref(0, 0), Ref(0, 1)}
    table.drag(table.at(0, 50, 40), table.at(0, 62, 71))
    placements = table.last()[0].placements
    assert len(table.told) == 1
    assert placements[1].x_mm - placements[0].x_mm == pytest.approx(130)
    assert placements[1].y_mm - placements[0].y_mm == pytest.approx(80)
    assert not placements[2].pinned


def test_a_click_on_one_of_several_chosen_pieces_chooses_it_alone(table: Table) -> None:
    table.drag(table.at(0, 8, 8), table.at(0, 240, 180))
    QTest.mouseClick(table.panel.canvas.viewport(), LEFT, PLAIN, table.at(0, 180, 120))
    assert [piece.ref for piece in table.panel.bench.chosen()] == [Ref(0, 1)]
    QTest.mouseClick(table.panel.canvas.viewport(), LEFT, SHIFT, table.at(0, 50, 40))
    assert {piece.ref for piece in table.panel.bench.chosen()} == {Ref(0, 0), Ref(0, 1)}


def test_a_piece_dropped_on_another_sheet_goes_over_to_it(table: Table) -> None:
    table.drag(table.at(0, 180, 120), table.at(1, 60, 60))
    layouts = table.last()
    assert [p.print for p in layouts[0].placements] == ["p1", "p3"]
    assert [p.print for p in layouts[1].placements] == ["p1", "p2"]
    assert layouts[1].placements[1].x_mm == pytest.approx(30, abs=4)
    assert [piece.ref for piece in table.panel.bench.chosen()] == [Ref(1, 1)]


def over_card(table: Table, card: int) -> QPoint:
    """The middle of a sheet's card in pixels of the view."""
    shown = table.panel.strip.cards[card]
    return table.panel.canvas.viewport().mapFromGlobal(shown.mapToGlobal(shown.rect().center()))


def test_pieces_held_over_a_card_of_the_strip_go_to_its_sheet(table: Table) -> None:
    view, at = table.panel.canvas.viewport(), over_card(table, 1)
    table.panel.canvas.choose([table.piece(0, 1), table.piece(0, 2)])
    start = table.at(0, 180, 120)
    where = [piece.pos() for piece in table.panel.bench.chosen()]
    QTest.mousePress(view, LEFT, PLAIN, start)
    for step in range(1, 6):
        QTest.mouseMove(view, start + (at - start) * step / 5)
    # They lie where they were while the card is aimed at.
    assert [piece.pos() for piece in table.panel.bench.chosen()] == where
    assert table.panel.strip.target == table.panel.bench.spot(OFFER, 1)
    QTest.mouseRelease(view, LEFT, PLAIN, at)
    (told,) = table.told
    assert [p.print for p in told[1][0].placements] == ["p1"]
    assert [p.print for p in told[1][1].placements] == ["p1", "p2", "p3"]
    assert all(p.pinned for p in told[1][1].placements[1:])
    assert table.panel.strip.target is None


def test_pieces_let_go_over_their_own_card_or_beside_all_stay(table: Table) -> None:
    start = table.at(0, 180, 120)
    before = table.piece(0, 1).pos()
    beside = over_card(table, 1) + QPoint(table.panel.strip.cards[1].width(), 0)
    for end in (over_card(table, 0), beside):
        table.drag(start, end)
        assert table.piece(0, 1).pos() == before
    assert table.told == []


def test_escape_over_the_strip_aims_at_nothing_more(table: Table) -> None:
    view, start = table.panel.canvas.viewport(), table.at(0, 180, 120)
    QTest.mousePress(view, LEFT, PLAIN, start)
    for at in (start + QPoint(20, 20), over_card(table, 1)):
        QTest.mouseMove(view, at)
    assert table.panel.strip.target is not None
    table.key(Qt.Key.Key_Escape)
    assert table.panel.strip.target is None
    QTest.mouseRelease(view, LEFT, PLAIN, over_card(table, 1))
    assert table.told == []


def test_the_row_of_cards_moves_along_under_a_hand_at_its_end(table: Table, qtbot: QtBot) -> None:
    table.show(*(Layout(SHEET, (placed("p1", 10, 10),)) for _ in range(24)))
    strip = table.panel.strip
    qtbot.waitUntil(lambda: strip.horizontalScrollBar().maximum() > 0)
    view, start = table.panel.canvas.viewport(), table.at(0, 30, 20)
    end = view.mapFromGlobal(strip.mapToGlobal(QPoint(strip.viewport().width() - 20, 30)))
    QTest.mousePress(view, LEFT, PLAIN, start)
    for at in (start + QPoint(20, 20), end):
        QTest.mouseMove(view, at)
    qtbot.waitUntil(lambda: strip.target == table.panel.bench.spot(OFFER, 23), timeout=10_000)
    assert strip.horizontalScrollBar().value() > 0
    QTest.mouseRelease(view, LEFT, PLAIN, end)
    assert [len(layout.placements) for layout in table.last()] == [1] * 22 + [2]


def test_each_line_that_a_piece_catches_on_is_named_and_drawn_in_its_own_way(table: Table) -> None:
    """Beside its left neighbour at the gap of 3 mm, tops in line; then in the sheet's corner."""
    table.show(Layout(SHEET, (placed("p1", 100, 100), placed("p2", 200, 300, 50, 30))))

    def named(x_mm: float, y_mm: float) -> set[str]:
        view, start = table.panel.canvas.viewport(), table.at(0, 225, 315)
        QTest.mousePress(view, LEFT, PLAIN, start)
        QTest.mouseMove(view, start + QPoint(9, 9))
        end = table.at(0, x_mm + 25, y_mm + 15)
        QTest.mouseMove(view, end)
        shown = {item.words for item in table.panel.bench.items() if isinstance(item, TagItem)}
        table.key(Qt.Key.Key_Escape)
        QTest.mouseRelease(view, LEFT, PLAIN, end)
        return shown

    assert named(163, 100) == {"gap", "edges"}
    assert named(5, 5) == {"margin"}
    assert named(SHEET.width_mm / 2 - 25, 200) == {"middle of the sheet"}
    assert {item.words for item in table.panel.bench.items() if isinstance(item, TagItem)} == set()
    assert len(set(GUIDE_LINES.values())) == len(Feature)


def test_many_faults_are_all_hatched_and_the_worst_few_named(table: Table) -> None:
    table.show(Layout(SHEET, tuple(placed("p1", 20 + 2 * at, 20 + 40 * at, 60, 60) for at in range(10))))
    shown = [item for item in table.panel.bench.items() if isinstance(item, TagItem)]
    hatched = [item for item in table.panel.bench.items() if isinstance(item, HatchItem)]
    assert (len(hatched), len(shown)) == (9, 5)


def test_the_cursor_is_on_the_sheets_once_the_bar_mended_a_fault(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", 100, 100), placed("p2", 155, 110))))
    table.panel.canvas.choose([table.piece(0, 1)])
    table.panel.bar.settle.setFocus()
    QTest.mouseClick(table.panel.bar.settle, LEFT)
    assert QApplication.focusWidget() is table.panel.canvas


def test_the_last_piece_of_a_sheet_takes_the_sheet_along(table: Table) -> None:
    table.drag(table.at(1, 130, 220), table.at(0, 230, 400))
    assert len(table.last()) == 1
    assert len(table.last()[0].placements) == 4


def test_arrow_keys_nudge_by_a_sixty_fourth_and_ten_with_shift_as_one_step(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_Right)
    table.key(Qt.Key.Key_Right)
    table.key(Qt.Key.Key_Down, SHIFT)
    piece = table.last()[0].placements[0]
    assert piece.x_mm == pytest.approx(20 + 2 * NUDGE_MM)
    assert piece.y_mm == pytest.approx(20 + 10 * NUDGE_MM)
    assert len({gesture for *_, gesture in table.told}) == 1
    table.panel.canvas.choose([table.piece(0, 1)])
    table.key(Qt.Key.Key_Left)
    assert len({gesture for *_, gesture in table.told}) == 2


def test_keys_turn_duplicate_pin_and_remove(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_R)
    turned = table.last()[0].placements[0]
    assert (turned.width_mm, turned.height_mm, turned.turned_deg) == (40, 60, 90)
    assert (turned.x_mm + 20, turned.y_mm + 30) == (50, 40)
    table.key(Qt.Key.Key_P)
    assert not table.last()[0].placements[0].pinned
    table.key(Qt.Key.Key_D, CTRL)
    assert [p.print for p in table.last()[0].placements] == ["p1", "p2", "p3", "p1"]
    copy = table.last()[0].placements[3]
    assert (copy.x_mm, copy.y_mm) == (pytest.approx(turned.box.right_mm + 3), pytest.approx(turned.y_mm))
    table.key(Qt.Key.Key_Delete)
    assert len(table.last()[0].placements) == 3
    assert len(table.told) == 4


def test_tab_walks_through_the_pieces_in_reading_order(table: Table) -> None:
    seen = []
    for _ in range(4):
        table.key(Qt.Key.Key_Tab)
        seen += [piece.ref for piece in table.panel.bench.chosen()]
    assert seen == [Ref(0, 0), Ref(0, 1), Ref(0, 2), Ref(1, 0)]
    table.key(Qt.Key.Key_Tab)
    assert not table.panel.bench.chosen()
    assert QApplication.focusWidget() is not table.panel.canvas


def test_a_place_typed_in_millimetres_is_exact(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 0)])
    left = table.panel.info.left
    assert left.text() == "0.787 in"
    left.setFocus()
    left.selectAll()
    QTest.keyClicks(left, "62.5 mm")
    QTest.keyClick(left, Qt.Key.Key_Return)
    assert table.last()[0].placements[0].x_mm == pytest.approx(62.5)
    assert table.last()[0].placements[0].y_mm == 20
    assert len(table.told) == 1


def test_after_a_typed_place_the_cursor_goes_on_to_the_next_field_or_stays(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 0)])
    left, top = table.panel.info.left, table.panel.info.top
    typed(left, "62.5 mm", end=Qt.Key.Key_Tab)
    assert QApplication.focusWidget() is top
    typed(top, "30 mm")
    assert QApplication.focusWidget() is top
    placement = table.last()[0].placements[0]
    assert (placement.x_mm, placement.y_mm) == (62.5, 30)


def test_the_bar_stands_where_it_does_not_cover_what_it_tells_of(table: Table) -> None:
    panel, bar = table.panel, table.panel.bar

    def seen(box: QRectF) -> QRect:
        return panel.canvas.mapFromScene(box).boundingRect()

    def stands() -> QRect:
        QApplication.processEvents()
        return QRect(panel.canvas.viewport().mapFrom(panel, bar.mapTo(panel, QPoint())), bar.size())

    low, high = SHEET.height_mm - 50, 30
    two_low = Layout(SHEET, (placed("p1", 20, low), placed("p2", 70, low)))
    table.show(two_low, Layout(SHEET, (placed("p1", 20, high), placed("p2", 70, high))))
    panel.canvas.choose([table.piece(0, 1)])
    # As near as that the piece lies under the foot of the canvas.
    panel.canvas.fit(panel.bench.spot(OFFER, 0).box.adjusted(0, 250, 0, -10))
    assert stands().top() < panel.canvas.viewport().height() / 2
    assert not stands().intersects(seen(table.piece(0, 1).sceneBoundingRect()))
    panel.canvas.fit(panel.bench.spot(OFFER, 0).box.adjusted(0, 420, 0, 200))
    assert stands().top() > panel.canvas.viewport().height() / 2
    panel.canvas.choose([table.piece(1, 1)])
    assert stands().top() > panel.canvas.viewport().height() / 2


def test_an_overlap_is_told_where_and_by_how_much_and_enter_mends_it(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", 100, 100), placed("p2", 155, 110))))
    panel = table.panel
    assert "overlap by 0.20 in" in panel.bar.sentence
    panel.canvas.choose([table.piece(0, 1)])
    assert panel.bar.settle.isVisible()
    table.key(Qt.Key.Key_Return)
    settled = table.last()[0].placements
    assert settled[1].x_mm == pytest.approx(163)
    assert settled[1].y_mm == 110
    assert panel.bar.sentence == ""
    assert len(table.told) == 1


def test_letting_go_in_a_bad_spot_is_kept_and_a_good_one_is_offered(table: Table) -> None:
    table.drag(table.at(0, 50, 40), table.at(0, 170, 115))
    assert "overlap" in table.panel.bar.sentence
    assert table.panel.bar.settle.isVisible()
    dropped = table.last()[0].placements[0]
    QTest.mouseClick(table.panel.bar.settle, LEFT)
    good = table.last()[0].placements[0]
    assert good != dropped
    assert good.box.grown(3 - 0.001).overlap(table.last()[0].placements[1].box) is None
    # The drop and the settling are one undo step.
    assert table.told[0][3] == table.told[1][3]


def test_a_fault_shows_while_the_piece_is_still_in_the_hand(table: Table) -> None:
    view = table.panel.canvas.viewport()
    start = table.at(0, 50, 40)
    marks = table.panel.bench.mark_count
    assert marks == 0
    QTest.mousePress(view, LEFT, PLAIN, start)
    for step in range(1, 6):
        QTest.mouseMove(view, start + (table.at(0, 170, 115) - start) * step / 5)
    assert table.panel.bench.mark_count > 0
    QTest.mouseRelease(view, LEFT, PLAIN, table.at(0, 170, 115))


def test_runs_are_edited_in_the_strip(table: Table) -> None:
    runs = table.panel.strip.cards[1].runs
    runs.setFocus()
    runs.selectAll()
    QTest.keyClicks(runs, "7")
    QTest.keyClick(runs, Qt.Key.Key_Return)
    assert [layout.runs for layout in table.last()] == [1, 7]
    runs.setFocus()
    runs.selectAll()
    QTest.keyClicks(runs, "none")
    QTest.keyClick(runs, Qt.Key.Key_Return)
    assert runs.is_wrong
    assert len(table.told) == 1


def test_pieces_are_sent_to_a_new_sheet(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 2), table.piece(1, 0)])
    table.panel.hand.send_to(None)
    assert [len(layout.placements) for layout in table.last()] == [2, 2]
    assert {piece.ref for piece in table.panel.bench.chosen()} == {Ref(1, 0), Ref(1, 1)}


def test_showing_the_same_plan_again_tells_nothing_and_keeps_the_choice(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 1)])
    table.show(first_sheet(), second_sheet())
    assert table.told == []
    assert [piece.ref for piece in table.panel.bench.chosen()] == [Ref(0, 1)]


def test_the_wheel_zooms_with_the_point_under_the_pointer_staying(table: Table) -> None:
    canvas = table.panel.canvas
    at = table.at(0, 150, 100)
    before, scale = canvas.mapToScene(at), canvas.px_per_mm
    canvas.zoom_by(3, at)
    assert canvas.px_per_mm == pytest.approx(scale * 1.2**3)
    after = canvas.mapToScene(at)
    assert (after - before).manhattanLength() < 2 / canvas.px_per_mm


def test_real_size_draws_an_inch_as_an_inch_of_the_screen(table: Table) -> None:
    table.key(Qt.Key.Key_1)
    physical = table.panel.screen().physicalDotsPerInch()
    assert 25.4 * table.panel.canvas.px_per_mm == pytest.approx(physical)
    assert table.panel.canvas.percent == pytest.approx(100)


def test_an_empty_bench_says_what_to_do_next(table: Table) -> None:
    panel = table.panel
    panel.show_plan(a_job(), a_shop(), a_plan(missing=(Missing.OFFER,)))
    assert not panel.canvas.isVisible()
    assert "Choose an offer" in panel.empty.words.text()
    assert not panel.empty.arrange.isVisible()
    panel.show_plan(a_job(), a_shop(), a_plan(missing=(Missing.ARRANGE,)))
    asked: list[bool] = []
    panel.arrange_requested.connect(lambda: asked.append(True))
    QTest.mouseClick(panel.empty.arrange, LEFT)
    assert asked == [True]


def test_a_running_search_shows_its_best_and_locks_the_sheets(table: Table) -> None:
    panel = table.panel
    best = a_plan(Layout(SHEET, (placed("p1", 10, 10),))).purchase
    panel.show_search(best, True, 3, 10)
    assert len(panel.bench.spots) == 1
    assert panel.arrange.words.text() == "Searching: 1 sheet so far, yours are 2"
    panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_Delete)
    table.drag(table.at(0, 40, 30), table.at(0, 140, 130))
    assert table.told == []
    panel.show_search(None, False, 0, 0)
    assert len(panel.bench.spots) == 2


def test_a_print_that_must_not_turn_is_not_turned(table: Table) -> None:
    job = a_job()
    straight = job.model_copy(
        update={"prints": tuple(print_.model_copy(update={"may_turn": False}) for print_ in job.prints)}
    )
    table.panel.show_plan(straight, a_shop(), a_plan(first_sheet()))
    table.panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_R)
    assert table.told == []


def test_many_sheets_are_shown_and_a_sheet_of_the_strip_comes_into_view(table: Table) -> None:
    job = a_job(12, 12)
    layouts = arranged(job, a_shop())
    table.panel.show_plan(job, a_shop(), a_plan(*layouts))
    assert len(table.panel.strip.cards) == len(layouts) > 4
    QTest.mouseClick(table.panel.strip.cards[-1].thumb, LEFT)
    canvas = table.panel.canvas
    seen = canvas.mapToScene(canvas.viewport().rect()).boundingRect()
    assert seen.contains(table.panel.bench.spots[-1].box)


def test_a_tooltip_names_artwork_place_size_and_resolution(table: Table) -> None:
    hint = piece_hint(table.piece(0, 0), table.panel.bench.unit)
    # 900 px across 70 mm is 326.6 ppi.
    assert hint.splitlines()[:3] == ["lantern-1, full front", "2.76 × 1.84 in", "327 ppi"]


def test_provisional_sheets_say_so(table: Table) -> None:
    table.panel.show_plan(a_job(), a_shop(), a_plan(first_sheet(), provisional=True))
    assert table.panel.bench.offers[0].provisional
    assert "provisional" in table.panel.info.words.text()


def test_placements_of_prints_that_are_gone_are_shown_as_not_needed(table: Table) -> None:
    table.show(Layout(SHEET, (Placement("p99", 20, 20, 50, 50),)))
    table.panel.canvas.choose([table.piece(0, 0)])
    assert "No garment needs this piece" in table.panel.info.words.text()


def test_pieces_are_added_to_the_choice_by_a_key(table: Table) -> None:
    for _ in range(3):
        table.key(Qt.Key.Key_N)
    assert {piece.ref for piece in table.panel.bench.chosen()} == {Ref(0, 0), Ref(0, 1), Ref(0, 2)}


def test_a_great_many_pieces_chosen_at_once_still_answer_at_once(table: Table) -> None:
    grid = [placed("p1", 5 + 14 * (at % 19), 5 + 14 * (at // 19), 10, 10) for at in range(19 * 30)]
    table.show(Layout(SHEET, (*grid, placed("p2", 150, 100))))
    table.panel.canvas.choose([table.piece(0, number) for number in (*range(250), 570)])
    assert "overlap" in table.panel.bar.sentence
    assert table.panel.bar.settle.text() == "Move to the nearest good spot"


def test_sheets_cut_by_outline_are_judged_by_outlines_where_these_are_known(table: Table) -> None:
    nested = Layout(SHEET, (placed("p1", 100, 100, 40, 40), placed("p2", 106, 100, 40, 40)))
    job = a_job().model_copy(update={"way": Way.OUTLINE})
    table.panel.show_plan(job, a_shop(), a_plan(nested))
    assert "overlap" in table.panel.bar.sentence
    lower = ((0.0, 0.0), (0.0, 40.0), (40.0, 40.0))
    upper = ((0.0, 0.0), (40.0, 0.0), (40.0, 40.0))
    # The two triangles' long sides are 6 / √2 = 4.2 mm apart; the offer asks for 3.
    table.panel.set_outlines({"p1": lower, "p2": upper})
    assert table.panel.bar.sentence == ""


def test_straight_cuts_are_drawn_and_counted_on_the_current_sheet(table: Table) -> None:
    job = a_job().model_copy(update={"way": Way.STRAIGHT})
    table.panel.show_plan(job, a_shop(), a_plan(first_sheet()))
    assert table.panel.bench.cuts.count > 6
    assert f"{table.panel.bench.cuts.count} cuts" in table.panel.cut_list.words.text()
    table.show(first_sheet())
    assert table.panel.bench.cuts.count == 0


def test_spares_and_what_is_over_are_told_apart(table: Table) -> None:
    def tally(*pieces: PieceOrder) -> str:
        plan = a_plan(first_sheet())
        assert plan.purchase is not None
        order = plan.purchase.orders[0].model_copy(update={"pieces": pieces})
        table.panel.show_plan(
            a_job(), a_shop(), plan.model_copy(update={"purchase": Purchase(orders=(order,))})
        )
        return table.panel.info.words.text().partition("all pieces on the sheets")[2].partition(" · ")[0]

    assert tally(PieceOrder(piece="p1", need=6, spares=1, ordered=24)) == ", 1 spare, 17 over"
    assert tally(PieceOrder(piece="p1", need=4, spares=2, ordered=5)) == ", 1 spare"
    assert tally(PieceOrder(piece="p1", need=4, spares=0, ordered=4)) == ""


def test_missing_pieces_are_told_and_added_where_there_is_room(table: Table) -> None:
    plan = a_plan(first_sheet(), second_sheet())
    assert plan.purchase is not None
    (order,) = plan.purchase.orders
    short = PieceOrder(piece="p1", need=4, spares=0, ordered=2)
    order = order.model_copy(update={"pieces": (short, *order.pieces[1:])})
    plan = plan.model_copy(update={"purchase": Purchase(orders=(order,))})
    table.panel.show_plan(a_job(), a_shop(), plan)
    assert "2 × “lantern-1, full front” missing" in table.panel.bar.sentence
    QTest.mouseClick(table.panel.bar.add, LEFT)
    after = table.last()
    assert sum(layout.count_of("p1") for layout in after) == 4
    assert table.told[0][2] == "Add 2 missing pieces"
    assert not any(table.panel.bench.marks_on(spot) for spot in table.panel.bench.spots)
    added = table.piece(0, 3).placement
    # At the print's own size: 70 mm wide, as the job has it.
    assert (added.width_mm, added.pinned) == (70, True)


def test_of_a_long_roll_the_upper_end_is_shown_large_enough_to_work_on(table: Table) -> None:
    panel, roll = table.panel, Size(22 * 25.4, 240 * 25.4)
    panel.show_plan(a_job(), a_shop(), a_plan(missing=(Missing.ARRANGE,)))
    panel.show_plan(a_job(), a_shop(), a_plan(Layout(roll, (placed("p1", 10, 10),))))
    assert roll.width_mm * panel.canvas.px_per_mm > panel.canvas.width() / 3
    seen = panel.canvas.mapToScene(panel.canvas.viewport().rect()).boundingRect()
    assert seen.contains(table.piece(0, 0).sceneBoundingRect())
    panel.canvas.setFocus()
    table.key(Qt.Key.Key_PageDown)
    lower = panel.canvas.mapToScene(panel.canvas.viewport().rect()).boundingRect()
    assert lower.top() > seen.top() + seen.height() / 2
    table.key(Qt.Key.Key_F)
    assert panel.canvas.mapToScene(panel.canvas.viewport().rect()).boundingRect().height() > roll.height_mm


def test_a_settling_piece_arrives_and_a_hand_that_comes_down_finds_it_there(
    table: Table, qtbot: QtBot
) -> None:
    table.show(Layout(SHEET, (placed("p1", 100, 100), placed("p2", 155, 110))))
    origin = table.panel.bench.spots[0].origin
    table.panel.canvas.choose([table.piece(0, 1)])
    table.key(Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: (table.piece(0, 1).pos() - origin).x() == pytest.approx(163))
    table.panel.canvas.choose([table.piece(0, 1)])
    table.panel.commands["left edges"].trigger()
    assert (table.piece(0, 1).pos() - origin).x() > 100
    QTest.mousePress(table.panel.canvas.viewport(), LEFT, PLAIN, table.at(0, 280, 400))
    assert (table.piece(0, 1).pos() - origin).x() == pytest.approx(5)
    QTest.mouseRelease(table.panel.canvas.viewport(), LEFT, PLAIN, table.at(0, 280, 400))


@pytest.mark.parametrize("sheets", [14, 60])
def test_words_above_small_sheets_never_run_into_the_sheets_above(table: Table, sheets: int) -> None:
    large = Layout(Size(22 * 25.4, 24 * 25.4), (placed("p1", 20, 20),))
    table.panel.resize(640, 460)
    table.show(*[large] * sheets)
    table.panel.canvas.fit()
    bench, canvas = table.panel.bench, table.panel.canvas
    boxes = [spot.box for spot in bench.spots]
    headers = [item for item in bench.items() if isinstance(item, HeaderItem)]
    assert len(headers) == sheets
    # Fourteen have room for their numbers at that scale, sixty have none.
    assert all(header.has_room is (sheets < 60) for header in headers)
    for header in headers:
        over = header.mapRectToScene(header.boundingRect())
        seen = QRectF(over.topLeft(), over.size() / canvas.px_per_mm)
        seen.moveBottomLeft(header.scenePos())
        assert not any(box.adjusted(1, 1, -1, -1).intersects(seen) for box in boxes)


def test_no_command_moves_when_what_is_chosen_is_pinned(table: Table) -> None:
    def places() -> dict[str, int]:
        QApplication.processEvents()
        shown = [made for made in table.panel.findChildren(QPushButton) if made.isVisible()]
        return {made.text(): made.x() for made in shown if made.text() not in ("Pin", "Unpin")}

    table.panel.canvas.choose([table.piece(0, 1)])
    before = places()
    assert {"Turn", "To sheet", "Align"} <= before.keys()
    table.key(Qt.Key.Key_P)
    assert any(made.text() == "Unpin" for made in table.panel.findChildren(QPushButton))
    assert places() == before


def test_a_search_from_nothing_accepted_is_held_against_nothing(table: Table) -> None:
    panel = table.panel
    panel.show_plan(a_job(), a_shop(), a_plan(first_sheet(), provisional=True))
    panel.show_search(a_plan(first_sheet()).purchase, True, 3, 10)
    assert panel.arrange.words.text() == "Searching: 1 sheet so far"
