"""Tries what `pip install .` gives: `python packaging/installed.py`, run by the environment of the checks.

A fresh environment borrows this one's libraries, the planner itself is built and installed there as anyone
would, and plans and exports the demo from a folder of its own. Its papers must be the source's, byte by byte.
"""

import hashlib
import json
import os
import subprocess
import sys
import sysconfig
import tempfile
import time
import venv
from collections.abc import Mapping
from pathlib import Path

PROJECT = Path(__file__).resolve().parent.parent
_OTHER_FOLDERS = ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "APPDATA", "LOCALAPPDATA")
_WHERE = "import planner; print(planner.__file__)"


class NotAsSource(Exception):
    """What is installed does not do what the source does; the message says how."""


def main() -> int:
    """Exit status: 0 where the installed program did the same as the source."""
    started = time.monotonic()
    # Resolved: a linked temporary folder would look like another place than the one Python tells.
    with tempfile.TemporaryDirectory(prefix="planner-installed-") as name:
        folder = Path(name).resolve()
        try:
            python = installed(folder / "environment")
            papers = tried(python, folder)
        except NotAsSource as error:
            print(error, file=sys.stderr)
            return 1
    print(f"{papers} papers, the same bytes as the source's; {time.monotonic() - started:.0f} s")
    return 0


def installed(environment: Path) -> Path:
    """The Python of a fresh environment with the planner installed; the libraries are this one's."""
    venv.create(environment, with_pip=True)
    base = {"base": str(environment), "platbase": str(environment)}
    library = Path(sysconfig.get_path("purelib", scheme="venv", vars=base))
    borrowed = sysconfig.get_path("purelib")
    # Not a path of its own in the environment: path files in the borrowed folder are not followed.
    (library / "borrowed.pth").write_text(f"{borrowed}\n", encoding="utf-8")
    python = environment / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    quiet = ("--quiet", "--disable-pip-version-check", "--no-input")
    said((str(python), "-m", "pip", "install", *quiet, "--no-deps", str(PROJECT)), environment)
    where = said((str(python), "-P", "-c", _WHERE), environment)
    if environment not in Path(where.strip()).parents:
        raise NotAsSource(f"Another planner than the installed one is found: {where}")
    return python


def tried(python: Path, folder: Path) -> int:
    """How many papers the installed program wrote.

    Raises:
        NotAsSource: a command failed, or plan or papers are not the source's.
    """
    program = str(python.with_name("planner.exe" if os.name == "nt" else "planner"))
    job = folder / "demo.transferjob"
    said((program, "demo", "--to", str(job)), folder)
    plans, papers = [], []
    source = (sys.executable, "-P", "-m", "planner")
    for name, command, more in (
        ("installed", (program,), {}),
        ("source", source, {"PYTHONPATH": str(PROJECT)}),
    ):
        plans.append(json.loads(said((*command, "plan", str(job), "--json"), folder, more)))
        said((*command, "export", str(job), "--to", str(folder / name)), folder, more)
        papers.append(digests(folder / name))
    if plans[0] != plans[1]:
        raise NotAsSource("The installed program's plan differs from the source's.")
    if not papers[0] or papers[0] != papers[1]:
        differing = sorted(name for name, _ in papers[0].items() ^ papers[1].items())
        raise NotAsSource(f"The installed program's papers differ from the source's: {differing}")
    return len(papers[0])


def digests(folder: Path) -> dict[str, str]:
    """SHA-256 of every file below a folder, by its name in there."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def said(command: tuple[str, ...], folder: Path, more: Mapping[str, str] | None = None) -> str:
    """What a command prints; it runs in a folder far from the source, with nobody's own data."""
    own = {name: str(folder / "data" / name.lower()) for name in _OTHER_FOLDERS}
    inherited = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    environment = {**inherited, **own, **(more or {})}
    ran = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    if ran.returncode:
        raise NotAsSource(f"This failed: {' '.join(command)}\n{ran.stdout}{ran.stderr}")
    return ran.stdout


if __name__ == "__main__":
    sys.exit(main())
