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
        name, _ = QFileDialog.getOpenFileName(parent, wording.REPLACE_FILE, "", wording.ARTWORK_FILES)
        return Path(name) if name else None

    def counts_file(self, parent: QWidget) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(parent, wording.IMPORT_COUNTS, "", wording.COUNT_FILES)
        return Path(name) if name else None

    def job_to_open(self, parent: QWidget) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(parent, wording.OPEN_JOB_TITLE, "", wording.job_files(SUFFIX))
        return Path(name) if name else None

    def job_to_save(self, parent: QWidget, suggested: Path) -> Path | None:
        name, _ = QFileDialog.getSaveFileName(
            parent, wording.SAVE_AS_TITLE, str(suggested), wording.job_files(SUFFIX)
        )
        if not name:
            return None
        path = Path(name)
        return path if path.suffix else path.with_suffix(SUFFIX)

    def jobs_folder(self, parent: QWidget, suggested: Path) -> Path | None:
        name = QFileDialog.getExistingDirectory(parent, wording.JOBS_FOLDER_TITLE, str(suggested))
        return Path(name) if name else None

    def folder_for_packet(self, parent: QWidget, suggested: Path) -> Path | None:
        name = QFileDialog.getExistingDirectory(parent, wording.EXPORT, str(suggested))
        return Path(name) if name else None

    def book_to_take(self, parent: QWidget) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(parent, wording.TAKE_BOOK, "", wording.shop_books(BOOK_SUFFIX))
        return Path(name) if name else None

    def book_to_give(self, parent: QWidget, suggested: Path) -> Path | None:
        name, _ = QFileDialog.getSaveFileName(
            parent, wording.GIVE_BOOK, str(suggested), wording.shop_books(BOOK_SUFFIX)
        )
        if not name:
            return None
        path = Path(name)
        return path if path.suffix else path.with_suffix(BOOK_SUFFIX)
