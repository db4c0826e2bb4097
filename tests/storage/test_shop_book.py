"""The shop book starts with values of its own and keeps what the shop changed."""

from datetime import date
from pathlib import Path

import pytest

from planner.shop.actuals import Actuals
from planner.shop.book import PaperSize
from planner.shop.document import changed
from planner.shop.starting import starting_shop
from planner.storage.document_file import DocumentFileError
from planner.storage.shop_book import (
    FILE_NAME,
    open_shop_book,
    read_book,
    save_shop_book,
    taken_over,
    to_share,
    write_book,
)


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


def test_a_book_that_is_handed_on_leaves_the_shops_own_affairs_behind(tmp_path: Path) -> None:
    done = Actuals(
        title="Summer fair",
        finished_on=date(2026, 7, 3),
        pressings=40,
        misprints=1,
        press_min=55.0,
        planned_min=50.0,
    )
    own = changed(starting_shop(), actuals=(done,))
    write_book(tmp_path / "ours.shopbook", to_share(own))
    shared = read_book(tmp_path / "ours.shopbook")
    assert shared.actuals == ()
    assert shared.offers == own.offers
    other = changed(starting_shop(), offers=(), actuals=(done,))
    taken = taken_over(other, shared)
    assert (taken.offers, taken.actuals) == (own.offers, other.actuals)
