"""The project's virtual environment: made once from the lock, found ready at every later start.

Standard library only, since it runs before anything is installed.
"""

import enum
import hashlib
import importlib.util
import json
import os
import re
import shlex
import subprocess
import sys
import sysconfig
from pathlib import Path

import system_parts

PROJECT = Path(__file__).resolve().parent.parent
STAMP_NAME = "planner-set-up.json"

BUILT_HERE = "rectpack"
"""The one package of the lock that has no wheel, so that setuptools must build it."""


class Tools(enum.Enum):
    """What the environment is to hold; the value is the lock file's name in `packaging/`."""

    RUN = "lock.txt"
    CHECK = "lock-check.txt"
    """All of RUN, at the same versions, and the test tools."""


class SetUpFailed(Exception):
    """The environment cannot be made; the text is a sentence for the user."""


def lock_path(tools: Tools, project: Path = PROJECT) -> Path:
    """The lock file that holds these tools."""
    return project / "packaging" / tools.value


def venv_python(venv: Path) -> Path:
    """The environment's interpreter, whether it exists or not."""
    return venv / "Scripts" / "python.exe" if os.name == "nt" else venv / "bin" / "python"


def expected_stamp(tools: Tools, project: Path = PROJECT) -> dict[str, str]:
    """What the stamp must say for the environment to be used as it is.

    The base Python and the project's folder are part of it: scripts in the environment hold both
    as absolute paths, so it has to be made anew when either has moved.
    """
    stamp = {
        "python": f"{sys.implementation.cache_tag} {sys.base_prefix}",
        "project": str(project),
        Tools.RUN.name: _hash(lock_path(Tools.RUN, project)),
    }
    if tools is Tools.CHECK:
        stamp[Tools.CHECK.name] = _hash(lock_path(Tools.CHECK, project))
    return stamp


