"""What `start.py` does: set up, then the window; with no display, the packet of papers instead."""

import argparse
import os
import re
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import set_up
import system_parts

DEMO_FILE = "harbour-lights.transferjob"
QT_PLATFORM = {"x11": "xcb", "wayland": "wayland"}

# The calls are the C libraries' own: xcb_connect(3), wl_display_connect (Wayland client API).
X11_TRIAL = """
xcb = load("libxcb.so.1")
xcb.xcb_connect.restype = ctypes.c_void_p
xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
sys.exit(bool(xcb.xcb_connection_has_error(xcb.xcb_connect(None, None))))
"""
WAYLAND_TRIAL = """
wayland = load("libwayland-client.so.0")
wayland.wl_display_connect.restype = ctypes.c_void_p
sys.exit(wayland.wl_display_connect(None) is None)
"""
NO_LIBRARY = 3
LOAD = f"""
import ctypes, sys
def load(name):
    try:
        return ctypes.CDLL(name)
    except OSError:
        sys.exit({NO_LIBRARY})
"""


def main(arguments: list[str]) -> int:
    """Exit status of a start: 0 when the window or the papers came, 2 with a sentence otherwise."""
    wanted = _parser().parse_args(arguments)
    try:
        return _start(wanted.file, wanted.to)
    except set_up.SetUpFailed as failure:
        print(failure, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped. What was not finished is done at the next start.", file=sys.stderr)
        return 130


def display_kinds(environment: Mapping[str, str], platform: str = sys.platform) -> tuple[str, ...]:
    """The displays the environment names, most wanted first: of "wayland", "x11", "own"; () for none.

    "own" is the display that every Windows and macOS session has.
    """
    chosen = re.split("[:;]", environment.get("QT_QPA_PLATFORM", ""))[0]
    if chosen in ("offscreen", "minimal"):
        return ()
    if platform != "linux":
        return ("own",)
    named = (("wayland", "WAYLAND_DISPLAY"), ("x11", "DISPLAY"))
    found = tuple(kind for kind, variable in named if environment.get(variable))
    return tuple(kind for kind in found if chosen in ("", QT_PLATFORM[kind]))


def connects(kind: str) -> bool | None:
    """Whether this display takes a connection within five seconds; None when its library is missing."""
    if kind == "own":
        return True
    trial = LOAD + (WAYLAND_TRIAL if kind == "wayland" else X11_TRIAL)
    command = [sys.executable, "-I", "-S", "-c", trial]
    try:
        # A child, because a display that hangs or a broken library must not take the start along.
        tried = subprocess.run(
            command, timeout=5, stdin=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False
        )
    except subprocess.TimeoutExpired:
        return False
    return None if tried.returncode == NO_LIBRARY else tried.returncode == 0


def paper_commands(file: Path | None, to: Path) -> list[list[str]]:
    """The planner's commands that write the papers of this job, or of the demo, into `to`."""
    if file is not None:
        return [["export", str(file), "--to", str(to)]]
    demo = str(to / DEMO_FILE)
    return [["demo", "--to", demo], ["export", demo, "--to", str(to)]]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="start.py",
        description="Sets Transfer Job Planner up the first time, then opens it. "
        "With no display it writes the job's packet of papers instead.",
    )
    parser.add_argument(
        "file", nargs="?", type=Path, metavar="FILE", help="the job to open (default: the demo job)"
    )
    parser.add_argument(
        "--to",
        type=Path,
        metavar="DIR",
        default=set_up.PROJECT / "planner-out",
        help="where the papers go when there is no display (default: planner-out beside packaging)",
    )
    return parser


def _start(file: Path | None, to: Path) -> int:
    if file is not None and not file.is_file():
        print(f"There is no job file {file}.", file=sys.stderr)
        return 2
    python = set_up.ensure(set_up.Tools.RUN)
    kind = _usable_display()
    if kind is None:
        return _write_papers(python, file, to.resolve())
    if kind in QT_PLATFORM:
        # Told, or Qt would choose by the desktop's name and may choose the one that did not answer.
        os.environ.setdefault("QT_QPA_PLATFORM", QT_PLATFORM[kind])
    return _hand_over(python, [str(file)] if file is not None else ["demo", "--open"])


def _usable_display() -> str | None:
    """The first display that can be used, its libraries in place; None when none answers.

    Raises SetUpFailed when one may be there but libraries for it are missing.
    """
    libraries = {"x11": system_parts.X11, "wayland": system_parts.WAYLAND, "own": ()}
    for kind in display_kinds(os.environ):
        answer = connects(kind)
        if answer is False:
            continue
        if to_do := system_parts.ensure((*system_parts.QT, *libraries[kind])):
            raise set_up.SetUpFailed(
                f"The window needs libraries that this system does not have yet. {to_do}"
            )
        if answer or connects(kind):
            return kind
    return None


def _write_papers(python: Path, file: Path | None, to: Path) -> int:
    job = "the job" if file is not None else "the demo job"
    print(f"There is no display to open a window on, so {job}'s papers are written into {to}", flush=True)
    try:
        to.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        print(f"The folder {to} cannot be made: {error.strerror}.", file=sys.stderr)
        return 2
    for command in paper_commands(file, to):
        done = subprocess.run([str(python), "-P", "-m", "planner", *command], check=False)
        if done.returncode:
            return done.returncode
    return 0


def _hand_over(python: Path, arguments: list[str]) -> int:
    command = [str(python), "-P", "-m", "planner", *arguments]
    if os.name != "nt":
        sys.stdout.flush()
        os.execv(command[0], command)
    # On Windows exec comes back at once, with the window still opening.
    return subprocess.run(command, check=False).returncode
