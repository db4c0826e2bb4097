"""Pictures for the canvas: levels asked for once, made smaller here, let go when they are old."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from planner.window.pixmaps import LEVELS, Pictures, level_for


class Source:
    """Gives square pictures with a red left half, and notes what was asked."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, int]] = []
        self.ready = True

    def __call__(self, artwork: str, most_px: int) -> QImage | None:
        self.asked.append((artwork, most_px))
        if not self.ready:
            return None
        image = QImage(most_px, most_px // 2, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(QColor("#0000ff"))
        for x in range(most_px // 2):
            for y in range(2):
                image.setPixelColor(x, y, QColor("#ff0000"))
        return image


def test_levels_are_never_much_smaller_than_what_is_drawn() -> None:
    for longest_px in (1, 64, 81, 300, 320, 321, 1500, 2559):
        assert longest_px <= level_for(longest_px) * 1.25
    assert level_for(100_000) == LEVELS[-1]


def test_each_level_is_asked_for_once_and_small_ones_are_made_from_the_first(qtbot: QtBot) -> None:
    pictures, source = Pictures(), Source()
    pictures.set_source(source)
    small = pictures.picture("a1", 40)
    assert small is not None
    assert (small.width(), small.height()) == (64, 32)
    for _ in range(3):
        pictures.picture("a1", 40)
        pictures.picture("a1", 300)
    assert source.asked == [("a1", 256)]


def test_a_quarter_turn_is_clockwise(qtbot: QtBot) -> None:
    pictures, source = Pictures(), Source()
    pictures.set_source(source)
    turned = pictures.picture("a1", 300, quarters=1)
    assert turned is not None
    assert (turned.width(), turned.height()) == (128, 256)
    # What was red at the top left is red at the top right after a clockwise quarter.
    assert turned.toImage().pixelColor(127, 5).name() == "#ff0000"


def test_a_picture_not_there_yet_is_asked_for_again_once_told(qtbot: QtBot) -> None:
    pictures, source = Pictures(), Source()
    source.ready = False
    pictures.set_source(source)
    assert pictures.picture("a1", 300) is None
    assert pictures.picture("a1", 300) is None
    assert len(source.asked) == 1
    source.ready = True
    age = pictures.age
    pictures.forget()
    assert pictures.age > age
    assert pictures.picture("a1", 300) is not None


def test_large_levels_are_kept_for_a_few_artworks_only(qtbot: QtBot) -> None:
    pictures, source = Pictures(), Source()
    pictures.set_source(source)
    for number in range(20):
        pictures.picture(f"a{number}", 1000)
    pictures.picture("a19", 1000)
    assert len(source.asked) == 20
    pictures.picture("a0", 1000)
    assert len(source.asked) == 21


def test_on_a_ground_the_picture_comes_opaque_and_the_clear_shows_its_colour(qtbot: QtBot) -> None:
    clear = QImage(256, 256, QImage.Format.Format_ARGB32_Premultiplied)
    clear.fill(Qt.GlobalColor.transparent)
    pictures = Pictures()
    pictures.set_source(lambda _artwork, _most_px: clear)
    on_navy = pictures.picture("a1", 300, ground="#1f2a44")
    assert on_navy is not None
    assert not on_navy.hasAlpha()
    assert on_navy.toImage().pixelColor(10, 10).name() == "#1f2a44"
    assert on_navy.cacheKey() == getattr(pictures.picture("a1", 290, ground="#1f2a44"), "cacheKey", int)()
    plain = pictures.picture("a1", 300)
    assert plain is not None
    assert plain.hasAlpha()
