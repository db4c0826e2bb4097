"""A long sitting in a short time: the whole window edits, arranges, undoes and saves a job of 200 pieces.

`python -m tests.bench.soak [--minutes M] [--json OUT]`. After a warm-up of a quarter of the time, memory,
threads and open files are taken as the reference; what they are at the end is held against that. It ends
with status 1 where memory grew by more than 5 %, a thread or file was left open, or an unexpected error came.
Linux only: it reads `/proc`.
"""

import argparse
import os
import random
import sys
import tempfile
import time
import traceback
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from statistics import median
from types import TracebackType

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from PySide6.QtCore import QEvent, QSettings
from PySide6.QtWidgets import QApplication

from planner.artwork.guarded import Guarded
from planner.job import edits
from planner.job.document import Job, SizeCount
from planner.shop.document import changed
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from planner.window.app import kept_safe
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.main import MainWindow
from planner.window.tidying import Tidying
from tests.bench.report import add_json_option, row, show
from tests.builders import a_job, a_shop

PIECES = 200
MOST_GROWTH = 1.05
_WARM_UP = 0.25
_SAMPLES = 5


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Work in the window for a while and look for leaks.")
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    add_json_option(parser)
    wanted = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory(prefix="planner-soak-") as folder:
        sitting = Sitting(Path(folder), random.Random(wanted.seed))
        started = time.monotonic()
        sitting.work_until(started + 60 * wanted.minutes * _WARM_UP)
        before = sitting.measured()
        sitting.work_until(started + 60 * wanted.minutes)
        after = sitting.measured()
        seconds = time.monotonic() - started
        sitting.close()
    rows = [row("soak", name, after[name], reference=before[name], seconds=seconds) for name in before] + [
        row("soak", "edits", sitting.edits, seconds=seconds),
        row("soak", "saves", sitting.saves, seconds=seconds),
        row("soak", "unexpected errors", sitting.errors, seconds=seconds),
    ]
    show(rows, wanted.json)
    grew = after["memory MB"] > MOST_GROWTH * before["memory MB"]
    left = any(after[name] > before[name] for name in ("threads", "open files"))
    return 1 if grew or left or sitting.errors else 0


class Sitting:
    """One person at one window."""

    def __init__(self, folder: Path, dice: random.Random) -> None:
        self._dice = dice
        self._path = folder / f"soak{SUFFIX}"
        self.edits = self.saves = self.errors = 0
        sys.excepthook = self._met
        self._app = QApplication.instance() or QApplication(["soak"])
        job, files = a_job()
        line = changed(job.lines[0], sizes=(SizeCount(size="M", count=PIECES),))
        write_job(self._path, changed(job, lines=(line,)), files)
        self._background = Background(ThreadPoolExecutor(2))
        self._guard = Guarded()
        self._window = MainWindow(
            Desk(Job(quoted_on=date.today()), a_shop()),
            self._background,
            settings=QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat),
            asks=Asks(),
            today=date.today,
            save_shop=lambda shop: None,
            decoder=self._guard,
        )
        self._keeping = kept_safe(self._window, Recovery(folder))
        self._tidying = Tidying(self._window)
        self._tidying.start()
        self._window.show()
        self._open()

    def work_until(self, ends_at: float) -> None:
        while time.monotonic() < ends_at:
            self._one_edit()
            self._let_it_work(0.05)

    def measured(self) -> dict[str, float]:
        """What the process holds once everything has come to rest."""
        memory = []
        for _ in range(_SAMPLES):
            self._let_it_work(0.3)
            memory.append(_resident_mb())
        return {
            "memory MB": median(memory),
            "threads": float(len(list(Path("/proc/self/task").iterdir()))),
            "open files": float(len(list(Path("/proc/self/fd").iterdir()))),
        }

    def _met(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        self.errors += 1
        if self.errors == 1:
            traceback.print_exception(kind, error, trace)

    def close(self) -> None:
        self._tidying.stop()
        self._keeping.close()
        self._guard.close()
        self._background.shut_down()
        self._window.desk.undo_stack.setClean()
        self._window.close()

    def _one_edit(self) -> None:
        desk, what = self._window.desk, self._dice.random()
        self.edits += 1
        if what < 0.45:
            line = desk.job.lines[0]
            count = SizeCount(size="M", count=self._dice.randrange(PIECES - 20, PIECES + 20))
            desk.apply("Change counts", edits.change_line(desk.job, line.key, sizes=(count,)))
        elif what < 0.6:
            width_mm = self._dice.uniform(60, 120)
            desk.apply(
                "Change width", edits.change_print(desk.job, desk.job.prints[0].key, width_mm=width_mm)
            )
        elif what < 0.75:
            desk.undo_stack.undo()
        elif what < 0.85:
            desk.undo_stack.redo()
        elif what < 0.9:
            self._window.arrange()
            self._let_it_work(0.4)
            self._window.arranging.hurry()
        else:
            self._window.cabinet.save(self._window, self._saved)

    def _saved(self) -> None:
        self.saves += 1
        # A sitting of two hours opens many jobs: each time with a history that starts empty.
        read_job(self._path)
        self._open()

    def _open(self) -> None:
        self._window.cabinet.open_over(self._window, self._path)

    def _let_it_work(self, seconds: float) -> None:
        ends_at = time.monotonic() + seconds
        while time.monotonic() < ends_at or not self._background.is_idle():
            self._app.processEvents()
            self._app.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
            time.sleep(0.002)
            if time.monotonic() > ends_at + 60:
                raise TimeoutError("the background does not come to rest")


def _resident_mb() -> float:
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


if __name__ == "__main__":
    sys.exit(main())
