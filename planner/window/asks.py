"""Asks for files and folders by the platform's own dialogs; tests hand in answers instead."""

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from planner.storage.job_file import SUFFIX
from planner.storage.shop_book import SUFFIX as BOOK_SUFFIX
from planner.window import wording


class Asks:
    """Each question gives what was chosen, or nothing."""

    def artwork_files(self, parent: QWidget) -> tuple[Path, ...]:
        names, _ = QFileDialog.getOpenFileNames(parent, wording.CHOOSE_FILES, "", wording.ARTWORK_FILES)
        return tuple(Path(name) for name in names)

    def one_artwork_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.REPLACE_FILE, wording.ARTWORK_FILES)

    def counts_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.IMPORT_COUNTS, wording.COUNT_FILES)

    def job_to_open(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.OPEN_JOB_TITLE, wording.job_files(SUFFIX))

    def job_to_save(self, parent: QWidget, suggested: Path) -> Path | None:
        return _to_write(parent, wording.SAVE_AS_TITLE, suggested, wording.job_files(SUFFIX), SUFFIX)

    def jobs_folder(self, parent: QWidget, suggested: Path) -> Path | None:
        return _folder(parent, wording.JOBS_FOLDER_TITLE, suggested)

    def folder_for_packet(self, parent: QWidget, suggested: Path) -> Path | None:
        return _folder(parent, wording.EXPORT, suggested)

    def blanks_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.BLANKS_FILE, wording.BLANK_LISTS)

    def prices_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.PRICES_FILE, wording.PRICE_LISTS)

    def logo_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.LOGO_FILE, wording.LOGO_FILES)

    def profile_file(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.PROFILE_FILE, wording.PROFILE_FILES)

    def paper_to_save(self, parent: QWidget, suggested: Path) -> Path | None:
        return _to_write(parent, wording.SAVE_PAPER, suggested, wording.PDF_FILES, ".pdf")

    def book_to_take(self, parent: QWidget) -> Path | None:
        return _to_read(parent, wording.TAKE_BOOK, wording.shop_books(BOOK_SUFFIX))

    def book_to_give(self, parent: QWidget, suggested: Path) -> Path | None:
        return _to_write(parent, wording.GIVE_BOOK, suggested, wording.shop_books(BOOK_SUFFIX), BOOK_SUFFIX)


def _to_read(parent: QWidget, title: str, kinds: str) -> Path | None:
    name, _ = QFileDialog.getOpenFileName(parent, title, "", kinds)
    return Path(name) if name else None


def _to_write(parent: QWidget, title: str, suggested: Path, kinds: str, suffix: str) -> Path | None:
    """A place to write to; a name typed without a suffix gets one."""
    name, _ = QFileDialog.getSaveFileName(parent, title, str(suggested), kinds)
    if not name:
        return None
    path = Path(name)
    return path if path.suffix else path.with_suffix(suffix)


def _folder(parent: QWidget, title: str, suggested: Path) -> Path | None:
    name = QFileDialog.getExistingDirectory(parent, title, str(suggested))
    return Path(name) if name else None
