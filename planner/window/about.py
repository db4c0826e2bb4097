"""What the program is, its version, and under which licences its parts are."""

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices

from planner.shop.resources import resource
from planner.shop.version import VERSION
from planner.window import wording
from planner.window.foot import Choice, Foot


def show_about(foot: Foot) -> None:
    """Say it at the foot; a bundle carries the licences of its parts as one text to open."""
    licences = resource("licences.txt")
    choices: list[Choice] = [(wording.DISMISS, foot.clear)]
    if licences.is_file():
        address = QUrl.fromLocalFile(str(licences))
        choices.insert(0, (wording.LICENCES, lambda: QDesktopServices.openUrl(address)))
    foot.say(f"{wording.ABOUT_TEXT} {wording.version(VERSION)}", choices)
