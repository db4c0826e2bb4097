"""A part of the shop book that is read from a file: chosen, named, taken away again."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planner.artwork.decoding import Decoder, InProcess
from planner.artwork.read import UnreadableArtwork
from planner.shop.book import Shop
from planner.window import wording
from planner.window.look import GRID, RELATED
from planner.window.shop import words
from planner.window.shop.form import Complaint
from planner.window.shop.lens import Lens
from planner.window.widgets import button, column, label, row


class FileEdit(QWidget):
    """Names the part's file; `edited` carries the whole book after an edit and what to call it."""

    edited = Signal(object, str)

    def __init__(
        self, lens: Lens, ask: Callable[[QWidget], Path | None], *, hint: str, called_edit: str
    ) -> None:
        super().__init__()
        self._lens, self._ask, self._called_edit = lens, ask, called_edit
        self.decoder: Decoder = InProcess()
        self._shop: Shop | None = None
        self.name = label(quiet=True)
        self.choose = button(words.CHOOSE_FILE, self._choose, hint=hint)
        self.remove = button(words.REMOVE, lambda: self._put(None), role="link")
        self.complaint = Complaint()
        across = row(space=RELATED)
        for part in (self.choose, self.remove, self.name):
            across.addWidget(part)
        across.addStretch(1)
        self.whole = column(space=GRID)
        self.whole.addLayout(across)
        self.whole.addWidget(self.complaint)
        self.setLayout(self.whole)

    def read(self, path: Path) -> Any:
        """The part as the file has it, with a `name`.

        Raises:
            UnreadableArtwork: it is no such file, too large, or broken; a sentence.
            OSError: it cannot be read.
        """
        raise NotImplementedError

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        part = self._lens.get(shop)
        self.name.setText(part.name if part else words.NONE)
        self.remove.setVisible(part is not None)

    def _choose(self) -> None:
        path = self._ask(self)
        if path is None:
            return
        try:
            part = self.read(path)
        except UnreadableArtwork as error:
            self.complaint.say(str(error))
        except OSError as error:
            self.complaint.say(wording.unreadable_file(path.name, error))
        else:
            self._put(part)

    def _put(self, part: Any) -> None:
        self.complaint.say("")
        if self._shop is not None and part != self._lens.get(self._shop):
            self.edited.emit(self._lens.put(self._shop, part), self._called_edit)
