"""The canvas in the real window: each gesture there is one undo step of the job."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planner.job.edits import add_print, layouts_at, set_fields
from planner.measures.layout import Layout
from planner.shop.document import changed
from planner.window.sheet.items import PieceItem
from tests.builders import a_job
from tests.window.rig import Rig, typed

OFFER = "film-sheet"


def first_piece(rig: Rig) -> PieceItem:
    return rig.window.sheets.bench.all_pieces()[0]


def drag(rig: Rig, by: QPoint) -> None:
    canvas = rig.window.sheets.canvas
    start = canvas.mapFromScene(first_piece(rig).sceneBoundingRect().center())
    QTest.mousePress(canvas.viewport(), Qt.MouseButton.LeftButton, pos=start)
    for step in range(1, 6):
        QTest.mouseMove(canvas.viewport(), start + by * step / 5)
    QTest.mouseRelease(canvas.viewport(), Qt.MouseButton.LeftButton, pos=start + by)


def test_a_drag_is_one_undo_step_and_undo_puts_the_piece_back(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    before = first_piece(job_rig).placement
    steps = job_rig.desk.undo_stack.count()
    drag(job_rig, QPoint(0, 60))
    assert job_rig.desk.undo_stack.count() == steps + 1
    accepted = layouts_at(job_rig.desk.job, OFFER)
    moved = [p for layout in accepted for p in layout.placements if p.pinned]
    assert len(moved) == 1
    assert moved[0].y_mm > before.y_mm
    job_rig.desk.undo_stack.undo()
    assert first_piece(job_rig).placement == before


def test_nudges_in_a_row_are_one_undo_step(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    window.sheets.canvas.choose([first_piece(job_rig)])
    steps = job_rig.desk.undo_stack.count()
    for _ in range(5):
        QTest.keyClick(window.sheets.canvas, Qt.Key.Key_Down)
    assert job_rig.desk.undo_stack.count() == steps + 1


def test_nudges_after_a_drag_are_a_step_of_their_own(job_rig: Rig) -> None:
    window, stack = job_rig.window, job_rig.desk.undo_stack
    window.pages.setCurrentWidget(window.sheets)
    steps = stack.count()
    drag(job_rig, QPoint(0, 60))
    dropped = first_piece(job_rig).placement
    for _ in range(3):
        QTest.keyClick(window.sheets.canvas, Qt.Key.Key_Down)
    assert stack.count() == steps + 2
    stack.undo()
    assert first_piece(job_rig).placement == dropped


def shown(rig: Rig) -> tuple[Layout, ...]:
    return rig.window.sheets.bench.offers[0].layouts


def press(rig: Rig, key: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(rig.window.sheets.canvas, key, modifiers)


def choose(rig: Rig, count: int) -> None:
    """Take the first pieces as hands do: a click, then clicks with Shift held."""
    canvas = rig.window.sheets.canvas
    for at, piece in enumerate(rig.window.sheets.bench.all_pieces()[:count]):
        keys = Qt.KeyboardModifier.ShiftModifier if at else Qt.KeyboardModifier.NoModifier
        where = canvas.mapFromScene(piece.sceneBoundingRect().center())
        QTest.mouseClick(canvas.viewport(), Qt.MouseButton.LeftButton, keys, where)
    assert len(rig.window.sheets.bench.chosen()) == count


@pytest.mark.parametrize(
    ("key", "modifiers", "title"),
    [
        (Qt.Key.Key_R, Qt.KeyboardModifier.NoModifier, "Turn 2 pieces"),
        (Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier, "Duplicate 2 pieces"),
        (Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier, "Remove 2 pieces"),
        (Qt.Key.Key_P, Qt.KeyboardModifier.NoModifier, "Pin 2 pieces"),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier, "Move 2 pieces"),
    ],
)
def test_each_key_is_one_undo_step_that_undo_takes_back(
    job_rig: Rig, key: Qt.Key, modifiers: Qt.KeyboardModifier, title: str
) -> None:
    window, stack = job_rig.window, job_rig.desk.undo_stack
    window.pages.setCurrentWidget(window.sheets)
    before, steps = shown(job_rig), stack.count()
    choose(job_rig, 2)
    press(job_rig, key, modifiers)
    assert stack.count() == steps + 1
    assert stack.undoText() == title
    assert shown(job_rig) != before
    stack.undo()
    assert shown(job_rig) == before
    stack.redo()
    assert shown(job_rig) != before


def test_several_pieces_dragged_to_a_new_sheet_and_spaced_equally_are_one_step_each(job_rig: Rig) -> None:
    window, stack = job_rig.window, job_rig.desk.undo_stack
    window.pages.setCurrentWidget(window.sheets)
    sheets, steps = len(shown(job_rig)), stack.count()
    choose(job_rig, 3)
    window.sheets.hand.send_to(None)
    assert (len(shown(job_rig)), stack.count()) == (sheets + 1, steps + 1)
    assert stack.undoText() == "Move 3 pieces to a new sheet"
    press(job_rig, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert stack.count() <= steps + 2
    while stack.count() and stack.index() > steps:
        stack.undo()
    assert len(shown(job_rig)) == sheets


@pytest.mark.parametrize("over", ["canvas", "strip"])
def test_a_piece_on_a_sheet_of_another_offer_goes_back_and_the_reason_is_told(
    job_rig: Rig, over: str
) -> None:
    window, desk = job_rig.window, job_rig.desk
    second = changed(desk.job.prints[0], key="p2", offer="film-roll")
    desk.apply("", add_print(desk.job, second))
    window.pages.setCurrentWidget(window.sheets)
    sheets = window.sheets
    view, before, steps = sheets.canvas.viewport(), desk.job, desk.undo_stack.count()
    roll = next(at for at, spot in enumerate(sheets.bench.spots) if spot.offer == "film-roll")
    if over == "canvas":
        end = sheets.canvas.mapFromScene(sheets.bench.spots[roll].box.center())
    else:
        card = sheets.strip.cards[roll]
        sheets.strip.ensureWidgetVisible(card)
        end = view.mapFromGlobal(card.mapToGlobal(card.rect().center()))
    piece = first_piece(job_rig)
    lay = piece.pos()
    start = sheets.canvas.mapFromScene(piece.sceneBoundingRect().center())
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    for step in range(1, 6):
        QTest.mouseMove(view, start + (end - start) * step / 5)
    if over == "strip":
        assert view.cursor().shape() is Qt.CursorShape.ForbiddenCursor
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=end)
    assert "cannot go on a sheet of another offer" in sheets.bar.sentence
    assert first_piece(job_rig).pos() == lay
    assert (desk.job, desk.undo_stack.count()) == (before, steps)
    assert view.cursor().shape() is Qt.CursorShape.ArrowCursor


def test_arranging_again_leaves_a_pinned_piece_where_the_hand_put_it(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    choose(job_rig, 1)
    typed(window.sheets.info.left, "60 mm")
    typed(window.sheets.info.top, "200 mm")
    (put,) = [p for layout in shown(job_rig) for p in layout.placements if p.pinned]
    assert (put.x_mm, put.y_mm) == (pytest.approx(60), pytest.approx(200))
    steps = job_rig.desk.undo_stack.count()
    QTest.mouseClick(window.sheets.arrange.arrange, Qt.MouseButton.LeftButton)
    job_rig.settle(qtbot)
    assert put in [p for layout in shown(job_rig) for p in layout.placements]
    assert job_rig.desk.undo_stack.count() <= steps + 1
    assert window.sheets.bar.sentence == ""


def test_where_a_search_finds_nothing_better_the_sheets_stay_and_it_is_said(
    job_rig: Rig, qtbot: QtBot
) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.sheets)
    QTest.mouseClick(window.sheets.arrange.arrange, Qt.MouseButton.LeftButton)
    job_rig.settle(qtbot)
    assert window.foot.text.text().startswith("Arranged on")
    before = shown(job_rig)
    QTest.mouseClick(window.sheets.arrange.arrange, Qt.MouseButton.LeftButton)
    job_rig.settle(qtbot)
    assert shown(job_rig) == before
    assert window.foot.text.text().startswith("No better sheets were found; yours stay as they are: ")


def test_arranging_again_to_the_same_sheets_is_no_step_and_proves_what_it_can(
    job_rig: Rig, qtbot: QtBot
) -> None:
    job_rig.window.arrange()
    job_rig.settle(qtbot)
    job, stack = job_rig.desk.job, job_rig.desk.undo_stack
    job_rig.desk.amend(
        set_fields(job, arranged=tuple(changed(accepted, bound=None) for accepted in job.arranged))
    )
    steps = stack.count()
    job_rig.window.arrange()
    job_rig.settle(qtbot)
    assert all(accepted.bound for accepted in job_rig.desk.job.arranged)
    assert stack.count() == steps
    stack.undo()
    assert job_rig.desk.job.arranged == ()


def test_every_part_of_the_canvas_has_a_name_for_screen_readers(job_rig: Rig) -> None:
    sheets = job_rig.window.sheets
    job_rig.window.pages.setCurrentWidget(sheets)
    for part in (sheets.canvas, sheets.cut_list.rows, sheets.info.left, sheets.info.top, *sheets.strip.cards):
        assert part.accessibleName()
    assert "percent full" in sheets.strip.cards[0].accessibleName()


@pytest.mark.parametrize("taken", [True, False])
def test_a_running_search_is_taken_or_dropped_by_key(threaded_rig: Rig, qtbot: QtBot, taken: bool) -> None:
    rig, window = threaded_rig, threaded_rig.window
    job, files = a_job()
    rig.desk.set_shop(changed(rig.desk.shop, search_s=30.0))
    rig.desk.open(job, files, None)
    rig.settle(qtbot)
    window.pages.setCurrentWidget(window.sheets)
    before, row = shown(rig), window.sheets.arrange
    row.arrange.setFocus()
    QTest.keyClick(row.arrange, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: "so far" in row.words.text(), timeout=10_000)
    assert QApplication.focusWidget() is row.stop
    if not taken:
        QTest.keyClick(row.stop, Qt.Key.Key_Tab)
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Space)
    rig.settle(qtbot)
    assert row.arrange.isVisible()
    assert QApplication.focusWidget() is row.arrange
    assert bool(layouts_at(rig.desk.job, OFFER)) is taken
    assert taken or shown(rig) == before
