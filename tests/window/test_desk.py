"""The desk: every edit is an undo step, a gesture is one, and a save knows what it saved."""

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from planner.job.edits import set_fields
from planner.window.desk import MOST_STEPS, Desk
from tests.builders import a_job, a_shop


@pytest.fixture
def desk(qapp: object) -> Desk:
    job, files = a_job()
    desk = Desk(job, a_shop())
    desk.open(job, files, None)
    return desk


def test_an_edit_can_be_undone_and_done_again_by_its_name(desk: Desk) -> None:
    before, after = desk.job, set_fields(desk.job, title="Winter")
    desk.apply("Change title", after)
    assert desk.undo_stack.undoText() == "Change title"
    desk.undo_stack.undo()
    assert desk.job == before
    desk.undo_stack.redo()
    assert desk.job == after


def test_an_edit_that_changes_nothing_is_no_step(desk: Desk) -> None:
    desk.apply("Change title", set_fields(desk.job, title=desk.job.title))
    assert desk.undo_stack.count() == 0


def test_edits_of_one_gesture_are_one_step(desk: Desk) -> None:
    before = desk.job
    for title in ("W", "Wi", "Win"):
        desk.apply("Change title", set_fields(desk.job, title=title), "g1")
    desk.apply("Change title", set_fields(desk.job, title="Win!"), "g2")
    assert desk.undo_stack.count() == 2
    desk.undo_stack.undo()
    assert desk.job.title == "Win"
    desk.undo_stack.undo()
    assert desk.job == before


def test_a_gesture_that_ends_where_it_began_leaves_no_step(desk: Desk) -> None:
    title = desk.job.title
    desk.apply("Change title", set_fields(desk.job, title="x"), "g1")
    desk.apply("Change title", set_fields(desk.job, title=title), "g1")
    assert desk.undo_stack.count() == 0
    assert desk.is_saved


def test_before_and_after_are_told(desk: Desk, qtbot: QtBot) -> None:
    before, after = desk.job, set_fields(desk.job, title="Winter")
    with qtbot.waitSignal(desk.job_changed) as told:
        desk.apply("Change title", after)
    assert told.args == [before, after]


def test_an_edit_made_while_saving_stays_unsaved(desk: Desk) -> None:
    written = set_fields(desk.job, title="Written")
    desk.apply("Change title", written)
    desk.apply("Change title", set_fields(written, title="Later"))
    desk.saved(written, Path("a.transferjob"))
    assert not desk.is_saved
    desk.saved(desk.job, Path("a.transferjob"))
    assert desk.is_saved


def test_files_of_artwork_taken_back_by_undo_are_still_there(desk: Desk) -> None:
    job, sha256 = desk.job, desk.job.artworks[0].sha256
    desk.apply("Remove artwork", set_fields(job, artworks=(), prints=()))
    assert desk.files_in_use() == {}
    desk.undo_stack.undo()
    assert list(desk.files_in_use()) == [sha256]


def test_opening_another_job_forgets_the_history(desk: Desk) -> None:
    desk.apply("Change title", set_fields(desk.job, title="Winter"))
    job, files = a_job(width_mm=50)
    desk.open(job, files, Path("b.transferjob"))
    assert desk.undo_stack.count() == 0
    assert desk.is_saved
    assert desk.path == Path("b.transferjob")


def test_the_oldest_edits_cannot_be_undone_for_ever(desk: Desk) -> None:
    for number in range(MOST_STEPS + 10):
        desk.apply("Change title", set_fields(desk.job, title=f"{number}"))
    assert desk.undo_stack.count() == MOST_STEPS
    desk.undo_stack.setIndex(0)
    assert desk.job.title == "9"
    assert not desk.is_saved
