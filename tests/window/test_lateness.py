"""A late job offers what would save it, in the real window."""

from datetime import date

import pytest
from PySide6.QtWidgets import QMenu, QPushButton
from pytestqt.qtbot import QtBot

from planner.job.findings import FindingKind
from planner.window import lateness
from planner.work.ticket import Ticket
from tests.window.rig import Rig, click


def test_a_press_on_a_late_finding_offers_ways_and_one_saves_the_job(
    job_rig: Rig, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = job_rig.window
    # The offscreen platform cannot grab the keyboard for a menu.
    monkeypatch.setattr(QMenu, "popup", lambda menu, at: None)
    job_rig.gestures().set_due(date(2026, 12, 3), "")
    assert any(finding.kind is FindingKind.LATE for finding in window.plan.findings)
    fix = next(
        button
        for button in window.findings.findChildren(QPushButton)
        if button.text().startswith("What would be in time") and not button.isHidden()
    )
    click(fix)
    qtbot.waitUntil(lambda: bool(window.lateness.menu.actions()))
    actions = window.lateness.menu.actions()
    assert actions[-1].text().startswith("Deliver on ")
    before = job_rig.desk.undo_stack.count()
    actions[0].trigger()
    assert not any(finding.kind is FindingKind.LATE for finding in window.plan.findings)
    assert job_rig.desk.undo_stack.count() == before + 1


def test_an_error_while_looking_for_ways_is_told(
    job_rig: Rig, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*asked: object, **known: object) -> None:
        raise RuntimeError("no calendar")

    monkeypatch.setattr(lateness, "ways_in_time", broken)
    job_rig.window.lateness.open({})
    qtbot.waitUntil(lambda: "no calendar" in job_rig.window.foot.text.text())
    assert job_rig.window.foot.stop.isHidden()


def test_the_foot_tells_that_ways_are_looked_for_and_a_press_stops_it(
    job_rig: Rig, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = job_rig.window
    was_told: list[bool] = []
    went_on: list[bool] = []

    # Work runs at once here, so that the press falls into the middle of it. It must end like any work:
    # a failure raised in it would leave the window waiting for its answer.
    def stopped(*asked: object, ticket: Ticket, **known: object) -> tuple[()]:
        was_told.append(not window.foot.stop.isHidden())
        click(window.foot.stop)
        went_on.append(not ticket.is_stopped)
        ticket.step(0, 0)
        return ()

    monkeypatch.setattr(lateness, "ways_in_time", stopped)
    window.lateness.open({})
    qtbot.waitUntil(window.background.is_idle)
    assert (was_told, went_on) == ([True], [False])
    assert window.foot.stop.isHidden()
    assert not window.lateness.menu.actions()
