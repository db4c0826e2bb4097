"""The shop book starts with values of its own and keeps what the shop changed."""

from pathlib import Path

import pytest

from planner.shop.book import PaperSize
from planner.shop.document import changed
from planner.shop.starting import starting_shop
from planner.storage.document_file import DocumentFileError
from planner.storage.shop_book import FILE_NAME, open_shop_book, save_shop_book


def test_the_first_start_makes_a_book_with_starting_values(tmp_path: Path) -> None:
    assert open_shop_book(tmp_path) == starting_shop()
    assert (tmp_path / FILE_NAME).exists()


def test_what_the_shop_changed_is_kept(tmp_path: Path) -> None:
    shop = changed(open_shop_book(tmp_path), paper=PaperSize.A4, currency="EUR")
    save_shop_book(shop, tmp_path)
    assert open_shop_book(tmp_path) == shop


def test_a_damaged_book_is_told_and_left_as_it_is(tmp_path: Path) -> None:
    open_shop_book(tmp_path)
    path = tmp_path / FILE_NAME
    path.write_bytes(path.read_bytes()[:600])
    before = path.read_bytes()
    with pytest.raises(DocumentFileError, match="damaged"):
        open_shop_book(tmp_path)
    assert path.read_bytes() == before
