"""What is installed must do what the source does; `packaging/installed.py` installs it for real."""

import sys
from collections.abc import Mapping
from pathlib import Path

import installed
import pytest


class Planners:
    """Stands for both programs: `source` tells the two apart, a paper and a plan come out."""

    def __init__(self, *, paper: str = "paper", plan: str = "{}", name: str = "quote.pdf") -> None:
        self.paper, self.plan, self.name = paper, plan, name

    def __call__(self, command: tuple[str, ...], folder: Path, more: Mapping[str, str] | None = None) -> str:
        is_source = command[0] == sys.executable
        if "export" in command:
            to = Path(command[-1])
            to.mkdir()
            (to / ("quote.pdf" if is_source else self.name)).write_text("paper" if is_source else self.paper)
        return "{}" if is_source else self.plan


def tried(planners: Planners, folder: Path, monkeypatch: pytest.MonkeyPatch) -> int:
    monkeypatch.setattr(installed, "said", planners)
    return installed.tried(folder / "bin" / "python", folder)


def test_the_same_papers_are_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert tried(Planners(), tmp_path, monkeypatch) == 1


@pytest.mark.parametrize(
    ("planners", "said"),
    [
        (Planners(paper="Paper"), "quote.pdf"),
        (Planners(name="quote (1).pdf"), "papers differ"),
        (Planners(plan='{"total": 1}'), "plan differs"),
    ],
)
def test_any_difference_is_told(
    planners: Planners, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(installed.NotAsSource, match=said):
        tried(planners, tmp_path, monkeypatch)


def test_a_command_that_fails_is_told_with_what_it_said(tmp_path: Path) -> None:
    failing = (sys.executable, "-c", "raise SystemExit('no such paper')")
    with pytest.raises(installed.NotAsSource, match="no such paper"):
        installed.said(failing, tmp_path)
