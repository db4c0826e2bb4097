"""Only the page in front follows every edit; one behind it catches up before it is seen."""

from functools import partial

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from planner.window.pages import Pages
from tests.window.rig import Rig


class _Page(QLabel):
    """Remembers what it said whenever it was shown."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def showEvent(self, event: object) -> None:
        self.seen.append(self.text())


def test_a_page_behind_waits_with_the_newest_and_shows_it_before_it_is_seen(qtbot: QtBot) -> None:
    pages, front, behind = Pages(), _Page(), _Page()
    qtbot.addWidget(pages)
    pages.addTab(front, "Front")
    pages.addTab(behind, "Behind")
    pages.show()
    for words in ("one", "two"):
        pages.show_in(front, partial(front.setText, words))
        pages.show_in(behind, partial(behind.setText, words))
    assert front.text() == "two"
    assert behind.text() == ""
    pages.setCurrentWidget(behind)
    assert behind.seen == ["two"]


def test_an_edit_leaves_the_pages_behind_alone_until_somebody_turns_to_them(job_rig: Rig) -> None:
    window = job_rig.window
    window.pages.setCurrentWidget(window.press)
    window.pages.setCurrentWidget(window.garments)
    before = window.press.chosen_card
    job_rig.gestures().change_print("p1", {"width_mm": 81.0}, "")
    assert window.press.chosen_card == before
    window.pages.setCurrentWidget(window.press)
    assert window.press.chosen_card in window.plan.press_cards
    assert window.press.chosen_card != before
