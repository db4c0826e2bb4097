"""Where a job stands on its way from the first word to delivery."""

from enum import StrEnum


class JobState(StrEnum):
    """In the order of the work. The values are written into job files: never rename one."""

    PLANNED = "being planned"
    QUOTED = "quoted"
    """The customer has the quote."""
    APPROVED = "approved"
    """The customer agreed to quote and proof."""
    ORDERED = "ordered"
    """Transfers and blanks are on their way."""
    PRESSED = "pressed"
    DELIVERED = "delivered"

    @property
    def is_done(self) -> bool:
        """Whether all pressing is behind it."""
        return self in (JobState.PRESSED, JobState.DELIVERED)
