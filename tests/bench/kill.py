"""Whether work survives a kill: the real program edits a job, is killed at a random moment, and reopens it.

`python -m tests.bench.kill [--times N] [--seed S] [--json OUT]` forks the program with its modules loaded,
lets it open the job file as a person would, take up what was left behind, and edit on, a few edits a
second, now and then saving. Edits are numbered. An edit counts as acknowledged

- once the write of the recovery copy that holds it, or the save that holds it, returned, or
- two seconds after it was made, whether or not any write has returned.

SIGKILL comes at a random moment: in a third of the rounds within 40 ms after a write of the recovery copy or
of the file began, in a tenth while the program still starts, else any time within three seconds, early more
often than late. The next program must show the last acknowledged edit or a later one. `lost` counts the
rounds after which it does not, `unreadable` the files that could not be opened after a kill, `ended`
programs that ended unasked or did not come up.

POSIX only.
"""

import argparse
import os
import random
import selectors
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QPushButton

from planner.job.document import Artwork, Job
from planner.job.edits import set_fields
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, read_job, write_job
from planner.storage.recovery import Recovery
from planner.storage.reports import CRASH_NAME, log_folder
from planner.window import keeping_words, saving, start
from planner.window.main import MainWindow
from tests.bench.report import add_json_option, row, show
from tests.builders import a_job, an_artwork

ACKNOWLEDGED_AFTER_S = 2.0
_LONGEST_LIFE_S = 3.0
_SOON_AFTER_BEGIN_S = 0.04
_START_S = 60.0


@dataclass
class Life:
    """What one program told until it was killed."""

    shown: int | None = None
    """Number of the edit it showed when it was ready; None: killed before."""
    made: list[tuple[int, float]] = field(default_factory=list)
    safe: int = 0
    """The last edit that a returned write held."""
    ended: bool = False
    status: str = ""
    """How the system says it ended."""
    ends_at: float = 0.0
    """When it is to be killed."""

    def acknowledged(self, killed_at: float) -> int:
        aged = [number for number, at in self.made if at <= killed_at - ACKNOWLEDGED_AFTER_S]
        return max([self.safe, *aged])


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Kill the program at random moments and look for the work.")
    parser.add_argument("--times", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    add_json_option(parser)
    wanted = parser.parse_args(arguments)
    started = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="planner-kill-") as folder:
        found = _killed(Path(folder), wanted.times, random.Random(wanted.seed))
    seconds = time.monotonic() - started
    rows = [
        row("kills", name, found[name], seconds=seconds)
        for name in ("killed", "edits", "in a write", "lost", "unreadable", "ended")
    ]
    show(rows, wanted.json)
    return 1 if found["lost"] or found["unreadable"] or found["ended"] else 0


def _killed(folder: Path, times: int, dice: random.Random) -> Counter[str]:
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"):
        os.environ[name] = str(folder / name.lower())
    path = folder / f"job{SUFFIX}"
    write_job(path, *_first_job(dice))
    found: Counter[str] = Counter()
    acknowledged = 0
    for turn in range(times + 1):
        last = turn == times
        life, killed_at = _lived(path, dice, acknowledged, found, look_only=last)
        if life.ended:
            found["ended"] += 1
            said = "\n".join(
                f.read_text(errors="replace") for f in (_complaints(path), log_folder() / CRASH_NAME)
            )
            print(
                f"round {turn}: the program ended unasked or did not come up ({life.status})\n{said}",
                file=sys.stderr,
            )
        if life.shown is not None:
            if life.shown < acknowledged:
                found["lost"] += 1
                print(f"round {turn}: edit {acknowledged} was safe, {life.shown} came back", file=sys.stderr)
            acknowledged = life.shown
        acknowledged = max(acknowledged, life.acknowledged(killed_at))
        found["edits"] += len(life.made)
        found["killed"] += not last
        found["unreadable"] += _unreadable(path)
    return found


def _first_job(dice: random.Random) -> tuple[Job, dict[str, bytes]]:
    """A small job, and an artwork large enough that a copy takes many pages."""
    job, files = a_job()
    noise, data = an_artwork("a2", _noise(dice), (320, 320))
    return _numbered(job, 0, (*job.artworks, noise)), {**files, noise.sha256: data}


def _noise(dice: random.Random) -> bytes:
    import io

    from PIL import Image

    buffer = io.BytesIO()
    Image.frombytes("RGB", (320, 320), dice.randbytes(3 * 320 * 320)).save(buffer, "PNG")
    return buffer.getvalue()


def _numbered(job: Job, number: int, artworks: tuple[Artwork, ...] | None = None) -> Job:
    """The job as edit `number` leaves it: the number stands in two fields, so that a mixture shows."""
    fields = {} if artworks is None else {"artworks": artworks}
    return set_fields(job, title=str(number), note=f"{number} " + "x" * (number * 37 % 3000), **fields)


def _number_of(job: Job) -> int:
    return int(job.title) if job.note.split(" ")[0] == job.title else -1


def _unreadable(path: Path) -> int:
    """Files that do not open after a kill: the job file, and copies that were left behind."""
    count = 0
    copies = (Path(os.environ["XDG_DATA_HOME"]) / "transfer-job-planner" / "recovery").glob(f"[!.]*{SUFFIX}")
    for file in (path, *copies):
        try:
            read_job(file)
        except DocumentFileError as error:
            count += 1
            print(f"{file.name}: {error}", file=sys.stderr)
    return count


