"""The pages of a document, with their pictures, to choose the one that is printed."""

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPixmap, QShowEvent
from PySide6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from planner.job.document import Artwork
from planner.shop.document import changed
from planner.window.artwork import words
from planner.window.gallery import Gallery
from planner.window.look import APART, GRID, tokens_of
from planner.window.widgets import column, label

_SIDE = 24 * GRID
_ACROSS = 3


class PageList(QWidget):
    """Pictures come as they are made, those in view first of all; a click or Enter takes a page."""

    chosen = Signal(int)
    """Which page, from 0."""

    def __init__(self, gallery: Gallery, artwork: Artwork) -> None:
        super().__init__()
        self._gallery, self._artwork = gallery, artwork
        self.pages = QListWidget()
        self.pages.setAccessibleName(words.PAGES)
        self.pages.setViewMode(QListView.ViewMode.IconMode)
        self.pages.setMovement(QListView.Movement.Static)
        self.pages.setResizeMode(QListView.ResizeMode.Adjust)
        self.pages.setUniformItemSizes(True)
        self.pages.setIconSize(QSize(_SIDE, _SIDE))
        self.pages.setGridSize(QSize(_SIDE + 4 * GRID, _SIDE + 8 * GRID))
        self.pages.setFixedSize(_ACROSS * (_SIDE + 4 * GRID) + 6 * GRID, 2 * (_SIDE + 8 * GRID) + 2 * GRID)
        self._told = label(words.COUNTING_PAGES, quiet=True)
        whole = column(space=GRID, edge=APART)
        whole.addWidget(self._told)
        whole.addWidget(self.pages)
        self.setLayout(whole)
        self.pages.itemClicked.connect(self._take)
        self.pages.itemActivated.connect(self._take)
        self.pages.verticalScrollBar().valueChanged.connect(self._show_pictures)
        gallery.pictures_changed.connect(self._show_pictures)
        gallery.count_pages(artwork, self._show_pages)

    def _show_pages(self, count: int) -> None:
        self._told.setText(words.pages_of(self._artwork.name, count))
        for at in range(count):
            item = QListWidgetItem(_framed(None, tokens_of(self).canvas), words.page(at + 1))
            item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter)
            self.pages.addItem(item)
        self.pages.setCurrentRow(min(self._artwork.page, count - 1))
        self._show_pictures()

    def _show_pictures(self) -> None:
        """Only of pages in view: a book has hundreds."""
        if not self.isVisible():
            return
        view = self.pages.viewport().rect()
        for at in range(self.pages.count()):
            item = self.pages.item(at)
            if not view.intersects(self.pages.visualItemRect(item)):
                continue
            page = changed(self._artwork, page=at, fixes=())
            image = self._gallery.picture(page, _SIDE)
            if image is not None and item.data(Qt.ItemDataRole.UserRole) is None:
                item.setIcon(_framed(image, tokens_of(self).canvas))
                item.setData(Qt.ItemDataRole.UserRole, True)

    def _take(self, item: QListWidgetItem) -> None:
        # Some systems both click and activate with one press.
        self.pages.blockSignals(True)
        self.chosen.emit(self.pages.row(item))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._show_pictures()


def _framed(image: QImage | None, ground: str) -> QIcon:
    """A page in the middle of a square, so that all pages stand in line."""
    square = QPixmap(_SIDE, _SIDE)
    square.fill(QColor(ground))
    if image is not None:
        small = image.scaled(
            square.size(), Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
        )
        painter = QPainter(square)
        painter.drawImage((_SIDE - small.width()) // 2, (_SIDE - small.height()) // 2, small)
        painter.end()
    return QIcon(square)
