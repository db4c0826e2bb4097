"""One document and the files it needs in one SQLite file: how jobs and the shop book are kept.

`application_id` tells whose file it is and `user_version` how it is laid out (SQLite's own header
fields, https://www.sqlite.org/fileformat.html, 1.3). A save is one transaction: a reader sees the old
document or the new one, whatever happens in between.
"""

import hashlib
import os
import sqlite3
import tempfile
import uuid
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

MOST_DOCUMENT_BYTES = 64 * 2**20
"""No document that a person made comes near; more is a trap."""
_MOST_BUSY_S = 5.0
_SAVE = "save"
_SQLITE_MAGIC = b"SQLite format 3\x00"

_SCHEMA = """
CREATE TABLE document (only INTEGER PRIMARY KEY CHECK (only = 1), json TEXT NOT NULL);
CREATE TABLE artwork (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL) WITHOUT ROWID;
CREATE TABLE remark (name TEXT PRIMARY KEY, text TEXT NOT NULL) WITHOUT ROWID;
"""


class DocumentFileError(Exception):
    """A file could not be read or written; the message is a sentence for the shop."""


class NotThisKind(DocumentFileError):
    """The file is something else."""


class NewerVersion(DocumentFileError):
    """A newer planner wrote the file."""


class Damaged(DocumentFileError):
    """The file is of the right kind, but its contents do not hold together."""


class ChangedElsewhere(DocumentFileError):
    """Somebody else saved the file since it was read; nothing was written."""


class Unwritable(DocumentFileError):
    """The file could not be saved; what was there before still is."""


@dataclass(frozen=True, slots=True)
class FileKind:
    """What a kind of file carries in its header, and what it is called in sentences."""

    application_id: int
    version: int
    noun: str


@dataclass(frozen=True, slots=True)
class Contents:
    """What a file holds: the document as JSON, files by SHA-256, remarks beside it by name."""

    json: str
    artworks: Mapping[str, bytes]
    remarks: Mapping[str, str]
    version: int
    save: str
    """Names this save of the file; the next one has another name."""


def read_contents(path: Path, kind: FileKind) -> Contents:
    """Everything in a file, checked; the file is opened for reading only.

    Raises:
        NotThisKind, NewerVersion, Damaged, DocumentFileError: with a sentence for the shop.
    """
    _refuse_other_files(path, kind)
    try:
        with closing(_connected(path, "ro")) as file:
            return _checked_contents(file, path, kind)
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            raise DocumentFileError(
                f"“{path.name}” is being saved by another window. Try again in a moment."
            ) from error
        raise Damaged(_damaged(path, kind)) from error
    except (sqlite3.DatabaseError, UnicodeDecodeError, OverflowError) as error:
        raise Damaged(_damaged(path, kind)) from error


