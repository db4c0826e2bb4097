"""SQLite files from elsewhere, opened with care.

Nothing in them is run, nothing in them is loaded that is too large, and a save that was broken off is not
mistaken for damage.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Collection, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

MOST_BUSY_S = 5.0
MOST_TEXT_BYTES = 64 * 2**20
"""No document that a person made comes near; more is a trap."""
MOST_BLOB_BYTES = 700_000_000
"""A little more than the largest artwork that is taken in."""
_MOST_PARTS = 20


class ForeignSchema(sqlite3.DatabaseError):
    """The file holds tables, views or triggers that the planner never makes."""


def connected(path: Path, mode: str) -> sqlite3.Connection:
    """A connection in SQLite's mode "ro" or "rw", every statement its own transaction."""
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    file = sqlite3.connect(uri, uri=True, timeout=MOST_BUSY_S, isolation_level=None)
    # A file from elsewhere may carry triggers and views of its own; nothing in it is to be run.
    file.execute("PRAGMA trusted_schema = OFF")
    file.execute("PRAGMA cell_size_check = ON")
    return file


@contextmanager
def opened_to_read(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that sees the last complete save, whatever was broken off later.

    A save that was broken off leaves its rollback journal beside the file
    (https://www.sqlite.org/atomiccommit.html, 4), and a reader may not use the file before it is rolled
    back. Where the folder cannot be written to, that is done in a copy.
    """
    if not has_journal(path) or _rolled_back(path):
        with closing(connected(path, "ro")) as file:
            yield file
        return
    with tempfile.TemporaryDirectory(prefix="planner-") as folder:
        copy = Path(folder) / path.name
        shutil.copyfile(path, copy)
        shutil.copyfile(_journal(path), _journal(copy))
        with closing(connected(copy, "rw")) as file:
            yield file


def has_journal(path: Path) -> bool:
    """Whether a save was broken off, or is under way."""
    with suppress(OSError):
        return _journal(path).stat().st_size > 0
    return False


def refuse_foreign_schema(file: sqlite3.Connection, known: Collection[str]) -> None:
    """Let only those pass that hold exactly the tables given, by the SQL that makes them.

    A view in a table's place may compute for ever, and a trigger changes what is saved.

    Raises:
        ForeignSchema: there is anything else, or something is missing.
    """
    limit = file.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, 100_000)
    rows = file.execute(f"SELECT type, name, sql FROM sqlite_schema LIMIT {_MOST_PARTS}").fetchall()
    file.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, limit)
    made = {
        sql for kind, name, sql in rows if not (kind == "index" and str(name).startswith("sqlite_autoindex_"))
    }
    if made != set(known):
        raise ForeignSchema("other tables than the planner's")


@contextmanager
def at_most(file: sqlite3.Connection, size_bytes: int) -> Iterator[None]:
    """Inside, a longer text or blob is an error before it is loaded."""
    before = file.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, size_bytes)
    try:
        yield
    finally:
        file.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, before)


def _rolled_back(path: Path) -> bool:
    """Bring the file back to its last complete save; False where the folder cannot be written to."""
    try:
        with closing(connected(path, "rw")) as file:
            file.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            raise
        return False
    return True


def _journal(path: Path) -> Path:
    return path.with_name(f"{path.name}-journal")
