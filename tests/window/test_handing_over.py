"""Pictures as browsers, clipboards and file managers hand them over to the real window."""

from base64 import b64encode
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtGui import QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from planner.window import wording
from tests.artwork import samples
from tests.window.rig import Rig, drop, drop_files, png_in

BADGE = samples.encoded(samples.logo(60, 40))
ADDRESS = f"data:image/png;base64,{b64encode(BADGE).decode()}"


def html() -> QMimeData:
    mime = QMimeData()
    mime.setHtml(f'<html><body><IMG alt="badge" src="{ADDRESS}"></body></html>')
    return mime


def address() -> QMimeData:
    mime = QMimeData()
    mime.setUrls([QUrl(ADDRESS)])
    return mime


def pixels() -> QMimeData:
    mime = QMimeData()
    mime.setImageData(QImage.fromData(BADGE))
    mime.setUrls([QUrl("https://example.org/badge.png")])
    return mime


@pytest.mark.parametrize("mime_of", [html, address, pixels])
def test_a_picture_dragged_from_a_browser_is_taken(rig: Rig, qtbot: QtBot, mime_of: object) -> None:
    assert callable(mime_of)
    drop(rig.window.artwork, mime_of())
    rig.settle(qtbot)
    (artwork,) = rig.desk.job.artworks
    assert artwork.size_px == (60, 40)
    assert rig.window.artwork.troubles() == ()


def test_the_bytes_of_a_picture_in_a_web_page_are_kept_as_they_are(rig: Rig, qtbot: QtBot) -> None:
    drop(rig.window.artwork, html())
    rig.settle(qtbot)
    (artwork,) = rig.desk.job.artworks
    assert rig.desk.artworks[artwork.sha256] == BADGE


def test_a_mere_address_is_told_about_and_not_fetched(rig: Rig, qtbot: QtBot) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl("https://example.org/badge.png")])
    drop(rig.window.artwork, mime)
    rig.settle(qtbot)
    assert rig.desk.job.artworks == ()
    assert rig.window.artwork.troubles() == (wording.ONLY_AN_ADDRESS,)


def test_text_is_no_picture(rig: Rig, qtbot: QtBot) -> None:
    mime = QMimeData()
    mime.setHtml("<p>Ask Ada for the logo.</p>")
    drop(rig.window.artwork, mime)
    assert rig.window.artwork.troubles() == (wording.NO_PICTURE_IN_DROP,)


def test_a_picture_copied_in_a_browser_is_pasted(rig: Rig, qtbot: QtBot) -> None:
    QGuiApplication.clipboard().setMimeData(html())
    rig.window.door.paste()
    rig.settle(qtbot)
    assert [artwork.size_px for artwork in rig.desk.job.artworks] == [(60, 40)]


def test_a_dropped_folder_brings_its_files_and_the_same_file_twice_is_one_artwork(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    folder = tmp_path / "from the choir"
    folder.mkdir()
    png_in(folder, "badge.png", BADGE)
    png_in(folder, "the same again.png", BADGE)
    png_in(folder, "other.png", samples.encoded(samples.line_art(3)))
    png_in(folder, ".hidden.png", b"")
    drop_files(rig.window.artwork, [folder])
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["badge.png", "other.png"]
    assert rig.window.artwork.troubles() == ()
