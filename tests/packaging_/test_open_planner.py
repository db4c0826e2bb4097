"""What a start does with its arguments and its display. Nothing is set up and no window is opened."""

import os
import subprocess
from pathlib import Path

import open_planner
import pytest
import set_up
import system_parts
from open_planner import display_kinds, paper_commands

PYTHON = Path("/somewhere/.venv/bin/python")


class Start:
    """A start with set-up, displays and the planner itself replaced; keeps what was run."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.ran: list[list[str]] = []
        self.status = 0
        self.kinds: tuple[str, ...] = ()
        self.answers: dict[str, bool | None] = {}
        self.to_do = ""
        self.parts_asked: list[str] = []
        monkeypatch.setattr(set_up, "ensure", lambda tools: PYTHON)
        monkeypatch.setattr(open_planner, "display_kinds", lambda environment: self.kinds)
        monkeypatch.setattr(open_planner, "connects", lambda kind: self.answers[kind])
        monkeypatch.setattr(system_parts, "ensure", self.ensure_parts)
        monkeypatch.setattr(open_planner, "_hand_over", self.hand_over)
        monkeypatch.setattr(subprocess, "run", self.run)
        # Set and taken away, so that what the start sets itself is gone after the test too.
        monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
        monkeypatch.delenv("QT_QPA_PLATFORM")

    def ensure_parts(self, parts: tuple[system_parts.Part, ...]) -> str:
        self.parts_asked = [part.name for part in parts]
        return self.to_do

    def hand_over(self, python: Path, arguments: list[str]) -> int:
        self.ran.append(["window", *arguments])
        return 0

    def run(self, command: list[str], **options: object) -> subprocess.CompletedProcess[str]:
        assert command[:4] == [str(PYTHON), "-P", "-m", "planner"]
        self.ran.append(command[4:])
        return subprocess.CompletedProcess(command, self.status)


@pytest.fixture
def start(monkeypatch: pytest.MonkeyPatch) -> Start:
    return Start(monkeypatch)


def test_a_display_opens_the_window_on_the_demo_job(start: Start) -> None:
    start.kinds, start.answers = ("x11",), {"x11": True}
    assert open_planner.main([]) == 0
    assert start.ran == [["window", "demo", "--open"]]
    assert os.environ["QT_QPA_PLATFORM"] == "xcb"
    assert "libxcb-cursor.so.0" in start.parts_asked
    assert "libwayland-client.so.0" not in start.parts_asked


def test_a_file_is_opened_instead_of_the_demo(start: Start, tmp_path: Path) -> None:
    start.kinds, start.answers = ("own",), {"own": True}
    job = tmp_path / "a job.transferjob"
    job.touch()
    assert open_planner.main([str(job)]) == 0
    assert start.ran == [["window", str(job)]]
    assert "QT_QPA_PLATFORM" not in os.environ


def test_a_file_that_is_not_there_is_told_before_anything_is_set_up(
    start: Start, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delattr(set_up, "ensure")
    assert open_planner.main(["nowhere.transferjob"]) == 2
    assert capsys.readouterr().err == "There is no job file nowhere.transferjob.\n"
    assert start.ran == []


def test_without_a_display_one_line_says_so_and_the_demos_papers_are_written(
    start: Start, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "a" / "b"
    assert open_planner.main(["--to", str(folder)]) == 0
    demo = str(folder / "harbour-lights.transferjob")
    assert start.ran == [["demo", "--to", demo], ["export", demo, "--to", str(folder)]]
    told = capsys.readouterr().out
    assert told.startswith("There is no display")
    assert str(folder) in told
    assert told.count("\n") == 1
    assert start.parts_asked == []


def test_the_papers_go_beside_packaging_unless_told_otherwise() -> None:
    assert open_planner._parser().parse_args([]).to == set_up.PROJECT / "planner-out"


def test_without_a_display_a_given_jobs_papers_are_written() -> None:
    assert paper_commands(Path("a.transferjob"), Path("out")) == [["export", "a.transferjob", "--to", "out"]]


def test_a_display_that_does_not_answer_counts_as_none(start: Start, tmp_path: Path) -> None:
    start.kinds, start.answers = ("wayland", "x11"), {"wayland": False, "x11": False}
    assert open_planner.main(["--to", str(tmp_path)]) == 0
    assert [command[0] for command in start.ran] == ["demo", "export"]


def test_the_next_display_is_tried_when_the_first_does_not_answer(start: Start) -> None:
    start.kinds, start.answers = ("wayland", "x11"), {"wayland": False, "x11": True}
    assert open_planner.main([]) == 0
    assert start.ran == [["window", "demo", "--open"]]
    assert os.environ["QT_QPA_PLATFORM"] == "xcb"


@pytest.mark.parametrize("answer", [True, None])
def test_missing_libraries_end_the_start_with_a_sentence_and_2(
    start: Start, answer: bool | None, capsys: pytest.CaptureFixture[str]
) -> None:
    start.kinds, start.answers, start.to_do = ("x11",), {"x11": answer}, "Run this once: apt-get."
    assert open_planner.main([]) == 2
    assert capsys.readouterr().err.endswith("does not have yet. Run this once: apt-get.\n")
    assert start.ran == []


def test_a_failing_command_ends_the_start_with_its_status(start: Start, tmp_path: Path) -> None:
    start.status = 2
    assert open_planner.main(["--to", str(tmp_path)]) == 2
    assert [command[0] for command in start.ran] == ["demo"]


def test_a_folder_that_cannot_be_made_is_told(
    start: Start, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").touch()
    assert open_planner.main(["--to", str(tmp_path / "file" / "out")]) == 2
    assert "cannot be made" in capsys.readouterr().err


@pytest.mark.parametrize("raised", [set_up.SetUpFailed("No room."), KeyboardInterrupt()])
def test_a_set_up_that_fails_or_is_stopped_ends_with_a_sentence(
    start: Start,
    raised: BaseException,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def fail(tools: set_up.Tools) -> Path:
        raise raised

    monkeypatch.setattr(set_up, "ensure", fail)
    assert open_planner.main([]) in (2, 130)
    told = capsys.readouterr().err
    assert told.strip().endswith(".")
    assert "Traceback" not in told


@pytest.mark.parametrize(
    ("environment", "platform", "kinds"),
    [
        ({}, "linux", ()),
        ({"DISPLAY": ""}, "linux", ()),
        ({"DISPLAY": ":0"}, "linux", ("x11",)),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "wayland-0"}, "linux", ("wayland", "x11")),
        ({"DISPLAY": ":0", "WAYLAND_DISPLAY": "w", "QT_QPA_PLATFORM": "xcb"}, "linux", ("x11",)),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "linux", ()),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen:some=1"}, "linux", ()),
        ({}, "darwin", ("own",)),
        ({}, "win32", ("own",)),
        ({"QT_QPA_PLATFORM": "offscreen"}, "win32", ()),
    ],
)
def test_the_displays_that_an_environment_names(
    environment: dict[str, str], platform: str, kinds: tuple[str, ...]
) -> None:
    assert display_kinds(environment, platform) == kinds


@pytest.mark.parametrize(("kind", "variable"), [("x11", "DISPLAY"), ("wayland", "WAYLAND_DISPLAY")])
def test_a_display_nobody_serves_does_not_connect(
    kind: str, variable: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    monkeypatch.setenv(variable, ":987" if kind == "x11" else "wayland-987")
    assert not open_planner.connects(kind)
