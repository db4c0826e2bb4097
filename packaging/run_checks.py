"""What `check.py` does: set up with the test tools, then every check, pytest last."""

import argparse
import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

import set_up
import system_parts


class Check(NamedTuple):
    """One check: its heading, and the command after the environment's interpreter."""

    title: str
    arguments: tuple[str, ...]


# lint-imports has no module to run with -m.
LINT_IMPORTS = (
    "import sys; from importlinter.cli import lint_imports_command; sys.exit(lint_imports_command())"
)
BEFORE_TESTS = (
    Check("Formatting: ruff format --check .", ("-m", "ruff", "format", "--check", ".")),
    Check("Lint: ruff check .", ("-m", "ruff", "check", ".")),
    Check("Types: mypy", ("-m", "mypy")),
    Check("Import contracts: lint-imports", ("-c", LINT_IMPORTS)),
    Check("Install: pip install .", ("packaging/installed.py",)),
)
# With -P a script does not find those beside it.
_RUN_BUNDLE = (
    "import runpy, sys; sys.path.append('packaging'); "
    "runpy.run_path('packaging/bundle.py', run_name='__main__')"
)
BUNDLE = Check("Bundle: packaging/bundle.py", ("-c", _RUN_BUNDLE))
"""Some minutes and a gigabyte in the temporary folder: where CI is true and before a release."""
TESTS = Check("Tests: pytest", ("-m", "pytest"))


def main(arguments: list[str]) -> int:
    """Exit status of the checks: pytest's own when it failed, 1 when an earlier check did, else 0."""
    parser = argparse.ArgumentParser(
        prog="check.py",
        description="Sets the project up with its test tools, then runs formatting, lint, types, "
        "import contracts, installing and tests. Other arguments go to pytest.",
    )
    parser.add_argument(
        "--bundle",
        action=argparse.BooleanOptionalAction,
        default=os.environ.get("CI") == "true",
        help="build and try this system's bundle as well; where CI is true, unless told not to",
    )
    wanted, for_pytest = parser.parse_known_args(arguments)
    try:
        return _check(for_pytest, bundle=wanted.bundle)
    except set_up.SetUpFailed as failure:
        print(failure, file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        print("\nStopped.", file=sys.stderr)
        return 130


def run_all(run: Callable[[Check], int], for_pytest: list[str], *, bundle: bool = False) -> int:
    """Runs every check through `run`, which gives an exit status, whatever the ones before gave.

    What failed is told before pytest starts, so that pytest's closing line stays the last one.
    """
    before = (*BEFORE_TESTS, *((BUNDLE,) if bundle else ()))
    failed = [check.title for check in before if run(check)]
    if failed:
        print("\nFailed before the tests: " + "; ".join(failed), flush=True)
    tests = run(TESTS._replace(arguments=(*TESTS.arguments, *for_pytest)))
    return tests or int(bool(failed))


def tool_environment(environment: Mapping[str, str]) -> dict[str, str]:
    """The environment that the tools run in: plain text where CI is true."""
    if environment.get("CI") != "true":
        return dict(environment)
    colour = {"FORCE_COLOR", "CLICOLOR_FORCE", "PY_COLORS", "MYPY_FORCE_COLOR"}
    return {name: value for name, value in environment.items() if name not in colour} | {"NO_COLOR": "1"}


def _check(for_pytest: list[str], *, bundle: bool) -> int:
    python = set_up.ensure(set_up.Tools.CHECK)
    parts = (*system_parts.QT, *system_parts.X11, *system_parts.TEST_PROGRAMS)
    if to_do := system_parts.ensure(parts):
        print(f"Tests will fail, because this system lacks what they need. {to_do}", flush=True)
    environment = tool_environment(os.environ)
    return run_all(lambda check: _run(python, check, environment), for_pytest, bundle=bundle)


def _run(python: Path, check: Check, environment: dict[str, str]) -> int:
    print(f"\n== {check.title}", flush=True)
    # -P: the project's folder `packaging` must not come before the library of that name.
    command = [str(python), "-P", *check.arguments]
    return subprocess.run(
        command, cwd=set_up.PROJECT, env=environment, stdin=subprocess.DEVNULL, check=False
    ).returncode
