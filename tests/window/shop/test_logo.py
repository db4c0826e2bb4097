"""The shop's logo: chosen by mouse, kept in the book's file, on quote and proof."""

import hashlib
from pathlib import Path

import numpy as np
import pypdfium2
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from planner.paper.registry import PAPERS
from planner.shop.book import PaperSize, Shop
from planner.shop.document import changed
from planner.shop.starting import starting_shop
from planner.storage.document_file import read_contents
from planner.storage.shop_book import FILE_NAME, KIND, open_shop_book, save_shop_book
from planner.window.shop.book_window import ShopBookWindow
from planner.window.shop.logo_edit import LogoEdit
from tests.builders import png_bytes
from tests.paper.scenes import choir_papers
from tests.window.rig import Answers, click

SVG = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="100" viewBox="0 0 300 100">'
    b'<rect width="300" height="100" fill="#ff00ff"/></svg>'
)


def opened(qtbot: QtBot, shop: Shop, answers: Answers) -> tuple[ShopBookWindow, LogoEdit]:
    window = ShopBookWindow(answers)
    qtbot.addWidget(window)
    window.show_shop(shop)
    window.show()
    window.pages.setCurrentIndex(4)
    edit = window.papers.fields["Logo"]
    assert isinstance(edit, LogoEdit)
    return window, edit


def chosen(qtbot: QtBot, path: Path) -> tuple[LogoEdit, Shop]:
    answers = Answers()
    answers.logo = path
    window, edit = opened(qtbot, starting_shop(), answers)
    told = QSignalSpy(window.shop_edited)
    click(edit.choose)
    return edit, told.at(told.count() - 1)[0] if told.count() else starting_shop()


def test_a_logo_is_chosen_kept_by_its_sha_256_and_read_back(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "harbour.png"
    path.write_bytes(png_bytes(300, 100))
    edit, shop = chosen(qtbot, path)
    assert edit.name.text() == "harbour.png"
    assert not edit.picture.pixmap().isNull()
    save_shop_book(shop, tmp_path)
    kept = read_contents(tmp_path / FILE_NAME, KIND)
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    assert kept.artworks == {digest: path.read_bytes()}
    assert open_shop_book(tmp_path) == shop
    save_shop_book(changed(shop, letterhead=changed(shop.letterhead, logo=None)), tmp_path)
    assert not read_contents(tmp_path / FILE_NAME, KIND).artworks


def test_what_is_no_picture_is_answered_and_changes_nothing(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "logo.png"
    path.write_bytes(b"not a picture")
    edit, shop = chosen(qtbot, path)
    assert shop == starting_shop()
    assert "logo.png" in edit.complaint.text()
    assert edit.complaint.isVisible()


def magenta(pdf: bytes) -> int:
    """Pixels of the first page in the colour of the test's logo."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        picture = document[0].render(scale=1).to_pil().convert("RGB")
    finally:
        document.close()
    red, green, blue = np.moveaxis(np.asarray(picture), 2, 0)
    return int(((red > 230) & (green < 30) & (blue > 230)).sum())


def test_the_logo_stands_on_quote_and_proof(qtbot: QtBot, tmp_path: Path) -> None:
    path = tmp_path / "harbour.svg"
    path.write_bytes(SVG)
    _, shop = chosen(qtbot, path)
    plain = choir_papers(PaperSize.A4)
    bearing = choir_papers(PaperSize.A4, letterhead=changed(plain.shop.letterhead, logo=shop.letterhead.logo))
    for paper in ("quote", "proof"):
        assert magenta(PAPERS[paper](plain)) == 0
        # 3 : 1 within 150 × 44 points is 132 × 44 points.
        assert abs(magenta(PAPERS[paper](bearing)) - 132 * 44) < 300
        assert PAPERS[paper](bearing) == PAPERS[paper](bearing)
