"""Shows a window at once, and gets the program's parts ready behind it."""

import gc
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSettings, QTimer
from PySide6.QtGui import QFileOpenEvent, QIcon
from PySide6.QtWidgets import QApplication, QMainWindow

from planner.shop.resources import resource
from planner.shop.version import PROGRAM, VERSION
from planner.window.dress import Dress
from planner.window.remembered import place

if TYPE_CHECKING:
    from planner.window.app import Sitting

SETTINGS = ("transfer-job-planner", "window")
"""Where sizes are remembered: organisation and name, as `QSettings` takes them."""
# Qt's own classes are made in the window's thread only; these bring none.
_HEAVY = (
    "planner.plan.make_plan",
    "planner.plan.laddering",
    "planner.artwork.guarded",
    "planner.storage.recovery",
    "planner.storage.shop_book",
    "planner.shop.starting",
)
_LOOK_MS = 5


class Program(QApplication):
    """The application; macOS tells it by an event which file to open, where other systems use arguments."""

    def __init__(self, arguments: list[str]) -> None:
        super().__init__(arguments)
        self.handed_over: list[Path] = []
        """Files that came before anybody could open them."""
        self.open: Callable[[Path], object] = self.handed_over.append

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QFileOpenEvent) and event.file():
            self.open(Path(event.file()))
            return True
        return super().event(event)


class Opening(QMainWindow):
    """The window's ground, where it will stand and as large, until the window itself stands there."""

    def __init__(self, settings: QSettings) -> None:
        super().__init__()
        self.setWindowTitle(PROGRAM)
        place(self, settings)


def run(path: Path | None = None, *, demo: bool = False) -> int:
    """Open the window, on a job file or the demo if asked; gives the exit status when it is closed."""
    app = QApplication.instance() or Program(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName("transfer-job-planner")
    app.setApplicationDisplayName(PROGRAM)
    app.setApplicationVersion(VERSION)
    app.setDesktopFileName("transfer-job-planner")
    Dress(app)
    opening = Opening(QSettings(*SETTINGS))
    opening.show()
    # Loading makes much and leaves nothing: looking for cycles meanwhile was a tenth of the start.
    gc.disable()
    sittings: list[Sitting] = []
    loading = Thread(target=_load, name="planner-loading", daemon=True)

    def sit_down() -> None:
        if not loading.ident or loading.is_alive() or not opening.isVisible():
            return
        waiting.stop()
        from planner.window.app import Sitting

        app.setWindowIcon(QIcon(str(resource("icons", "planner.png"))))
        handed_over = app.handed_over if isinstance(app, Program) else []
        sittings.append(Sitting(handed_over[-1] if handed_over else path, demo=demo))
        if isinstance(app, Program):
            app.open = sittings[-1].open
        opening.close()

    waiting = QTimer(interval=_LOOK_MS)
    waiting.timeout.connect(sit_down)
    waiting.start()
    # Only once the ground is painted: loading would take the interpreter from it.
    QTimer.singleShot(0, loading.start)
    status = app.exec()
    for sitting in sittings:
        sitting.end()
    return status


def _load() -> None:
    """Import what takes long; an import that fails tells so again where it is needed."""
    for name in _HEAVY:
        try:
            import_module(name)
        except Exception:
            return
