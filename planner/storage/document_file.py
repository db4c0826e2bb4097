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
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import count
from pathlib import Path

from planner.storage.careful import (
    MOST_BLOB_BYTES,
    MOST_TEXT_BYTES,
    ForeignSchema,
    at_most,
    connected,
    has_journal,
    opened_to_read,
    refuse_foreign_schema,
)

MOST_VALUES = 1_000_000
"""In one document. A job of five thousand pieces has some 50,000; a checker that meets a million wrong ones
needs a gigabyte to list them."""
MOST_ARTWORK_BYTES = 2**32
"""All artworks of one file together."""
_SAVE, _DIGEST = "save", "digest"
_SQLITE_MAGIC = b"SQLite format 3\x00"

_TABLES = {
    1: (
        "CREATE TABLE document (only INTEGER PRIMARY KEY CHECK (only = 1), json TEXT NOT NULL)",
        "CREATE TABLE artwork (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL) WITHOUT ROWID",
        "CREATE TABLE remark (name TEXT PRIMARY KEY, text TEXT NOT NULL) WITHOUT ROWID",
    )
}
"""By `user_version`, word for word: files with anything else in them are refused."""


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

    def __init__(self, sentence: str, why: str = "") -> None:
        super().__init__(sentence)
        self.why = why or "it cannot be written"
        """The reason alone, to be put into other sentences."""


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


@lru_cache
def _mark(pid: int) -> str:
    return uuid.uuid4().hex


_saves = count(1)


def next_save() -> str:
    """A new name for a save. Names of one process rise in the order in which they were asked for."""
    # By process id, for a forked process is another one.
    return f"{_mark(os.getpid())}-{next(_saves):09}"


def is_later(save: str, other: str) -> bool:
    """Whether both saves were made by one process, this one after the other."""
    return save[:33] == other[:33] and save[33:] > other[33:]


def read_save(path: Path, kind: FileKind) -> tuple[str, str]:
    """Name of the save in a file, and the digest of its document; a quick look without checks.

    Raises:
        DocumentFileError: it is no such file, or cannot be read.
    """
    _refuse_other_files(path, kind)
    try:
        with opened_to_read(path) as file:
            refuse_foreign_schema(file, _TABLES.get(_header(file)[1], ()))
            return _remark(file, _SAVE), _remark(file, _DIGEST)
    except (sqlite3.Error, OSError) as error:
        raise Damaged(_damaged(path, kind)) from error


def read_contents(path: Path, kind: FileKind) -> Contents:
    """Everything in a file, checked; the file is opened for reading only.

    Raises:
        NotThisKind, NewerVersion, Damaged, DocumentFileError: with a sentence for the shop.
    """
    return _read(path, kind, _checked_contents)


def read_document(path: Path, kind: FileKind) -> Contents:
    """The document and the remarks of a file alone: quick however much artwork lies beside them.

    The letters of the document are checked, the pages of the file and the artwork are not.

    Raises:
        NotThisKind, NewerVersion, Damaged, DocumentFileError: as `read_contents` does.
    """
    return _read(path, kind, _document_alone)


def _read(
    path: Path, kind: FileKind, taking: Callable[[sqlite3.Connection, Path, FileKind], Contents]
) -> Contents:
    _refuse_other_files(path, kind)
    try:
        with opened_to_read(path) as file:
            return taking(file, path, kind)
    except sqlite3.OperationalError as error:
        if "locked" in str(error) or "busy" in str(error):
            raise DocumentFileError(
                f"“{path.name}” is being saved by another window. Try again in a moment."
            ) from error
        if "I/O" in str(error) or "unable to open" in str(error):
            raise _out_of_reach(path) from error
        raise Damaged(_damaged(path, kind)) from error
    except ForeignSchema as error:
        raise Damaged(
            f"“{path.name}” holds things that the planner never puts into a {kind.noun}. It was left as it "
            "is; ask whoever sent it for a fresh one."
        ) from error
    except OSError as error:
        raise _out_of_reach(path) from error
    except MemoryError as error:
        raise DocumentFileError(
            f"“{path.name}” needs more memory than there is. Close other programs, then open it again."
        ) from error
    except (sqlite3.Error, UnicodeDecodeError, OverflowError, ValueError, TypeError) as error:
        raise Damaged(_damaged(path, kind)) from error


def write_contents(
    path: Path,
    kind: FileKind,
    json: str,
    artworks: Mapping[str, bytes],
    remarks: Mapping[str, str] | None = None,
    *,
    over: str | None = None,
    save: str | None = None,
) -> str:
    """Save a document in one transaction; files no longer named in `artworks` are dropped.

    A file of the same kind is updated in place, a new one is made beside its place and moved there.
    `over` names the save that is meant to be written over, which must be there; None: whatever is there.
    Returns the name of this save: `save`, or the next one.

    Raises:
        NotThisKind: something else is in that place; it is left alone.
        ChangedElsewhere: the file there is not the save named in `over`.
        Unwritable: the save failed; what was there before still is.
    """
    save = save or next_save()
    if path.exists() and path.stat().st_size:
        _refuse_other_files(path, kind)
        with _as_sentence(path), closing(connected(path, "rw")) as file:
            if _header(file) != (kind.application_id, kind.version):
                raise NotThisKind(f"“{path.name}” was made by another version and is not written over.")
            refuse_foreign_schema(file, _TABLES[kind.version])
            _put(file, path, json, artworks, remarks or {}, over, save)
            return save
    if over is not None and not path.parent.is_dir():
        raise Unwritable(
            f"“{path.name}” was not saved: the folder {path.parent} is not there any more. Its drive may be "
            "gone. Your work is still open here; bring the drive back, or save it in another folder."
        )
    if over is not None:
        # A drive that is gone may leave its folder behind: a file made there is hidden once it is back.
        raise Unwritable(
            f"“{path.name}” was not saved: it is not in {path.parent} any more. It was moved or deleted, or "
            "its drive is gone. Your work is still open here; bring it back, or choose a place by Save as."
        )
    with _as_sentence(path):
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        os.close(handle)
        fresh = Path(name)
        try:
            with closing(connected(fresh, "rw")) as file:
                # Only the save itself has to be safe on the disk: till then nobody knows the file.
                file.execute("PRAGMA synchronous = OFF")
                for table in _TABLES[kind.version]:
                    file.execute(table)
                file.execute(f"PRAGMA application_id = {kind.application_id}")
                file.execute(f"PRAGMA user_version = {kind.version}")
                file.execute("PRAGMA synchronous = FULL")
                _put(file, path, json, artworks, remarks or {}, None, save)
            fresh.chmod(0o644)
            fresh.replace(path)
            _folder_kept(path.parent)
            return save
        finally:
            with suppress(FileNotFoundError):
                fresh.unlink()


