"""What the planner needs from the operating system: found, and on Debian and Ubuntu installed.

The lists were read from the libraries themselves (the NEEDED entries of Qt 6.11's Core, Gui, Widgets
and DBus and of its platform plugins); what those need in turn the packages bring along.
"""

import ctypes
import importlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from typing import NamedTuple


class Part(NamedTuple):
    """A library, program or Python module, and the Debian package that brings it."""

    name: str
    package: str
    is_there: Callable[[str], bool]

    @classmethod
    def library(cls, name: str, package: str) -> "Part":
        return cls(name, package, can_load)

    @classmethod
    def program(cls, name: str, package: str) -> "Part":
        return cls(name, package, has_program)

    @classmethod
    def module(cls, name: str, package: str) -> "Part":
        return cls(name, package, has_module)


def can_load(soname: str) -> bool:
    """Whether the system's loader finds this library and all that it needs."""
    try:
        ctypes.CDLL(soname)
    except OSError:
        return False
    return True


def has_program(name: str) -> bool:
    """Whether a program of this name can be run."""
    return shutil.which(name) is not None


def has_module(name: str) -> bool:
    """Whether this Python can import the module, looked up afresh."""
    importlib.invalidate_caches()
    return importlib.util.find_spec(name) is not None


QT = (
    Part.library("libEGL.so.1", "libegl1"),
    Part.library("libGL.so.1", "libgl1"),
    Part.library("libX11.so.6", "libx11-6"),
    Part.library("libdbus-1.so.3", "libdbus-1-3"),
    Part.library("libfontconfig.so.1", "libfontconfig1"),
    Part.library("libfreetype.so.6", "libfreetype6"),
    Part.library("libglib-2.0.so.0", "libglib2.0-0"),
    Part.library("libgthread-2.0.so.0", "libglib2.0-0"),
    Part.library("libxkbcommon.so.0", "libxkbcommon0"),
    Part.library("libz.so.1", "zlib1g"),
    Part.library("libzstd.so.1", "libzstd1"),
)
"""For any window, also one drawn off screen."""

X11 = (
    Part.library("libX11-xcb.so.1", "libx11-xcb1"),
    Part.library("libxcb.so.1", "libxcb1"),
    Part.library("libxcb-cursor.so.0", "libxcb-cursor0"),
    Part.library("libxcb-icccm.so.4", "libxcb-icccm4"),
    Part.library("libxcb-image.so.0", "libxcb-image0"),
    Part.library("libxcb-keysyms.so.1", "libxcb-keysyms1"),
    Part.library("libxcb-randr.so.0", "libxcb-randr0"),
    Part.library("libxcb-render.so.0", "libxcb-render0"),
    Part.library("libxcb-render-util.so.0", "libxcb-render-util0"),
    Part.library("libxcb-shape.so.0", "libxcb-shape0"),
    Part.library("libxcb-shm.so.0", "libxcb-shm0"),
    Part.library("libxcb-sync.so.1", "libxcb-sync1"),
    Part.library("libxcb-util.so.1", "libxcb-util1"),
    Part.library("libxcb-xfixes.so.0", "libxcb-xfixes0"),
    Part.library("libxcb-xkb.so.1", "libxcb-xkb1"),
    Part.library("libxkbcommon-x11.so.0", "libxkbcommon-x11-0"),
)
"""Besides QT, on an X display."""

WAYLAND = (
    Part.library("libwayland-client.so.0", "libwayland-client0"),
    Part.library("libwayland-cursor.so.0", "libwayland-cursor0"),
    Part.library("libwayland-egl.so.1", "libwayland-egl1"),
)
"""Besides QT, on a Wayland display."""

TEST_PROGRAMS = (
    Part.program("pdftoppm", "poppler-utils"),
    Part.program("qpdf", "qpdf"),
    Part.program("Xvfb", "xvfb"),
)
"""The tests read the papers with these and show the window on a display of their own."""


def missing(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts that are not there, in the order given."""
    return tuple(part for part in parts if not part.is_there(part.name))


def package_names(parts: Iterable[Part], policy: str) -> tuple[str, ...]:
    """The packages to install, each once, under the name that this system knows.

    `policy` is what `apt-cache policy` answers. Debian 13 and Ubuntu 24.04 renamed packages
    (libglib2.0-0 is libglib2.0-0t64 there); a name the answer does not offer is kept as it is.
    """
    known = installable(policy)
    names = (part.package for part in parts)
    return tuple(dict.fromkeys(f"{name}t64" if f"{name}t64" in known else name for name in names))


def installable(policy: str) -> frozenset[str]:
    """The packages with a version to install in an answer of `apt-cache policy`."""
    found = re.findall(r"^(\S+):\n(?:[ ]+.*\n)*?[ ]+Candidate: (?!\(none\))\S", policy, re.MULTILINE)
    return frozenset(found)


def ensure(parts: Iterable[Part]) -> str:
    """Installs what is missing where that is allowed; a sentence with the one command to run, or "".

    Installs without asking only as root or where sudo asks for no password, and only with apt.
    """
    absent = missing(parts) if sys.platform == "linux" else ()
    if not absent:
        return ""
    if not (has_program("apt-get") and has_program("apt-cache")):
        names_wanted = ", ".join(part.name for part in absent)
        return f"Install these with your system's package manager, then start again: {names_wanted}"
    prefix = _as_root()
    if prefix is not None:
        _apt(prefix, "update", "--quiet=2")
        names = package_names(absent, _ask_policy(absent))
        print("Installing from the system's packages:", *names, flush=True)
        _apt(prefix, "install", "--yes", "--quiet=2", "--no-install-recommends", *names)
        absent = missing(absent)
    if not absent:
        return ""
    sudo = "" if prefix == () else "sudo "
    names = package_names(absent, _ask_policy(absent))
    return f"Run this once, then start again: {sudo}apt-get update && {sudo}apt-get install {' '.join(names)}"


def _as_root() -> tuple[str, ...] | None:
    """What to put before a command so that root runs it; None when that would need a password."""
    if os.geteuid() == 0:
        return ()
    if has_program("sudo"):
        asked = subprocess.run(
            ["sudo", "-n", "true"], stdin=subprocess.DEVNULL, capture_output=True, check=False
        )
        if asked.returncode == 0:
            return ("sudo", "-n")
    return None


def _apt(prefix: tuple[str, ...], *arguments: str) -> None:
    # Its success is not read: what counts is whether the parts are there afterwards.
    command = [*prefix, "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", *arguments]
    subprocess.run(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=False)


def _ask_policy(parts: Iterable[Part]) -> str:
    names = [name for part in parts for name in (part.package, f"{part.package}t64")]
    # In English, whatever the user's language: the answer is read by this program.
    environment = os.environ | {"LC_ALL": "C"}
    command = ["apt-cache", "policy", *names]
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False).stdout
