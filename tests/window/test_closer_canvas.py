"""Spots on artwork are seen on any ground."""

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from planner.window.artwork.closer_canvas import draw_spot


@pytest.mark.parametrize("scale", [0.5, 1.0, 7.0])
@pytest.mark.parametrize("ground", ["#ffffff", "#000000", "#808080", "#c81e1e"])
def test_hatch_shows_on_any_ground(qtbot: QtBot, ground: str, scale: float) -> None:
    image = QImage(120, 120, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    painter.scale(scale, scale)
    draw_spot(painter, QRectF(10 / scale, 10 / scale, 100 / scale, 100 / scale))
    painter.end()
    lightness = QColor(ground).lightness()
    inside = [image.pixelColor(x, y).lightness() for x in range(20, 100) for y in range(20, 100)]
    share = sum(abs(each - lightness) > 100 for each in inside) / len(inside)
    # One line in eight pixels, of one tone at least; most of the artwork stays to be seen.
    assert 0.08 < share < 0.35
