"""The shop's logo: chosen from a file, shown small, taken away again."""

from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QLabel

from planner.artwork.decoding import Decoder, bytes_of
from planner.artwork.read import UnreadableArtwork
from planner.job.logo import artwork_of
from planner.shop.book import Logo, Shop
from planner.window.asks import Asks
from planner.window.gallery import as_image
from planner.window.shop import words
from planner.window.shop.file_edit import FileEdit
from planner.window.shop.lens import WHOLE

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


class LogoEdit(FileEdit):
    """Shows the book's logo."""

    def __init__(self, asks: Asks) -> None:
        logo = WHOLE.at("letterhead").at("logo")
        super().__init__(logo, asks.logo_file, hint=words.LOGO_HINT, called_edit=words.CHANGE_LOGO)
        self._shown: str | None = None
        self.picture = QLabel()
        self.picture.setAccessibleName(words.LOGO)
        self.whole.insertWidget(0, self.picture, 0, Qt.AlignmentFlag.AlignLeft)

    def read(self, path: Path) -> Logo:
        return read_logo(path, self.decoder)

    def show_shop(self, shop: Shop) -> None:
        super().show_shop(shop)
        logo = shop.letterhead.logo
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
