"""An unexpected error leaves a report that can be sent without telling anything of the customer."""

import logging
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.shop.version import VERSION
from planner.storage import reports
from planner.storage.reports import LOG_NAME, MOST_REPORTS, start_log, write_report


def an_error() -> BaseException:
    customer = "Riverside allotments"
    try:
        try:
            raise ValueError(f"{customer} owes 120.00")
        except ValueError as error:
            raise KeyError(f"/home/{customer}/job.transferjob") from error
    except KeyError as error:
        return error


@pytest.fixture
def logger() -> Iterator[logging.Logger]:
    logger = logging.getLogger("planner")
    before = list(logger.handlers), logger.level, logger.propagate
    yield logger
    for handler in logger.handlers:
        if handler not in before[0]:
            handler.close()
    logger.handlers, logger.level, logger.propagate = list(before[0]), before[1], before[2]


def test_a_report_tells_the_places_and_the_system_and_nothing_of_the_customer(tmp_path: Path) -> None:
    path = write_report(an_error(), tmp_path)
    assert path is not None
    told = path.read_text(encoding="utf-8")
    assert "builtins.KeyError" in told
    assert "builtins.ValueError" in told
    assert "tests/storage/test_reports.py:" in told
    assert "in an_error" in told
    assert VERSION in told
    for private in ("Riverside", "120.00", "job.transferjob", str(Path(__file__).parents[2])):
        assert private not in told


def test_only_the_newest_reports_are_kept(tmp_path: Path) -> None:
    paths = [write_report(an_error(), tmp_path) for _ in range(MOST_REPORTS + 3)]
    kept = sorted(tmp_path.glob("report *.txt"))
    assert kept == paths[3:]


def test_where_nothing_can_be_written_the_planner_goes_on(tmp_path: Path, logger: logging.Logger) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("no folder")
    assert write_report(an_error(), in_the_way) is None
    start_log(in_the_way)


def test_the_log_never_grows_past_its_limit(
    tmp_path: Path, logger: logging.Logger, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(reports, "_MOST_LOG_BYTES", 2000)
    monkeypatch.setattr(reports.faulthandler, "enable", lambda file: file.close())
    start_log(tmp_path)
    for number in range(200):
        logging.getLogger("planner.artwork").warning("line %d", number)
    logs = list(tmp_path.glob(f"{LOG_NAME}*"))
    assert len(logs) == 4
    assert all(log.stat().st_size <= 2000 for log in logs)
    assert "line 199" in (tmp_path / LOG_NAME).read_text()


def test_folders_of_the_machine_are_left_out_of_a_report(tmp_path: Path) -> None:
    script = tmp_path / "outside.py"
    script.write_text("def broken():\n    raise RuntimeError\n")
    sys.path.insert(0, str(tmp_path))
    try:
        import outside  # type: ignore[import-not-found]

        outside.broken()
    except RuntimeError as error:
        path = write_report(error, tmp_path / "logs")
    finally:
        sys.path.remove(str(tmp_path))
        sys.modules.pop("outside", None)
    assert path is not None
    assert str(tmp_path) not in path.read_text()
    assert "outside.py:2 in broken" in path.read_text()


_CRASHES = """
import os, sys
from pathlib import Path
from planner.storage.reports import start_log
start_log(Path(sys.argv[1]))
if len(sys.argv) > 2:
    os.abort()
"""


def test_the_trace_of_a_crash_is_a_report_from_the_next_start_on(tmp_path: Path) -> None:
    crashed = subprocess.run([sys.executable, "-c", _CRASHES, str(tmp_path), "crash"], check=False)
    assert crashed.returncode != 0
    assert not list(tmp_path.glob("report *.txt"))
    for _ in range(2):
        subprocess.run([sys.executable, "-c", _CRASHES, str(tmp_path)], check=True)
        (report,) = tmp_path.glob("report *.txt")
        assert "Fatal Python error: Aborted" in report.read_text()
        assert (tmp_path / reports.CRASH_NAME).read_text() == ""
