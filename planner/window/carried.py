"""What is dragged within the window, and the frame around where it may be dropped."""

import os

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QColor, QDrag, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from planner.window.look import tokens_of

_FORMAT = "application/x-artwork"


def carried(artwork: str) -> QMimeData:
    """An artwork of the job that this program has open, by key."""
    mime = QMimeData()
    # Another program's jobs have the same keys.
    mime.setData(_FORMAT, f"{os.getpid()} {artwork}".encode())
    return mime


def artwork_in(mime: QMimeData) -> str | None:
    """The key of the artwork that is dragged, None where something else is, or another program's."""
    process, _, artwork = bytes(mime.data(_FORMAT).data()).decode().partition(" ")
    return artwork if artwork and process == str(os.getpid()) else None


def carry(source: QWidget, artwork: str, picture: QPixmap) -> None:
    """Let a person drag an artwork until it is dropped."""
    drag = QDrag(source)
    drag.setMimeData(carried(artwork))
    drag.setPixmap(picture)
    drag.exec(Qt.DropAction.CopyAction)


def draw_drop_frame(widget: QWidget) -> None:
    """Show that what is dragged over the widget may be dropped; inside its paintEvent."""
    painter = QPainter(widget)
    painter.setPen(QPen(QColor(tokens_of(widget).accent), 2))
    painter.drawRect(widget.rect().adjusted(1, 1, -2, -2))
    painter.end()
