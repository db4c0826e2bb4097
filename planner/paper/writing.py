"""Writing into the customer's folder: whole files or none, and nobody else's file is lost."""

import mmap
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planner.paper import file_words as words
from planner.paper.marks import MADE_BY


class ExportRefused(Exception):
    """Files cannot be written there; the message says why and what to do."""


def ready_folder(folder: Path) -> Path:
    """The folder, made where it is missing.

    Raises:
        ExportRefused: it cannot be made, or a file of that name is in the way.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise ExportRefused(words.folder_not_made(folder, error.strerror or str(error))) from error
    return folder


def refuse_strangers(paths: tuple[Path, ...]) -> None:
    """Make sure that only earlier exports would be replaced.

    Raises:
        ExportRefused: a file in the way was not made by the planner.
    """
    for path in paths:
        if path.is_symlink() or (path.exists() and not (path.is_file() and _is_ours(path))):
            raise ExportRefused(words.stranger(path))


def _is_ours(path: Path) -> bool:
    if path.stat().st_size == 0:
        return False
    with path.open("rb") as file, mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ) as data:
        return data.find(MADE_BY.encode("ascii")) >= 0


@contextmanager
def written_whole(path: Path) -> Iterator[Path]:
    """A place beside `path` to write to; it becomes `path` at the end, or is removed after an error.

    Raises:
        ExportRefused: the folder cannot be written to, or the disk is full.
    """
    part = path.with_name(f".{secrets.token_hex(6)}.part")
    try:
        yield part
        part.replace(path)
    except OSError as error:
        raise ExportRefused(words.not_written(path, error.strerror or str(error))) from error
    finally:
        part.unlink(missing_ok=True)
