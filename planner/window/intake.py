"""Takes artwork files into the job: read and checked in the background, one undo step for all of a drop."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QObject, Signal
from PySide6.QtGui import QImage, QImageWriter

from planner.artwork.decoding import Decoder, InProcess, bytes_of
from planner.artwork.fixes import suggest_trim
from planner.artwork.read import Imported, UnreadableArtwork, artwork_from
from planner.artwork.refit import refitted
from planner.job import edits
from planner.job.document import Artwork, Job
from planner.job.fixes import FRAMING, Trim
from planner.shop.document import changed
from planner.window import steps, wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.gestures import with_print
from planner.window.likely_place import named_places
from planner.window.mending import drawn_finely
from planner.work.ticket import Cancelled, Ticket

LANE = "intake"


@dataclass(frozen=True, slots=True)
class Taken:
    """One file read, and what it turned out to be."""

    imported: Imported
    data: bytes


@dataclass(frozen=True, slots=True)
class Drop:
    """All files of one drop: those that can be used, and a sentence for each that cannot."""

    taken: tuple[Taken, ...]
    troubles: tuple[str, ...]
    left: int = 0
    """Files that were not read, because somebody stopped."""
    files: Mapping[str, Artwork] = field(default_factory=dict)
    """By the keys of artworks that the file is to replace: what comes in their place, fixes fitted."""


def read_files(files: Sequence[tuple[str, Callable[[], bytes]]], decoder: Decoder, ticket: Ticket) -> Drop:
    """Read and check files, given by name and a way to their bytes; once stopped, those read so far."""
    taken: list[Taken] = []
    troubles: list[str] = []
    for done, (name, read) in enumerate(files):
        try:
            ticket.step(done, len(files))
            data = read()
            taken.append(Taken(decoder.imported(data, name, ticket), data))
        except Cancelled:
            return Drop(tuple(taken), tuple(troubles), left=len(files) - done)
        except UnreadableArtwork as error:
            troubles.append(str(error))
        except OSError as error:
            troubles.append(wording.unreadable_file(name, error))
    return Drop(tuple(taken), tuple(troubles))


class Intake(QObject):
    """Brings files to the desk."""

    troubled = Signal(str)
    """A sentence for a file that cannot be used."""
    work_changed = Signal(str, str, int, int)
    """Which drop, what is being read, done and of; an empty name when all is read."""
    taken = Signal(object)
    """Keys of the artworks that came in (or were there already)."""
    told = Signal(str)
    """A sentence on what became of a drop: files that were there already, files left unread."""
    replacing = Signal(str, str)
    """Key of an artwork, and the SHA-256 of the file that is about to be put behind it."""

    def __init__(self, desk: Desk, background: Background, decoder: Decoder | None = None) -> None:
        super().__init__()
        self._desk = desk
        self._background = background
        self._decoder = decoder or InProcess()
        self._drops = 0

    def take_files(self, paths: Sequence[Path], *, line: str | None = None) -> None:
        """Take files in; with a garment line they are put on it right away."""
        files = [(path.name, partial(bytes_of, path)) for path in paths]
        self._start(files, lambda drop: self._add(drop, line))

    def take_image(self, image: QImage, name: str = wording.PASTED_PICTURE) -> None:
        """Take a picture that has no file: it is kept as PNG, with nothing lost."""
        self._start([(name, lambda: png_of(image))], lambda drop: self._add(drop, None))

    def take_bytes(self, data: bytes, name: str = wording.DROPPED_PICTURE) -> None:
        """Take a picture that has no file, in the very bytes it came in."""
        self._start([(name, lambda: data)], lambda drop: self._add(drop, None))

    def replace(self, artwork: str, path: Path) -> None:
        """Put another file behind an artwork; its prints and decisions stay, its fixes are fitted.

        Where prints were set apart, their artworks of the same file get the new one too.
        """
        shown = next((one for one in self._desk.job.artworks if one.key == artwork), None)
        if shown is None:
            return
        same = [
            one for one in self._desk.job.artworks if (one.sha256, one.page) == (shown.sha256, shown.page)
        ]

        def fitted(drop: Drop, ticket: Ticket) -> Drop:
            if not drop.taken:
                return drop
            taken = drop.taken[0]
            files = {one.key: self._fitted(one, taken.imported, taken.data, ticket) for one in same}
            return replace(drop, files=files)

        def take(drop: Drop) -> None:
            if self._replace(drop, same):
                return
            # Mended meanwhile: what was fitted is out of date.
            self.replace(artwork, path)

        self._start([(path.name, partial(bytes_of, path))], take, fitted)

    def take_page(self, artwork: str, page: int) -> None:
        """Print another page of an artwork's document; its prints keep their widths."""
        shown = self._desk.job.artwork(artwork)
        data = self._desk.artworks[shown.sha256]

        def read(ticket: Ticket) -> Artwork:
            imported = self._decoder.imported(data, shown.name, ticket, page=page)
            return self._fitted(shown, imported, data, ticket, page=page)

        def take(file: Artwork) -> None:
            self._desk.apply(steps.PAGE, edits.replace_file(self._desk.job, artwork, file))

        self._background.start(
            f"{LANE} page",
            read,
            done=take,
            failed=lambda error: self.troubled.emit(wording.trouble(error)),
        )

    def _fitted(
        self, before: Artwork, imported: Imported, data: bytes, ticket: Ticket, *, page: int = 0
    ) -> Artwork:
        """What comes in an artwork's place, with its fixes as the file needs them."""

        def trim_of(artwork: Artwork) -> Trim | None:
            return suggest_trim(self._decoder.measured(data, artwork, ticket))

        file = changed(artwork_from(imported, before.key), page=page)
        in_pixels = file.vector and not all(isinstance(fix, FRAMING) for fix in before.fixes)
        if in_pixels:
            file = drawn_finely(self._desk.job, file)
        fitted = changed(file, fixes=refitted(before, file, trim_of))
        # Only now is it known how much of the page the trims leave.
        return drawn_finely(self._desk.job, fitted) if in_pixels else fitted

    def _start(
        self,
        files: Sequence[tuple[str, Callable[[], bytes]]],
        done: Callable[[Drop], None],
        then: Callable[[Drop, Ticket], Drop] = lambda drop, ticket: drop,
    ) -> None:
        self._drops += 1
        # A lane for each drop: a second one must not stop the first.
        lane = f"{LANE} {self._drops}"

        def finished(drop: Drop) -> None:
            self.work_changed.emit(lane, "", 0, 0)
            for sentence in drop.troubles:
                self.troubled.emit(sentence)
            done(drop)
            if drop.left:
                self.told.emit(wording.stopped_reading(len(drop.taken), drop.left))

        def failed(error: Exception) -> None:
            self.work_changed.emit(lane, "", 0, 0)
            if isinstance(error, Cancelled):
                self.told.emit(wording.stopped_reading(0, len(files)))
            else:
                self.troubled.emit(wording.trouble(error))

        def progressed(at: int, of: int) -> None:
            if of != len(files):  # Steps of measuring, which are not told.
                return
            self.work_changed.emit(lane, wording.reading(files[at][0], at + 1, of), at, of)

        self.work_changed.emit(lane, wording.reading(files[0][0], 1, len(files)), 0, len(files))
        self._background.start(
            lane,
            lambda ticket: then(read_files(files, self._decoder, ticket), ticket),
            done=finished,
            failed=failed,
            progressed=progressed,
        )

    def stop(self, lane: str) -> bool:
        """Stop reading a drop's files and take those that are read; whether it is one of ours."""
        if not lane.startswith(LANE):
            return False
        self._background.hurry(lane)
        return True

    def _add(self, drop: Drop, line: str | None) -> None:
        job, keys = self._desk.job, []
        there, twice = {artwork.sha256 for artwork in job.artworks}, []
        for taken in drop.taken:
            if taken.imported.sha256 in there:
                twice.append(taken.imported.name)
            there.add(taken.imported.sha256)
            self._desk.artworks[taken.imported.sha256] = taken.data
            job, key = with_artwork(job, taken.imported)
            keys.append(key)
        if line is not None and any(one.key == line for one in job.lines):
            # What says where it goes is put there, before others take what is free.
            for key in sorted(keys, key=lambda key: not named_places(job.artwork(key).name)):
                job = with_print(job, key, line, self._desk.shop.usual_widths)
        step = steps.ADD_PRINT if line else steps.ADD_ARTWORK
        self._desk.apply(step, job)
        self.taken.emit(tuple(keys))
        if twice:
            self.told.emit(wording.there_already(twice))

    def _replace(self, drop: Drop, same: Sequence[Artwork]) -> bool:
        """Put the file behind these artworks; False where one of them is another one by now."""
        job = self._desk.job
        there = [one for one in same if any(artwork.key == one.key for artwork in job.artworks)]
        if any(job.artwork(one.key).fixes != one.fixes for one in there):
            return False
        for taken in drop.taken[:1]:
            self._desk.artworks[taken.imported.sha256] = taken.data
            for one in there:
                self.replacing.emit(one.key, taken.imported.sha256)
                job = edits.replace_file(job, one.key, drop.files[one.key])
            self._desk.apply(steps.REPLACE, job)
        return True


def with_artwork(job: Job, imported: Imported) -> tuple[Job, str]:
    """The job with an artwork, and its key: the one it had where the same file is there already."""
    artwork = artwork_from(imported, edits.next_key(job, "a"))
    job = edits.add_artwork(job, artwork)
    alike = (artwork.sha256, artwork.page)
    key = next(known.key for known in job.artworks if (known.sha256, known.page) == alike)
    return job, key


def png_of(image: QImage) -> bytes:
    """A picture as PNG."""
    bytes_ = QByteArray()
    buffer = QBuffer(bytes_)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, QByteArray(b"png")).write(image)
    return bytes(bytes_.data())
