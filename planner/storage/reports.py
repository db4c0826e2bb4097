"""What went wrong, for whoever mends the planner: a log with rotation, a report of each unexpected error.

Neither holds customer data: an error's message may quote a name, a path or a price, so reports give its
kind and the places in the program where it happened, and no message and no values.
"""

import faulthandler
import logging
import platform
import sys
import traceback
from contextlib import suppress
from datetime import datetime
from logging.handlers import RotatingFileHandler
from pathlib import Path

import platformdirs

from planner.shop.version import VERSION

LOG_NAME, CRASH_NAME = "planner.log", "crash.txt"
MOST_REPORTS = 10
_MOST_LOG_BYTES = 500_000
_OLD_LOGS = 3
_MOST_CAUSES = 5
_PROGRAM = Path(__file__).resolve().parents[2]


def log_folder() -> Path:
    """Where logs and reports of this user are kept."""
    return Path(platformdirs.user_log_dir("transfer-job-planner", appauthor=False))


def start_log(folder: Path | None = None) -> None:
    """Send what the planner logs to a file of limited size; without a folder to write to there is no log."""
    folder = folder or log_folder()
    logger = logging.getLogger("planner")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handler = RotatingFileHandler(
            folder / LOG_NAME, maxBytes=_MOST_LOG_BYTES, backupCount=_OLD_LOGS, encoding="utf-8", delay=True
        )
    except OSError:
        return
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(name)s: %(message)s"))
    logger.addHandler(handler)
    logger.setLevel(logging.INFO)
    logger.propagate = False
    # Crashes of native code never reach Python: their trace goes to a file opened beforehand.
    with suppress(OSError):
        _put_crash_by(folder)
    with suppress(OSError):
        faulthandler.enable((folder / CRASH_NAME).open("a", encoding="utf-8"))


def _put_crash_by(folder: Path) -> None:
    """Make the trace of an earlier crash a report like others, so that it is found, sent and cleared away."""
    crash = folder / CRASH_NAME
    if crash.is_file() and crash.stat().st_size:
        at = datetime.fromtimestamp(crash.stat().st_mtime).astimezone()
        crash.replace(_report_path(folder, at))
        _clear_reports(folder)


def _report_path(folder: Path, at: datetime) -> Path:
    return folder / f"report {at:%Y-%m-%d %H.%M.%S.%f}.txt"


def _clear_reports(folder: Path) -> None:
    for old in sorted(folder.glob("report *.txt"))[:-MOST_REPORTS]:
        old.unlink()


def write_report(error: BaseException, folder: Path | None = None) -> Path | None:
    """Write a report of an unexpected error and give its path; None where none can be written."""
    folder = folder or log_folder()
    now = datetime.now().astimezone()
    path = _report_path(folder, now)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path.write_text(report(error, now), encoding="utf-8")
        _clear_reports(folder)
    except OSError:
        return None
    return path


def report(error: BaseException, now: datetime) -> str:
    """What a report says."""
    lines = [
        "Transfer Job Planner: report of an unexpected error",
        "It names places in the program and the system it ran on. It holds nothing of the job.",
        "",
        f"when     {now:%Y-%m-%d %H:%M:%S %z}",
        f"planner  {VERSION}{' (bundle)' if getattr(sys, 'frozen', False) else ''}",
        f"python   {platform.python_version()}",
        f"system   {platform.system()} {platform.release()} {platform.machine()}",
    ]
    shown: BaseException | None = error
    for _ in range(_MOST_CAUSES):
        if shown is None:
            break
        lines += ["", f"error    {type(shown).__module__}.{type(shown).__qualname__}", *_places(shown)]
        shown = shown.__cause__ or shown.__context__
    return "\n".join(lines) + "\n"


def _places(error: BaseException) -> list[str]:
    return [
        f"  {_inside(frame.filename)}:{frame.lineno} in {frame.name}"
        for frame in traceback.extract_tb(error.__traceback__)
    ]


def _inside(filename: str) -> str:
    """The file's name within the program or its library: the folders above may carry the user's name."""
    path = Path(filename)
    for above in (_PROGRAM, *(Path(entry) for entry in sys.path if entry)):
        with suppress(ValueError):
            return path.relative_to(above).as_posix()
    return path.name
