"""What is ordered already counts from the day it was ordered; days of weeks without holidays, by hand."""

from datetime import date, timedelta

from planner.job.edits import set_ordered
from planner.job.findings import Decision
from planner.job.state import JobState
from planner.plan.wording_dates import slack, what, when
from planner.pressing.calendar import Calendar, Deadline, Milestone
from planner.pressing.calendar_reckoning import late_findings, reckon_calendar
from tests.pressing.jobs import MONDAY, a_job, a_shop

DUE = date(2026, 9, 25)  # a Friday


def on(day: date, ordered: date | None, blanks: date | None = None) -> Calendar:
    job = set_ordered(a_job(due=DUE), "film", ordered)
    return reckon_calendar(set_ordered(job, None, blanks), a_shop(), {"film": 5}, 60, day)


def transfers(calendar: Calendar) -> Deadline:
    return next(last for last in calendar.deadlines if last.milestone is Milestone.ORDER_TRANSFERS)


def test_transfers_ordered_on_a_monday_arrive_five_working_days_later() -> None:
    found = transfers(on(MONDAY, MONDAY))
    # Pressing starts on Thursday the 24th; from Monday the 14th five working days lead to Monday the 21st.
    assert (found.by, found.arrives, found.slack_days) == (date(2026, 9, 17), date(2026, 9, 21), 3)
    assert what(found) == "Transfers arrive"
    assert when(found) == "ordered Mon, Sep 14, 2026, arrives Mon, Sep 21, 2026"
    assert slack(found) == "3 working days to spare"


def test_a_decision_on_transfers_ordered_late_holds_on_the_days_after() -> None:
    late_order = date(2026, 9, 18)
    today, tomorrow = (
        next(late for late in late_findings(on(late_order + timedelta(days=n), late_order)) if late.offer)
        for n in (0, 3)
    )
    assert today.found == 1
    assert Decision(finding=today.id, reason="the customer knows", found=today.found).covers(tomorrow)
    waiting = [late_findings(on(late_order + timedelta(days=n), None))[0].found for n in (0, 3)]
    assert waiting[0] != waiting[1]


def test_approval_is_no_last_day_once_everything_is_ordered() -> None:
    milestones = [last.milestone for last in on(MONDAY, MONDAY).deadlines]
    assert Milestone.APPROVE not in milestones
    assert Milestone.APPROVE in [last.milestone for last in on(MONDAY, None).deadlines]


def test_blanks_ordered_in_time_are_late_no_more() -> None:
    friday = date(2026, 9, 25)
    assert any(late.subject == "order blanks" for late in late_findings(on(friday, MONDAY)))
    assert not any(late.subject == "order blanks" for late in late_findings(on(friday, MONDAY, MONDAY)))


def test_what_is_behind_a_job_is_late_no_more() -> None:
    calendar = on(DUE + timedelta(days=7), None)
    assert len(late_findings(calendar)) == 4
    assert [late.subject for late in late_findings(calendar, JobState.PRESSED)] == ["deliver"]
    assert late_findings(calendar, JobState.DELIVERED) == ()
