"""The shop book's file, in the user's own data folder."""

import contextlib
from collections.abc import Callable, Mapping
from pathlib import Path

import platformdirs
from pydantic import ValidationError

from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.starting import starting_shop
from planner.storage.absurd import is_absurd
from planner.storage.document_file import (
    Damaged,
    DocumentFileError,
    FileKind,
    read_contents,
    write_contents,
)

KIND = FileKind(application_id=0x54464A53, version=1, noun="shop book")
FILE_NAME = "shop.book"
SUFFIX = ".shopbook"
"""Of a book that is handed on."""


def data_folder() -> Path:
    """Where the planner keeps what belongs to this user."""
    return Path(platformdirs.user_data_dir("transfer-job-planner", appauthor=False))


def open_shop_book(folder: Path | None = None, fresh: Callable[[], Shop] = starting_shop) -> Shop:
    """The shop book; where there is none yet, the one that `fresh` makes.

    A folder that cannot be written to is no reason to stop: the starting values serve unsaved.

    Raises:
        DocumentFileError: there is a book, but it cannot be read; a sentence.
    """
    path = (folder or data_folder()) / FILE_NAME
    if not path.exists():
        shop = fresh()
        with contextlib.suppress(DocumentFileError):
            save_shop_book(shop, folder)
        return shop
    try:
        return read_book(path)
    except Damaged as error:
        raise Damaged(f"{error} Move {path} away to start with a new one.") from error


def read_book(path: Path) -> Shop:
    """The shop book in a file; the file is left untouched.

    Raises:
        DocumentFileError: it cannot be read; a sentence.
    """
    try:
        contents = read_contents(path, KIND)
        shop = _with_logo(Shop.model_validate_json(contents.json), contents.artworks)
    except ValidationError as error:
        raise Damaged(f"“{path.name}” is a shop book, but what it says does not fit together.") from error
    if is_absurd(shop):
        raise Damaged(f"The shop book “{path.name}” holds impossible figures.")
    return shop


def save_shop_book(shop: Shop, folder: Path | None = None) -> None:
    """Save the shop book in one transaction.

    Raises:
        DocumentFileError: it could not be saved; the earlier one still is there.
    """
    write_book((folder or data_folder()) / FILE_NAME, shop)


def write_book(path: Path, shop: Shop) -> None:
    """Write a shop book into a file in one transaction.

    Raises:
        DocumentFileError: it could not be written; what was there before still is.
    """
    logo = shop.letterhead.logo
    files = {logo.sha256: logo.data} if logo is not None else {}
    write_contents(path, KIND, shop.model_dump_json(), files)


def to_share(shop: Shop) -> Shop:
    """The book without what is the shop's own affair: its shelf and what its jobs really cost."""
    return changed(shop, left_over=(), actuals=())


def taken_over(own: Shop, shared: Shop) -> Shop:
    """A shared book in place of the shop's own, which keeps its shelf and its jobs' figures."""
    return changed(shared, left_over=own.left_over, actuals=own.actuals)


def _with_logo(shop: Shop, files: Mapping[str, bytes]) -> Shop:
    """The book with its logo's bytes; a logo whose file is not there is none."""
    logo = shop.letterhead.logo
    if logo is None:
        return shop
    data = files.get(logo.sha256)
    whole = changed(logo, data=data) if data is not None else None
    return changed(shop, letterhead=changed(shop.letterhead, logo=whole))
