"""A file that brings its reader down costs a sentence, not the window."""

import os
import sys
import textwrap
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.artwork.decoding import InProcess, bytes_of
from planner.artwork.guarded import HIDDEN_ARGUMENT, Guarded, worker_environment
from planner.artwork.read import UnreadableArtwork, artwork_from
from planner.job.document import Artwork
from planner.job.fixes import QuarterTurn
from planner.work.ticket import Cancelled, Ticket
from tests.artwork.samples import encoded, logo

_NAMED = {
    b"crash": "os.abort()",
    b"crash once": "os.path.exists({flag!r}) or (open({flag!r}, 'w').close(), os.abort())",
    b"hang": "time.sleep(60)",
    b"bomb": "bytearray(1 << 45)",
    b"bug": "{}['nothing']",
    b"nonsense": "os.write(answers, b'\\xff' * 100)",
    b"print": "print('a library that talks')",
    b"variables": "refuse(sorted(os.environ))",
    b"write": "open({flag!r}, 'w').write('x' * 10)",
}


@pytest.fixture(scope="module")
def good() -> bytes:
    return encoded(logo())


@pytest.fixture(scope="module")
def guard() -> Iterator[Guarded]:
    guard = Guarded()
    guard.start()
    yield guard
    guard.close()


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("worker")


@pytest.fixture(scope="module")
def trapped(place: Path) -> Iterator[Guarded]:
    """A guard over the real worker, in which a file that holds one of `_NAMED` does what it says."""
    cases = {key: doing.replace("{flag!r}", repr(str(place / key.decode()))) for key, doing in _NAMED.items()}
    script = place / "trapped.py"
    script.write_text(
        textwrap.dedent(
            f"""
            import os, sys, time
            sys.path.insert(0, {str(Path(__file__).parents[2])!r})
            from planner.artwork import guard_worker, read
            from planner.artwork.read import UnreadableArtwork
            honest, answers = read.import_artwork, os.dup(1)
            def refuse(what):
                raise UnreadableArtwork(str(what))
            def trapped(data, name, page=0):
                doing = {cases!r}.get(data)
                return exec(doing, globals()) or honest(b"", name) if doing else honest(data, name)
            read.import_artwork = trapped
            sys.exit(guard_worker.main())
            """
        )
    )
    guard = Guarded(command=(sys.executable, str(script)), most_s=lambda size: 1.0)
    guard.start()
    yield guard
    guard.close()


def test_the_worker_tells_and_draws_exactly_what_this_process_would(guard: Guarded, good: bytes) -> None:
    here = InProcess()
    imported, facts = guard.import_measured(good, "logo.png")
    assert (imported, facts) == here.import_measured(good, "logo.png")
    assert guard.imported(good, "logo.png") == imported
    plain = artwork_from(imported, "a1")
    turned = Artwork.model_validate({**dict(plain), "fixes": (QuarterTurn(quarters=1),)})
    for artwork in (plain, turned):
        assert guard.measured(good, artwork) == here.measured(good, artwork)
        there = guard.picture(good, artwork, 200)
        assert there.size == here.picture(good, artwork, 200).size
        assert there.tobytes() == here.picture(good, artwork, 200).tobytes()


def test_what_cannot_be_used_is_refused_in_the_same_words(guard: Guarded) -> None:
    with pytest.raises(UnreadableArtwork) as there:
        guard.imported(b"8BPS" + bytes(100), "poster.psd")
    with pytest.raises(UnreadableArtwork) as here:
        InProcess().imported(b"8BPS" + bytes(100), "poster.psd")
    assert str(there.value) == str(here.value)


@pytest.mark.parametrize(
    ("file", "said"),
    [
        (b"crash", "break down"),
        (b"hang", "given up after"),
        (b"bomb", "too large to read safely"),
        (b"bug", "break down"),
        (b"nonsense", "break down"),
    ],
)
def test_a_file_that_does_harm_costs_a_sentence_and_the_next_file_is_read(
    trapped: Guarded, good: bytes, file: bytes, said: str
) -> None:
    with pytest.raises(UnreadableArtwork, match=said):
        trapped.imported(file, "bad.png")
    assert trapped.imported(good, "logo.png").width_px == 600


@pytest.mark.skipif(not hasattr(os, "fork"), reason="the limit on files is POSIX's")
def test_a_worker_cannot_write_files(trapped: Guarded, place: Path) -> None:
    with pytest.raises(UnreadableArtwork):
        trapped.imported(b"write", "bad.png")
    assert (place / "write").stat().st_size == 0


def test_a_file_is_not_blamed_for_a_worker_that_died_of_another(trapped: Guarded) -> None:
    # It breaks its reader down only once; the second reader takes it for an empty file.
    with pytest.raises(UnreadableArtwork, match="is empty"):
        trapped.imported(b"crash once", "fine.png")


def test_what_a_library_prints_does_not_land_in_the_answer(trapped: Guarded) -> None:
    with pytest.raises(UnreadableArtwork, match="is empty"):
        trapped.imported(b"print", "fine.png")


def test_the_worker_sees_hardly_any_of_the_environment(
    trapped: Guarded, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(UnreadableArtwork) as seen:
        trapped.imported(b"variables", "fine.png")
    assert "HOME" not in str(seen.value)
    monkeypatch.setenv("SHOP_SECRET", "1234")
    assert "SHOP_SECRET" not in worker_environment()


def test_a_stop_ends_the_work_within_three_tenths_of_a_second(trapped: Guarded, good: bytes) -> None:
    trapped.imported(good, "logo.png")
    ticket = Ticket()
    stopped_at: list[float] = []

    def stop() -> None:
        stopped_at.append(time.monotonic())
        ticket.stop()

    threading.Timer(0.3, stop).start()
    with pytest.raises(Cancelled):
        trapped.imported(b"hang", "endless.png", ticket)
    assert time.monotonic() - stopped_at[0] < 0.3
    assert trapped.imported(good, "logo.png").width_px == 600


def test_a_program_whose_worker_does_not_start_says_so(good: bytes) -> None:
    for command in ((sys.executable, "-c", "raise SystemExit(3)"), ("/nowhere/at/all",)):
        guard = Guarded(command=command)
        with pytest.raises(UnreadableArtwork, match="does not start"):
            guard.imported(good, "logo.png")
        guard.close()


def test_files_read_from_several_threads_get_their_own_answers(guard: Guarded) -> None:
    files = {f"{side}.png": encoded(logo(side, side)) for side in (40, 60, 80, 100)}
    seen: dict[str, int] = {}

    def read(name: str) -> None:
        seen[name] = guard.imported(files[name], name).width_px

    threads = [threading.Thread(target=read, args=(name,)) for name in files]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert seen == {"40.png": 40, "60.png": 60, "80.png": 80, "100.png": 100}


def test_the_hidden_argument_of_a_bundle_starts_the_worker(good: bytes) -> None:
    guard = Guarded(command=(sys.executable, "-m", "planner", HIDDEN_ARGUMENT))
    assert guard.imported(good, "logo.png").width_px == 600
    guard.close()


def test_a_file_larger_than_any_artwork_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "endless.png"
    with path.open("wb") as file:
        file.truncate(5_000_000_000)  # Sparse: it takes no room.
    with pytest.raises(UnreadableArtwork, match="5000 megabytes"):
        bytes_of(path)
    with pytest.raises(UnreadableArtwork, match="is no file"):
        bytes_of(tmp_path)
    with pytest.raises(FileNotFoundError):
        bytes_of(tmp_path / "gone.png")
