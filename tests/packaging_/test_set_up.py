"""When the environment is found ready and when it is made anew. Nothing is installed here."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
import set_up
from set_up import STAMP_NAME, SetUpFailed, Tools, expected_stamp, is_ready, venv_python, write_stamp


class Installs:
    """Stands in for what makes the environment and installs: keeps what was asked, may be cut off."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.asked: list[str] = []
        self.cut_off = False
        monkeypatch.setattr(set_up, "_make_empty", self.make_empty)
        monkeypatch.setattr(set_up, "_pip_install", self.pip_install)

    def make_empty(self, venv: Path) -> None:
        self.asked.append("empty")
        python = venv_python(venv)
        python.parent.mkdir(parents=True, exist_ok=True)
        python.touch()
        library = venv / "lib" / f"python{sys.version_info.major}.{sys.version_info.minor}" / "site-packages"
        library.mkdir(parents=True, exist_ok=True)

    def pip_install(self, venv: Path, lock: Path) -> None:
        if self.cut_off:
            raise KeyboardInterrupt
        self.asked.append(lock.name)


@pytest.fixture
def installs(monkeypatch: pytest.MonkeyPatch) -> Installs:
    return Installs(monkeypatch)


@pytest.fixture
def project(project: Path) -> Path:
    with (project / "packaging" / "lock-check.txt").open("a") as lock:
        lock.write("setuptools==84.0 --hash=sha256:cc\n")
    return project


def test_the_first_start_installs_the_lock_and_the_second_does_nothing(
    project: Path, installs: Installs
) -> None:
    assert set_up.ensure(Tools.RUN, project) == venv_python(project / ".venv")
    assert installs.asked == ["empty", "lock.txt"]
    installs.asked.clear()
    set_up.ensure(Tools.RUN, project)
    assert installs.asked == []


def test_the_test_tools_are_added_to_a_finished_environment_and_serve_a_start_too(
    project: Path, installs: Installs
) -> None:
    set_up.ensure(Tools.RUN, project)
    installs.asked.clear()
    set_up.ensure(Tools.CHECK, project)
    assert installs.asked == ["build-tools.txt", "lock-check.txt"]
    installs.asked.clear()
    set_up.ensure(Tools.RUN, project)
    set_up.ensure(Tools.CHECK, project)
    assert installs.asked == []


def test_a_set_up_that_was_cut_off_is_made_anew(project: Path, installs: Installs) -> None:
    installs.cut_off = True
    with pytest.raises(KeyboardInterrupt):
        set_up.ensure(Tools.RUN, project)
    installs.cut_off = False
    installs.asked.clear()
    set_up.ensure(Tools.RUN, project)
    assert installs.asked == ["empty", "lock.txt"]


def test_test_tools_cut_off_half_way_leave_no_environment_that_counts_as_finished(
    project: Path, installs: Installs
) -> None:
    set_up.ensure(Tools.RUN, project)
    installs.cut_off = True
    with pytest.raises(KeyboardInterrupt):
        set_up.ensure(Tools.CHECK, project)
    assert not is_ready(project / ".venv", expected_stamp(Tools.RUN, project))


def test_a_changed_lock_makes_the_environment_anew(project: Path, installs: Installs) -> None:
    set_up.ensure(Tools.RUN, project)
    installs.asked.clear()
    (project / "packaging" / "lock.txt").write_text("small==1.1 --hash=sha256:dd\n")
    set_up.ensure(Tools.RUN, project)
    assert installs.asked == ["empty", "lock.txt"]


def test_a_moved_project_makes_the_environment_anew(project: Path, installs: Installs) -> None:
    set_up.ensure(Tools.RUN, project)
    installs.asked.clear()
    moved = project.rename(project.with_name("moved"))
    set_up.ensure(Tools.RUN, moved)
    assert installs.asked == ["empty", "lock.txt"]


def test_another_python_makes_the_environment_anew(
    project: Path, installs: Installs, monkeypatch: pytest.MonkeyPatch
) -> None:
    set_up.ensure(Tools.RUN, project)
    installs.asked.clear()
    monkeypatch.setattr(sys, "base_prefix", "/somewhere/else")
    set_up.ensure(Tools.RUN, project)
    assert installs.asked == ["empty", "lock.txt"]


