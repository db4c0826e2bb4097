"""What is missing on a system and which packages bring it. apt is never started here."""

import re
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest
import system_parts
from system_parts import QT, TEST_PROGRAMS, WAYLAND, X11, Part, installable, missing, package_names

OLDER_DEBIAN = """\
libglib2.0-0:
  Installed: (none)
  Candidate: 2.74.6-2
  Version table:
     2.74.6-2 500
        500 a mirror
libegl1:
  Installed: 1.6.0-1
  Candidate: 1.6.0-1
  Version table:
 *** 1.6.0-1 100
"""
NEWER_DEBIAN = """\
libglib2.0-0:
  Installed: (none)
  Candidate: (none)
  Version table:
libglib2.0-0t64:
  Installed: (none)
  Candidate: 2.84.4-3
  Version table:
     2.84.4-3 500
        500 a mirror
libegl1:
  Installed: (none)
  Candidate: 1.7.0-1
  Version table:
     1.7.0-1 500
"""
GLIB = Part.library("libglib-2.0.so.0", "libglib2.0-0")
GTHREAD = Part.library("libgthread-2.0.so.0", "libglib2.0-0")
EGL = Part.library("libEGL.so.1", "libegl1")


def test_a_package_without_a_version_to_install_does_not_count() -> None:
    assert installable(OLDER_DEBIAN) == {"libglib2.0-0", "libegl1"}
    assert installable(NEWER_DEBIAN) == {"libglib2.0-0t64", "libegl1"}
    assert installable("") == frozenset()


def test_the_name_that_this_system_knows_is_taken_and_each_package_once() -> None:
    assert package_names((GLIB, EGL, GTHREAD), OLDER_DEBIAN) == ("libglib2.0-0", "libegl1")
    assert package_names((GLIB, EGL, GTHREAD), NEWER_DEBIAN) == ("libglib2.0-0t64", "libegl1")


def test_a_package_that_apt_does_not_know_yet_keeps_its_plain_name() -> None:
    assert package_names((GLIB,), "") == ("libglib2.0-0",)


def test_a_library_that_no_system_has_is_found_missing_and_one_that_is_there_is_not() -> None:
    nowhere = Part.library("libplanner-nowhere.so.9", "nowhere")
    own = Part.library(sys.modules["_ctypes"].__file__ or "", "python3")
    assert missing((own, nowhere)) == (nowhere,)


def test_programs_and_modules_are_looked_for_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "planner-tool"
    tool, module = Part.program("planner-tool", "tools"), Part.module("planner_nowhere", "modules")
    monkeypatch.setenv("PATH", str(tmp_path))
    assert missing((tool, module, Part.module("json", "python3"))) == (tool, module)
    program.write_text("#!/bin/sh\n")
    program.chmod(0o755)
    assert missing((tool,)) == ()


