"""The program without a window, called as a person calls it."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from planner.commands.check import check
from planner.measures.lengths import MM_PER_INCH
from planner.shop.document import changed
from planner.shop.starting import starting_shop
from planner.storage.job_file import read_job, write_job
from planner.storage.shop_book import save_shop_book
from tests.builders import a_job

PROJECT = Path(__file__).resolve().parents[2]


def planner(*arguments: str | Path, data_folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "XDG_DATA_HOME": str(data_folder), "PYTHONPATH": str(PROJECT)}
    return subprocess.run(
        [sys.executable, "-m", "planner", *map(str, arguments)],
        capture_output=True,
        text=True,
        env=environment,
        check=False,
        timeout=120,
    )


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def demo_file(home: Path) -> Path:
    path = home / "demo.transferjob"
    done = planner("demo", "--to", path, data_folder=home)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip() == str(path)
    return path


@pytest.fixture(scope="module")
def told(home: Path, demo_file: Path) -> Any:
    done = planner("plan", demo_file, "--json", data_folder=home)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_the_demo_file_holds_the_artwork_and_layouts(demo_file: Path) -> None:
    file = read_job(demo_file)
    assert len(file.artworks) == len(file.job.artworks) == 4
    assert file.job.arranged


def test_the_plans_keys_are_those_that_were_promised(told: Any) -> None:
    promised = {"findings", "purchase", "cost", "least_cost", "costs", "quote", "press_cards", "calendar"}
    assert promised <= told.keys()
    assert {"offer", "layouts"} <= told["purchase"].keys()
    layout = told["purchase"]["layouts"][0]
    assert {"sheet", "runs", "pieces"} <= layout.keys()
    assert layout["sheet"].keys() == {"width_mm", "height_mm"}
    assert {"print", "x_mm", "y_mm", "width_mm", "height_mm", "turned_deg"} <= layout["pieces"][0].keys()


def test_the_plan_meets_every_need_on_its_sheets(told: Any, demo_file: Path) -> None:
    job = read_job(demo_file).job
    for print_ in job.prints:
        on_sheets = sum(
            layout["runs"]
            for layout in told["purchase"]["layouts"]
            for piece in layout["pieces"]
            if piece["print"].partition("/")[0] == print_.key
        )
        assert on_sheets >= job.line(print_.line).count


def test_no_bound_is_above_the_cost(told: Any) -> None:
    assert told["cost"] > 0
    assert told["least_cost"] is None or told["least_cost"] <= told["cost"]


def test_the_plan_in_words_names_cost_quote_and_days(home: Path, demo_file: Path) -> None:
    done = planner("plan", demo_file, data_folder=home)
    assert done.returncode == 0
    assert "quote, tax included" in done.stdout
    assert "Order transfers" in done.stdout
    assert "Stop [" in done.stdout


def test_a_german_shop_book_is_told_in_german_figures(tmp_path: Path, demo_file: Path) -> None:
    """Signs and order of Unicode CLDR's en_DE; amounts as JSON stay numbers."""
    save_shop_book(changed(starting_shop(), region="DE", currency="EUR"), tmp_path / "transfer-job-planner")
    done = planner("plan", demo_file, data_folder=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert re.search(r"^quote, tax included +\d\.\d{3},\d\d\u00a0€$", done.stdout, re.MULTILINE)
    assert re.search(
        r"^Due (Mon|Tue|Wed|Thu|Fri|Sat|Sun), \d{1,2} [A-Z][a-z]{2} \d{4}$", done.stdout, re.MULTILINE
    )
    assert not re.search(r"\d\.\d\d?\b", done.stdout)
    as_json = planner("plan", demo_file, "--json", data_folder=tmp_path)
    assert isinstance(json.loads(as_json.stdout)["quote"]["total"], float)


def test_papers_are_written_and_the_same_job_gives_the_same_bytes(home: Path, demo_file: Path) -> None:
    for folder in ("one", "two"):
        done = planner(
            "export",
            demo_file,
            "--to",
            home / folder,
            "--paper",
            "quote",
            "--paper",
            "press cards",
            data_folder=home,
        )
        assert done.returncode == 0, done.stderr
        paths = [Path(path) for path in done.stdout.split("\n") if path]
        assert len(paths) == 2
        assert all(path.read_bytes().startswith(b"%PDF") for path in paths)
    for path in (home / "one").iterdir():
        assert path.read_bytes() == (home / "two" / path.name).read_bytes()


def test_checking_artwork_tells_its_effective_ppi(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice: 11 in wide at 300 ppi needs 3300 px.
    path = tmp_path / "wide.png"
    Image.new("RGB", (3300, 1200), "#336699").save(path)
    assert check([str(path), "--width", "11 in", "--json"]) == 0
    (file,) = json.loads(capsys.readouterr().out)
    assert (file["width_px"], file["effective_ppi"]) == (3300, 300)
    assert file["width_mm"] == pytest.approx(11 * MM_PER_INCH)
    assert "too coarse" not in {finding["kind"] for finding in file["findings"]}


def test_artwork_one_pixel_short_is_told_as_coarse(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "short.png"
    Image.new("RGB", (3200, 1200), "#336699").save(path)
    check([str(path), "--width", "11 in", "--json"])
    (file,) = json.loads(capsys.readouterr().out)
    assert "too coarse" in {finding["kind"] for finding in file["findings"]}


def test_a_readable_file_beside_a_broken_one_is_still_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    good, broken = tmp_path / "good.png", tmp_path / "broken.png"
    Image.new("RGB", (400, 400), "#336699").save(good)
    broken.write_bytes(good.read_bytes()[:60])
    assert check([str(broken), str(good), "--width", "2 in"]) == 2
    told = capsys.readouterr()
    assert "400 × 400 px" in told.out
    assert "broken.png" in told.err


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["plan", "nowhere.transferjob"], "There is no file"),
        (["plan"], "required"),
        (["check", "nothing.png", "--width", "3 apples"], "not a length"),
        (["check", "nothing.png", "--width", "3 in"], "cannot be read"),
        (["export", "nowhere.transferjob", "--to", "out"], "There is no file"),
        (["export", "x", "--to", "out", "--paper", "napkin"], "invalid choice"),
        (["frobnicate"], "There is no file “frobnicate”, and no command of that name"),
    ],
)
def test_trouble_is_one_sentence_on_stderr_and_status_2(
    arguments: list[str], sentence: str, tmp_path: Path
) -> None:
    done = planner(*arguments, data_folder=tmp_path)
    assert done.returncode == 2
    assert done.stdout == ""
    assert sentence in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


@pytest.mark.parametrize("command", [[], ["plan"], ["check"], ["export"], ["demo"]])
def test_help_is_everywhere(command: list[str], tmp_path: Path) -> None:
    done = planner(*command, "--help", data_folder=tmp_path)
    assert done.returncode == 0
    assert "planner" in done.stdout


def test_a_job_not_yet_arranged_is_arranged_alike_every_time(tmp_path: Path) -> None:
    path = tmp_path / "fresh.transferjob"
    write_job(path, *a_job())
    told = [planner("plan", path, "--json", data_folder=tmp_path).stdout for _ in range(2)]
    assert told[0] == told[1]
    assert json.loads(told[0])["purchase"]["layouts"]


def test_without_a_window_no_qt_is_loaded() -> None:
    script = "import sys, planner.commands.export, planner.plan.make_plan; print('PySide6' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, cwd=PROJECT, check=True
    )
    assert done.stdout.strip() == "False"
