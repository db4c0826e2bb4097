"""How artwork comes in: chosen, pasted, dropped, or put in place of another file."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from planner.storage.job_file import SUFFIX
from planner.window import wording
from planner.window.artwork.panel import (
    ArtworkPanel,
    bytes_in,
    files_in,
    image_in,
    is_only_an_address,
    named_in,
)
from planner.window.asks import Asks
from planner.window.foot import Foot
from planner.window.intake import Intake


class Door:
    """Asks for files where none were handed over, and gives them to the intake."""

    def __init__(self, window: QWidget, asks: Asks, intake: Intake, panel: ArtworkPanel, foot: Foot) -> None:
        self._window, self._asks, self._intake = window, asks, intake
        self._panel, self._foot = panel, foot
        self._cursor_was: QWidget | None = None
        intake.taken.connect(self._taken)

    def take(self, paths: Sequence[Path], line: str | None = None) -> None:
        """Take files in, on a garment line where one is named; troubles of earlier files are forgotten."""
        self._panel.clear_troubles()
        self._intake.take_files(paths, line=line)

    def take_dropped(self, mime: QMimeData, open_job: Callable[[Path], object]) -> None:
        """Take what was dropped anywhere on the window: a job file is opened, all else is artwork."""
        jobs = [path for path in files_in(mime) if path.suffix == SUFFIX]
        if jobs:
            open_job(jobs[0])
            return
        self._panel.clear_troubles()
        if not self._take_from(mime):
            self._panel.show_trouble(self._why_nothing(mime))

    def _why_nothing(self, mime: QMimeData) -> str:
        named = named_in(mime)
        if any(path.is_dir() for path in named):
            return wording.empty_folder(next(path.name for path in named if path.is_dir()))
        return wording.file_gone(named[0].name) if named else wording.NO_PICTURE_IN_DROP

    def choose(self) -> None:
        """Take files that are asked for; the cursor goes to the first, unless somebody went on elsewhere."""
        self._cursor_was = QApplication.focusWidget()
        if paths := self._asks.artwork_files(self._window):
            self.take(paths)
        else:
            self._cursor_was = None

    def replace(self, artwork: str) -> None:
        """Put a chosen file behind an artwork."""
        if path := self._asks.one_artwork_file(self._window):
            self._intake.replace(artwork, path)

    def paste(self) -> None:
        """Take files or a picture from the clipboard."""
        mime = QGuiApplication.clipboard().mimeData()
        if mime is None or not self._take_from(mime):
            self._foot.warn(wording.NO_PICTURE_TO_PASTE)

    def _taken(self, keys: tuple[str, ...]) -> None:
        before, self._cursor_was = self._cursor_was, None
        if keys and before is not None and (before is QApplication.focusWidget() or not before.isVisible()):
            self._panel.take_to(keys[0], None)

    def _take_from(self, mime: QMimeData) -> bool:
        """Take files, or else the picture itself in whatever way it is handed over; whether there was any."""
        if files := files_in(mime):
            self.take(files)
        elif (written := bytes_in(mime)) is not None:
            self._intake.take_bytes(written)
        elif (image := image_in(mime)) is not None:
            self._intake.take_image(image)
        elif is_only_an_address(mime):
            self._panel.show_trouble(wording.ONLY_AN_ADDRESS)
        else:
            return False
        return True