@pytest.mark.skipif(
    os.name == "nt", reason="environments there copy the interpreter, so it cannot vanish alone"
)
def test_a_vanished_python_makes_the_environment_anew(project: Path, installs: Installs) -> None:
    set_up.ensure(Tools.RUN, project)
    python = venv_python(project / ".venv")
    python.unlink()
    python.symlink_to(project / "no-such-python")
    assert not is_ready(project / ".venv", expected_stamp(Tools.RUN, project))


@pytest.mark.parametrize("text", ["", "{", "[]", "null", '"RUN"', "{}"])
def test_a_damaged_stamp_counts_as_none(project: Path, installs: Installs, text: str) -> None:
    set_up.ensure(Tools.RUN, project)
    (project / ".venv" / STAMP_NAME).write_text(text)
    assert not is_ready(project / ".venv", expected_stamp(Tools.RUN, project))


def test_a_stamp_is_written_whole(tmp_path: Path) -> None:
    write_stamp(tmp_path, {"RUN": "1"})
    assert [path.name for path in tmp_path.iterdir()] == [STAMP_NAME]
    assert json.loads((tmp_path / STAMP_NAME).read_text()) == {"RUN": "1"}


def test_a_missing_lock_is_told_in_a_sentence(project: Path, installs: Installs) -> None:
    (project / "packaging" / "lock.txt").unlink()
    with pytest.raises(SetUpFailed, match=r"lock\.txt cannot be read"):
        set_up.ensure(Tools.RUN, project)


def test_a_project_folder_that_cannot_be_written_is_told_in_a_sentence(
    project: Path, installs: Installs, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(venv: Path) -> None:
        raise PermissionError(13, "Permission denied", str(venv))

    monkeypatch.setattr(set_up, "_make_empty", refuse)
    with pytest.raises(SetUpFailed, match=r"Permission denied.*a folder that you may write to"):
        set_up.ensure(Tools.RUN, project)


@pytest.mark.skipif(os.name == "nt", reason="runs the shell script that other systems get")
def test_the_planner_command_and_the_import_work_from_anywhere(
    project: Path, installs: Installs, tmp_path: Path
) -> None:
    set_up.ensure(Tools.RUN, project)
    (project / "planner").mkdir()
    (project / "planner" / "__init__.py").touch()
    (project / "planner" / "__main__.py").write_text("import sys\nprint('given', sys.argv[1:])\n")
    python = venv_python(project / ".venv")
    python.unlink()
    python.symlink_to(sys.executable)
    (project / ".venv" / "pyvenv.cfg").write_text(f"home = {Path(sys.executable).parent}\n")
    told = subprocess.run(
        [python.with_name("planner"), "a file", "b"], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert told.stdout == "given ['a file', 'b']\n"


def test_pip_keeps_the_users_mirror_but_installs_nowhere_else(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PIP_INDEX_URL", "kept")
    monkeypatch.setenv("PIP_TARGET", "elsewhere")
    monkeypatch.setenv("PYTHONPATH", "elsewhere")
    environment = set_up._pip_environment()
    assert environment["PIP_INDEX_URL"] == "kept"
    assert environment["PIP_USER"] == "0"
    assert not {"PIP_TARGET", "PYTHONPATH"} & environment.keys()


def test_pip_is_told_to_check_hashes_and_to_build_only_what_has_no_wheel(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[list[str]] = []

    def fail(command: list[str], **options: object) -> subprocess.CompletedProcess[str]:
        seen.append(command)
        return subprocess.CompletedProcess(command, 1)

    monkeypatch.setattr(subprocess, "run", fail)
    with pytest.raises(SetUpFailed, match="pip says why above"):
        set_up._pip_install(tmp_path, tmp_path / "lock.txt")
    assert {"--require-hashes", "--no-deps", "--only-binary=:all:", "--no-binary=rectpack"} <= set(seen[0])


def test_without_ensurepip_the_one_command_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    asked: list[str] = []

    def cannot(parts: tuple[set_up.system_parts.Part, ...]) -> str:
        asked.extend(part.package for part in parts)
        return "Run this once."

    monkeypatch.setattr(set_up.system_parts, "ensure", cannot)
    with pytest.raises(SetUpFailed, match=r"virtual environments yet\. Run this once\."):
        set_up._make_empty(tmp_path / ".venv")
    assert asked == [f"python{sys.version_info.major}.{sys.version_info.minor}-venv"]
    assert not (tmp_path / ".venv").exists()
