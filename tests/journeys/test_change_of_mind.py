"""The customer changes their mind: one edit, all follows, what was decided stays."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from planner.job.findings import FindingKind
from planner.plan.model import Missing
from tests.builders import png_bytes
from tests.window.rig import Rig, click, png_in, typed


def test_more_garments_after_arranging_ask_for_arranging_again(job_rig: Rig, qtbot: QtBot) -> None:
    window = job_rig.window
    job_rig.desk.set_shop(job_rig.desk.shop.model_copy(update={"search_s": 0.2}))
    click(window.bar.arrange)
    job_rig.settle(qtbot)
    assert window.plan.missing == ()
    cost, total = window.plan.costs.total, window.plan.quote.total
    window.pages.setCurrentWidget(window.garments)
    typed(window.garments.forms["g1"].sizes.counts["M"], "60", end=None)
    assert Missing.ARRANGE in window.plan.missing
    assert window.plan.costs.total > cost
    assert window.plan.quote.total > total
    job_rig.desk.undo_stack.undo()
    assert window.plan.missing == ()
    assert window.plan.costs.total == cost


def test_a_width_being_typed_moves_the_costs_and_escape_brings_the_sheets_back(
    job_rig: Rig, qtbot: QtBot
) -> None:
    window, desk = job_rig.window, job_rig.desk
    desk.set_shop(desk.shop.model_copy(update={"search_s": 0.2}))
    click(window.bar.arrange)
    job_rig.settle(qtbot)
    before, steps, cost = desk.job, desk.undo_stack.count(), window.plan.costs.total
    width = window.artwork.cards["a1"].rows["p1"].print_width
    costs = []
    width.setFocus()
    QTest.keyClick(width, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    for key in "12 in":
        QTest.keyClick(width, key)
        costs.append((key, window.plan.costs.total, window.plan.provisional))
    assert costs[0][1] != costs[1][1]
    assert all(provisional for _, _, provisional in costs)
    # The accepted sheets wait for the width that they were made for.
    assert desk.job.arranged == before.arranged
    QTest.keyClick(width, Qt.Key.Key_Escape)
    assert (desk.job, desk.undo_stack.count()) == (before, steps)
    assert (window.plan.costs.total, window.plan.provisional) == (cost, False)


def test_a_typed_width_is_one_step_whatever_stood_there_on_the_way(job_rig: Rig) -> None:
    desk = job_rig.desk
    before, steps = desk.job, desk.undo_stack.count()
    typed(job_rig.window.artwork.cards["a1"].rows["p1"].print_width, "12 1/2 in")
    assert desk.job.print_of("p1").width_mm == 317.5
    assert desk.undo_stack.count() == steps + 1
    desk.undo_stack.undo()
    assert desk.job == before


def test_another_file_behind_an_artwork_keeps_its_prints(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    job_rig.answers.files = (png_in(tmp_path, "larger.png", png_bytes(3000, 2000)),)
    prints = job_rig.desk.job.prints
    job_rig.window.artwork.replace_requested.emit("a1")
    job_rig.settle(qtbot)
    assert job_rig.desk.job.artwork("a1").name == "larger.png"
    assert job_rig.desk.job.prints == prints
    # 3000 px on 3 in are 1000 ppi (arithmetic).
    assert job_rig.window.artwork.cards["a1"].rows["p1"].meter.accessibleName() == "1000 ppi, sharp"
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job.artwork("a1").name == "a1.png"


def test_a_decision_is_asked_again_only_when_its_figure_changes(job_rig: Rig) -> None:
    window = job_rig.window
    width = window.artwork.cards["a1"].rows["p1"].print_width
    typed(width, "11 in")
    coarse = next(found for found in window.plan.findings if found.kind is FindingKind.TOO_COARSE)
    window.findings.decided.emit(coarse, "Wanted rough")
    typed(window.bar.title, "Another title", end=None)
    assert FindingKind.TOO_COARSE in {found.kind for found in window.plan.decided}
    typed(width, "12 in")
    assert FindingKind.TOO_COARSE in {found.kind for found in window.plan.findings}


def test_removing_the_garments_takes_prints_along_and_undo_brings_all_back(job_rig: Rig) -> None:
    before = job_rig.desk.job
    job_rig.window.garments.line_removed.emit("g1")
    assert job_rig.desk.job.prints == ()
    assert Missing.GARMENTS in job_rig.window.plan.missing
    job_rig.desk.undo_stack.undo()
    assert job_rig.desk.job == before
    assert "p1" in job_rig.window.artwork.cards["a1"].rows
