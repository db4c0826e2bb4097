"""What hands do by menus and fields: another sheet, a free angle; and what is seen while a search runs."""

from dataclasses import replace
from itertools import combinations

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QMenu, QPushButton
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.sheets.validate import faults
from planner.shop.document import changed
from planner.shop.prices import ByLength
from planner.window.sheet.overlays import TagItem
from planner.window.sheet.rows import read_angle
from tests.buying.offers import by_area, by_length
from tests.window.rig import typed
from tests.window.sheet.setting import OFFER, SHEET, a_job, a_plan, a_shop, placed
from tests.window.sheet.test_panel import LEFT, Table, first_sheet, second_sheet, table

__all__ = ["table"]


def menu_of(table: Table, words: str) -> tuple[QPushButton, QMenu]:
    found = next(each for each in table.panel.findChildren(QPushButton) if each.text() == words)
    return found, found.menu()


def pick(qtbot: QtBot, table: Table, button: str, entry: str) -> None:
    """Click a button, and in its menu an entry, with the mouse."""
    pressed, menu = menu_of(table, button)
    seen: list[str] = []

    def choose() -> None:
        if not menu.isVisible():
            QTimer.singleShot(10, choose)
            return
        seen.extend(action.text() for action in menu.actions())
        wanted = next(action for action in menu.actions() if action.text().startswith(entry))
        QTest.mouseClick(menu, LEFT, pos=menu.actionGeometry(wanted).center())
        menu.close()

    QTimer.singleShot(0, choose)
    QTest.mouseClick(pressed, LEFT)
    qtbot.waitUntil(lambda: bool(seen))


# What the offscreen platform says of every menu.
@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
@pytest.mark.parametrize(("entry", "sheet"), [("Sheet 2", 1), ("New sheet", 2)])
def test_a_piece_goes_to_another_sheet_through_the_menu(
    qtbot: QtBot, table: Table, entry: str, sheet: int
) -> None:
    QTest.mouseClick(table.panel.canvas.viewport(), LEFT, pos=table.at(0, 180, 120))
    pick(qtbot, table, "To sheet", entry)
    ((_, after, title, _),) = table.told
    assert title == f"Move 1 piece to {'a new sheet' if sheet == 2 else 'sheet 2'}"
    assert [layout.count_of("p2") for layout in after] == [int(at == sheet) for at in range(len(after))]
    (piece,) = table.panel.bench.chosen()
    assert (piece.ref.sheet, piece.placement.pinned) == (sheet, True)


def free(job: Job) -> Job:
    """The job cut by outline, its prints free to stand at any angle."""
    prints = tuple(p.model_copy(update={"may_turn": True, "any_angle": True}) for p in job.prints)
    return job.model_copy(update={"way": Way.OUTLINE, "prints": prints})


def test_a_typed_angle_turns_a_piece_about_its_centre(table: Table) -> None:
    table.panel.show_plan(free(a_job()), a_shop(), a_plan(Layout(SHEET, (placed("p1", 100, 100),))))
    table.panel.canvas.choose([table.piece(0, 0)])
    field = table.panel.info.angle
    assert field.isVisible()
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, "30\r")
    (put,) = table.last()[0].placements
    assert (put.turned_deg, put.pinned, table.told[-1][2]) == (30, True, "Turn to 30°")
    # 60 × 40 mm at 30°: 60 cos 30° + 40 sin 30° wide, still about (130, 120).
    assert put.width_mm == pytest.approx(71.96, abs=0.01)
    assert put.x_mm + put.width_mm / 2 == pytest.approx(130)
    assert put.y_mm + put.height_mm / 2 == pytest.approx(120)
    assert put.unturned.width_mm == pytest.approx(60)


def test_no_angle_is_asked_where_only_quarter_turns_are_right(table: Table) -> None:
    table.panel.canvas.choose([table.piece(0, 0)])
    assert not table.panel.info.angle.isVisible()


@pytest.mark.parametrize(("typed", "angle"), [("-15°", 345), ("720", 0), ("12,5", 12.5)])
def test_angles_are_read_as_they_are_written(typed: str, angle: float) -> None:
    assert read_angle(typed) == angle


