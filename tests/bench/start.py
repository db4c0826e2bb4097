"""How long the window takes to be up, against a bare window of the same toolkit in the same run.

Each start is a process of its own, from its beginning to the first turn of the event loop after the window is
shown (up: its ground is painted) or after its fields can be typed in (ready); the kinds take turns:
`python -m tests.bench.start [--json OUT]`. Offscreen unless QT_QPA_PLATFORM says otherwise.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from tests.bench.report import add_json_option, row, show

STARTS = 7
_UP = """
import os, sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
app = QApplication([])
"""
BARE = f"""{_UP}
QTimer.singleShot(0, app.quit)
from PySide6.QtWidgets import QMainWindow
window = QMainWindow()
window.resize(1280, 800)
window.show()
app.exec()
os._exit(0)
"""
PLANNER = f"""{_UP}
from planner.window.start import run
# The end of the program is no part of its start.
app.aboutToQuit.connect(lambda: os._exit(0))
def look():
    if not {{ready}} or any(hasattr(shown, "bar") and shown.isVisible() for shown in app.topLevelWidgets()):
        QTimer.singleShot(0, app.quit)
        watch.stop()
watch = QTimer(interval={{every_ms}})
watch.timeout.connect(look)
watch.start()
run()
"""
UP, READY = PLANNER.format(ready=False, every_ms=0), PLANNER.format(ready=True, every_ms=5)


def start_s(program: str, environment: dict[str, str]) -> float:
    """Seconds from the start of a process until its window is up."""
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], env=environment, check=True, capture_output=True)
    return time.perf_counter() - began


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    add_json_option(parser)
    options = parser.parse_args(arguments)
    seconds: dict[str, list[float]] = {BARE: [], UP: [], READY: []}
    with tempfile.TemporaryDirectory() as home:
        own = {name: home for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA", "LOCALAPPDATA")}
        environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ, **own, "PYTHONPATH": str(Path.cwd())}
        # The first of each reads files that no start after it reads from the disk.
        for program in seconds:
            start_s(program, environment)
        for _ in range(STARTS):
            for program, taken in seconds.items():
                taken.append(start_s(program, environment))
    reference = statistics.median(seconds[BARE])
    rows = []
    for figure, program in (("window up, s", UP), ("ready, s", READY)):
        value, total = statistics.median(seconds[program]), sum(seconds[program])
        rows.append(row("start", figure, value, reference=reference, seconds=total))
    show(rows, options.json)


if __name__ == "__main__":
    main()
