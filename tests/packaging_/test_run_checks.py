"""The order of the checks, what is said last, and with which status they end."""

import subprocess
import sys
from pathlib import Path

import pytest
import run_checks
import set_up
import system_parts
from run_checks import BEFORE_TESTS, BUNDLE, TESTS, Check, run_all, tool_environment

from tests.packaging_.conftest import PROJECT


class Runs:
    """Runs nothing: gives the statuses it was told, by the first word of the heading, and keeps the order."""

    def __init__(self, **statuses: int) -> None:
        self.statuses = statuses
        self.checks: list[Check] = []

    def __call__(self, check: Check) -> int:
        self.checks.append(check)
        sys.stdout.write(f"ran {check.title}\n")
        return self.statuses.get(check.title.partition(":")[0].split()[0], 0)


def test_all_checks_run_in_order_with_pytest_last() -> None:
    runs = Runs()
    assert run_all(runs, []) == 0
    assert [check.title.split(": ")[1].split()[0] for check in runs.checks] == [
        *("ruff", "ruff", "mypy", "lint-imports", "pip", "pytest")
    ]


@pytest.mark.parametrize(
    ("statuses", "status"),
    [({"Formatting": 1}, 1), ({"Types": 2}, 1), ({"Tests": 5}, 5), ({"Lint": 1, "Tests": 3}, 3)],
)
def test_the_status_is_pytests_own_or_else_1_for_an_earlier_failure(
    statuses: dict[str, int], status: int
) -> None:
    runs = Runs(**statuses)
    assert run_all(runs, []) == status
    assert len(runs.checks) == len(BEFORE_TESTS) + 1


def test_earlier_failures_are_told_before_pytest_has_the_last_word(
    capsys: pytest.CaptureFixture[str],
) -> None:
    run_all(Runs(Formatting=1, Import=1), [])
    *_, told, last = capsys.readouterr().out.splitlines()
    assert told.startswith("Failed before the tests: Formatting: ")
    assert "lint-imports" in told
    assert "mypy" not in told
    assert last == f"ran {TESTS.title}"


def test_other_arguments_go_to_pytest(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[list[str]] = []
    monkeypatch.setattr(run_checks, "_check", lambda for_pytest, bundle: seen.append(for_pytest) or 0)
    assert run_checks.main(["-k", "locks", "tests/packaging_"]) == 0
    assert seen == [["-k", "locks", "tests/packaging_"]]
    runs = Runs()
    run_all(runs, seen[0])
    assert runs.checks[-1].arguments == ("-m", "pytest", "-k", "locks", "tests/packaging_")


def test_the_bundle_is_built_where_ci_is_true_or_when_asked_for_and_before_the_tests(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    runs = Runs(Bundle=1)
    monkeypatch.setattr(set_up, "ensure", lambda tools: Path("python"))
    monkeypatch.setattr(system_parts, "ensure", lambda parts: "")
    monkeypatch.setattr(run_checks, "_run", lambda python, check, environment: runs(check))
    monkeypatch.delenv("CI", raising=False)
    assert run_checks.main([]) == 0
    monkeypatch.setenv("CI", "true")
    assert run_checks.main(["--no-bundle"]) == 0
    assert BUNDLE not in runs.checks
    assert run_checks.main([]) == 1
    monkeypatch.delenv("CI")
    assert run_checks.main(["--bundle", "-q"]) == 1
    assert runs.checks[-2] == BUNDLE
    assert runs.checks[-1].arguments == ("-m", "pytest", "-q")


def test_the_bundle_is_built_without_the_packaging_folder_before_the_librarys() -> None:
    _, code = BUNDLE.arguments
    tried = code.replace("run_name='__main__'", "run_name='tried'") + "; import packaging.version"
    subprocess.run([sys.executable, "-P", "-c", tried], cwd=PROJECT, check=True)


def test_a_failed_set_up_is_a_sentence_and_2(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(tools: set_up.Tools) -> Path:
        raise set_up.SetUpFailed("No room.")

    monkeypatch.setattr(set_up, "ensure", fail)
    assert run_checks.main([]) == 2
    assert capsys.readouterr().err == "No room.\n"


def test_missing_system_parts_are_told_and_the_checks_run_all_the_same(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked: list[str] = []

    def ensure(parts: tuple[system_parts.Part, ...]) -> str:
        asked.extend(part.name for part in parts)
        return "Run this once."

    monkeypatch.setattr(set_up, "ensure", lambda tools: Path("python"))
    monkeypatch.setattr(system_parts, "ensure", ensure)
    monkeypatch.setattr(run_checks, "_run", lambda python, check, environment: 0)
    assert run_checks.main([]) == 0
    assert "Run this once." in capsys.readouterr().out
    assert {"pdftoppm", "qpdf", "Xvfb", "libxcb-cursor.so.0", "libEGL.so.1"} <= set(asked)


def test_a_check_runs_in_the_project_and_not_on_its_packaging_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[tuple[list[str], dict[str, object]]] = []

    def run(command: list[str], **options: object) -> subprocess.CompletedProcess[str]:
        seen.append((command, options))
        return subprocess.CompletedProcess(command, 4)

    monkeypatch.setattr(subprocess, "run", run)
    assert run_checks._run(Path("python"), TESTS, {}) == 4
    command, options = seen[0]
    assert command == ["python", "-P", "-m", "pytest"]
    assert options["cwd"] == PROJECT


def test_where_ci_is_true_the_tools_print_plain_text() -> None:
    given = {"CI": "true", "FORCE_COLOR": "1", "PATH": "kept"}
    assert tool_environment(given) == {"CI": "true", "PATH": "kept", "NO_COLOR": "1"}
    assert tool_environment({"FORCE_COLOR": "1"}) == {"FORCE_COLOR": "1"}


def test_ci_runs_the_command_that_a_person_runs() -> None:
    script = (PROJECT / ".ci" / "run").read_text(encoding="utf-8")
    assert "python3 packaging/check.py" in script
