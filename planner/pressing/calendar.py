"""The job's dates, reckoned backwards from the due date in working days."""

from datetime import date
from enum import StrEnum

from planner.shop.document import Document


class Milestone(StrEnum):
    """Last days by which something must happen."""

    APPROVE = "approve artwork"
    ORDER_TRANSFERS = "order transfers"
    ORDER_BLANKS = "order blanks"
    PRESS = "start pressing"
    DELIVER = "deliver"


class Deadline(Document):
    """One last day, and how many working days are left until it."""

    milestone: Milestone
    by: date
    slack_days: int
    """Working days from today to `by`; negative where it has passed. Of what is ordered already: working
    days from its arrival to the start of pressing, which no longer change from day to day."""
    offer: str | None = None
    """Which offer's transfers, for orders of transfers."""
    ordered: date | None = None
    """The day it was ordered, where it is."""
    arrives: date | None = None
    """When what is ordered arrives."""


class Calendar(Document):
    """All last days of a job in the order of their dates; empty without a due date."""

    due: date | None = None
    deadlines: tuple[Deadline, ...] = ()
    days_left: int = 0
    """Working days from today to the due date; negative where it has passed."""
    press_days: int = 0
    """Working days the pressing takes."""
    unknown_region: str = ""
    """The shop's region where its holidays (or those of its part of the country) are not known: then
    they are not counted, and whoever shows the dates must say so."""
    never_open: bool = False
    """The shop book leaves no working day, so that no date can be reckoned."""

    @property
    def slack_days(self) -> int | None:
        """The least slack of all; None without a due date."""
        return min((deadline.slack_days for deadline in self.deadlines), default=None)
