"""Makes the two lock files anew from pyproject.toml: `python3 packaging/lock.py [--upgrade]`.

One set of versions for every system and every Python from 3.11 on, each with the hashes of all its
files, so that what is installed is what was tested. Without --upgrade the versions locked now stay
where pyproject.toml still allows them. The resolver (uv) is put in a temporary environment.
"""

import argparse
import subprocess
import sys
import tempfile
import venv
from pathlib import Path

import set_up

OLDEST_PYTHON = "3.11"


def main(arguments: list[str]) -> int:
    """Exit status: 0 when both locks are written, the resolver's own when it found no solution."""
    parser = argparse.ArgumentParser(prog="lock.py", description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--upgrade", action="store_true", help="take the newest versions allowed")
    upgrade = parser.parse_args(arguments).upgrade
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=True)
        python = str(set_up.venv_python(Path(folder)))
        subprocess.run([python, "-m", "pip", "install", "--quiet", "uv"], check=True)
        for command in (check_command(upgrade=upgrade), run_command()):
            done = subprocess.run([python, "-m", "uv", *command], cwd=set_up.PROJECT, check=False)
            if done.returncode:
                return done.returncode
    return 0


def check_command(*, upgrade: bool) -> list[str]:
    """The resolver's arguments for the larger lock, which decides the versions."""
    more = ["--group", "check", *(["--upgrade"] if upgrade else [])]
    return _compile(set_up.Tools.CHECK, more)


def run_command() -> list[str]:
    """The resolver's arguments for the lock to run with: the same versions, by constraint."""
    # --upgrade: versions come from the constraint alone, not from the file that is written over.
    constraint = set_up.lock_path(set_up.Tools.CHECK).relative_to(set_up.PROJECT).as_posix()
    return _compile(set_up.Tools.RUN, ["--constraint", constraint, "--upgrade"])


def _compile(tools: set_up.Tools, more: list[str]) -> list[str]:
    output = set_up.lock_path(tools).relative_to(set_up.PROJECT).as_posix()
    command = ["pip", "compile", "pyproject.toml", "--output-file", output, "--quiet"]
    # fewest: one version of a package for all Pythons, where one exists.
    command += ["--universal", "--python-version", OLDEST_PYTHON, "--fork-strategy", "fewest"]
    command += ["--generate-hashes", "--only-binary", ":all:", "--no-binary", set_up.BUILT_HERE]
    # Nothing of the machine that made the lock: no command line, no registry, no folder of wheels.
    command += ["--no-header", "--no-emit-index-url", "--no-emit-find-links"]
    return [*command, *more]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
