"""The guide tells the program's own keys and cautions, and shows pictures of the program's own window."""

import re

import pytest
from PIL import Image
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QTextDocument
from PySide6.QtTest import QTest

from planner.plan import wording as sentences
from planner.pressing.card import Caution
from planner.shop.resources import resource
from planner.window.handbook import HandbookWindow
from tests.window.rig import Rig

GUIDE = resource("guide", "guide.md").read_text("utf-8")
PICTURES = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", GUIDE)


@pytest.fixture
def guide(rig: Rig) -> HandbookWindow:
    """The guide as F1 opens it."""
    QTest.keyClick(rig.window, Qt.Key.Key_F1)
    opened = rig.window.handbook.window
    assert opened is not None
    return opened


def chapter(guide: HandbookWindow, name: str) -> str:
    guide.names.setCurrentItem(guide.names.findItems(name, Qt.MatchFlag.MatchExactly)[0])
    return guide.page.toPlainText()


def test_f1_opens_the_guide_at_how_a_job_goes(guide: HandbookWindow) -> None:
    assert guide.isVisible()
    assert guide.page.toPlainText().startswith("How a job goes")
    QTest.keyClick(guide.names, Qt.Key.Key_Escape)
    assert not guide.isVisible()


def test_every_command_with_a_key_is_listed(rig: Rig, guide: HandbookWindow) -> None:
    told = chapter(guide, "Keys")
    actions = [*rig.window.menus.actions(), *rig.window.sheets.canvas.actions()]
    with_keys = [action for action in actions if not action.shortcut().isEmpty()]
    assert len(with_keys) > 25
    for action in with_keys:
        assert action.text().replace("&", "").rstrip("…") in told
        assert action.shortcut().toString() in told
    assert "{" not in told


def test_all_cautions_are_told(guide: HandbookWindow) -> None:
    told = chapter(guide, "Care at the press")
    for caution in Caution:
        assert sentences.caution(caution) in told.replace("\n", " ")


def test_the_eye_resolves_what_the_guide_says(guide: HandbookWindow) -> None:
    # One arc-minute at 600 mm (ISO 8596, visual acuity 1.0): 25.4 / (600 × tan(1/60°)) = 145.5 ppi.
    assert "146 ppi from 600 mm" in chapter(guide, "What the figures mean").replace("\n", " ")


@pytest.mark.parametrize(("words", "name"), PICTURES)
def test_pictures_are_there_small_and_described(words: str, name: str, guide: HandbookWindow) -> None:
    path = resource("guide", name)
    assert path.stat().st_size < 60_000
    with Image.open(path) as seen:
        assert 300 <= seen.width <= 700
    assert len(words) > 20
    shown = guide.page.loadResource(QTextDocument.ResourceType.ImageResource.value, QUrl(name))
    assert shown
