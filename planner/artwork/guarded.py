"""Artwork read in a process of its own: a crash, a hang or a bomb in a file ends that process, no other.

The worker lives on between files, since starting it costs half a second; one that died or was killed is
replaced ahead of the next file.
"""

import logging
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import Any, BinaryIO, TypeVar

from PIL import Image
from pydantic import TypeAdapter, ValidationError

import planner
from planner.artwork.facts import ArtworkFacts
from planner.artwork.guard_wire import BadMessage, Message, receive, send
from planner.artwork.page_items import PageItems
from planner.artwork.read import Imported, UnreadableArtwork
from planner.artwork.source import MOST_PIXELS, VECTOR_MEDIA, media_of
from planner.job.document import Artwork
from planner.shop.offers import PrintProfile
from planner.work.ticket import Cancelled, Ticket

HIDDEN_ARGUMENT = "--read-artwork"
"""Makes a bundled program, which has no Python to start, the worker instead of the window."""
MOST_DRAWING_S = 45.0
_START_S = 60.0
_LOOK_EVERY_S = 0.05
"""How often waiting looks whether it was stopped: well below the 0.3 s that a stop may take."""
_MOST_IDLE = 2
_KEPT_VARIABLES = ("SYSTEMROOT", "TMPDIR", "TEMP", "TMP")
_IMPORTED = TypeAdapter(Imported)
_ITEMS = TypeAdapter(PageItems)
_log = logging.getLogger(__name__)
_Answer = TypeVar("_Answer")


def most_seconds(data: bytes) -> float:
    """How long reading a file may take: generous, for it only has to end what would never end.

    A large picture takes its time by its size; of a drawing it is told beforehand what draws for long.
    """
    if media_of(data) in VECTOR_MEDIA:
        return MOST_DRAWING_S
    return min(600.0, 120.0 + 2 * len(data) / 1_000_000)


class BrokeDown(UnreadableArtwork):
    """The file ended the process that read it, or met a mistake of ours."""


class TookTooLong(UnreadableArtwork):
    """Reading the file was given up."""


