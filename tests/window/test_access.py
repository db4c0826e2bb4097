"""The program without a mouse, without sight, with large type: measured in every window it has.

Sources: WCAG 2.2, success criteria 2.4.3 (focus order), 2.5.8 (targets of 24 px), 4.1.2 (names), 1.4.4 (text
enlarged without loss), 1.4.3 (contrast).
"""

import json
import subprocess
import sys

import pytest
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QLineEdit, QPushButton, QVBoxLayout, QWidget

from planner.window.dress import Dress
from planner.window.look import DARK, LIGHT, Tokens, contrast, palette
from tests.pictures.demo_window import FONT_PX
from tests.window import access

LARGE_PX = round(FONT_PX * 1.5)


@pytest.fixture(scope="module", params=[FONT_PX, LARGE_PX], ids=["usual type", "type at 150 %"])
def measured(request: pytest.FixtureRequest) -> dict[str, list[str]]:
    """All windows of the demo job, at one size of type."""
    command = [sys.executable, "-m", "tests.window.measure_access", str(request.param)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    found: dict[str, list[str]] = json.loads(done.stdout)
    return found


def test_everything_that_takes_the_cursor_has_a_name(measured: dict[str, list[str]]) -> None:
    assert len(measured["seen"]) == 21
    assert measured["nameless"] == []


def test_tab_goes_as_the_eye_does(measured: dict[str, list[str]]) -> None:
    assert measured["jumps_back"] == []


def test_targets_are_large_enough(measured: dict[str, list[str]]) -> None:
    assert measured["small_targets"] == []


def test_no_words_are_cut(measured: dict[str, list[str]]) -> None:
    assert measured["cut_texts"] == []


def test_the_measures_find_what_is_wrong(qapp: object) -> None:
    holder = QWidget()
    inside = QVBoxLayout(holder)
    upper, lower = QLineEdit(), QPushButton("A word that needs room")
    inside.addWidget(upper)
    inside.addWidget(lower)
    lower.setFixedSize(20, 20)
    upper.setAccessibleName("Upper")
    holder.show()
    QWidget.setTabOrder(lower, upper)
    assert access.nameless(holder) == []
    upper.setAccessibleName("⋯")
    assert len(access.nameless(holder)) == 1
    assert len(access.jumps_back(holder, lower)) == 1
    assert len(access.small_targets(holder)) == 1
    assert len(access.cut_texts(holder)) == 1
    holder.close()


_ROLE = QPalette.ColorRole
TEXT_ON = (
    (_ROLE.WindowText, _ROLE.Window),
    (_ROLE.Text, _ROLE.Base),
    (_ROLE.Text, _ROLE.AlternateBase),
    (_ROLE.PlaceholderText, _ROLE.Base),
    (_ROLE.ButtonText, _ROLE.Button),
    (_ROLE.HighlightedText, _ROLE.Highlight),
    (_ROLE.ToolTipText, _ROLE.ToolTipBase),
    (_ROLE.Link, _ROLE.Base),
    (_ROLE.Link, _ROLE.Window),
)


@pytest.mark.parametrize("tokens", [LIGHT, DARK], ids=["light", "dark"])
def test_all_text_of_the_worn_palette_reads(tokens: Tokens, qapp: QApplication) -> None:
    dress = qapp.findChild(Dress)
    assert isinstance(dress, Dress)
    try:
        dress.wear(dark=tokens.dark)
        worn = qapp.palette()
        assert worn.color(_ROLE.Window).name() == palette(tokens).color(_ROLE.Window).name()
        for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Inactive):
            for text, ground in TEXT_ON:
                seen = contrast(worn.color(group, text).name(), worn.color(group, ground).name())
                assert seen >= 4.5, (group, text, ground, seen)
    finally:
        dress.wear(dark=False)
