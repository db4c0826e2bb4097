"""Pictures as browsers, clipboards and file managers hand them over to the real window."""

from base64 import b64encode
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QUrl
from PySide6.QtGui import QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from planner.artwork.decoding import InProcess
from planner.artwork.read import Imported
from planner.window import wording
from planner.window.artwork import words
from planner.work.ticket import Ticket
from tests.artwork import samples
from tests.window.rig import Rig, click, drop, drop_files, png_in

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


def test_files_of_folders_within_are_taken_and_what_is_not_there_is_told(
    rig: Rig, qtbot: QtBot, tmp_path: Path
) -> None:
    empty, deep = tmp_path / "empty", tmp_path / "from the choir" / "front"
    empty.mkdir()
    deep.mkdir(parents=True)
    png_in(deep, "badge.png", BADGE)
    drop_files(rig.window.artwork, [empty])
    assert rig.window.artwork.troubles() == (wording.empty_folder("empty"),)
    drop_files(rig.window.artwork, [tmp_path / "gone.png"])
    assert rig.window.artwork.troubles() == (wording.file_gone("gone.png"),)
    drop_files(rig.window.artwork, [deep.parent])
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["badge.png"]
    assert rig.window.artwork.troubles() == ()


def three_files(folder: Path) -> list[Path]:
    return [
        png_in(folder, f"part {number}.png", samples.encoded(samples.logo(60 + number)))
        for number in range(3)
    ]


class StoppedAtTheSecond(InProcess):
    """Somebody presses Stop while the second file is read."""

    def __init__(self, rig: Rig) -> None:
        self._rig = rig

    def imported(self, data: bytes, name: str, ticket: Ticket | None = None, *, page: int = 0) -> Imported:
        if name == "part 1.png":
            assert ticket is not None
            self._rig.window.foot.stop_requested.emit("intake 1")
            ticket.step(0, 1)
        return super().imported(data, name, ticket, page=page)


def test_a_stop_keeps_the_files_that_were_read(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    rig.window.intake._decoder = StoppedAtTheSecond(rig)
    drop_files(rig.window.artwork, three_files(tmp_path))
    rig.settle(qtbot)
    assert [artwork.name for artwork in rig.desk.job.artworks] == ["part 0.png"]
    assert rig.window.foot.text.text() == wording.stopped_reading(1, 2)
    assert rig.window.artwork.troubles() == ()
    assert rig.window.foot.stop.isHidden()


def test_progress_names_the_file_and_how_many_there_are(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    told: list[tuple[str, int, int]] = []
    rig.window.intake.work_changed.connect(lambda _, what, done, of: told.append((what, done, of)))
    drop_files(rig.window.artwork, three_files(tmp_path))
    rig.settle(qtbot)
    assert ("Reading 2 of 3: part 1.png…", 1, 3) in told
    assert told[-1] == ("", 0, 0)


def test_a_file_that_is_there_already_is_told_about(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    path = png_in(tmp_path, "badge.png", BADGE)
    drop_files(rig.window.artwork, [path])
    rig.settle(qtbot)
    assert "already" not in rig.window.foot.text.text()
    drop_files(rig.window.artwork, [path])
    rig.settle(qtbot)
    assert rig.window.foot.text.text() == wording.there_already(["badge.png"])
    assert len(rig.desk.job.artworks) == 1


def test_sentences_on_many_files_are_dismissed_at_once(rig: Rig, qtbot: QtBot, tmp_path: Path) -> None:
    panel = rig.window.artwork
    broken = [png_in(tmp_path, f"broken {number}.png", b"") for number in range(3)]
    drop_files(panel, broken[:2])
    rig.settle(qtbot)
    assert (len(panel.troubles()), panel.dismiss_all.isVisible()) == (2, False)
    drop_files(panel, broken)
    rig.settle(qtbot)
    assert len(panel.troubles()) == 3
    click(panel.dismiss_all)
    assert (panel.troubles(), panel.dismiss_all.isVisible()) == ((), False)


def test_the_hint_names_each_format_that_is_read() -> None:
    for media in ("PNG", "JPEG", "HEIC", "TIFF", "WebP", "GIF", "BMP", "SVG", "PDF"):
        assert media in words.DROP_WHY
        assert f"*.{media.lower()}" in wording.ARTWORK_FILES
