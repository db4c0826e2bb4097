"""No worker's thread ends what belongs to the window."""

import gc
import threading
import weakref
from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from planner.window.tidying import Tidying


class Knot:
    """Something that refers to itself."""

    def __init__(self) -> None:
        self.itself = self


@pytest.fixture
def collecting_threads() -> Iterator[set[str]]:
    found: set[str] = set()

    def look(phase: str, info: dict[str, int]) -> None:
        found.add(threading.current_thread().name)

    gc.callbacks.append(look)
    yield found
    gc.callbacks.remove(look)


def test_cycles_are_collected_by_the_thread_of_the_window_alone(
    qtbot: QtBot, collecting_threads: set[str]
) -> None:
    # What earlier tests left to be deleted would count against what is made here.
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    tidying = Tidying()
    tidying.start()
    try:
        panel = QWidget()
        panel.itself = panel  # type: ignore[attr-defined]
        gone = weakref.ref(panel)
        del panel
        busy = threading.Thread(target=lambda: [Knot() for _ in range(20_000)], name="busy")
        busy.start()
        busy.join()
        assert gone() is not None
        qtbot.waitUntil(lambda: gone() is None)
        assert collecting_threads == {threading.main_thread().name}
    finally:
        tidying.stop()
    assert gc.isenabled()
