"""How long the window takes to be up, against a bare window of the same toolkit in the same run.

Each start is a process of its own, from its beginning to the first turn of the event loop after the window is
shown; the two kinds take turns: `python -m tests.bench.start [--json OUT]`. Offscreen unless QT_QPA_PLATFORM
says otherwise.
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
QTimer.singleShot(0, app.quit)
"""
BARE = f"""{_UP}
from PySide6.QtWidgets import QMainWindow
window = QMainWindow()
window.resize(1280, 800)
window.show()
app.exec()
os._exit(0)
"""
PLANNER = f"""{_UP}
from planner.window.app import run
# The end of the program is no part of its start.
app.aboutToQuit.connect(lambda: os._exit(0))
run()
"""


def start_s(program: str, environment: dict[str, str]) -> float:
    """Seconds from the start of a process until its window is up."""
    began = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], env=environment, check=True, capture_output=True)
    return time.perf_counter() - began


def main(arguments: Sequence[str] | None = None) -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    add_json_option(parser)
    options = parser.parse_args(arguments)
    bare, planner = [], []
    with tempfile.TemporaryDirectory() as home:
        own = {name: home for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA", "LOCALAPPDATA")}
        environment = {"QT_QPA_PLATFORM": "offscreen", **os.environ, **own, "PYTHONPATH": str(Path.cwd())}
        # The first of each reads files that no start after it reads from the disk.
        for program in (BARE, PLANNER):
            start_s(program, environment)
        for _ in range(STARTS):
            bare.append(start_s(BARE, environment))
            planner.append(start_s(PLANNER, environment))
    reference = statistics.median(bare)
    value = statistics.median(planner)
    show([row("start", "window up, s", value, reference=reference, seconds=sum(planner))], options.json)


if __name__ == "__main__":
    main()
