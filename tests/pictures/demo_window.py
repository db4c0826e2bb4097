"""The real window on the demo job without a display, for pictures and benchmarks."""

import os
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")

from PySide6.QtCore import QLocale, QSettings
from PySide6.QtGui import QFont, QFontDatabase
from PySide6.QtWidgets import QApplication

from planner.job.document import Job
from planner.plan.demo import demo_job
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.dress import Dress, style_sheet
from planner.window.look import LIGHT, palette
from planner.window.main import MainWindow
from tests.builders import A_DAY, a_shop
from tests.window.rig import Answers

FONT_PX = 13
_PATIENCE_S = 60


def dressed_app(font_px: int = FONT_PX) -> QApplication:
    """The application as in the tests: light, the font of the papers."""
    from font_source_sans_pro import SourceSansPro, SourceSansProSemibold

    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    QLocale.setDefault(QLocale.c())
    for file in (SourceSansPro, SourceSansProSemibold):
        QFontDatabase.addApplicationFont(str(Path(file)))
    font = QFont("Source Sans Pro")
    font.setPixelSize(font_px)
    app.setFont(font)
    if not app.styleSheet():
        Dress(app)
    # Not by another `Dress`: setting the style once more under shown windows ends the process (Qt 6.11).
    app.setPalette(palette(LIGHT))
    app.setStyleSheet(style_sheet(LIGHT, font))
    return app


class DemoWindow:
    """A shown main window with the demo job; everything it measures is measured."""

    def __init__(self, folder: Path, *, size: tuple[int, int] = (1280, 800), font_px: int = FONT_PX) -> None:
        self.app = dressed_app(font_px)
        self.background = Background(ThreadPoolExecutor(2))
        self.desk = Desk(Job(quoted_on=A_DAY), a_shop())
        self.window = MainWindow(
            self.desk,
            self.background,
            settings=QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat),
            asks=Answers(),
            today=lambda: A_DAY,
            save_shop=lambda shop: None,
        )
        self.window.resize(*size)
        self.window.show()
        job, files = demo_job(A_DAY)
        self.window.cabinet.lay(job, dict(files), None)
        self.settle()

    def settle(self) -> None:
        """Wait until nothing runs and all answers are shown."""
        # An answer may start more work, and a layout settles over several rounds.
        for _ in range(4):
            self._wait_until(lambda: self.background.is_idle() and not self.window.questions.is_held_up)
            self.app.processEvents()

    def close(self) -> None:
        self.desk.undo_stack.setClean()
        self.window.close()
        self.background.stop_all()
        self._wait_until(self.background.is_idle)
        self.background.shut_down()
        self.desk.put_away()

    def _wait_until(self, ready: Callable[[], bool]) -> None:
        began = time.monotonic()
        while not ready():
            if time.monotonic() - began > _PATIENCE_S:
                raise TimeoutError("The window is still at work.")
            self.app.processEvents()
            time.sleep(0.005)
