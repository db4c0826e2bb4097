"""The preview's long work: making a paper, drawing its pages, printing it; answers in the UI thread."""

from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrinter

from planner.artwork.decoding import Decoder
from planner.window.background import Background
from planner.window.gallery import as_image
from planner.window.preview.making import Made, Maker, Wanted, page_picture
from planner.window.preview.printing import print_pages
from planner.work.ticket import Cancelled, Ticket

MAKE, DRAW, THUMBS, PRINT = "preview paper", "preview pages", "preview list", "preview printing"
THUMB_PX = 104


class PreviewWork(QObject):
    """Runs one paper at a time; what belongs to an older one is dropped."""

    made = Signal(object)
    not_made = Signal(str, object)
    """Name of the paper, and the error."""
    drawn = Signal(int, object, float)
    """Page, picture, pixels to the point."""
    thumb_drawn = Signal(int, object)
    printing = Signal(int, int)
    """(0, 0) once it is over."""
    printed = Signal(int)
    not_printed = Signal(object)
    _page_drawn = Signal(object, int, object, float)
    """From the worker's thread; 0 pixels to the point: for the page list."""

    def __init__(
        self,
        background: Background,
        file_of: Callable[[str], bytes | None],
        decoder: Decoder | None = None,
    ) -> None:
        super().__init__()
        self._background = background
        self._maker = Maker(file_of, decoder)
        self._current: Made | None = None
        self._page_drawn.connect(self._take_page, Qt.ConnectionType.QueuedConnection)

    @property
    def current(self) -> Made | None:
        """The paper shown."""
        return self._current

    def make(self, wanted: Wanted) -> None:
        self._background.start(
            MAKE,
            lambda ticket: self._maker.make(wanted),
            done=self._take_made,
            failed=lambda error: self._failed(wanted.paper, error),
        )

    def draw(self, pages: tuple[int, ...], px_per_point: float) -> None:
        """Draw pages of the paper shown, the first first."""
        made = self._current
        if made is None:
            return

        def work(ticket: Ticket) -> None:
            for done, page in enumerate(pages):
                ticket.step(done, len(pages))
                image = as_image(page_picture(made.pdf, page, px_per_point))
                self._page_drawn.emit(made, page, image, px_per_point)

        self._background.start(DRAW, work, done=lambda nothing: None, failed=self._not_drawn)

    def print_with(self, printer: QPrinter) -> None:
        made = self._current
        if made is None:
            return

        def over(pages: int) -> None:
            self.printing.emit(0, 0)
            self.printed.emit(pages)

        def failed(error: Exception) -> None:
            self.printing.emit(0, 0)
            self.not_printed.emit(error)

        self.printing.emit(0, len(made.sizes))
        self._background.start(
            PRINT,
            lambda ticket: print_pages(made, printer, ticket),
            done=over,
            failed=failed,
            progressed=self.printing.emit,
        )

    def stop_printing(self) -> None:
        self._background.hurry(PRINT)

    def drop(self) -> None:
        """Stop all that belongs to the paper shown, printing excepted."""
        for lane in (MAKE, DRAW, THUMBS):
            self._background.stop(lane)

    def _take_made(self, made: Made) -> None:
        self._background.stop(DRAW)
        self._current = made
        self.made.emit(made)
        self._background.start(
            THUMBS,
            lambda ticket: self._draw_thumbs(made, ticket),
            done=lambda nothing: None,
            failed=self._not_drawn,
        )

    def _draw_thumbs(self, made: Made, ticket: Ticket) -> None:
        for page, (width, height) in enumerate(made.sizes):
            ticket.step(page, len(made.sizes))
            # Twice the size shown: screens of double density are common.
            picture = page_picture(made.pdf, page, 2 * THUMB_PX / max(width, height))
            self._page_drawn.emit(made, page, as_image(picture), 0.0)

    @Slot(object, int, object, float)
    def _take_page(self, made: Made, page: int, image: QImage, px_per_point: float) -> None:
        if made is not self._current:
            return
        if px_per_point:
            self.drawn.emit(page, image, px_per_point)
        else:
            self.thumb_drawn.emit(page, image)

    def _failed(self, paper: str, error: Exception) -> None:
        if not isinstance(error, Cancelled):
            self.not_made.emit(paper, error)

    def _not_drawn(self, error: Exception) -> None:
        if not isinstance(error, Cancelled) and self._current is not None:
            self.not_made.emit(self._current.paper, error)
