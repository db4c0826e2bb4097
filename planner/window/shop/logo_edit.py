"""The shop's logo: chosen from a file, shown small, taken away again."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel, QWidget

from planner.artwork.decoding import Decoder, InProcess, bytes_of
from planner.artwork.read import UnreadableArtwork
from planner.job.logo import artwork_of
from planner.shop.book import Logo, Shop
from planner.shop.document import changed
from planner.window.asks import Asks
from planner.window.gallery import as_image
from planner.window.look import GRID, RELATED
from planner.window.shop import words
from planner.window.shop.form import Complaint
from planner.window.widgets import button, column, label, row

MOST_BYTES = 5_000_000
_SHOWN = QSize(240, 64)
_MEDIA = ("image/png", "image/jpeg", "image/svg+xml")


def read_logo(path: Path, decoder: Decoder) -> Logo:
    """The logo in a file.

    Raises:
        UnreadableArtwork: it is no PNG, JPEG or SVG, too large, or broken; a sentence.
        OSError: it cannot be read.
    """
    data = bytes_of(path)
    if len(data) > MOST_BYTES:
        raise UnreadableArtwork(words.logo_too_large(path.name))
    read = decoder.imported(data, path.name)
    if read.media not in _MEDIA:
        raise UnreadableArtwork(words.no_logo(path.name))
    return Logo.model_validate(
        {
            "name": path.name[:255],
            "sha256": read.sha256,
            "media": read.media,
            "width_px": read.width_px,
            "height_px": read.height_px,
            "vector": read.vector,
            "data": data,
        }
    )


class LogoEdit(QWidget):
    """Shows the book's logo; `edited` carries the whole book after an edit."""

    edited = Signal(object, str)

    def __init__(self, asks: Asks) -> None:
        super().__init__()
        self._asks = asks
        self.decoder: Decoder = InProcess()
        self._shop: Shop | None = None
        self._shown: str | None = None
        self.picture = QLabel()
        self.picture.setAccessibleName(words.LOGO)
        self.name = label(quiet=True)
        self.choose = button(words.CHOOSE_FILE, self._choose, hint=words.LOGO_HINT)
        self.remove = button(words.REMOVE, lambda: self._put(None), role="link")
        self.complaint = Complaint()
        across = row(space=RELATED)
        for part in (self.choose, self.remove, self.name):
            across.addWidget(part)
        across.addStretch(1)
        whole = column(space=GRID)
        whole.addWidget(self.picture, 0, Qt.AlignmentFlag.AlignLeft)
        whole.addLayout(across)
        whole.addWidget(self.complaint)
        self.setLayout(whole)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        logo = shop.letterhead.logo
        self.name.setText(logo.name if logo else words.NONE)
        self.remove.setVisible(logo is not None)
        self.picture.setVisible(logo is not None)
        if logo is not None and logo.sha256 != self._shown:
            self._show_picture(logo)
        self._shown = logo.sha256 if logo else None

    def _show_picture(self, logo: Logo) -> None:
        try:
            drawn = as_image(self.decoder.picture(logo.data, artwork_of(logo), _SHOWN.width()))
        except UnreadableArtwork as error:
            self.complaint.say(str(error))
            return
        keep, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
        self.picture.setPixmap(QPixmap.fromImage(drawn.scaled(_SHOWN, keep, smooth)))

    def _choose(self) -> None:
        path = self._asks.logo_file(self)
        if path is None:
            return
        try:
            logo = read_logo(path, self.decoder)
        except UnreadableArtwork as error:
            self.complaint.say(str(error))
        except OSError as error:
            self.complaint.say(words.file_unreadable(path.name, error.strerror))
        else:
            self._put(logo)

    def _put(self, logo: Logo | None) -> None:
        self.complaint.say("")
        if self._shop is not None and logo != self._shop.letterhead.logo:
            head = changed(self._shop.letterhead, logo=logo)
            self.edited.emit(changed(self._shop, letterhead=head), words.CHANGE_LOGO)
