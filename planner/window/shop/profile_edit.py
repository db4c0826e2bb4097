"""The ICC profile of an offer's printer."""

from pathlib import Path

from planner.artwork.decoding import bytes_of
from planner.shop.offers import PrintProfile
from planner.window.asks import Asks
from planner.window.shop import words
from planner.window.shop.file_edit import FileEdit
from planner.window.shop.lens import Lens


class ProfileEdit(FileEdit):
    """Names the profile of the offer shown."""

    def __init__(self, lens: Lens, asks: Asks) -> None:
        super().__init__(
            lens,
            asks.profile_file,
            hint=words.PRINT_PROFILE_HINT,
            called_edit=words.change(words.PRINT_PROFILE),
        )

    def read(self, path: Path) -> PrintProfile:
        return self.decoder.print_profile(bytes_of(path), path.name)
