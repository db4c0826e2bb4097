"""The customer changes their mind: one edit, all follows, what was decided stays."""

from pathlib import Path

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
