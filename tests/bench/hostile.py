"""Any folder of files run through import as the window does it: what was opened, refused, broke down, hung.

`python -m tests.bench.hostile DIR [--most SECONDS] [--json OUT]`. Artwork goes through the guarded worker:
taken in, measured, drawn small, made ready for a sheet. Job files and shop books are opened in this process.
`crashed` counts files that brought the worker down or met an error nobody foresaw, `hung` those that were not
done in `--most` seconds. A folder to start with: `python -m tests.hostile.corpus DIR`.
"""

import argparse
import logging
import signal
import sys
import time
import traceback
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from planner.artwork.guarded import BrokeDown, Guarded, TookTooLong
from planner.artwork.read import UnreadableArtwork, artwork_from
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, read_job
from planner.storage.shop_book import FILE_NAME, read_book
from tests.bench.report import Row, add_json_option, row, show

_DRAWN_PX = 512


@dataclass
class Found:
    """What became of the files."""

    opened: int = 0
    refused: int = 0
    crashed: list[str] = field(default_factory=list)
    hung: list[str] = field(default_factory=list)
    sentences: set[str] = field(default_factory=set)
    worst_s: float = 0.0
    worst_name: str = ""

    @property
    def files(self) -> int:
        return self.opened + self.refused + len(self.crashed) + len(self.hung)


class _Late(Exception):
    pass


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Run a folder of files through import.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--most", type=float, default=30.0, help="seconds that one file may take")
    add_json_option(parser)
    wanted = parser.parse_args(arguments)
    # What the guard logs of an unforeseen error is what one wants to see here.
    logging.basicConfig(stream=sys.stderr, level=logging.WARNING, format="%(message)s")
    started = time.monotonic()
    guard = Guarded(most_s=lambda size: wanted.most)
    guard.start()
    found = Found()
    for path in sorted(path for path in wanted.folder.rglob("*") if path.is_file()):
        _try(path, guard, found, wanted.most)
    guard.close()
    show(_rows(found, time.monotonic() - started), wanted.json)
    print(f"worst time: {found.worst_name}")
    for name in (*found.crashed, *found.hung):
        print(name)
    return 1 if found.crashed or found.hung else 0


def _try(path: Path, guard: Guarded, found: Found, most_s: float) -> None:
    started = time.monotonic()
    try:
        if path.name.endswith(SUFFIX):
            with _at_most(most_s):
                read_job(path)
        elif path.name.endswith(Path(FILE_NAME).suffix):
            with _at_most(most_s):
                read_book(path)
        else:
            _taken_in(path, guard)
        found.opened += 1
    except BrokeDown:
        found.crashed.append(f"crashed: {path.name}")
    except (TookTooLong, _Late):
        found.hung.append(f"hung: {path.name}")
    except (UnreadableArtwork, DocumentFileError) as error:
        found.refused += 1
        found.sentences.add(str(error))
    except Exception:
        found.crashed.append(f"crashed: {path.name}\n{traceback.format_exc()}")
    seconds = time.monotonic() - started
    if seconds > found.worst_s:
        found.worst_s, found.worst_name = seconds, path.name


def _taken_in(path: Path, guard: Guarded) -> None:
    data = path.read_bytes()
    imported, _ = guard.import_measured(data, path.name)
    artwork = artwork_from(imported, "a1")
    guard.picture(data, artwork, _DRAWN_PX)
    guard.vector_page(data, artwork)


def _rows(found: Found, seconds: float) -> list[Row]:
    figures = {
        "files": found.files,
        "opened": found.opened,
        "refused with a sentence": found.refused,
        "crashed": len(found.crashed),
        "hung": len(found.hung),
        "worst seconds": found.worst_s,
        "worst megabytes": _worst_memory_mb(),
    }
    return [row("hostile", name, value, seconds=seconds) for name, value in figures.items()]


def _worst_memory_mb() -> float:
    """The most that this process or any worker held at once."""
    try:
        import resource
    except ImportError:  # Windows does not tell.
        return 0.0
    unit = 1e6 if sys.platform == "darwin" else 1e3
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return max(resource.getrusage(one).ru_maxrss for one in whose) / unit


@contextmanager
def _at_most(most_s: float) -> Iterator[None]:
    """Interrupts work in this process; where there are no alarms it is only measured."""
    if not hasattr(signal, "setitimer"):
        yield
        return

    def late(*_: object) -> None:
        raise _Late

    before = signal.signal(signal.SIGALRM, late)
    signal.setitimer(signal.ITIMER_REAL, most_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


if __name__ == "__main__":
    sys.exit(main())