@pytest.mark.parametrize("typed", ["", "a bit", "nan", "1e9"])
def test_what_is_no_angle_is_refused_with_a_sentence(typed: str) -> None:
    with pytest.raises(ValueError, match="Type degrees clockwise"):
        read_angle(typed)


def test_while_a_search_runs_its_words_stand_where_the_commands_were(table: Table) -> None:
    found = a_plan(first_sheet(), second_sheet()).purchase
    button, _ = menu_of(table, "To sheet")
    wide = table.panel.width()
    table.panel.show_search(found, True, 1, 10)
    assert not button.isVisible()
    assert table.panel.width() == wide
    table.panel.show_search(None, False, 0, 0)
    assert button.isVisible()


def test_words_of_faults_side_by_side_do_not_cover_one_another(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", -8, 60), placed("p2", -6, 110), placed("p3", 240, -5))))
    for steps in (-6, 0, 3):
        table.panel.canvas.zoom_by(steps)
        scale = table.panel.canvas.px_per_mm
        boxes = [item.seen_at(scale) for item in table.panel.bench.items() if isinstance(item, TagItem)]
        assert len(boxes) == 3
        assert not any(one.intersects(other) for one, other in combinations(boxes, 2))


def test_a_group_paid_by_its_area_has_no_margin_to_reach_into(table: Table) -> None:
    shop = a_shop()
    offers = tuple(
        changed(offer, price=by_area((0, "0.06"))) if offer.key == OFFER else offer for offer in shop.offers
    )
    snug = Layout(Size(63 + 60, 40), (placed("p1", 0, 0), placed("p2", 63, 0)))
    table.panel.show_plan(a_job(), changed(shop, offers=offers), a_plan(snug))
    assert table.panel.bar.sentence == ""
    assert "margin 0" in table.panel.info.words.text()


FULL = placed("p1", 5, 5, SHEET.width_mm - 10, SHEET.height_mm - 10)


def test_a_piece_for_which_a_sheet_has_no_room_is_offered_a_place_on_another(table: Table) -> None:
    """The nearest of those printed as often comes first: elsewhere copies would be lost."""
    rarely = replace(second_sheet(), runs=1)
    often = replace(second_sheet(), runs=3)
    table.show(Layout(SHEET, (FULL, placed("p2", 100, 100)), 3), rarely, often)
    table.panel.canvas.choose([table.piece(0, 1)])
    assert "no room for it elsewhere on this sheet" in table.panel.bar.sentence
    assert table.panel.bar.settle.text() == "Move to sheet 3"
    QTest.mouseClick(table.panel.bar.settle, LEFT)
    ((_, after, title, _),) = table.told
    assert title == "Move 1 piece to sheet 3"
    assert [layout.count_of("p2") for layout in after] == [0, 0, 3]
    offer = table.panel.bench.offer(OFFER)
    room = table.panel.bench.room(offer)
    for layout in after:
        assert not faults(layout, gap_mm=room.gap_mm, margin_mm=room.margin_mm, way=Way.LOOSE)


def test_a_piece_that_goes_to_a_sheet_out_of_sight_is_followed(table: Table) -> None:
    canvas = table.panel.canvas
    canvas.choose([table.piece(0, 1)])
    canvas.fit(table.piece(0, 1).sceneBoundingRect())
    scale, view = canvas.px_per_mm, canvas.viewport().rect()
    table.panel.hand.send_to(1)
    (moved,) = table.panel.bench.chosen()
    assert moved.ref.sheet == 1
    assert view.contains(canvas.mapFromScene(moved.sceneBoundingRect().center()))
    assert canvas.px_per_mm == scale


def test_where_every_sheet_is_full_a_new_one_is_offered(table: Table) -> None:
    table.show(Layout(SHEET, (FULL, placed("p2", 100, 100)), 4))
    table.panel.canvas.choose([table.piece(0, 1)])
    assert table.panel.bar.settle.text() == "Move to a new sheet"
    table.key(Qt.Key.Key_Return)
    assert [(len(layout.placements), layout.runs) for layout in table.last()] == [(1, 4), (1, 4)]
    assert table.panel.bar.sentence == ""


def test_a_piece_larger_than_every_sheet_is_told_what_to_do(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", 0, 5, 700, 60),)))
    table.panel.canvas.choose([table.piece(0, 0)])
    assert "Print it smaller" in table.panel.bar.sentence
    assert not table.panel.bar.settle.isVisible()


def test_two_pieces_over_each_other_are_parted_when_both_are_chosen(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", 100, 100), placed("p2", 120, 110))))
    QTest.mouseClick(table.panel.bar.show_it, LEFT)
    assert len(table.panel.bench.chosen()) == 2
    assert table.panel.bar.settle.text() == "Move to the nearest good spot"
    table.key(Qt.Key.Key_Return)
    one, other = table.last()[0].placements
    assert one.box.grown(3 - 0.001).overlap(other.box) is None
    assert table.panel.bar.sentence == ""


def show_on_roll(table: Table, *layouts: Layout) -> None:
    """Layouts at an offer that sells a roll 300 mm wide by whole feet, ten of them at most."""
    shop = a_shop()
    price = ByLength(
        width_mm=SHEET.width_mm, longest_mm=3048, step_mm=304.8, breaks=by_length((1, "9.00")).breaks
    )
    offers = tuple(changed(o, price=price) if o.key == OFFER else o for o in shop.offers)
    table.panel.show_plan(a_job(), changed(shop, offers=offers), a_plan(*layouts))


def test_a_roll_is_as_long_as_what_hands_leave_on_it(table: Table) -> None:
    two_feet = Size(SHEET.width_mm, 609.6)
    show_on_roll(table, Layout(two_feet, (placed("p1", 20, 20), placed("p2", 20, 400))))
    table.panel.canvas.choose([table.piece(0, 1)])
    table.key(Qt.Key.Key_Delete)
    assert [layout.sheet.height_mm for layout in table.last()] == [304.8]
    table.panel.canvas.choose([table.piece(0, 0)])
    typed(table.panel.info.top, "900 mm")
    assert [layout.sheet.height_mm for layout in table.last()] == [pytest.approx(4 * 304.8)]
    assert table.panel.bar.sentence == ""
    typed(table.panel.info.top, "4000 mm")
    assert table.last()[0].sheet.height_mm == 3048
    assert "over the sheet's edge" in table.panel.bar.sentence


def test_a_roll_keeps_the_length_bought_for_its_price_while_as_much_of_it_is_used(table: Table) -> None:
    bought = Size(SHEET.width_mm, 4 * 304.8)
    show_on_roll(table, Layout(bought, (placed("p1", 20, 20), placed("p2", 20, 400))))
    table.panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_Right)
    assert table.last()[0].sheet == bought


def test_a_roll_grows_for_one_copy_more(table: Table) -> None:
    full = placed("p1", 5, 5, SHEET.width_mm - 10, 290)
    show_on_roll(table, Layout(Size(SHEET.width_mm, 304.8), (full,)))
    table.panel.canvas.choose([table.piece(0, 0)])
    table.key(Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert [(layout.sheet.height_mm, len(layout.placements)) for layout in table.last()] == [(609.6, 2)]
    assert table.panel.bar.sentence == ""


# What the offscreen platform says of every menu.
@pytest.mark.qt_log_ignore("This plugin does not support", extend=True)
def test_a_new_sheet_may_be_of_any_size_that_the_offer_sells(qtbot: QtBot, table: Table) -> None:
    QTest.mouseClick(table.panel.canvas.viewport(), LEFT, pos=table.at(0, 180, 120))
    pick(qtbot, table, "To sheet", "New sheet, 22 × 24 in")
    assert table.last()[-1].sheet == Size(22 * 25.4, 24 * 25.4)
    assert [p.print for p in table.last()[-1].placements] == ["p2"]


def test_a_larger_sheet_is_offered_where_that_alone_holds_a_piece(table: Table) -> None:
    table.show(Layout(SHEET, (placed("p1", 0, 5, SHEET.width_mm + 20, 60),)))
    table.panel.canvas.choose([table.piece(0, 0)])
    assert table.panel.bar.settle.text() == "Move to a new sheet"
    table.key(Qt.Key.Key_Return)
    assert [layout.sheet.width_mm for layout in table.last()] == [pytest.approx(22 * 25.4)]
    assert table.panel.bar.sentence == ""
