"""How much longer a search may go on: by the clock, by rounds, or until somebody says stop."""

import time

from planner.work.ticket import Ticket

_ATTEMPTS = 16
"""Attempts in a round: few enough to hear "stop" at once, enough to look at the clock seldom."""
_FIRST_S = 0.05
"""After so long there should be a first answer to look at."""


class Effort:
    """Counts a search's rounds, of so many attempts each, and knows when they are used up.

    With `rounds` the clock is only a cap, so the same request ends after the same round everywhere.
    """

    def __init__(self, budget_s: float, rounds: int | None = None, ticket: Ticket | None = None) -> None:
        self._began_s = time.monotonic()
        self._ends_s = self._began_s + budget_s
        self._rounds = rounds
        self._ticket = ticket
        self._done = 0
        self._attempts = 0
        self._is_over = False

    @property
    def is_counted(self) -> bool:
        """Whether rounds decide and the clock is only a cap."""
        return self._rounds is not None

    @property
    def spent_s(self) -> float:
        return time.monotonic() - self._began_s

    @property
    def left_s(self) -> float:
        return max(0.0, self._ends_s - time.monotonic())

    def is_over(self) -> bool:
        """Whether to hand over what there is."""
        if not self._is_over:
            self._is_over = (self._rounds is not None and self._done >= self._rounds) or self._is_cut()
        return self._is_over

    def is_late(self) -> bool:
        """Whether a first answer is overdue. Never, before the end, where only rounds count."""
        return self.is_over() or (self._rounds is None and self.spent_s > _FIRST_S)

    def next_attempt(self, in_round: int = _ATTEMPTS) -> bool:
        """Count one more attempt, so many a round; False once no more may be begun."""
        if self._attempts % in_round == 0:
            if self.is_over():
                return False
            self._done += 1
        elif self._attempts % _ATTEMPTS == 0 and self._is_cut():
            return False
        self._attempts += 1
        return True

    def share(self, part: float) -> "Effort":
        """An effort of so large a part of what is left of this one, counted on its own."""
        rounds = None if self._rounds is None else round((self._rounds - self._done) * part)
        return Effort(self.left_s * part, rounds, self._ticket)

    def spend(self, part: "Effort") -> None:
        """Count the rounds that a share has used."""
        self._done += part._done

    def _is_cut(self) -> bool:
        """Whether the time is up or somebody said stop, whatever rounds are left."""
        return time.monotonic() >= self._ends_s or (self._ticket is not None and self._ticket.is_stopped)
