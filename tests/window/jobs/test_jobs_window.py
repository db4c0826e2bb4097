"""The list of jobs in the real window: opened by key, searched by typing, a job opened or ordered again."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from planner.job.state import JobState
from planner.plan import wording as sentences
from planner.pressing.calendar import Milestone
from planner.shop.document import changed
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.job_summary import JobFigures, LastDay, as_remarks, read_summary
from planner.window import wording
from planner.window.jobs import words
from planner.window.jobs.figures import next_last_day
from planner.window.jobs.jobs_window import JobsWindow
from planner.window.jobs.model import NEXT, STATE, TITLE, TOTAL
from tests.builders import a_job
from tests.window.rig import Rig, click, typed

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
KEPT = (
    ("Spring fair", "Riverside allotments", date(2026, 12, 18), JobState.QUOTED, "214.50"),
    ("Winter concert", "Harbour Lights", date(2026, 12, 4), JobState.APPROVED, "98.00"),
    ("Old regatta", "Rowing club", date(2026, 6, 1), JobState.DELIVERED, "1200.00"),
    ("Some day", "Harbour Lights", None, JobState.PLANNED, "15.00"),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Four jobs and a letter that is none."""
    folder = tmp_path / "jobs"
    folder.mkdir()
    job, files = a_job()
    for title, customer, due, state, total in KEPT:
        made = changed(job, title=title, due=due, state=state, customer=changed(job.customer, name=customer))
        days = (
            LastDay(milestone="approve artwork", by=date(2026, 11, 20)),
            LastDay(milestone="order transfers", by=date(2026, 11, 27)),
        )
        figures = JobFigures(quote_total=Decimal(total), currency="USD", last_days=days if due else ())
        write_job(folder / f"{title.split()[0].lower()}{SUFFIX}", made, files, as_remarks(figures))
    (folder / f"letter{SUFFIX}").write_text("Dear choir")
    return folder


@pytest.fixture
def jobs(rig: Rig, folder: Path, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot) -> Iterator[JobsWindow]:
    """The list, opened by its key on a chosen folder."""
    monkeypatch.setattr(rig.answers, "jobs_folder", lambda parent, suggested: folder, raising=False)
    QTest.keyClick(rig.window, Qt.Key.Key_O, CTRL | SHIFT)
    rig.settle(qtbot)
    window = the_list(rig)
    click(window.choose_folder)
    rig.settle(qtbot)
    yield window
    window.close()


def the_list(rig: Rig) -> JobsWindow:
    return rig.window.findChildren(JobsWindow)[0]


def titles(window: JobsWindow) -> list[str]:
    model = window.model
    return [str(model.index(at, TITLE).data()) for at in range(model.rowCount())]


def cell(window: JobsWindow, title: str, column: int) -> str:
    return str(window.model.index(titles(window).index(title), column).data())


def test_an_empty_list_says_where_jobs_come_from(rig: Rig, qtbot: QtBot) -> None:
    click(rig.window.garments._jobs)
    rig.settle(qtbot)
    window = the_list(rig)
    assert window._nothing.text() == words.NO_JOBS
    assert not window.open.isEnabled()
    assert not window.again.isEnabled()
    QTest.keyClick(window, Qt.Key.Key_Escape)
    assert not window.isVisible()


def test_jobs_are_sorted_by_due_date_and_what_cannot_be_read_is_said(jobs: JobsWindow) -> None:
    assert titles(jobs) == ["Winter concert", "Spring fair", "Some day", "Old regatta", f"letter{SUFFIX}"]
    assert "is not a job file" in str(jobs.model.index(4, 1).data())
    assert cell(jobs, "Spring fair", TOTAL) == "$214.50"
    assert cell(jobs, "Winter concert", STATE) == "approved"


def test_the_next_last_day_is_of_what_the_state_leaves_to_do(jobs: JobsWindow) -> None:
    assert cell(jobs, "Spring fair", NEXT).startswith("Artwork approved")
    assert "passed" in cell(jobs, "Spring fair", NEXT)
    assert cell(jobs, "Winter concert", NEXT).startswith("Order transfers")
    assert "passed" not in cell(jobs, "Winter concert", NEXT)
    assert cell(jobs, "Old regatta", NEXT) == ""
    figures = JobFigures(
        quote_total=Decimal(1),
        currency="USD",
        last_days=tuple(
            LastDay(milestone=one.value, by=date(2026, 12, at + 1)) for at, one in enumerate(Milestone)
        ),
    )
    assert next_last_day(figures, JobState.ORDERED) == (Milestone.PRESS, date(2026, 12, 4))
    assert next_last_day(figures, JobState.DELIVERED) is None


