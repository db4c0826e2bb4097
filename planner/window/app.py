"""The window with its real parts put together."""

import sys
import traceback
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from functools import partial
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QLocale, QSettings, QUrl
from PySide6.QtGui import QDesktopServices

from planner.artwork.guarded import Guarded
from planner.job.document import Job
from planner.shop.book import Shop
from planner.shop.starting import starting_shop
from planner.storage.document_file import DocumentFileError
from planner.storage.recovery import Recovery
from planner.storage.reports import start_log, write_report
from planner.storage.shop_book import open_shop_book, save_shop_book
from planner.window import wording
from planner.window.asks import Asks
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.firstrun import shop_of_locale
from planner.window.keeping import Keeping, Ways
from planner.window.main import MainWindow
from planner.window.start import SETTINGS
from planner.window.tidying import Tidying

_WORKERS = 2


class Sitting:
    """A shown window and everything behind it, from its first job to its end."""

    def __init__(self, path: Path | None = None, *, demo: bool = False) -> None:
        start_log()
        shop, trouble, first = _shop()
        self._background = Background(ThreadPoolExecutor(_WORKERS, thread_name_prefix="planner"))
        # A thread of its own: a save must not wait until a search or an export gives one back.
        self._saving = Background(ThreadPoolExecutor(1, thread_name_prefix="saving"))
        self._desk = Desk(Job(quoted_on=date.today()), shop)
        self._guard = Guarded()
        self.window = window = MainWindow(
            self._desk,
            self._background,
            settings=QSettings(*SETTINGS),
            asks=Asks(),
            today=date.today,
            save_shop=lambda book: None if trouble else _save_shop(window, book),
            decoder=self._guard,
            saving=self._saving,
        )
        sys.excepthook = said_and_go_on(window.foot.warn, write_report)
        self._keeping = kept_safe(window, Recovery())
        window.show()
        self._guard.start()
        if first and not trouble:
            window.first.say_guessed()
        self._begin(path, trouble, demo=demo)
        self._tidying = Tidying(window)
        self._tidying.start()

    def _begin(self, path: Path | None, trouble: str, *, demo: bool) -> None:
        """Lay the first job, and tell what was in the way or was left behind."""
        window = self.window
        if path is not None:
            window.cabinet.open_over(
                window,
                path,
                then=lambda: self._say_first(trouble),
                failed=lambda why: self._say_first(" ".join(filter(None, (trouble, why)))),
            )
            return
        if demo:
            window.cabinet.open_demo(window)
        self._say_first(trouble)

    def _say_first(self, trouble: str) -> None:
        if trouble:
            # One after the other: the foot has room for one.
            self.window.foot.warn(trouble, ((wording.DISMISS, self._keeping.offer_left_behind),))
        else:
            self._keeping.offer_left_behind()

    def open(self, path: Path) -> None:
        """Open a job file that was handed over from outside, once the open job is safe."""
        self.window.activateWindow()
        self.window.cabinet.open_over(self.window, path)

    def end(self) -> None:
        """The window was closed."""
        self._tidying.stop()
        self._keeping.close()
        self._guard.close()
        self._background.shut_down()
        self._saving.shut_down()
        self._desk.put_away()


def kept_safe(window: MainWindow, recovery: Recovery) -> Keeping:
    """What keeps the work of a window safe, and tells its cabinet who else has the open file."""
    cabinet = window.cabinet
    ways = Ways(
        lay=cabinet.lay,
        when_safe=partial(cabinet.when_safe, window),
        open=partial(cabinet.open_over, window),
    )
    keeping = Keeping(window.desk, window.foot, recovery, ways)
    cabinet.holder = lambda: keeping.holder
    cabinet.take_over = keeping.take_over
    return keeping


def said_and_go_on(
    warn: Callable[..., object],
    report: Callable[[BaseException], Path | None] = lambda error: None,
) -> Callable[[type[BaseException], BaseException, TracebackType | None], None]:
    """An exception hook that says a sentence in the window and the details on stderr; the job stays.

    Where `report` wrote something to send, the sentence tells of it and its folder can be opened.
    """

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        traceback.print_exception(kind, error, trace)
        if not isinstance(error, Exception):
            return
        path = report(error)
        if path is None:
            warn(wording.trouble(error))
        else:
            folder = QUrl.fromLocalFile(str(path.parent))
            show = (wording.OPEN_FOLDER, lambda: QDesktopServices.openUrl(folder))
            sentence = f"{wording.trouble(error)} {wording.report_written(path.name)}"
            warn(sentence, (show, (wording.DISMISS, lambda: None)))

    return hook


def _shop() -> tuple[Shop, str, bool]:
    """The shop book, or starting values and a sentence that says why; whether the book is a new one."""
    made: list[Shop] = []

    def fresh() -> Shop:
        made.append(shop_of_locale(starting_shop(), QLocale.system()))
        return made[0]

    try:
        return open_shop_book(fresh=fresh), "", bool(made)
    except DocumentFileError as error:
        return starting_shop(), str(error), False


def _save_shop(window: MainWindow, shop: Shop) -> None:
    try:
        save_shop_book(shop)
    except DocumentFileError as error:
        window.foot.warn(str(error))
