"""The window is there at once; what takes long comes behind it."""

import os
import subprocess
import sys
from pathlib import Path

from planner.storage.job_file import SUFFIX, write_job
from tests.builders import a_job

_ROOT = Path(__file__).resolve().parents[2]

_WATCHED = """
import sys
from PySide6.QtCore import QTimer
from planner.window.start import Program, run
app = Program([])
seen = []
def look():
    shown = [one for one in app.topLevelWidgets() if one.isVisible() and one.windowTitle()]
    names = [type(one).__name__ for one in shown]
    if names and names != seen[-1:]:
        seen.extend(names)
    if "MainWindow" in names:
        watch.stop()
        shown[names.index("MainWindow")].close()
    {meanwhile}
watch = QTimer(interval=2)
watch.timeout.connect(look)
watch.start()
status = run()
print(status, *dict.fromkeys(seen))
"""


def test_showing_the_ground_needs_no_job_no_shop_and_no_pictures(tmp_path: Path) -> None:
    program = "import sys, planner.window.start; print(*sys.modules)"
    loaded = _output(program, tmp_path).split()
    assert "PySide6.QtWidgets" in loaded
    assert not {"pydantic", "numpy", "cv2", "PIL", "planner.job.document", "planner.window.main"} & set(
        loaded
    )


def test_the_window_takes_the_place_of_its_ground(tmp_path: Path) -> None:
    assert _output(_WATCHED.format(meanwhile=""), tmp_path).split() == ["0", "Opening", "MainWindow"]


def test_a_window_closed_before_it_is_ready_ends_the_program(tmp_path: Path) -> None:
    closing = "[one.close() for one in shown]"
    assert _output(_WATCHED.format(meanwhile=closing), tmp_path).split() == ["0", "Opening"]


_HANDED_OVER = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtGui import QFileOpenEvent
from planner.window.start import Program, run
app = Program([])
early, late = sys.argv[1:]
app.sendEvent(app, QFileOpenEvent(early))
seen = []
def look():
    for window in app.topLevelWidgets():
        if type(window).__name__ != "MainWindow" or not window.isVisible() or window.desk.path is None:
            continue
        name = window.desk.path.name
        if name in seen:
            continue
        seen.append(name)
        if len(seen) == 1:
            app.sendEvent(app, QFileOpenEvent(late))
        else:
            window.close()
watch = QTimer(interval=20)
watch.timeout.connect(look)
watch.start()
QTimer.singleShot(60_000, app.quit)
run()
print(*seen)
"""


def test_files_that_macos_hands_over_are_opened_before_and_after_the_window_is_ready(tmp_path: Path) -> None:
    files = [tmp_path / f"{name}{SUFFIX}" for name in ("early", "late")]
    for path in files:
        write_job(path, *a_job())
    assert _output(_HANDED_OVER, tmp_path, *map(str, files)).split() == [path.name for path in files]


def _output(program: str, home: Path, *arguments: str) -> str:
    own = {name: str(home) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA", "LOCALAPPDATA")}
    environment = {**os.environ, **own, "PYTHONPATH": str(_ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", program, *arguments],
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert done.stderr.strip() in ("", "This plugin does not support propagateSizeHints()")
    return done.stdout
