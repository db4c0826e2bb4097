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
    return read_book(path)


def read_book(path: Path) -> Shop:
    """The shop book in a file; the file is left untouched.

    Raises:
        DocumentFileError: it cannot be read; a sentence.
    """
    try:
        contents = read_contents(path, KIND)
        shop = _with_logo(Shop.model_validate_json(contents.json), contents.artworks)
    except ValidationError as error:
        raise Damaged(
            f"The shop book {path} does not fit together. Move it away to start with a new one."
        ) from error
    if is_absurd(shop):
        raise Damaged(f"The shop book {path} holds impossible figures. Move it away to start with a new one.")
    return shop


def save_shop_book(shop: Shop, folder: Path | None = None) -> None:
    """Save the shop book in one transaction.

    Raises:
        DocumentFileError: it could not be saved; the earlier one still is there.
    """
    logo = shop.letterhead.logo
    files = {logo.sha256: logo.data} if logo is not None else {}
    write_contents((folder or data_folder()) / FILE_NAME, KIND, shop.model_dump_json(), files)


def _with_logo(shop: Shop, files: Mapping[str, bytes]) -> Shop:
    """The book with its logo's bytes; a logo whose file is not there is none."""
    logo = shop.letterhead.logo
    if logo is None:
        return shop
    data = files.get(logo.sha256)
    whole = changed(logo, data=data) if data is not None else None
    return changed(shop, letterhead=changed(shop.letterhead, logo=whole))
