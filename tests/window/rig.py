"""A whole window for tests: answers instead of dialogs, a temporary folder, work at once or on threads."""

from collections.abc import Callable
from concurrent.futures import Executor, Future
from pathlib import Path
from typing import Any

from PySide6.QtCore import QByteArray, QMimeData, QPoint, QPointF, QSettings, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from planner.job.document import Job
from planner.shop.book import Shop
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.gestures import Gestures
from planner.window.main import MainWindow
from tests.builders import A_DAY, a_shop


class AtOnce(Executor):
    """Runs work where it is submitted: no threads, the same order every time."""

    def submit(self, work: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_result(work(*args, **kwargs))
        return future


class Held(Executor):
    """Does nothing of what is asked until it is let go."""

    def __init__(self) -> None:
        self._held: list[Callable[[], Any]] = []

    def submit(self, work: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self._held.append(lambda: work(*args, **kwargs))
        return Future()

    def let_go(self) -> None:
        held, self._held = self._held, []
        for work in held:
            work()
        QApplication.processEvents()


class Answers(Asks):
    """Answers to the questions a dialog would ask."""

    def __init__(self) -> None:
        self.files: tuple[Path, ...] = ()
        self.counts: Path | None = None
        self.open: Path | None = None
        self.save: Path | None = None
        self.folder: Path | None = None
        self.book: Path | None = None
        self.blanks: Path | None = None
        self.prices: Path | None = None
        self.logo: Path | None = None
        self.profile: Path | None = None

    def artwork_files(self, parent: QWidget) -> tuple[Path, ...]:
        return self.files

    def one_artwork_file(self, parent: QWidget) -> Path | None:
        return self.files[0] if self.files else None

    def counts_file(self, parent: QWidget) -> Path | None:
        return self.counts

    def job_to_open(self, parent: QWidget) -> Path | None:
        return self.open

    def job_to_save(self, parent: QWidget, suggested: Path) -> Path | None:
        return self.save

    def blanks_file(self, parent: QWidget) -> Path | None:
        return self.blanks

    def prices_file(self, parent: QWidget) -> Path | None:
        return self.prices

    def logo_file(self, parent: QWidget) -> Path | None:
        return self.logo

    def profile_file(self, parent: QWidget) -> Path | None:
        return self.profile

    def book_to_take(self, parent: QWidget) -> Path | None:
        return self.book

    def book_to_give(self, parent: QWidget, suggested: Path) -> Path | None:
        return self.book

    def folder_for_packet(self, parent: QWidget, suggested: Path) -> Path | None:
        return self.folder


class Rig:
    """A shown main window and everything it was given."""

    def __init__(
        self, executor: Executor, folder: Path, job: Job | None = None, *, saving: Executor | None = None
    ) -> None:
        self.answers = Answers()
        self.saved_shops: list[Shop] = []
        self.background = Background(executor)
        self.saving = Background(saving) if saving else self.background
        self.desk = Desk(job or Job(quoted_on=A_DAY), a_shop())
        self.settings = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
        # These tests are about other things than the shop's name and rates.
        self.settings.setValue("letterhead and rates settled", "true")
        self.window = self.new_window()

    def new_window(self) -> MainWindow:
        return MainWindow(
            self.desk,
            self.background,
            settings=self.settings,
            asks=self.answers,
            today=lambda: A_DAY,
            save_shop=self.saved_shops.append,
            saving=self.saving,
        )

    def gestures(self) -> Gestures:
        return self.window.gestures

    def settle(self, qtbot: Any) -> None:
        """Wait until nothing runs and every answer was taken."""
        qtbot.waitUntil(self._is_idle, timeout=20_000)
        QApplication.processEvents()
        qtbot.waitUntil(self._is_idle, timeout=20_000)

    def _is_idle(self) -> bool:
        return self.background.is_idle() and not self.window.questions.is_held_up

    def close(self, qtbot: Any) -> None:
        self.window.questions.drop()
        self.background.stop_all()
        qtbot.waitUntil(self.background.is_idle, timeout=20_000)
        self.background.shut_down()
        self.saving.shut_down()
        self.desk.put_away()


def typed(field: QWidget, text: str, *, end: Qt.Key | None = Qt.Key.Key_Return) -> None:
    """Replace what a field holds by typing, as a person does."""
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(field, text)
    if end is not None:
        QTest.keyClick(field, end)


def click(widget: QWidget) -> None:
    QTest.mouseClick(widget, Qt.MouseButton.LeftButton)


def pick(menu: QMenu, name: str) -> None:
    """Choose a menu's entry by its text."""
    if not menu.isVisible():
        menu.aboutToShow.emit()
    action = next(action for action in menu.actions() if name in action.text().replace("&", ""))
    action.trigger()
    menu.close()


def drop_files(widget: QWidget, paths: list[Path]) -> None:
    """Drop files on a widget as a file manager does."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    drop(widget, mime)


def drop(widget: QWidget, mime: QMimeData) -> None:
    at = widget.rect().center()
    action, button, key = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    QApplication.sendEvent(widget, QDragEnterEvent(QPoint(at), action, mime, button, key))
    QApplication.sendEvent(widget, QDropEvent(QPointF(at), action, mime, button, key))


def png_in(folder: Path, name: str, data: bytes) -> Path:
    path = folder / name
    path.write_bytes(data)
    return path


def same_bytes(state: QByteArray) -> bytes:
    return bytes(state.data())