class Guarded:
    """A `Decoder` whose work is done by worker processes; may be called from several threads at once."""

    def __init__(
        self,
        *,
        command: Sequence[str] | None = None,
        most_s: Callable[[bytes], float] = most_seconds,
    ) -> None:
        self._command = tuple(command or worker_command())
        self._most_s = most_s
        self._lock = threading.Lock()
        self._idle: list[_Worker] = []
        self._busy: set[_Worker] = set()
        self._closed = False

    def start(self) -> None:
        """Start a worker ahead of the first file; returns at once."""
        with self._lock:
            if not self._idle and not self._closed:
                with suppress(OSError):  # The first file will tell.
                    self._idle.append(_Worker(self._command))

    def close(self) -> None:
        """End all workers, those at work too."""
        with self._lock:
            self._closed = True
            workers = [*self._idle, *self._busy]
            self._idle.clear()
        for worker in workers:
            worker.kill()

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None, *, page: int = 0) -> Imported:
        return self._told(
            name, {"do": "imported", "page": page}, data, ticket, lambda head, _: _imported(head)
        )

    def import_measured(
        self, data: bytes, name: str, ticket: Ticket | None = None
    ) -> tuple[Imported, ArtworkFacts]:
        return self._told(
            name, {"do": "import_measured"}, data, ticket, lambda head, _: (_imported(head), _facts(head))
        )

    def measured(self, data: bytes, artwork: Artwork, ticket: Ticket | None = None) -> ArtworkFacts:
        header = {"do": "measured", "artwork": artwork.model_dump(mode="json")}
        return self._told(artwork.name, header, data, ticket, lambda head, _: _facts(head))

    def picture(
        self, data: bytes, artwork: Artwork, most_px: int, ticket: Ticket | None = None
    ) -> Image.Image:
        header = {"do": "picture", "artwork": artwork.model_dump(mode="json"), "most_px": most_px}
        return self._told(
            artwork.name, header, data, ticket, lambda head, body: _picture(head, body, most_px)
        )

    def printed(self, data: bytes, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        header = {"do": "printed", "artwork": artwork.model_dump(mode="json"), "size_px": size_px}
        return self._told(artwork.name, header, data, None, _printed)

    def is_plain(self, data: bytes, artwork: Artwork) -> bool:
        header = {"do": "is_plain", "artwork": artwork.model_dump(mode="json")}
        return self._told(artwork.name, header, data, None, lambda head, _: head["plain"] is True)

    def vector_page(self, data: bytes, artwork: Artwork) -> bytes | None:
        header = {"do": "vector_page", "artwork": artwork.model_dump(mode="json")}
        return self._told(
            artwork.name, header, data, None, lambda head, body: body if head["vectors"] else None
        )

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        return self._told(
            name, {"do": "page_items"}, pdf, None, lambda head, _: _ITEMS.validate_python(head["items"])
        )

    def print_profile(self, data: bytes, name: str) -> PrintProfile:
        return self._told(
            name,
            {"do": "print_profile"},
            data,
            None,
            lambda head, _: PrintProfile.model_validate(head["profile"]),
        )

    def _told(
        self,
        name: str,
        header: dict[str, Any],
        data: bytes,
        ticket: Ticket | None,
        understood: Callable[[dict[str, Any], bytes], _Answer],
    ) -> _Answer:
        """What the worker answered, checked as anything from outside is."""
        head, body = self._asked(name, header, data, ticket or Ticket())
        if "refused" in head:
            raise UnreadableArtwork(str(head["refused"]))
        if "failed" in head:
            _log.warning("Reading artwork failed:\n%s", head["failed"])
            raise _broke_down(name)
        try:
            return understood(head, body)
        except (ValidationError, ValueError, KeyError, TypeError) as error:
            raise _broke_down(name) from error

    def _asked(self, name: str, header: dict[str, Any], data: bytes, ticket: Ticket) -> Message:
        most_s = self._most_s(data)
        request = {**header, "name": name, "most_s": most_s}
        # A worker may have died of what it read before: a file is blamed once it brought two down.
        for last in (False, True):
            worker = self._taken(name)
            try:
                answer = worker.ask(request, data, most_s, ticket)
            except _Died as error:
                if not worker.was_ready:
                    raise _does_not_start(name) from error
                if last:
                    raise _broke_down(name) from error
            except _TooLong as error:
                raise _too_slow(name, most_s) from error
            else:
                self._give_back(worker)
                return answer
            finally:
                with self._lock:
                    self._busy.discard(worker)
                self.start()
        raise AssertionError("unreachable")

    def _taken(self, name: str) -> "_Worker":
        with self._lock:
            if self._closed:
                raise Cancelled
            while self._idle:
                worker = self._idle.pop()
                if worker.is_alive:
                    break
                worker.kill()
            else:
                try:
                    worker = _Worker(self._command)
                except OSError as error:
                    raise _does_not_start(name) from error
            self._busy.add(worker)
            return worker

    def _give_back(self, worker: "_Worker") -> None:
        with self._lock:
            if not self._closed and len(self._idle) < _MOST_IDLE:
                self._idle.append(worker)
                return
        worker.kill()


class _Died(Exception):
    """The worker ended before it answered, or answered what no worker of ours would."""


class _TooLong(Exception):
    """The worker did not answer in time."""


class _Worker:
    """One process. Whatever goes wrong while it is asked, it is dead afterwards."""

    def __init__(self, command: Sequence[str]) -> None:
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            cwd=Path(sys.executable).anchor or None,
            env=worker_environment(),
            # Ctrl-C in a terminal is for the window; the worker ends when its input does.
            start_new_session=True,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
        self.was_ready = False

    @property
    def is_alive(self) -> bool:
        return self._process.poll() is None

    def ask(self, header: dict[str, Any], body: bytes, most_s: float, ticket: Ticket) -> Message:
        """The answer to one request; progress goes to the ticket.

        Raises:
            Cancelled: the ticket was stopped.
            _Died, _TooLong: see there.
        """
        heard: SimpleQueue[Message | None] = SimpleQueue()
        # Pipes cannot be waited for with a limit on every system; a thread that ends with them can.
        threading.Thread(target=self._talk, args=(header, body, heard), daemon=True).start()
        try:
            if not self.was_ready:
                self._next(heard, time.monotonic() + _START_S, ticket)
                self.was_ready = True
            ends_at = time.monotonic() + most_s
            while "step" in (said := self._next(heard, ends_at, ticket))[0]:
                done, of = said[0]["step"]
                ticket.step(int(done), int(of))
            return said
        except (TypeError, ValueError) as error:
            self.kill()
            raise _Died from error
        except BaseException:
            self.kill()
            raise

    def kill(self) -> None:
        """End the process at once, whatever it does."""
        with suppress(OSError):
            self._process.kill()
        with suppress(subprocess.TimeoutExpired):
            self._process.wait(1)
        for pipe in self._pipes():
            with suppress(OSError, ValueError):
                pipe.close()

    def _next(self, heard: SimpleQueue[Message | None], ends_at: float, ticket: Ticket) -> Message:
        while not ticket.is_stopped:
            left_s = ends_at - time.monotonic()
            if left_s <= 0:
                raise _TooLong
            with suppress(Empty):
                said = heard.get(timeout=min(_LOOK_EVERY_S, left_s))
                if said is None:
                    raise _Died
                return said
        raise Cancelled

    def _talk(self, header: dict[str, Any], body: bytes, heard: SimpleQueue[Message | None]) -> None:
        to_worker, from_worker = self._pipes()
        try:
            send(to_worker, header, body)
            while (said := receive(from_worker)) is not None:
                heard.put(said)
                if "step" not in said[0] and "ready" not in said[0]:
                    return
        except (BadMessage, OSError, ValueError):  # ValueError: `kill` closed the pipe under us.
            pass
        heard.put(None)

    def _pipes(self) -> tuple[BinaryIO, BinaryIO]:
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        return self._process.stdin, self._process.stdout  # type: ignore[return-value]


def worker_command() -> tuple[str, ...]:
    """How to start a worker: by module in a Python, by a hidden argument in a bundled program."""
    if getattr(sys, "frozen", False):
        # Windows gives a program without a console no pipes to talk through: the one beside it has them.
        program = Path(sys.executable).with_name("planner.exe") if os.name == "nt" else sys.executable
        return str(program), HIDDEN_ARGUMENT
    # -P: the folder that the user happens to be in is no place to import from.
    return sys.executable, "-P", "-m", "planner.artwork.guard_worker"


def worker_environment() -> dict[str, str]:
    """The few variables that a worker gets to see."""
    kept = {name: os.environ[name] for name in _KEPT_VARIABLES if name in os.environ}
    if not getattr(sys, "frozen", False):
        kept["PYTHONPATH"] = str(Path(planner.__file__).parent.parent)
    return kept


def _imported(head: dict[str, Any]) -> Imported:
    return _IMPORTED.validate_python(head["imported"])


def _facts(head: dict[str, Any]) -> ArtworkFacts:
    return ArtworkFacts.model_validate(head["facts"])


def _picture(head: dict[str, Any], body: bytes, most_px: int) -> Image.Image:
    size = int(head["width"]), int(head["height"])
    if not all(0 < side <= most_px for side in size):
        raise ValueError(f"a picture of {size}")
    return Image.frombytes("RGBA", size, body)


def _printed(head: dict[str, Any], body: bytes) -> Image.Image:
    if int(head["width"]) * int(head["height"]) > MOST_PIXELS:
        raise ValueError("a picture larger than any that is taken")
    return _picture(head, body, MOST_PIXELS)


def _broke_down(name: str) -> BrokeDown:
    return BrokeDown(
        f"“{name}” cannot be read: it made the reader of artwork break down. Nothing else was touched. "
        "Ask the customer to export it again, or for a PNG with a transparent ground at print size."
    )


def _too_slow(name: str, most_s: float) -> TookTooLong:
    return TookTooLong(
        f"“{name}” was given up after {most_s:.0f} seconds: it is far more work to read than artwork of its "
        "size should be. Ask the customer for a PNG at print size, 300 ppi."
    )


def _does_not_start(name: str) -> UnreadableArtwork:
    return UnreadableArtwork(
        f"“{name}” was not read: the part of the planner that reads artwork does not start on this machine. "
        "Save your work and start the planner again; if that does not help, install it again."
    )
