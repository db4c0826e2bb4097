"""Pictures of the job's artwork and what was measured of it, fetched in the background, kept by content."""

from collections.abc import Callable

from PIL import Image
from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from planner.artwork.decoding import Decoder, InProcess
from planner.artwork.facts import ArtworkFacts
from planner.artwork.source import SourceNote
from planner.job.document import Artwork, Job
from planner.job.fixes import FixStep
from planner.window.background import Background
from planner.work.ticket import Ticket

_Content = tuple[str, int, tuple[FixStep, ...]]
_STEPS_PX = (256, 512, 1024, 2048, 4096)
"""Sizes pictures are kept at: zooming must not fetch one for every step."""
_TRIAL = "trial picture"
_PAGES = "document pages"
_MOST_KEPT_PX = 120_000_000
"""Pixels of pictures kept at once; past that the largest go first."""


def content_of(artwork: Artwork) -> _Content:
    """What a picture depends on: the file, its page and the fixes, not its name or place in the job."""
    return artwork.sha256, artwork.page, artwork.fixes


def as_image(made: Image.Image) -> QImage:
    """A picture of the artwork code as one that Qt draws, with pixels of its own."""
    rgba = made if made.mode == "RGBA" else made.convert("RGBA")
    data = rgba.tobytes()
    shared = QImage(data, rgba.width, rgba.height, 4 * rgba.width, QImage.Format.Format_RGBA8888)
    return shared.convertToFormat(QImage.Format.Format_ARGB32_Premultiplied)


def _step_for(most_px: int) -> int:
    """The size to keep a picture at where so many pixels are needed."""
    return next((step for step in _STEPS_PX if step >= most_px), _STEPS_PX[-1])


class Gallery(QObject):
    """Hands out what it has at once and tells when there is more."""

    pictures_changed = Signal()
    facts_changed = Signal()
    troubled = Signal(object, object)
    """An artwork, and the error that reading it raised."""

    def __init__(
        self,
        background: Background,
        file_of: Callable[[str], bytes | None],
        decoder: Decoder | None = None,
    ) -> None:
        super().__init__()
        self._decoder = decoder or InProcess()
        self._background = background
        self._file_of = file_of
        self._pictures: dict[_Content, dict[int, QImage]] = {}
        self._facts: dict[_Content, ArtworkFacts] = {}
        self._failed: set[_Content] = set()
        self._tried: tuple[_Content, int] | None = None

    def picture(self, artwork: Artwork, most_px: int) -> QImage | None:
        """The artwork with its fixes, at least `most_px` on its longer side if it has them.

        A smaller one, or None, while that is being made; `pictures_changed` follows.
        """
        content = content_of(artwork)
        wanted = _step_for(most_px)
        kept = self._pictures.setdefault(content, {})
        enough = [size for size in sorted(kept) if size >= wanted]
        if enough:
            return kept[enough[0]]
        self._fetch(artwork, wanted)
        return kept[max(kept)] if kept else None

    def trial(self, artwork: Artwork, most_px: int) -> QImage | None:
        """As `picture`, of fixes that are still being chosen: newer ones stop the work on older ones."""
        content = content_of(artwork)
        kept = self._pictures.setdefault(content, {})
        wanted = _step_for(most_px)
        under_way = self._background.is_busy(_TRIAL) and self._tried == (content, wanted)
        if not under_way and not any(size >= wanted for size in kept):
            self._background.stop(_TRIAL)
            self._tried = content, wanted
            self._fetch(artwork, wanted, _TRIAL)
        return kept[max(kept)] if kept else None

    def end_trial(self) -> None:
        """Nobody wants to see the fixes tried last any more."""
        self._background.stop(_TRIAL)

    def facts(self, job: Job) -> dict[str, ArtworkFacts]:
        """What is known so far of the job's artworks by their keys; measuring the others starts."""
        known = {}
        for artwork in job.artworks:
            content = content_of(artwork)
            if content in self._facts:
                known[artwork.key] = self._facts[content]
            else:
                self._measure(artwork)
        return known

    def has_more_pages(self, artwork: Artwork) -> bool:
        """Whether its file is known to hold other pages than the one that is printed."""
        facts = self._facts.get(content_of(artwork))
        return facts is not None and SourceNote.MORE_PAGES in facts.notes

    def known(self, artwork: Artwork) -> ArtworkFacts | None:
        """What was measured of it; None while that is still being done."""
        return self._facts.get(content_of(artwork))

    def count_pages(self, artwork: Artwork, done: Callable[[int], object]) -> None:
        """Find out how many pages the artwork's document has."""
        data = self._file_of(artwork.sha256)
        if data is not None:
            self._background.start(
                _PAGES,
                lambda ticket: self._decoder.imported(data, artwork.name, ticket, page=artwork.page),
                done=lambda imported: done(imported.page_count),
                failed=lambda error: self.troubled.emit(artwork, error),
            )

    def is_measuring(self, artwork: Artwork) -> bool:
        content = content_of(artwork)
        return content not in self._facts and content not in self._failed

    def unreadable(self, job: Job) -> tuple[str, ...]:
        """Names of artworks that could not be read: papers must not try them in this process."""
        return tuple(artwork.name for artwork in job.artworks if content_of(artwork) in self._failed)

    def file_that_reads(self, sha256: str) -> bytes | None:
        """A file's bytes, unless reading it failed."""
        if any(failed[0] == sha256 for failed in self._failed):
            return None
        return self._file_of(sha256)

    def _fetch(self, artwork: Artwork, most_px: int, lane: str = "") -> None:
        content = content_of(artwork)
        lane = lane or f"picture {hash(content)}"
        data = self._file_of(artwork.sha256)
        if data is None or content in self._failed or self._background.is_busy(lane):
            return

        def work(ticket: Ticket) -> QImage:
            return as_image(self._decoder.picture(data, artwork, most_px, ticket))

        def done(image: QImage) -> None:
            self._pictures.setdefault(content, {})[most_px] = image
            self._make_room(content)
            self.pictures_changed.emit()

        self._background.start(lane, work, done=done, failed=lambda error: self._fail(artwork, error))

    def _measure(self, artwork: Artwork) -> None:
        content = content_of(artwork)
        lane = f"measure {hash(content)}"
        data = self._file_of(artwork.sha256)
        if data is None or content in self._failed or self._background.is_busy(lane):
            return

        def done(facts: ArtworkFacts) -> None:
            self._facts[content] = facts
            self.facts_changed.emit()

        self._background.start(
            lane,
            lambda ticket: self._decoder.measured(data, artwork, ticket),
            done=done,
            failed=lambda error: self._fail(artwork, error),
        )

    def _fail(self, artwork: Artwork, error: Exception) -> None:
        content = content_of(artwork)
        if content not in self._failed:
            self._failed.add(content)
            self.troubled.emit(artwork, error)

    def _make_room(self, newest: _Content) -> None:
        """Drop the largest pictures until the rest fits; the one just made stays."""
        every = [
            (image.width() * image.height(), content, size)
            for content, kept in self._pictures.items()
            for size, image in kept.items()
        ]
        total = sum(pixels for pixels, _, _ in every)
        for pixels, content, size in sorted(every, key=lambda one: -one[0]):
            if total <= _MOST_KEPT_PX:
                return
            if content != newest:
                del self._pictures[content][size]
                total -= pixels