def is_ready(venv: Path, expected: dict[str, str]) -> bool:
    """Whether the environment was finished with all that is expected and its Python is still there."""
    try:
        stamp = json.loads((venv / STAMP_NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    return isinstance(stamp, dict) and expected.items() <= stamp.items() and venv_python(venv).exists()


def write_stamp(venv: Path, stamp: dict[str, str]) -> None:
    """Says that the environment is finished; in one step, so that half a stamp never lies there."""
    half = venv / (STAMP_NAME + ".half")
    half.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    half.replace(venv / STAMP_NAME)


def ensure(tools: Tools, project: Path = PROJECT) -> Path:
    """The environment's interpreter, with these tools installed; no work when they are there already.

    Raises SetUpFailed with a sentence for the user. What was interrupted is made anew next time,
    because the stamp is taken away first and written last.
    """
    venv = project / ".venv"
    try:
        expected = expected_stamp(tools, project)
    except OSError as error:
        raise SetUpFailed(
            f"The list of parts {error.filename} cannot be read: fetch the project again."
        ) from error
    if is_ready(venv, expected):
        return venv_python(venv)
    try:
        if not is_ready(venv, expected_stamp(Tools.RUN, project)):
            print(f"Setting up the planner in {venv} (the first time only, a few minutes) ...", flush=True)
            _make_empty(venv)
        else:
            print("Adding the test tools ...", flush=True)
        (venv / STAMP_NAME).unlink(missing_ok=True)
        _install_locked(venv, tools, project)
        _link_project(venv, project)
        write_stamp(venv, expected)
    except OSError as error:
        raise SetUpFailed(
            f"The planner cannot be set up in {venv}: {error.strerror or error}. "
            "It needs a folder that you may write to, with about 1 GB free."
        ) from error
    return venv_python(venv)


def locked_entry(lock: str, package: str) -> str:
    """One package's lines of a lock file, hashes included. Raises KeyError when it is not locked."""
    found = re.search(rf"^{re.escape(package)}==.*(?:\n[ ]+--hash=.*)*", lock, re.MULTILINE)
    if found is None:
        raise KeyError(package)
    return found.group().rstrip(" \\") + "\n"


def _hash(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _make_empty(venv: Path) -> None:
    if importlib.util.find_spec("ensurepip") is None:
        # Debian and Ubuntu keep it in a package of its own.
        version = f"{sys.version_info.major}.{sys.version_info.minor}"
        ensurepip = system_parts.Part.module("ensurepip", f"python{version}-venv")
        if to_do := system_parts.ensure((ensurepip,)):
            raise SetUpFailed(f"This Python cannot make virtual environments yet. {to_do}")
    import venv as venv_module  # late: a second start never needs it

    builder = venv_module.EnvBuilder(clear=True, with_pip=True, symlinks=os.name != "nt")
    try:
        builder.create(venv)
    except subprocess.CalledProcessError as error:
        raise SetUpFailed(f"Python could not make the virtual environment {venv}: {error}.") from error


def _install_locked(venv: Path, tools: Tools, project: Path) -> None:
    lock = lock_path(tools, project)
    if tools is Tools.CHECK:
        # The build is not isolated: pip would fetch the build tool by name alone, past the hashes.
        first = venv / "build-tools.txt"
        first.write_text(locked_entry(lock.read_text(encoding="utf-8"), "setuptools"), encoding="utf-8")
        _pip_install(venv, first)
    _pip_install(venv, lock)


def _pip_install(venv: Path, lock: Path) -> None:
    command = [str(venv_python(venv)), "-m", "pip", "install", "--require-hashes", "--no-deps"]
    command += ["--only-binary=:all:", f"--no-binary={BUILT_HERE}", "--no-build-isolation"]
    command += ["--no-input", "--disable-pip-version-check", "--requirement", str(lock)]
    if not sys.stdout.isatty():
        command.append("--quiet")
    if subprocess.run(command, env=_pip_environment(), stdin=subprocess.DEVNULL, check=False).returncode:
        raise SetUpFailed(
            "The planner's parts could not be installed: pip says why above. "
            "Check the connection and the free disk space, then start again."
        )


def _pip_environment() -> dict[str, str]:
    """The user's own, so that a chosen mirror or proxy counts, less what would install elsewhere."""
    elsewhere = {"PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PYTHONPATH", "PYTHONHOME", "PIP_REQUIREMENT"}
    kept = {name: value for name, value in os.environ.items() if name not in elsewhere}
    # PIP_USE_PEP517: the pip that comes with 3.11 builds without a wheel package only then.
    return kept | {"PIP_USER": "0", "PIP_ROOT_USER_ACTION": "ignore", "PIP_USE_PEP517": "1"}


def _link_project(venv: Path, project: Path) -> None:
    """Makes `import planner` and the `planner` command work in the environment.

    A path file and a two-line script rather than pip's editable install: the same effect with no
    build tool in the run lock, and an editable install would copy `resources/`, which then grows
    stale. It puts the project's root on the path, as an editable install does; the folder
    `packaging/` there does not hide the library of that name while it has no `__init__.py`.
    """
    base = {"base": str(venv), "platbase": str(venv)}
    library = Path(sysconfig.get_path("purelib", scheme="venv", vars=base))
    # Before 3.13 Python reads path files in the encoding of the locale.
    encoding = "utf-8" if sys.version_info >= (3, 13) else "locale"
    (library / "transfer_job_planner.pth").write_text(f"{project}\n", encoding=encoding)
    script = venv_python(venv).with_name("planner.cmd" if os.name == "nt" else "planner")
    script.write_text(_console_script(venv_python(venv)), encoding="utf-8")
    script.chmod(0o755)


def _console_script(python: Path) -> str:
    if os.name == "nt":
        return f'@"{python}" -P -m planner %*\n'
    # Through sh: a "#!" line of its own may hold no spaces and few characters.
    return f'#!/bin/sh\nexec {shlex.quote(str(python))} -P -m planner "$@"\n'
