"""How long work tells its progress and hears "stop"."""

import threading
from collections.abc import Callable


class Cancelled(Exception):
    """Raised inside the work, by `Ticket.step`, once somebody asked it to stop."""


class Ticket:
    """Handed to long work: it reports steps, and learns from any thread that it should stop.

    Work calls `step` often (a few times a second at least) and lets `Cancelled` through. Work that
    can hand over a useful answer at any moment looks at `is_stopped` and returns what it has.
    """

    def __init__(self, progressed: Callable[[int, int], None] | None = None) -> None:
        self._progressed = progressed
        self._stop = threading.Event()

    @property
    def is_stopped(self) -> bool:
        """Whether somebody asked the work to stop."""
        return self._stop.is_set()

    def stop(self) -> None:
        """Ask the work to stop; it does so at its next step."""
        self._stop.set()

    def step(self, done: int, of: int) -> None:
        """Report that `done` of `of` steps are behind us.

        Raises:
            Cancelled: somebody asked the work to stop.
        """
        if self._stop.is_set():
            raise Cancelled
        if self._progressed is not None:
            self._progressed(done, of)