def _lived(
    path: Path, dice: random.Random, last_number: int, found: Counter[str], *, look_only: bool
) -> tuple[Life, float]:
    """Start the program, listen, kill it; what it told, and when it was killed."""
    listening, telling = os.pipe()
    seed = dice.randrange(2**32)
    pid = os.fork()
    if pid == 0:
        os.close(listening)
        _program(path, telling, random.Random(seed), look_only=look_only)
    os.close(telling)
    life = Life()
    manner = dice.random()
    while_starting = manner < 0.1 and not look_only
    in_a_write = 0.1 <= manner < 0.43
    life.ends_at = time.monotonic() + (dice.uniform(0, 0.4) if while_starting else _START_S)
    armed = False
    for at, word, number in _heard(listening, lambda: life.ends_at):
        if word == "end":
            life.ended = True
        elif word == "ready":
            life.shown = number
            if look_only:
                break
            if not while_starting:
                life.ends_at = at + 0.02 + _LONGEST_LIFE_S * dice.random() ** 2
        elif word == "made":
            life.made.append((number, at))
        elif word == "safe":
            life.safe = max(life.safe, number)
        elif word == "begin" and in_a_write and not armed and dice.random() < 0.4:
            armed = True
            found["in a write"] += 1
            life.ends_at = at + dice.uniform(0, _SOON_AFTER_BEGIN_S)
    # Taking up what was left behind writes too: such a write may end a program before it is up.
    is_stuck = life.shown is None and not (while_starting or armed or life.ended)
    # A program that does not come up is made to write down where each of its threads is.
    os.kill(pid, signal.SIGABRT if is_stuck else signal.SIGKILL)
    killed_at = time.monotonic()
    # What was told before the kill counts, even where it was still in the pipe.
    for _, word, number in _heard(listening, lambda: killed_at + 5):
        if word == "safe":
            life.safe = max(life.safe, number)
        if word == "end":
            break
    life.status = _in_words(os.waitpid(pid, 0)[1])
    os.close(listening)
    life.ended = life.ended or is_stuck
    return life, killed_at


def _complaints(path: Path) -> Path:
    """What a program says on its way, traces of crashes too."""
    return path.with_name("complaints.txt")


def _in_words(status: int) -> str:
    code = os.waitstatus_to_exitcode(status)
    return signal.Signals(-code).name if code < 0 else f"exit status {code}"


def _heard(pipe: int, ends_at: Callable[[], float]) -> Iterator[tuple[float, str, int]]:
    """Lines from the program as they come, until it is time; "end" where it closed the pipe."""
    rest = b""
    with selectors.DefaultSelector() as selector:
        selector.register(pipe, selectors.EVENT_READ)
        while (left_s := ends_at() - time.monotonic()) > 0:
            if not selector.select(left_s):
                return
            data = os.read(pipe, 65536)
            if not data:
                yield time.monotonic(), "end", 0
                return
            *lines, rest = (rest + data).split(b"\n")
            for line in lines:
                word, number = line.split()
                yield time.monotonic(), word.decode(), int(number)


def _program(path: Path, telling: int, dice: random.Random, *, look_only: bool) -> None:
    """The real program in this process, with somebody at it; never returns."""
    complaints = os.open(_complaints(path), os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    os.dup2(complaints, 1)
    os.dup2(complaints, 2)

    def tell(word: str, number: int) -> None:
        os.write(telling, f"{word} {number}\n".encode())

    keep, write = Recovery.keep, saving.write_job

    def kept(self: Recovery, job: Job, *rest: object) -> None:
        tell("begin", 0)
        keep(self, job, *rest)  # type: ignore[arg-type]
        tell("safe", _number_of(job))

    def written(to: Path, job: Job, *rest: object, **more: object) -> str:
        tell("begin", 0)
        save = write(to, job, *rest, **more)  # type: ignore[arg-type]
        tell("safe", _number_of(job))
        return save

    Recovery.keep = kept  # type: ignore[method-assign, assignment]
    saving.write_job = written  # type: ignore[assignment]
    QApplication(["planner"])
    hand = _Hand(tell, dice, look_only=look_only)
    QTimer.singleShot(0, hand.sit_down)
    try:
        start.run(path)
    except BaseException:
        traceback.print_exc()
    os._exit(0)


class _Hand:
    """Whoever sits at the program."""

    def __init__(self, tell: Callable[[str, int], None], dice: random.Random, *, look_only: bool) -> None:
        self._tell, self._dice, self._look_only = tell, dice, look_only
        self._number = 0

    def sit_down(self) -> None:
        """Take up what is offered, then start to edit."""
        there = next((w for w in QApplication.topLevelWidgets() if isinstance(w, MainWindow)), None)
        if there is None or there.desk.path is None:
            QTimer.singleShot(5, self.sit_down)
            return
        self._window = there
        # What was left behind is offered once the file is open.
        for button in self._window.foot.findChildren(QPushButton):
            if button.text() == keeping_words.TAKE_UP:
                button.click()
                break
        self._number = _number_of(self._window.desk.job)
        self._tell("ready", self._number)
        if not self._look_only:
            self._edit()

    def _edit(self) -> None:
        desk, what = self._window.desk, self._dice.random()
        if what < 0.12:
            self._window.cabinet.save(self._window)
        else:
            self._number += 1
            desk.apply("Edit", _numbered(desk.job, self._number))
            self._tell("made", self._number)
        QTimer.singleShot(self._dice.randrange(5, 250), self._edit)


if __name__ == "__main__":
    sys.exit(main())
