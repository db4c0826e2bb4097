"""How serious a finding is: apart from findings, since a window draws its shape before it knows any."""

from enum import StrEnum


class Seriousness(StrEnum):
    """How serious a finding is, worst first."""

    STOP = "stop"
    """Do not send it like this."""
    LOOK = "look"
    """A person must decide; the decision is kept in the job."""
    NOTE = "note"
    """Good to know."""
