"""Colours are measured from the palettes that the program really wears.

Source of the thresholds and of the formula: WCAG 2.2, success criteria 1.4.3 (4.5:1 for text), 1.4.11
(3:1 for marks) and 2.5.8 (targets of 24 px).
"""

import itertools

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPalette
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planner.job.findings import Seriousness
from planner.window.dress import Dress
from planner.window.look import (
    DARK,
    LIGHT,
    TARGET,
    Tokens,
    Type,
    contrast,
    draw_status,
    luminance,
    palette,
    tokens_of,
    type_px,
)

SCHEMES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]


def test_contrast_is_that_of_the_published_formula() -> None:
    # WCAG 2.2: black on white is 21:1; #767676 is the lightest grey of 4.5:1 on white (W3C, technique G18).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")
    assert luminance("#ff0000") == pytest.approx(0.2126)


@pytest.mark.parametrize("tokens", SCHEMES)
def test_all_text_reaches_four_and_a_half_to_one(tokens: Tokens) -> None:
    for text, ground in itertools.product(
        (tokens.text, tokens.quiet, tokens.accent), (tokens.ground, tokens.field)
    ):
        assert contrast(text, ground) >= 4.5, (text, ground)
    assert contrast(tokens.text, tokens.canvas) >= 4.5
    assert contrast(tokens.text, tokens.chosen) >= 4.5
    assert contrast(tokens.on_accent, tokens.accent) >= 4.5


@pytest.mark.parametrize("tokens", SCHEMES)
def test_all_marks_reach_three_to_one(tokens: Tokens) -> None:
    for mark, ground in itertools.product(
        (tokens.stop, tokens.look, tokens.note, tokens.edge, tokens.accent), (tokens.ground, tokens.field)
    ):
        assert contrast(mark, ground) >= 3, (mark, ground)


@pytest.mark.parametrize("tokens", SCHEMES)
def test_palette_carries_the_tokens(tokens: Tokens, qapp: object) -> None:
    worn = palette(tokens)
    text = worn.color(QPalette.ColorRole.WindowText).name()
    ground = worn.color(QPalette.ColorRole.Window).name()
    assert contrast(text, ground) >= 4.5
    chosen = worn.color(QPalette.ColorRole.Highlight).name()
    assert contrast(worn.color(QPalette.ColorRole.HighlightedText).name(), chosen) >= 4.5


def test_white_and_black_garments_both_read_on_the_ground() -> None:
    for tokens in (LIGHT, DARK):
        for garment in ("#ffffff", "#000000"):
            assert contrast(garment, tokens.canvas) > 1.2


def test_status_shapes_differ_without_any_colour(qapp: object) -> None:
    drawn = {serious: _drawn(serious) for serious in Seriousness}
    for one, other in itertools.combinations(Seriousness, 2):
        differing = sum(
            drawn[one].pixel(x, y) != drawn[other].pixel(x, y) for x in range(24) for y in range(24)
        )
        assert differing > 60, (one, other)


def _drawn(serious: Seriousness) -> QImage:
    image = QImage(24, 24, QImage.Format.Format_RGB32)
    image.fill(QColor("#ffffff"))
    painter = QPainter(image)
    draw_status(painter, QRectF(2, 2, 20, 20), serious, "#000000", "#ffffff")
    painter.end()
    return image


def test_three_sizes_of_type_differ_and_none_is_under_eleven_pixels(qapp: object) -> None:
    font = QFont()
    for base_px in (11, 13, 16, 20):
        font.setPixelSize(base_px)
        sizes = [type_px(font, size) for size in (Type.SMALL, Type.BODY, Type.LARGE)]
        assert sizes == sorted(sizes)
        assert sizes[0] >= 11
        assert sizes[2] > sizes[1]


def test_targets_are_at_least_what_wcag_asks() -> None:
    assert TARGET >= 24


def test_dress_changes_the_scheme_of_what_is_shown(qtbot: QtBot) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    dress = Dress(app)
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    try:
        dress.wear(dark=True)
        assert tokens_of(widget) is DARK
    finally:
        dress.wear(dark=False)
    assert tokens_of(widget) is LIGHT
