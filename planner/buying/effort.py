"""When a search has looked long enough: by the clock, by its count of steps, or because it was stopped."""

import time
from collections.abc import Callable

from planner.work.ticket import Ticket


class Effort:
    """One budget for a whole search, dealt out in shares.

    With `rounds` only steps are counted, so that the answer is the same on every machine; the clock then
    is no more than a brake far beyond what the steps should take.
    """

    def __init__(
        self,
        budget_s: float,
        rounds: int | None,
        ticket: Ticket | None = None,
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        self.rounds = rounds
        self._budget_s = budget_s
        self._ticket = ticket
        self._now = now
        self._began = now()

    @property
    def is_none(self) -> bool:
        """Only a quick answer is asked for."""
        return self._budget_s <= 0 or self.rounds == 0

    @property
    def packing_s(self) -> float:
        """What one attempt to pack a sheet may take."""
        return 0.03 if self.rounds is None else 10.0

    def until(self, share: float) -> Callable[[], bool]:
        """A question "is it over?" for the part of the work that ends at this share of the budget."""
        end = self._began + self._budget_s * share

        def is_over() -> bool:
            if self._ticket is not None and self._ticket.is_stopped:
                return True
            return self.rounds is None and self._now() >= end

        return is_over

    def lasting(self, share: float, end: float = 1.0) -> Callable[[], bool]:
        """The same for work that begins now and may take this share, but not beyond `end`."""
        return self.until(min(end, self.used + share))

    @property
    def used(self) -> float:
        """The share of the budget that is used up by now."""
        return (self._now() - self._began) / self._budget_s if self._budget_s else 0.0

    def share_s(self, share: float) -> float:
        """So much of the budget in seconds, for work that keeps its own clock."""
        return self._budget_s * share if self.rounds is None else 60.0

    def steps(self, for_each_round: int) -> int | None:
        """How many steps a part of the work may take, None where the clock decides."""
        return None if self.rounds is None else self.rounds * for_each_round