def _folder_kept(folder: Path) -> None:
    """Have the new name on the disk too, where the system can be asked for that."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


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
    # A save under way or broken off may have written the length already and the pages not yet.
    if has_journal(path):
        return
    # Offsets 16 and 28: page size and pages. SQLite itself opens a file that lost its last pages.
    page_size = int.from_bytes(head[16:18], "big")
    if path.stat().st_size < int.from_bytes(head[28:32], "big") * (65536 if page_size == 1 else page_size):
        raise Damaged(_damaged(path, kind))


def _document_alone(file: sqlite3.Connection, path: Path, kind: FileKind) -> Contents:
    _, version = _header(file)
    if version > kind.version:
        raise NewerVersion(
            f"“{path.name}” was saved by a newer version of the planner. Update this one to open it."
        )
    refuse_foreign_schema(file, _TABLES.get(version, ()))
    with at_most(file, MOST_TEXT_BYTES):
        row = file.execute("SELECT json FROM document WHERE only = 1").fetchone()
        if row is None or not isinstance(row[0], str) or row[0].count(",") > MOST_VALUES:
            raise Damaged(_damaged(path, kind))
        json = row[0]
        remarks = {str(name): str(text) for name, text in file.execute("SELECT name, text FROM remark")}
    save, digest = remarks.pop(_SAVE, ""), remarks.pop(_DIGEST, None)
    # SQLite notices broken pages, not a changed letter: without this a price could change unseen.
    if digest is not None and digest != _digest(json):
        raise Damaged(_damaged(path, kind))
    return Contents(json, {}, remarks, version, save)


def _checked_contents(file: sqlite3.Connection, path: Path, kind: FileKind) -> Contents:
    read = _document_alone(file, path, kind)
    if file.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise Damaged(_damaged(path, kind))
    with at_most(file, MOST_BLOB_BYTES):
        together = file.execute("SELECT total(length(bytes)) FROM artwork").fetchone()[0]
        if together > MOST_ARTWORK_BYTES:
            raise Damaged(_damaged(path, kind))
        artworks = {
            str(sha256): bytes(data) for sha256, data in file.execute("SELECT sha256, bytes FROM artwork")
        }
    if any(hashlib.sha256(data).hexdigest() != sha256 for sha256, data in artworks.items()):
        raise Damaged(f"An artwork inside “{path.name}” is damaged. Open an earlier copy of the file.")
    return replace(read, artworks=artworks)


def _put(
    file: sqlite3.Connection,
    path: Path,
    json: str,
    artworks: Mapping[str, bytes],
    remarks: Mapping[str, str],
    over: str | None,
    save: str,
) -> None:
    file.execute("BEGIN IMMEDIATE")
    try:
        # Looked at inside the transaction: nobody can save between this look and our commit.
        if over is not None and over != _remark(file, _SAVE):
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
        file.executemany(
            "INSERT INTO remark VALUES (?, ?)", [*remarks.items(), (_SAVE, save), (_DIGEST, _digest(json))]
        )
        file.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            file.execute("ROLLBACK")
        raise


def _digest(json: str) -> str:
    return hashlib.sha256(json.encode()).hexdigest()


def _remark(file: sqlite3.Connection, name: str) -> str:
    row = file.execute("SELECT text FROM remark WHERE name = ?", (name,)).fetchone()
    return str(row[0]) if row else ""


_WHY = {
    "disk is full": "the drive is full",
    "no space left": "the drive is full",
    "readonly": "it is write-protected",
    "read-only": "it is write-protected",
    "permission denied": "you may not write there",
    "unable to open": "the folder cannot be written to",
    "i/o": "the drive fails",
    "locked": "another window is saving it at this moment",
}
"""What SQLite and systems call it, and what it means to the shop."""


@contextmanager
def _as_sentence(path: Path) -> Iterator[None]:
    try:
        yield
    except (OSError, sqlite3.Error) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        why = next((said for sign, said in _WHY.items() if sign in why.lower()), why)
        raise Unwritable(
            f"“{path.name}” could not be saved in {path.parent}: {why}. "
            "Your work is still open here; save it in another folder.",
            why,
        ) from error


def _out_of_reach(path: Path) -> DocumentFileError:
    return DocumentFileError(
        f"“{path.name}” cannot be read from {path.parent} now. Check that its drive or network folder is "
        "there, then open it again; the file was left as it is."
    )


def _damaged(path: Path, kind: FileKind) -> str:
    return f"“{path.name}” is a {kind.noun}, but it is damaged. Open an earlier copy; it was left as it is."
