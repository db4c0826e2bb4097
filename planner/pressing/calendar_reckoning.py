"""The job's last days, reckoned backwards from the due date.

Days of transfer printers and carriers count Monday to Friday, days of the shop on its open weekdays;
holidays of the shop's region count for neither, closed days only for the shop. An order goes out on an
open day of the shop, and arrives by the day pressing starts.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from planner.job.document import Job
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.job.state import JobState
from planner.pressing.calendar import Calendar, Deadline, Milestone
from planner.pressing.working_days import TRADE_WEEKDAYS, NeverOpen, WorkingDays, holidays_of
from planner.shop.book import Shop

_ORDER = list(Milestone)
_CAN_BE_LATE = frozenset(Milestone) - {Milestone.APPROVE}
_MAY_BE_LATE = {JobState.PRESSED: frozenset({Milestone.DELIVER}), JobState.DELIVERED: frozenset[Milestone]()}
"""What can still be late once the work is done so far."""


def reckon_calendar(
    job: Job, shop: Shop, days_by_offer: Mapping[str, int], press_minutes: float, today: date
) -> Calendar:
    """All last days of the job, earliest first; empty without a due date.

    `days_by_offer` holds the working days from order to arrival of each offer in use. Artwork must be
    approved by the day the first transfers are ordered. What is ordered already counts from that day.
    """
    if job.due is None:
        return Calendar()
    trade, open_days, is_known = _both(shop)
    unknown_region = "" if is_known else shop.region
    press_days = days_of_pressing(press_minutes, shop)
    try:
        reckoner = _Reckoner(job, trade, open_days, today)
        deadlines = tuple(reckoner.deadlines(shop, days_by_offer, press_days))
    except NeverOpen:
        return Calendar(due=job.due, unknown_region=unknown_region, never_open=True)
    return Calendar(
        due=job.due,
        deadlines=deadlines,
        days_left=open_days.between(today, job.due),
        press_days=press_days,
        unknown_region=unknown_region,
    )


@dataclass(frozen=True, slots=True)
class _Reckoner:
    """Works the last days out, for one job on one day."""

    job: Job
    trade: WorkingDays
    open_days: WorkingDays
    today: date

    def deadlines(self, shop: Shop, days_by_offer: Mapping[str, int], press_days: int) -> list[Deadline]:
        assert self.job.due is not None
        deliver_by = self.open_days.at_or_before(self.job.due)
        press_by = self.open_days.back(deliver_by, press_days)
        orders = [
            self._order(Milestone.ORDER_TRANSFERS, press_by, days, offer)
            for offer, days in days_by_offer.items()
        ]
        found = [
            self._last_day(Milestone.DELIVER, deliver_by),
            self._last_day(Milestone.PRESS, press_by),
            *orders,
        ]
        if any(line.count for line in self.job.lines):
            found.append(self._order(Milestone.ORDER_BLANKS, press_by, shop.blanks_delivery_days, None))
        # What is ordered was approved.
        if waiting := [order.by for order in orders if order.ordered is None]:
            found.append(self._last_day(Milestone.APPROVE, min(waiting)))
        return sorted(found, key=lambda last: (last.by, _ORDER.index(last.milestone), last.offer or ""))

    def _last_day(self, milestone: Milestone, by: date) -> Deadline:
        return Deadline(milestone=milestone, by=by, slack_days=self.open_days.between(self.today, by))

    def _order(self, milestone: Milestone, press_by: date, days: int, offer: str | None) -> Deadline:
        by = _order_by(press_by, days, self.trade, self.open_days)
        ordered = self.job.ordered_on(offer)
        if ordered is None:
            slack_days = self.open_days.between(self.today, by)
            return Deadline(milestone=milestone, by=by, slack_days=slack_days, offer=offer)
        arrives = self.trade.ahead(ordered, days)
        return Deadline(
            milestone=milestone,
            by=by,
            slack_days=self.open_days.between(arrives, press_by),
            offer=offer,
            ordered=ordered,
            arrives=arrives,
        )


def days_of_pressing(press_minutes: float, shop: Shop) -> int:
    """Working days the presses are needed, started days in full."""
    return math.ceil(round(press_minutes / (shop.hours_a_day * 60), 6))


def late_findings(calendar: Calendar, state: JobState = JobState.PLANNED) -> tuple[Finding, ...]:
    """One stop for each last day that has passed: `found` working days late, `needed` from today to due.

    The approval is left out: it is late exactly where the first order of transfers is. So is what a job
    in this state has behind it.
    """
    return tuple(
        Finding(
            kind=FindingKind.LATE,
            seriousness=Seriousness.STOP,
            offer=deadline.offer,
            found=-deadline.slack_days,
            needed=calendar.days_left - deadline.slack_days,
            subject=deadline.milestone.value,
        )
        for deadline in calendar.deadlines
        if deadline.slack_days < 0 and deadline.milestone in _MAY_BE_LATE.get(state, _CAN_BE_LATE)
    )


@dataclass(frozen=True, slots=True)
class InTime:
    """An offer that still arrives in time, at its usual or its faster service."""

    offer: str
    rush: bool
    days: int
    slack_days: int


def offers_in_time(job: Job, shop: Shop, press_minutes: float, today: date) -> tuple[InTime, ...]:
    """What would save a late job: offers whose transfers arrive in time, the most slack first.

    An offer that makes it at its usual service is not named at its faster one. Whether it suits cloth
    and artwork is for the caller to ask. Empty without a due date.
    """
    if job.due is None:
        return ()
    trade, open_days, _ = _both(shop)
    try:
        press_by = open_days.back(job.due, days_of_pressing(press_minutes, shop))
    except NeverOpen:
        return ()
    found = []
    for offer in shop.offers:
        services = [(False, offer.production_days + offer.delivery_days)]
        if offer.rush is not None:
            services.append((True, offer.rush.production_days + offer.delivery_days))
        for rush, days in services:
            slack_days = open_days.between(today, _order_by(press_by, days, trade, open_days))
            if slack_days >= 0:
                found.append(InTime(offer.key, rush, days, slack_days))
                break
    return tuple(sorted(found, key=lambda one: -one.slack_days))


def open_days_of(shop: Shop) -> WorkingDays:
    """The days on which the shop works: its weekdays without its closed days and its region's holidays."""
    return _both(shop)[1]


def _both(shop: Shop) -> tuple[WorkingDays, WorkingDays, bool]:
    """Working days of the trade and of the shop, and whether the region's holidays are known."""
    holidays, is_known = holidays_of(shop.region)
    closed = frozenset(shop.closed_days)
    return (
        WorkingDays(TRADE_WEEKDAYS, (holidays,)),
        WorkingDays(shop.open_weekdays, (closed, holidays)),
        is_known,
    )


def _order_by(press_by: date, days: int, trade: WorkingDays, open_days: WorkingDays) -> date:
    return open_days.at_or_before(trade.back(press_by, days))
