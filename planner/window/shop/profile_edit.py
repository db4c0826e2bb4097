"""The ICC profile of an offer's printer: read from a file, named, taken away again."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder, InProcess, bytes_of
from planner.artwork.read import UnreadableArtwork
from planner.shop.book import Shop
from planner.shop.offers import PrintProfile
from planner.window.asks import Asks
from planner.window.look import GRID, RELATED
from planner.window.shop import words
from planner.window.shop.form import Complaint
from planner.window.shop.lens import Lens
from planner.window.widgets import button, column, label, row


class ProfileEdit(QWidget):
    """Names the profile of the offer shown; `edited` carries the whole book after an edit."""

    edited = Signal(object, str)

    def __init__(self, lens: Lens, asks: Asks) -> None:
        super().__init__()
        self._lens, self._asks = lens, asks
        self.decoder: Decoder = InProcess()
        self._shop: Shop | None = None
        self.name = label(quiet=True)
        self.choose = button(words.CHOOSE_FILE, self._choose, hint=words.PRINT_PROFILE_HINT)
        self.remove = button(words.REMOVE, lambda: self._put(None), role="link")
        self.complaint = Complaint()
        across = row(space=RELATED)
        for part in (self.choose, self.remove, self.name):
            across.addWidget(part)
        across.addStretch(1)
        whole = column(space=GRID)
        whole.addLayout(across)
        whole.addWidget(self.complaint)
        self.setLayout(whole)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        profile: PrintProfile | None = self._lens.get(shop)
        self.name.setText(profile.name if profile else words.NONE)
        self.remove.setVisible(profile is not None)

    def _choose(self) -> None:
        path = self._asks.profile_file(self)
        if path is None:
            return
        try:
            profile = self.decoder.print_profile(bytes_of(path), path.name)
        except UnreadableArtwork as error:
            self.complaint.say(str(error))
        except OSError as error:
            self.complaint.say(words.file_unreadable(path.name, error.strerror))
        else:
            self._put(profile)

    def _put(self, profile: PrintProfile | None) -> None:
        self.complaint.say("")
        if self._shop is not None and profile != self._lens.get(self._shop):
            self.edited.emit(self._lens.put(self._shop, profile), words.change(words.PRINT_PROFILE))
