"""The process that reads artwork for the window, so that a hostile file can only bring this one down.

Started by `planner.artwork.guarded`; it takes requests on its standard input until that is closed.
"""

import faulthandler
import os
import sys
import threading
import time
import traceback
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from typing import Any, BinaryIO

from planner.artwork.decoding import InProcess
from planner.artwork.guard_wire import Message, receive, send
from planner.artwork.read import Imported, UnreadableArtwork
from planner.artwork.source import too_large
from planner.job.document import Artwork
from planner.work.ticket import Ticket

MOST_MEMORY_BYTES = 6 * 2**30
"""The largest artwork that is taken (250 megapixels) is measured within half of it."""
_SHARE_OF_MACHINE = 0.75
_LATE_S = 5.0
"""So long after its limit a worker ends itself, should nobody be there any more to end it."""
_STEP_EVERY_S = 0.1
_LOOK_EVERY_S = 0.2


def main() -> int:
    """Answer requests until standard input is closed."""
    requests, answers = _own_pipes()
    _limit_itself()
    _warm_up()
    decoder = InProcess()
    send(answers, {"ready": True})
    with Path(os.devnull).open("w") as nowhere:
        while (asked := receive(requests)) is not None:
            faulthandler.dump_traceback_later(asked[0]["most_s"] + _LATE_S, exit=True, file=nowhere)
            send(answers, *_answer(decoder, *asked, Ticket(_Steps(answers))))
            faulthandler.cancel_dump_traceback_later()
    return 0


class _Steps:
    """Passes progress on, a few times a second."""

    def __init__(self, answers: BinaryIO) -> None:
        self._answers = answers
        self._next_at = 0.0

    def __call__(self, done: int, of: int) -> None:
        now = time.monotonic()
        if now >= self._next_at:
            self._next_at = now + _STEP_EVERY_S
            send(self._answers, {"step": [done, of]})


def _answer(decoder: InProcess, header: dict[str, Any], body: bytes, ticket: Ticket) -> Message:
    try:
        return _done(decoder, header, body, ticket)
    except UnreadableArtwork as error:
        return {"refused": str(error)}, b""
    except MemoryError:
        return {"refused": str(too_large(header["name"]))}, b""
    except OSError:  # The program is gone.
        raise
    except Exception:
        return {"failed": traceback.format_exc()}, b""


def _done(decoder: InProcess, header: dict[str, Any], body: bytes, ticket: Ticket) -> Message:
    do = header["do"]
    if do == "imported":
        return {"imported": _plain(decoder.imported(body, header["name"], ticket, page=header["page"]))}, b""
    if do == "import_measured":
        imported, facts = decoder.import_measured(body, header["name"], ticket)
        return {"imported": _plain(imported), "facts": facts.model_dump(mode="json")}, b""
    if do == "page_items":
        return {"items": asdict(decoder.page_items(body, header["name"]))}, b""
    if do == "print_profile":
        return {"profile": decoder.print_profile(body, header["name"]).model_dump(mode="json")}, b""
    artwork = Artwork.model_validate(header["artwork"])
    if do == "measured":
        facts = decoder.measured(body, artwork, ticket)
        return {"facts": facts.model_dump(mode="json")}, b""
    if do == "is_plain":
        return {"plain": decoder.is_plain(body, artwork)}, b""
    if do == "vector_page":
        page = decoder.vector_page(body, artwork)
        return {"vectors": page is not None}, page or b""
    if do == "printed":
        size = header["size_px"]
        picture = decoder.printed(body, artwork, (size[0], size[1]) if size else None)
    else:
        picture = decoder.picture(body, artwork, header["most_px"], ticket)
    return {"width": picture.width, "height": picture.height}, picture.tobytes()


def _plain(imported: Imported) -> dict[str, Any]:
    return {**asdict(imported), "notes": sorted(imported.notes)}


def _own_pipes() -> tuple[BinaryIO, BinaryIO]:
    """Standard input and output for us alone: what a library prints must not land in an answer."""
    requests = os.fdopen(os.dup(0), "rb")
    answers = os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_RDWR)
    os.dup2(nowhere, 0)
    os.dup2(nowhere, 1)
    return requests, answers


def _limit_itself() -> None:
    """Limits that the system holds, set before any file is seen."""
    try:
        import resource
    except ImportError:  # Windows has no such limits: there the pixel limit and the time limit stand alone.
        return
    most = _most_memory()
    with suppress(OSError, ValueError):
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
    with suppress(OSError, ValueError):
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    # Nothing that reads artwork writes a file.
    with suppress(OSError, ValueError):
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
    if sys.platform == "darwin":
        # There RLIMIT_AS is taken and not held.
        threading.Thread(target=_watch_memory, args=(most,), daemon=True).start()


def _most_memory() -> int:
    try:
        machine = os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE")
    except (ValueError, OSError):
        return MOST_MEMORY_BYTES
    return min(MOST_MEMORY_BYTES, int(machine * _SHARE_OF_MACHINE))


def _watch_memory(most_bytes: int) -> None:
    """End the process once it has grown too large."""
    import resource

    # macOS counts bytes, other systems kilobytes (getrusage(2)).
    unit = 1 if sys.platform == "darwin" else 1024
    while resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit < most_bytes:
        time.sleep(_LOOK_EVERY_S)
    os._exit(137)


def _warm_up() -> None:
    """Import what the first file would otherwise wait for."""
    from planner.artwork.opencv import opencv

    opencv()


if __name__ == "__main__":
    sys.exit(main())
