"""Which jobs a shop has: those opened lately, and those in a folder of its choice."""

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from planner.measures.figures import whole
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX
from planner.storage.job_summary import JobSummary, read_summary
from planner.work.ticket import Ticket

MOST_FILES = 5_000
"""In one list; a folder with more is no jobs folder."""
MOST_FOLDERS = 20_000
MOST_RECENT = 40


@dataclass(frozen=True, slots=True)
class Listed:
    """One file of the list: what it holds, or why that is not known."""

    path: Path
    summary: JobSummary | None
    trouble: str = ""
    """A sentence, where the file could not be read."""
    stamp: tuple[int, int] = (0, 0)
    """Time of change and size: while both stay, the file need not be read again."""


@dataclass(frozen=True, slots=True)
class JobList:
    """The files found, in no order that matters, and what is wrong with the list as a whole."""

    jobs: tuple[Listed, ...]
    trouble: str = ""


def list_jobs(
    folder: Path | None,
    recent: Iterable[Path] = (),
    *,
    known: Mapping[Path, Listed] | None = None,
    ticket: Ticket | None = None,
) -> JobList:
    """Every job file in the folder and below, and the recent ones that still are there.

    `known` holds what an earlier list found: files not changed since are not read again.

    Raises:
        Cancelled: the ticket was stopped.
    """
    paths, trouble = _in_folder(folder, ticket) if folder is not None else ([], "")
    for path in recent:
        if path not in paths and path.is_file():
            paths.append(path)
    jobs = []
    for at, path in enumerate(paths):
        if ticket is not None:
            ticket.step(at, len(paths))
        jobs.append(_listed(path, (known or {}).get(path)))
    return JobList(tuple(jobs), trouble)


def with_recent(path: Path, recent: Iterable[Path]) -> tuple[Path, ...]:
    """The recent files with one more, newest first, each once."""
    return (path, *(one for one in recent if one != path))[:MOST_RECENT]


def _in_folder(folder: Path, ticket: Ticket | None) -> tuple[list[Path], str]:
    if not folder.is_dir():
        return [], (
            f"The jobs folder {folder} is not there. Its drive or network folder may be off; "
            "bring it back, or choose another folder."
        )
    refused: list[str] = []
    found: list[Path] = []
    walk = os.walk(folder, onerror=lambda error: refused.append(str(error.filename)))
    for number, (place, folders, names) in enumerate(walk):
        if ticket is not None:
            ticket.step(0, 0)
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        found += [Path(place) / name for name in sorted(names) if _is_job(name)]
        if len(found) >= MOST_FILES or number >= MOST_FOLDERS:
            shown = found[:MOST_FILES]
            return shown, (
                f"The jobs folder {folder} holds more than can be listed: {whole(len(shown))} jobs are "
                "shown. Choose a folder further down."
            )
    said = f"The folder {refused[0]} cannot be looked into; its jobs are not shown." if refused else ""
    return found, said


def _is_job(name: str) -> bool:
    # A save under way lies beside its place under a hidden name.
    return name.endswith(SUFFIX) and not name.startswith(".")


def _listed(path: Path, known: Listed | None) -> Listed:
    try:
        about = path.stat()
        stamp = (about.st_mtime_ns, about.st_size)
        if known is not None and known.stamp == stamp and known.summary is not None:
            return known
        return Listed(path, read_summary(path), stamp=stamp)
    except DocumentFileError as error:
        return Listed(path, None, str(error))
    except OSError as error:
        return Listed(path, None, f"“{path.name}” cannot be read: {error.strerror or error}.")
