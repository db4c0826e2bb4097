"""Long work off the UI thread, in lanes: newer work in a lane stops the older one.

Workers emit on one long-lived signal; a bound slot calls the answers in the UI thread. A signal
object per task was tried and lost results, or crashed when it was deleted under a queued call.
"""

from collections.abc import Callable
from concurrent.futures import Executor
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal, Slot

from planner.work.ticket import Ticket

_STEP, _DONE, _FAILED = "step", "done", "failed"


@dataclass(slots=True)
class _Run:
    work: Callable[[Ticket], Any]
    done: Callable[[Any], object]
    failed: Callable[[Exception], object]
    progressed: Callable[[int, int], object] | None
    number: int = 0
    ticket: Ticket = field(default_factory=Ticket)


class Background(QObject):
    """Runs work on an executor; all answers arrive in the thread this object lives in."""

    idle = Signal()
    """The last running work has answered."""
    _reported = Signal(str, int, str, object)

    def __init__(self, executor: Executor, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._executor = executor
        self._current: dict[str, _Run] = {}
        self._running: set[int] = set()
        self._held: set[str] = set()
        self._count = 0
        self._reported.connect(self._answer, Qt.ConnectionType.QueuedConnection)

    def start(
        self,
        lane: str,
        work: Callable[[Ticket], Any],
        *,
        done: Callable[[Any], object],
        failed: Callable[[Exception], object],
        progressed: Callable[[int, int], object] | None = None,
    ) -> None:
        """Run `work(ticket)` in a lane; whatever still runs there is stopped and its result dropped.

        `failed` hears what the work raised: `Cancelled` where `hurry` found nothing to hand over.
        """
        self.stop(lane)
        self._current[lane] = _Run(work, done, failed, progressed)
        if lane not in self._held:
            self._begin(lane)

    def _begin(self, lane: str) -> None:
        run = self._current[lane]
        self._count += 1
        run.number = number = self._count
        run.ticket = Ticket(lambda at, of: self._reported.emit(lane, number, _STEP, (at, of)))
        self._running.add(number)
        self._executor.submit(self._run, lane, number, run.ticket, run.work)

    def hold(self, *lanes: str) -> None:
        """Leave the processor to other lanes: what runs in these stops, and waits with what comes."""
        for lane in self._current.keys() & set(lanes) - self._held:
            self._current[lane].ticket.stop()
            # Its answer is nobody's any more.
            self._current[lane].number = 0
        self._held.update(lanes)

    def let_go(self, *lanes: str) -> None:
        """Begin from its start what waits in lanes that were held."""
        waiting = self._current.keys() & set(lanes) & self._held
        self._held.difference_update(lanes)
        for lane in waiting:
            self._begin(lane)

    def stop(self, lane: str) -> None:
        """Ask the work of a lane to stop; its answer will not be called."""
        run = self._current.pop(lane, None)
        if run is not None:
            run.ticket.stop()

    def hurry(self, lane: str) -> None:
        """Ask the work of a lane to hand over the best it has; its answer will be called."""
        run = self._current.get(lane)
        if run is not None:
            run.ticket.stop()

    def is_busy(self, lane: str) -> bool:
        """Whether work of this lane runs."""
        return lane in self._current and lane not in self._held

    def is_waiting(self, lane: str) -> bool:
        """Whether work of this lane waits for the lane to be let go."""
        return lane in self._current and lane in self._held

    def is_idle(self) -> bool:
        """Whether nothing runs any more, stopped work included."""
        return not self._running

    def stop_all(self) -> None:
        for lane in tuple(self._current):
            self.stop(lane)

    def shut_down(self) -> None:
        """Stop everything and give the threads back; waits for work under way to notice."""
        self.stop_all()
        self._executor.shutdown(wait=True, cancel_futures=True)
        self._running.clear()

    def _run(self, lane: str, number: int, ticket: Ticket, work: Callable[[Ticket], Any]) -> None:
        try:
            result = work(ticket)
        # A worker's error would vanish with its thread: everything is caught and answered for.
        except Exception as error:
            self._reported.emit(lane, number, _FAILED, error)
        else:
            self._reported.emit(lane, number, _DONE, result)

    @Slot(str, int, str, object)
    def _answer(self, lane: str, number: int, what: str, value: Any) -> None:
        run = self._current.get(lane)
        current = run if run is not None and run.number == number else None
        if what == _STEP:
            if current is not None and current.progressed is not None:
                current.progressed(*value)
            return
        self._running.discard(number)
        if current is not None:
            del self._current[lane]
            if what == _DONE:
                current.done(value)
            elif what == _FAILED:
                current.failed(value)
        if not self._running:
            self.idle.emit()
