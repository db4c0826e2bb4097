"""The window is there at once; what takes long comes behind it."""

import os
import subprocess
import sys
from pathlib import Path

_ROOT = Path(__file__).resolve().parents[2]

_WATCHED = """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from planner.window.start import run
app = QApplication([])
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


def _output(program: str, home: Path) -> str:
    own = {name: str(home) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "APPDATA", "LOCALAPPDATA")}
    environment = {**os.environ, **own, "PYTHONPATH": str(_ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", program],
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert done.stderr.strip() in ("", "This plugin does not support propagateSizeHints()")
    return done.stdout
