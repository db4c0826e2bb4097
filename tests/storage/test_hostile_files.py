"""Job files made to do harm are refused with a sentence, quickly, and run nothing."""

import random
import sqlite3
import tracemalloc
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from planner.shop.starting import starting_shop
from planner.storage.careful import MOST_TEXT_BYTES
from planner.storage.document_file import Damaged, DocumentFileError, Unwritable
from planner.storage.job_file import read_job, write_job
from planner.storage.shop_book import FILE_NAME, open_shop_book
from tests.builders import a_job


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "spring.transferjob"
    write_job(path, *a_job())
    return path


@contextmanager
def tampering(path: Path) -> Iterator[sqlite3.Connection]:
    with closing(sqlite3.connect(path)) as file:
        file.execute("DELETE FROM remark")
        yield file
        file.commit()


def test_a_view_in_place_of_a_table_is_never_computed(saved: Path) -> None:
    with tampering(saved) as file:
        file.execute("DROP TABLE document")
        file.execute(
            "CREATE VIEW document AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
            "SELECT 1 AS only, count(i) AS json FROM n"
        )
    with pytest.raises(Damaged, match="never puts into"):
        read_job(saved)


@pytest.mark.parametrize(
    "planted",
    [
        "CREATE TRIGGER t AFTER INSERT ON remark BEGIN DELETE FROM artwork; END",
        "CREATE INDEX i ON remark (hex(zeroblob(400000000)))",
        "CREATE TABLE more (x)",
        "CREATE VIEW v AS SELECT 1",
    ],
)
def test_what_the_planner_never_makes_is_refused_for_reading_and_for_saving(
    saved: Path, planted: str
) -> None:
    with tampering(saved) as file:
        file.execute(planted)
    before = saved.read_bytes()
    with pytest.raises(Damaged, match="never puts into"):
        read_job(saved)
    with pytest.raises(Unwritable):
        write_job(saved, *a_job())
    assert saved.read_bytes() == before


def test_a_gigabyte_of_text_is_refused_before_it_is_loaded(saved: Path) -> None:
    with tampering(saved) as file:
        file.execute("UPDATE document SET json = CAST(zeroblob(?) AS TEXT)", (MOST_TEXT_BYTES + 1,))
    tracemalloc.start()
    try:
        with pytest.raises(Damaged):
            read_job(saved)
        assert tracemalloc.get_traced_memory()[1] < 4_000_000
    finally:
        tracemalloc.stop()


def test_a_document_of_millions_of_mistakes_is_refused_before_they_are_listed(saved: Path) -> None:
    with tampering(saved) as file:
        file.execute("UPDATE document SET json = ?", ('{"lines": [' + "0," * 1_500_000 + "0]}",))
    tracemalloc.start()
    try:
        with pytest.raises(Damaged):
            read_job(saved)
        assert tracemalloc.get_traced_memory()[1] < 30_000_000
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize(
    "json",
    [
        "[" * 100_000,
        '{"quoted_on": "2026-11-25", "note": ' + '{"a":' * 50_000,
        "",
        "null",
        '"\\ud800"',
        '{"quoted_on": "2026-11-25", "lines": [{"key": "g", "blank_cost": "NaN"}]}',
    ],
)
def test_text_that_is_no_job_is_refused(saved: Path, json: str) -> None:
    with tampering(saved) as file:
        file.execute("UPDATE document SET json = ?", (json,))
    with pytest.raises(DocumentFileError):
        read_job(saved)


def test_a_document_kept_as_another_type_is_refused(saved: Path) -> None:
    with tampering(saved) as file:
        file.execute("UPDATE document SET json = x'ff00ff'")
    with pytest.raises(DocumentFileError):
        read_job(saved)


def test_a_single_figure_changed_behind_our_back_is_told_as_damaged(saved: Path) -> None:
    with closing(sqlite3.connect(saved)) as file:
        file.execute("UPDATE document SET json = replace(json, '4.00', '9.00')")
        file.commit()
    with pytest.raises(Damaged):
        read_job(saved)


@pytest.mark.parametrize("seed", range(4))
def test_changed_bytes_and_cuts_are_refused_or_harmless(saved: Path, tmp_path: Path, seed: int) -> None:
    whole, dice = saved.read_bytes(), random.Random(seed)
    job, artworks = a_job()
    for _ in range(60):
        spoilt = bytearray(whole)
        for _ in range(dice.choice((1, 1, 4, 40))):
            # Half of the changes in the first pages, where SQLite keeps what it steers by.
            most = dice.choice((600, len(spoilt)))
            spoilt[dice.randrange(most)] = dice.randrange(256)
        if dice.random() < 0.2:
            del spoilt[dice.randrange(len(spoilt)) :]
        path = tmp_path / "spoilt.transferjob"
        path.write_bytes(spoilt)
        try:
            opened = read_job(path)
        except DocumentFileError:
            continue
        assert opened.job == job
        assert opened.artworks == artworks


def test_a_spoilt_shop_book_is_told(tmp_path: Path) -> None:
    open_shop_book(tmp_path)
    path = tmp_path / FILE_NAME
    whole, dice = path.read_bytes(), random.Random(5)
    for _ in range(40):
        spoilt = bytearray(whole)
        spoilt[dice.randrange(len(spoilt))] ^= 1 << dice.randrange(8)
        path.write_bytes(spoilt)
        try:
            book = open_shop_book(tmp_path)
        except DocumentFileError:
            continue
        assert book == starting_shop()
