"""A paper on a printer: pages at their true size, drawn off the UI thread."""

from collections.abc import Callable

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QWidget

from planner.window.gallery import as_image
from planner.window.preview.making import Made, page_picture
from planner.work.ticket import Ticket

_MOST_DPI = 300
"""Finer than that an office printer gains nothing, and pages take long to send."""

AskPrinter = Callable[[QPrinter, int, QWidget], bool]
"""Lets a person set a printer up for so many pages; tells whether to print."""


class PrinterRefused(Exception):
    """The printer did not take a page."""


def ask_printer(printer: QPrinter, pages: int, parent: QWidget) -> bool:
    """The system's own print dialog."""
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, pages)
    return bool(dialog.exec() == QPrintDialog.DialogCode.Accepted)


def printer_for(made: Made, title: str) -> QPrinter:
    """A printer set to the paper's own page size, without margins: guides must come out at true size."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setPageLayout(_layout(made.sizes[0]))
    printer.setFullPage(True)
    return printer


def pages_asked_for(printer: QPrinter, pages: int) -> range:
    """The pages that the dialog was asked to print, from 0."""
    first, last = printer.fromPage(), printer.toPage()
    if printer.printRange() is not QPrinter.PrintRange.PageRange or first == 0:
        return range(pages)
    return range(first - 1, min(last, pages))


def print_pages(made: Made, printer: QPrinter, ticket: Ticket) -> int:
    """Draw the pages asked for; gives how many.

    Raises:
        PrinterRefused: the printer could not be opened or did not take a page.
        Cancelled: the ticket was stopped; pages sent until then are printed.
    """
    asked = pages_asked_for(printer, len(made.sizes))
    painter = QPainter()
    # Page after page: the first one's size must be set before the printer starts.
    if asked:
        printer.setPageLayout(_layout(made.sizes[asked[0]]))
    if not asked or not painter.begin(printer):
        raise PrinterRefused
    try:
        for done, number in enumerate(asked):
            ticket.step(done, len(asked))
            if done:
                printer.setPageLayout(_layout(made.sizes[number]))
                if not printer.newPage():
                    raise PrinterRefused
            _draw_page(painter, printer, made, number)
    finally:
        painter.end()
    return len(asked)


def _draw_page(painter: QPainter, printer: QPrinter, made: Made, number: int) -> None:
    width, height = made.sizes[number]
    dots = printer.resolution() / 72
    image = as_image(page_picture(made.pdf, number, min(printer.resolution(), _MOST_DPI) / 72))
    painter.drawImage(QRectF(0, 0, width * dots, height * dots), image)


def _layout(size: tuple[float, float]) -> QPageLayout:
    width, height = size
    upright = QPageSize(QSizeF(min(size), max(size)), QPageSize.Unit.Point)
    way = QPageLayout.Orientation.Landscape if width > height else QPageLayout.Orientation.Portrait
    return QPageLayout(upright, way, QMarginsF(0, 0, 0, 0))