class Apt:
    """A Debian system whose apt may or may not be used; installing makes the parts appear."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.present: set[str] = set()
        self.brings: dict[str, str] = {}
        self.started: list[tuple[str, ...]] = []
        self.root: tuple[str, ...] | None = ()
        self.programs = {"apt-get", "apt-cache"}
        monkeypatch.setattr(sys, "platform", "linux")
        monkeypatch.setattr(system_parts, "_apt", self.apt)
        monkeypatch.setattr(system_parts, "_as_root", lambda: self.root)
        monkeypatch.setattr(system_parts, "_ask_policy", lambda parts: NEWER_DEBIAN)
        monkeypatch.setattr(system_parts, "has_program", lambda name: name in self.programs)

    def apt(self, prefix: tuple[str, ...], *arguments: str) -> None:
        self.started.append((*prefix, *arguments))
        self.present |= {part for package, part in self.brings.items() if package in arguments}

    def part(self, name: str, package: str) -> Part:
        return Part(name, package, lambda asked: asked in self.present)


@pytest.fixture
def apt(monkeypatch: pytest.MonkeyPatch) -> Apt:
    return Apt(monkeypatch)


def test_nothing_is_started_when_nothing_is_missing(apt: Apt) -> None:
    apt.present = {"libglib-2.0.so.0"}
    assert system_parts.ensure((apt.part("libglib-2.0.so.0", "libglib2.0-0"),)) == ""
    assert apt.started == []


def test_root_gets_only_what_is_missing_installed_after_the_lists_are_read(apt: Apt) -> None:
    apt.present = {"libEGL.so.1"}
    apt.brings = {"libglib2.0-0t64": "libglib-2.0.so.0"}
    parts = (apt.part("libEGL.so.1", "libegl1"), apt.part("libglib-2.0.so.0", "libglib2.0-0"))
    assert system_parts.ensure(parts) == ""
    update, install = apt.started
    assert update[0] == "update"
    assert install[0] == "install"
    assert "libglib2.0-0t64" in install
    assert "libegl1" not in install
    assert {"--yes", "--no-install-recommends"} <= set(install)


def test_sudo_without_a_password_is_used(apt: Apt) -> None:
    apt.root = ("sudo", "-n")
    apt.brings = {"libegl1": "libEGL.so.1"}
    assert system_parts.ensure((apt.part("libEGL.so.1", "libegl1"),)) == ""
    assert all(command[:2] == ("sudo", "-n") for command in apt.started)


def test_a_user_who_may_not_install_is_told_one_command_and_nothing_is_started(apt: Apt) -> None:
    apt.root = None
    told = system_parts.ensure(
        (apt.part("libglib-2.0.so.0", "libglib2.0-0"), apt.part("libEGL.so.1", "libegl1"))
    )
    assert told.endswith("sudo apt-get update && sudo apt-get install libglib2.0-0t64 libegl1")
    assert apt.started == []


def test_what_apt_could_not_install_is_told_with_the_command(apt: Apt) -> None:
    told = system_parts.ensure((apt.part("libEGL.so.1", "libegl1"),))
    assert told.endswith(": apt-get update && apt-get install libegl1")


def test_on_a_system_without_apt_the_libraries_are_named(apt: Apt) -> None:
    apt.programs = set()
    told = system_parts.ensure((apt.part("libEGL.so.1", "libegl1"),))
    assert "libEGL.so.1" in told
    assert "apt" not in told


def test_other_systems_bring_all_of_it_with_qt(apt: Apt, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "darwin")
    assert system_parts.ensure((apt.part("libEGL.so.1", "libegl1"),)) == ""


@pytest.mark.skipif(sys.platform != "linux", reason="the lists are those of Qt for Linux")
@pytest.mark.parametrize(
    ("parts", "binaries"),
    [
        (QT, ("lib/libQt6Core.so.6", "lib/libQt6Gui.so.6", "lib/libQt6Widgets.so.6", "lib/libQt6DBus.so.6")),
        (QT, ("plugins/platforms/libqoffscreen.so",)),
        (QT + X11, ("lib/libQt6XcbQpa.so.6", "plugins/platforms/libqxcb.so")),
        (QT + WAYLAND, ("lib/libQt6WaylandClient.so.6", "plugins/platforms/libqwayland.so")),
    ],
)
def test_the_lists_hold_every_library_that_qt_itself_names(
    parts: tuple[Part, ...], binaries: tuple[str, ...]
) -> None:
    # Checked against the installed Qt: each name ending in .so.N among the strings of the ELF file
    # that neither Qt nor the C and C++ runtime brings is one that the system must have.
    qt = Path(find_spec("PySide6").submodule_search_locations[0]) / "Qt"
    runtime = {"libstdc++.so.6", "libm.so.6", "libgcc_s.so.1", "libc.so.6", "libpthread.so.0", "libdl.so.2"}
    named: set[str] = set()
    for binary in binaries:
        strings = re.findall(rb"\x00(lib[\w+.-]+\.so\.\d+)(?=\x00)", (qt / binary).read_bytes())
        named |= {string.decode() for string in strings}
    bundled = {path.name for path in (qt / "lib").iterdir()}
    needed = named - bundled - runtime
    assert needed
    assert needed - {part.name for part in parts} == set()


def test_no_part_is_listed_twice() -> None:
    names = [part.name for part in QT + X11 + WAYLAND + TEST_PROGRAMS]
    assert len(names) == len(set(names))


def test_apt_asks_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[list[str], dict[str, object]]] = []
    monkeypatch.setattr(subprocess, "run", lambda command, **options: seen.append((command, options)))
    system_parts._apt(("sudo", "-n"), "install", "qpdf")
    command, options = seen[0]
    assert command == ["sudo", "-n", "env", "DEBIAN_FRONTEND=noninteractive", "apt-get", "install", "qpdf"]
    assert options["stdin"] is subprocess.DEVNULL
