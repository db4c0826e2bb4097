"""The process in which spyrrow searches: a panic or a hang in it takes nothing else down.

Sends each better strip through the connection as (length, placings), then None. Imports nothing of the
planner, so that starting it is quick.
"""

import threading
import time
from typing import Any

import spyrrow

_LOOK_S = 0.02
_FEASIBLE = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)

Item = tuple[str, list[tuple[float, float]], int, list[float] | None]


def search(
    connection: Any,
    width: float,
    items: list[Item],
    seconds: int,
    seed: int,
    workers: int,
) -> None:
    """Look for ever shorter strips of this width for items of (name, corners, count, allowed angles)."""
    queue = spyrrow.ProgressQueue()
    solved = threading.Event()

    def solve() -> None:
        try:
            _strip(width, items).solve(_config(seconds, seed, workers), progress=queue)
        finally:
            # Also after a panic, which is a BaseException and ends this thread.
            solved.set()

    # What a panic prints is of no use to anybody; the parent sees that no strip came.
    threading.excepthook = lambda _: None
    threading.Thread(target=solve, daemon=True).start()
    best = float("inf")
    is_last = False
    while not is_last:
        is_last = solved.is_set()
        feasible = [solution for kind, solution in queue.drain() if kind in _FEASIBLE]
        shortest = min(feasible, key=lambda solution: solution.width, default=None)
        if shortest is not None and shortest.width < best:
            best = shortest.width
            placings = [(p.id, p.rotation, tuple(p.translation)) for p in shortest.placed_items]
            connection.send((best, placings))
        if not is_last:
            time.sleep(_LOOK_S)
    connection.send(None)
    connection.close()


def _strip(width: float, items: list[Item]) -> spyrrow.StripPackingInstance:
    return spyrrow.StripPackingInstance(
        "strip",
        strip_height=width,
        items=[spyrrow.Item(name, shape, demand, angles) for name, shape, demand, angles in items],
    )


def _config(seconds: int, seed: int, workers: int) -> spyrrow.StripPackingConfig:
    return spyrrow.StripPackingConfig(
        early_termination=False, total_computation_time=seconds, num_workers=workers, seed=seed
    )
