"""The first sitting: what is taken from the system's locale, and what is asked only when it is needed."""

from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from planner.measures.lengths import LengthUnit
from planner.shop.book import Letterhead, PaperSize
from planner.shop.document import changed
from planner.storage.shop_book import open_shop_book
from planner.window.firstrun import shop_of_locale, still_to_tell
from tests.builders import a_shop
from tests.window.rig import Rig, typed

# Currencies: ISO 4217. Units and papers: Unicode CLDR supplemental data, measurement system and paper size.
LOCALES = [
    ("en_US", "USD", LengthUnit.INCH, PaperSize.LETTER, "US"),
    ("en_CA", "CAD", LengthUnit.MILLIMETRE, PaperSize.LETTER, "CA"),
    ("es_MX", "MXN", LengthUnit.MILLIMETRE, PaperSize.LETTER, "MX"),
    ("en_GB", "GBP", LengthUnit.MILLIMETRE, PaperSize.A4, "GB"),
    ("de_DE", "EUR", LengthUnit.MILLIMETRE, PaperSize.A4, "DE"),
    ("ja_JP", "JPY", LengthUnit.MILLIMETRE, PaperSize.A4, "JP"),
]


@pytest.mark.parametrize(("name", "currency", "unit", "paper", "region"), LOCALES)
def test_the_first_book_is_as_the_locale_has_it(
    name: str, currency: str, unit: LengthUnit, paper: PaperSize, region: str
) -> None:
    shop = shop_of_locale(a_shop(), QLocale(name))
    assert (shop.currency, shop.unit, shop.paper, shop.region) == (currency, unit, paper, region)
    assert shop.offers == a_shop().offers


def test_a_locale_that_says_nothing_changes_nothing() -> None:
    assert shop_of_locale(a_shop(), QLocale.c()) == a_shop()


def test_a_book_that_is_there_is_not_guessed_anew(tmp_path: Path) -> None:
    guesses = [shop_of_locale(a_shop(), QLocale(name)) for name in ("de_DE", "en_GB")]
    first = open_shop_book(tmp_path, lambda: guesses[0])
    assert open_shop_book(tmp_path, lambda: guesses[1]) == first == guesses[0]


def test_what_the_shop_has_told_is_not_asked_again() -> None:
    shop = a_shop()
    assert still_to_tell(shop) == ("Name of the shop", "Press time")
    shop = changed(shop, letterhead=Letterhead(name="Quay Press"))
    assert still_to_tell(shop) == ("Address", "Press time")
    rates = changed(shop.rates, labour_hour=Decimal("31"))
    shop = changed(shop, rates=rates, letterhead=Letterhead(name="Quay Press", address=("Quay 1",)))
    assert still_to_tell(shop) == ()


def choice(rig: Rig, name: str) -> QPushButton:
    return next(button for button in rig.window.foot.findChildren(QPushButton) if button.text() == name)


@pytest.fixture
def fresh_rig(job_rig: Rig) -> Rig:
    job_rig.settings.remove("letterhead and rates settled")
    return job_rig


def test_the_name_is_asked_at_the_first_export_and_leads_to_its_field(fresh_rig: Rig, tmp_path: Path) -> None:
    rig = fresh_rig
    rig.answers.folder = tmp_path / "packet"
    QTest.mouseClick(rig.window.bar.export, Qt.MouseButton.LeftButton)
    assert "does not carry your shop's name" in rig.window.foot.text.text()
    assert not rig.answers.folder.exists()
    QTest.keyClick(choice(rig, "Type it"), Qt.Key.Key_Space)
    book = rig.window.book.window
    assert book is not None
    field = book.papers.fields["Name of the shop"]
    assert book.focusWidget() is field
    typed(field, "Quay Press")
    assert rig.saved_shops[-1].letterhead.name == "Quay Press"
    book.close()


def test_as_it_is_exports_and_is_not_asked_again(fresh_rig: Rig, tmp_path: Path, qtbot: QtBot) -> None:
    rig = fresh_rig
    for name in ("one", "two"):
        rig.answers.folder = tmp_path / name
        rig.window.bar.export.setFocus()
        QTest.mouseClick(rig.window.bar.export, Qt.MouseButton.LeftButton)
        if name == "one":
            asked = choice(rig, "Export as it is")
            asked.setFocus()
            QTest.mouseClick(asked, Qt.MouseButton.LeftButton)
            # The question took the cursor from here, and is gone.
            assert QApplication.focusWidget() is rig.window.bar.export
        rig.settle(qtbot)
        assert list((tmp_path / name).glob("*.pdf")), rig.window.foot.text.text()


def test_the_demo_is_offered_beside_the_start_of_a_job(rig: Rig, qtbot: QtBot) -> None:
    page = rig.window.garments
    shown = {button.text() for button in page.findChildren(QPushButton) if button.isVisible()}
    assert {"Add garment line", "Look at a finished example job"} <= shown
    assert rig.desk.job.lines == ()