def test_typing_searches_and_enter_opens(rig: Rig, jobs: JobsWindow, qtbot: QtBot) -> None:
    QTest.keyClicks(jobs.search, "harbour")
    assert titles(jobs) == ["Winter concert", "Some day"]
    QTest.keyClick(jobs.search, Qt.Key.Key_Down)
    QTest.keyClick(jobs.search, Qt.Key.Key_Return)
    rig.settle(qtbot)
    assert rig.desk.job.title == "Some day"
    assert rig.desk.path is not None
    assert rig.desk.path.stem == "some"


def test_a_double_click_opens_but_never_over_unsaved_work(rig: Rig, jobs: JobsWindow, qtbot: QtBot) -> None:
    typed(rig.window.bar.title, "Half typed", end=None)
    at = jobs.table.visualRect(jobs.model.index(1, 0)).center()
    port = jobs.table.viewport()
    QTest.mouseClick(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(at))
    QTest.mouseDClick(port, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, QPoint(at))
    assert rig.desk.job.title == "Half typed"
    assert rig.window.foot.text.text() == wording.UNSAVED


def test_a_click_on_a_column_turns_its_order(jobs: JobsWindow) -> None:
    header = jobs.table.horizontalHeader()
    at = QPoint(header.sectionViewportPosition(TOTAL) + 20, header.height() // 2)
    for expected in (["Some day", "Old regatta"], ["Old regatta", "Some day"]):
        QTest.mouseClick(header.viewport(), Qt.MouseButton.LeftButton, pos=at)
        assert [titles(jobs)[0], titles(jobs)[3]] == expected
    assert titles(jobs)[4] == f"letter{SUFFIX}"


def test_only_open_jobs_are_shown_where_asked(jobs: JobsWindow) -> None:
    jobs.which.setFocus()
    QTest.keyClick(jobs.which, Qt.Key.Key_Down)
    assert "Old regatta" not in titles(jobs)
    assert "Some day" in titles(jobs)


def test_a_job_is_ordered_again_as_a_new_one(
    rig: Rig, jobs: JobsWindow, qtbot: QtBot, tmp_path: Path
) -> None:
    QTest.keyClicks(jobs.search, "regatta")
    click(jobs.again)
    rig.settle(qtbot)
    job = rig.desk.job
    assert job.title == "Old regatta, ordered again"
    assert (job.due, job.state, rig.desk.path) == (None, JobState.PLANNED, None)
    assert rig.window.isWindowModified()
    rig.answers.save = tmp_path / f"again{SUFFIX}"
    QTest.keyClick(rig.window, Qt.Key.Key_S, CTRL)
    assert read_job(tmp_path / f"again{SUFFIX}").job == job


def test_a_file_that_cannot_be_read_can_not_be_opened(jobs: JobsWindow) -> None:
    QTest.keyClicks(jobs.search, "letter")
    assert not jobs.open.isEnabled()
    assert not jobs.again.isEnabled()


def test_a_saved_job_is_listed_with_its_figures(job_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    job_rig.answers.save = tmp_path / f"fair{SUFFIX}"
    QTest.keyClick(job_rig.window, Qt.Key.Key_S, CTRL)
    QTest.keyClick(job_rig.window, Qt.Key.Key_O, CTRL | SHIFT)
    job_rig.settle(qtbot)
    assert titles(the_list(job_rig)) == ["Spring fair"]
    figures = read_summary(tmp_path / f"fair{SUFFIX}").figures
    assert figures is not None
    assert figures.quote_total == job_rig.window.plan.quote.total
    assert len(figures.last_days) == len(job_rig.window.plan.calendar.deadlines)
    the_list(job_rig).close()


def test_the_state_is_an_edit_that_can_be_taken_back(job_rig: Rig) -> None:
    bar = job_rig.window.bar
    bar.state.setFocus()
    QTest.keyClick(bar.state, Qt.Key.Key_Down)
    assert job_rig.desk.job.state.value == "quoted"
    assert job_rig.window.menus.states[JobState.QUOTED].isChecked()
    job_rig.window.menus.states[JobState.ORDERED].trigger()
    assert bar.state.currentText() == "ordered"
    QTest.keyClick(job_rig.window, Qt.Key.Key_Z, CTRL)
    QTest.keyClick(job_rig.window, Qt.Key.Key_Z, CTRL)
    assert job_rig.desk.job.state.value == "being planned"
    assert QApplication.focusWidget() is not None


def test_in_a_narrow_window_fewer_next_steps_are_shown_and_none_is_cut(rig: Rig, qtbot: QtBot) -> None:
    bar = rig.window.bar

    def links() -> list[QPushButton]:
        return [one for one in bar.findChildren(QPushButton) if one.property("role") == "link"]

    missing = [sentences.missing(one) for one in rig.window.plan.missing]
    many = len(links())
    bar.setFixedWidth(480)
    qtbot.waitUntil(lambda: len(links()) < many)
    assert links()
    assert all(link.width() >= link.sizeHint().width() for link in links())
    *shown, others = links()
    assert [one.text() for one in shown] == missing[: len(shown)]
    assert [action.text() for action in others.menu().actions()] == missing[len(shown) :]
