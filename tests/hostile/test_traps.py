"""No file made to do harm brings the reader down, keeps it busy for ever, or makes it fetch anything."""

import random
import socket
import threading
from collections.abc import Iterator

import pytest

from planner.artwork.decoding import InProcess
from planner.artwork.guarded import BrokeDown, Guarded, TookTooLong
from planner.artwork.read import UnreadableArtwork, artwork_from
from planner.storage.job_file import SUFFIX
from planner.storage.shop_book import FILE_NAME
from tests.hostile.corpus import samples, spoilt
from tests.hostile.traps import ELSEWHERE, pdf, svg, traps

_TRAPS = traps()
_OUTSIDE = {"file-entity.svg", "net-entity.svg", "net-image.svg", "style.svg", "action.pdf"}


@pytest.fixture(scope="module")
def guard() -> Iterator[Guarded]:
    guard = Guarded(most_s=lambda size: 20.0)
    yield guard
    guard.close()


def outcome(guard: Guarded, data: bytes, name: str) -> str:
    """ "opened", "refused", or what went wrong."""
    try:
        imported, _ = guard.import_measured(data, name)
        guard.picture(data, artwork_from(imported, "a1"), 256)
    except BrokeDown:
        return "broke down"
    except TookTooLong:
        return "hung"
    except UnreadableArtwork as error:
        return "refused" if str(error).endswith(".") and name in str(error) else str(error)
    return "opened"


@pytest.mark.parametrize("name", sorted(_TRAPS))
def test_a_trap_is_opened_or_refused_with_a_sentence_that_names_it(guard: Guarded, name: str) -> None:
    assert outcome(guard, _TRAPS[name], name) in ("opened", "refused")


@pytest.mark.parametrize("name", sorted(name for name in samples() if not name.endswith((SUFFIX, FILE_NAME))))
def test_spoilt_artwork_is_opened_or_refused(guard: Guarded, name: str) -> None:
    data, dice = samples()[name], random.Random(name)
    assert outcome(guard, data, name) == "opened"
    found = {outcome(guard, spoilt(data, dice), name) for _ in range(10)}
    assert found <= {"opened", "refused"}


def test_nothing_that_artwork_refers_to_outside_itself_is_fetched() -> None:
    heard: list[bytes] = []
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.2)
        url = f"http://127.0.0.1:{server.getsockname()[1]}/fetched"
        done = threading.Event()

        def listen() -> None:
            while not done.is_set():
                try:
                    server.accept()[0].close()
                    heard.append(b"somebody came")
                except TimeoutError:
                    continue

        listener = threading.Thread(target=listen)
        listener.start()
        try:
            files = {name: _TRAPS[name].replace(ELSEWHERE.encode(), url.encode()) for name in _OUTSIDE}
            files["base.svg"] = svg(f'<g xml:base="{url}"><image href="#a" width="9" height="9"/></g>')
            files["font.pdf"] = pdf(
                b"0 0 9 9 re f", page=b"/AA << /O << /S /URI /URI (%s) >> >>" % url.encode()
            )
            for name, data in files.items():
                outcome_here(data, name)
        finally:
            done.set()
            listener.join()
    assert heard == []


def outcome_here(data: bytes, name: str) -> None:
    try:
        imported = InProcess().imported(data, name)
        InProcess().picture(data, artwork_from(imported, "a1"), 64)
    except UnreadableArtwork:
        pass


def test_a_drawing_shows_no_file_of_this_machine(tmp_path: object) -> None:
    # The picture lies beside the drawing: a reader that follows file links would paint it red.
    from pathlib import Path

    from PIL import Image

    red = Path(str(tmp_path)) / "red.png"
    Image.new("RGB", (50, 50), "red").save(red)
    for link in (red.as_uri(), str(red), "red.png", f"url({red.as_uri()})"):
        drawing = svg(f'<image href="{link}" width="100" height="100"/><rect width="9" height="9"/>')
        drawn = InProcess().picture(drawing, artwork_from(InProcess().imported(drawing, "a.svg"), "a1"), 100)
        assert drawn.getpixel((50, 50)) == (0, 0, 0, 0)
