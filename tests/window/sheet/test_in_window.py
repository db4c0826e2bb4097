"""The canvas in the real window: a drag there is one undo step of the job."""

from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest

from planner.job.edits import layouts_at
from planner.window.sheet.items import PieceItem
from tests.window.rig import Rig

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