def write_contents(
    path: Path,
    kind: FileKind,
    json: str,
    artworks: Mapping[str, bytes],
    remarks: Mapping[str, str] | None = None,
    *,
    over: str | None = None,
) -> str:
    """Save a document in one transaction; files no longer named in `artworks` are dropped.

    A file of the same kind is updated in place, a new one is made beside its place and moved there.
    `over` names the save that is meant to be written over; None: whatever is there. Returns the name of
    this save.

    Raises:
        NotThisKind: something else is in that place; it is left alone.
        ChangedElsewhere: the file there is not the save named in `over`.
        Unwritable: the save failed; what was there before still is.
    """
    if path.exists() and path.stat().st_size:
        _refuse_other_files(path, kind)
        with _as_sentence(path), closing(_connected(path, "rw")) as file:
            if _header(file) != (kind.application_id, kind.version):
                raise NotThisKind(f"“{path.name}” was made by another version and is not written over.")
            return _put(file, path, json, artworks, remarks or {}, over)
    with _as_sentence(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        os.close(handle)
        fresh = Path(name)
        try:
            with closing(_connected(fresh, "rw")) as file:
                file.executescript(_SCHEMA)
                file.execute(f"PRAGMA application_id = {kind.application_id}")
                file.execute(f"PRAGMA user_version = {kind.version}")
                save = _put(file, path, json, artworks, remarks or {}, None)
            fresh.chmod(0o644)
            fresh.replace(path)
            return save
        finally:
            with suppress(FileNotFoundError):
                fresh.unlink()


def _connected(path: Path, mode: str) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    file = sqlite3.connect(uri, uri=True, timeout=_MOST_BUSY_S, isolation_level=None)
    # A file from elsewhere may carry triggers and views of its own; nothing in it is to be run.
    file.execute("PRAGMA trusted_schema = OFF")
    return file


def _header(file: sqlite3.Connection) -> tuple[int, int]:
    application_id = file.execute("PRAGMA application_id").fetchone()[0]
    version = file.execute("PRAGMA user_version").fetchone()[0]
    return application_id, version


def _refuse_other_files(path: Path, kind: FileKind) -> None:
    try:
        with path.open("rb") as file:
            head = file.read(72)
    except FileNotFoundError:
        raise DocumentFileError(
            f"There is no file “{path}”. Check the name, or the drive it was on."
        ) from None
    except IsADirectoryError:
        raise NotThisKind(f"“{path.name}” is a folder. Choose a {kind.noun} in it.") from None
    except OSError as error:
        raise DocumentFileError(f"“{path.name}” cannot be read: {error.strerror}.") from error
    # Offsets 60 and 68 of SQLite's header: user version and application id, big-endian.
    if not head.startswith(_SQLITE_MAGIC) or int.from_bytes(head[68:72], "big") != kind.application_id:
        raise NotThisKind(f"“{path.name}” is not a {kind.noun} of this planner. It was left as it is.")
    # Offsets 16 and 28: page size and pages. SQLite itself opens a file that lost its last pages.
    page_size = int.from_bytes(head[16:18], "big")
    if path.stat().st_size < int.from_bytes(head[28:32], "big") * (65536 if page_size == 1 else page_size):
        raise Damaged(_damaged(path, kind))


def _checked_contents(file: sqlite3.Connection, path: Path, kind: FileKind) -> Contents:
    _, version = _header(file)
    if version > kind.version:
        raise NewerVersion(
            f"“{path.name}” was saved by a newer version of the planner. Update this one to open it."
        )
    if file.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise Damaged(_damaged(path, kind))
    row = file.execute("SELECT length(CAST(json AS BLOB)) FROM document WHERE only = 1").fetchone()
    if row is None or row[0] > MOST_DOCUMENT_BYTES:
        raise Damaged(_damaged(path, kind))
    json = file.execute("SELECT json FROM document WHERE only = 1").fetchone()[0]
    artworks = {sha256: bytes(data) for sha256, data in file.execute("SELECT sha256, bytes FROM artwork")}
    if any(hashlib.sha256(data).hexdigest() != sha256 for sha256, data in artworks.items()):
        raise Damaged(f"An artwork inside “{path.name}” is damaged. Open an earlier copy of the file.")
    remarks = dict(file.execute("SELECT name, text FROM remark"))
    save = str(remarks.pop(_SAVE, ""))
    if not isinstance(json, str):
        raise Damaged(_damaged(path, kind))
    return Contents(json, artworks, remarks, version, save)


def _put(
    file: sqlite3.Connection,
    path: Path,
    json: str,
    artworks: Mapping[str, bytes],
    remarks: Mapping[str, str],
    over: str | None,
) -> str:
    save = uuid.uuid4().hex
    file.execute("BEGIN IMMEDIATE")
    try:
        # Looked at inside the transaction: nobody can save between this look and our commit.
        if over is not None and over != _save_of(file):
            raise ChangedElsewhere(
                f"“{path.name}” was saved by somebody else since you opened it. "
                "Save yours under another name, or open theirs."
            )
        file.execute("INSERT OR REPLACE INTO document VALUES (1, ?)", (json,))
        kept = {sha256 for (sha256,) in file.execute("SELECT sha256 FROM artwork")}
        file.executemany(
            "INSERT INTO artwork VALUES (?, ?)",
            ((sha256, data) for sha256, data in artworks.items() if sha256 not in kept),
        )
        file.executemany(
            "DELETE FROM artwork WHERE sha256 = ?", ((sha256,) for sha256 in kept - artworks.keys())
        )
        file.execute("DELETE FROM remark")
        file.executemany("INSERT INTO remark VALUES (?, ?)", [*remarks.items(), (_SAVE, save)])
        file.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            file.execute("ROLLBACK")
        raise
    return save


def _save_of(file: sqlite3.Connection) -> str:
    row = file.execute("SELECT text FROM remark WHERE name = ?", (_SAVE,)).fetchone()
    return str(row[0]) if row else ""


@contextmanager
def _as_sentence(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise Unwritable(
            f"“{path.name}” could not be saved in {path.parent}: {why}. "
            "Your work is still open here; save it in another folder."
        ) from error


def _damaged(path: Path, kind: FileKind) -> str:
    return f"“{path.name}” is a {kind.noun}, but it is damaged. Open an earlier copy; it was left as it is."
