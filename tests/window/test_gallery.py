"""The gallery hands out what it has, fetches the rest, and keeps no more than it may."""

import hashlib
from collections.abc import Callable
from concurrent.futures import Executor, Future
from functools import partial
from typing import Any

import pytest
from PIL import Image
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from planner.job.document import Job
from planner.job.fixes import Flip, QuarterTurn
from planner.shop.document import changed
from planner.window import gallery as module
from planner.window.background import Background
from planner.window.gallery import Gallery, as_image
from tests.builders import A_DAY, an_artwork, png_bytes
from tests.window.rig import AtOnce


@pytest.fixture
def background(qapp: object) -> Background:
    return Background(AtOnce())


def settled(qtbot: QtBot, background: Background) -> None:
    qtbot.waitUntil(background.is_idle)


def test_a_picture_comes_through_pixel_for_pixel(qapp: object) -> None:
    made = Image.new("RGBA", (3, 2), (0, 0, 0, 0))
    made.putpixel((1, 0), (10, 200, 30, 255))
    made.putpixel((2, 1), (200, 0, 0, 128))
    image = as_image(made)
    assert image.pixelColor(1, 0) == QColor(10, 200, 30, 255)
    assert image.pixelColor(2, 1).alpha() == 128
    assert image.pixelColor(0, 0).alpha() == 0


def test_a_small_picture_serves_until_a_larger_one_is_there(background: Background, qtbot: QtBot) -> None:
    artwork, data = an_artwork(size_px=(900, 600))
    gallery = Gallery(background, {artwork.sha256: data}.get)
    assert gallery.picture(artwork, 100) is None
    with qtbot.waitSignal(gallery.pictures_changed):
        settled(qtbot, background)
    small = gallery.picture(artwork, 100)
    assert isinstance(small, QImage)
    assert small.width() == 256
    assert gallery.picture(artwork, 800) is small
    settled(qtbot, background)
    large = gallery.picture(artwork, 800)
    assert large is not None
    assert large.width() == 900


def test_a_fix_gives_another_picture_and_other_facts(background: Background, qtbot: QtBot) -> None:
    artwork, data = an_artwork()
    gallery = Gallery(background, {artwork.sha256: data}.get)
    flipped = changed(artwork, fixes=(Flip(),))
    job = Job(quoted_on=A_DAY, artworks=(artwork,))
    assert gallery.facts(job) == {}
    assert gallery.is_measuring(artwork)
    settled(qtbot, background)
    assert set(gallery.facts(job)) == {"a1"}
    assert not gallery.is_measuring(artwork)
    assert gallery.facts(changed(job, artworks=(flipped,))) == {}
    settled(qtbot, background)


def test_a_file_that_cannot_be_read_is_told_once(background: Background, qtbot: QtBot) -> None:
    data = png_bytes()[:500]
    artwork, _ = an_artwork()
    artwork = changed(artwork, sha256=hashlib.sha256(data).hexdigest())
    gallery = Gallery(background, {artwork.sha256: data}.get)
    told: list[object] = []
    gallery.troubled.connect(lambda artwork, error: told.append(error))
    job = Job(quoted_on=A_DAY, artworks=(artwork,))
    for _ in range(3):
        gallery.facts(job)
        gallery.picture(artwork, 100)
        settled(qtbot, background)
    assert len(told) == 1


def test_no_more_pixels_are_kept_than_there_may_be(
    background: Background, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_MOST_KEPT_PX", 300 * 200)
    artworks = [an_artwork(f"a{at}", png_bytes(ink=f"#{at}{at}0000")) for at in range(1, 4)]
    gallery = Gallery(background, {artwork.sha256: data for artwork, data in artworks}.get)
    for artwork, _ in artworks:
        gallery.picture(artwork, 100)
        settled(qtbot, background)
    kept = [gallery._pictures[module.content_of(artwork)] for artwork, _ in artworks]
    assert [bool(pictures) for pictures in kept] == [False, False, True]


class Held(Executor):
    """Keeps what it is given until somebody lets it go."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], object]] = []

    def submit(self, work: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.waiting.append(partial(work, *args, **kwargs))
        return Future()


def test_the_fixes_tried_last_are_shown(qtbot: QtBot, qapp: object) -> None:
    held = Held()
    background = Background(held)
    artwork, data = an_artwork(size_px=(200, 100))
    gallery = Gallery(background, {artwork.sha256: data}.get)
    first, second = changed(artwork, fixes=(Flip(),)), changed(artwork, fixes=(QuarterTurn(),))
    assert gallery.trial(first, 200) is None
    assert gallery.trial(first, 200) is None
    assert len(held.waiting) == 1
    assert gallery.trial(second, 200) is None
    for work in held.waiting:
        work()
    settled(qtbot, background)
    turned = gallery.trial(second, 200)
    assert turned is not None
    assert (turned.width(), turned.height()) == (100, 200)
    assert gallery.trial(first, 200) is None, "what was tried before is dropped"
    gallery.end_trial()
