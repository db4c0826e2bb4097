"""Nonsense in good grammar is read or refused with a sentence, as spoilt bytes are."""

import random
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.artwork.guarded import BrokeDown, Guarded, TookTooLong
from planner.artwork.read import UnreadableArtwork, artwork_from
from planner.measures.lengths import LONGEST_MM, LengthUnit, UnreadableLength, format_length, parse_length
from planner.plan.make_plan import make_plan
from planner.shop.starting import starting_shop
from planner.storage.document_file import DocumentFileError
from planner.storage.job_file import SUFFIX, read_job
from planner.window.garments.count_csv import CountTable
from planner.window.garments.counted import with_counts
from planner.window.readings import Unreadable
from planner.window.tables.rows import read_rows
from tests.builders import a_job, a_shop
from tests.hostile.corpus import samples, spoilt
from tests.hostile.fuzzed import fuzzed_job, fuzzed_pdf, fuzzed_svg

TODAY = date(2026, 11, 25)
_QUICK = settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


@pytest.fixture(scope="module")
def guard() -> Iterator[Guarded]:
    guard = Guarded(most_s=lambda size: 20.0)
    guard.start()
    yield guard
    guard.close()


@pytest.mark.parametrize("kind", ["pdf", "svg"])
def test_nonsense_drawings_are_taken_all_the_way_to_the_sheet_or_refused(guard: Guarded, kind: str) -> None:
    make = {"pdf": fuzzed_pdf, "svg": fuzzed_svg}[kind]
    opened = 0
    for seed in range(120):
        data, name = make(random.Random(seed)), f"{seed}.{kind}"
        try:
            imported, _ = guard.import_measured(data, name)
            artwork = artwork_from(imported, "a1")
            guard.picture(data, artwork, 128)
            guard.vector_page(data, artwork)
        except (BrokeDown, TookTooLong) as error:
            pytest.fail(f"{name}: {error}")
        except UnreadableArtwork as error:
            said = str(error)
        else:
            opened += 1
            continue
        assert name in said
    assert opened > 20


@pytest.mark.parametrize("seed", range(60))
def test_a_job_file_with_a_nonsense_document_is_refused_or_planned(tmp_path: Path, seed: int) -> None:
    path = tmp_path / f"fuzzed{SUFFIX}"
    path.write_bytes(fuzzed_job(random.Random(seed)))
    try:
        opened = read_job(path)
    except DocumentFileError:
        return
    make_plan(opened.job, starting_shop(), facts={}, today=TODAY)


def test_a_spoilt_job_file_is_refused_or_planned(tmp_path: Path) -> None:
    (name,) = (name for name in samples() if name.endswith(SUFFIX))
    dice, path = random.Random(7), tmp_path / name
    for _ in range(150):
        path.write_bytes(spoilt(samples()[name], dice))
        try:
            opened = read_job(path)
        except DocumentFileError:
            continue
        make_plan(opened.job, starting_shop(), facts={}, today=TODAY)


_CELL = st.one_of(
    st.sampled_from(
        (
            "style",
            "Colour",
            "size",
            "Qty",
            "Total",
            "M",
            "2XL",
            "xxl",
            "navy",
            "red",
            "Cotton T-shirt",
            "12",
            "-3",
            "1e9",
        )
    ),
    st.text(alphabet="0123456789.,-+ ½²٣'\"\t", max_size=12),
    st.text(max_size=20),
    st.sampled_from(("9" * 400, "9" * 5000, "=1+1", "\ufeff", "\u202e", "a" * 400)),
)
_COUNTS = st.lists(st.lists(_CELL, min_size=1, max_size=6), min_size=1, max_size=8)


@_QUICK
@given(
    table=_COUNTS,
    sign=st.sampled_from(",;\t"),
    encoding=st.sampled_from(("utf-8", "utf-16", "cp1252")),
    own=st.data(),
)
def test_any_list_of_counts_is_read_or_refused(
    tmp_path: Path, table: list[list[str]], sign: str, encoding: str, own: st.DataObject
) -> None:
    path = tmp_path / "counts.csv"
    path.write_bytes("\n".join(sign.join(row) for row in table).encode(encoding, "replace"))
    job, _ = a_job()
    counts = CountTable(job, a_shop())
    try:
        rows = read_rows(path, counts.what)
    except Unreadable:
        return
    # The dialog lets people name any column anything.
    chosen = [own.draw(st.sampled_from((*counts.roles, "M", "M", "a" * 40))) for _ in rows[0]]
    for roles in (counts.guess(rows), chosen):
        read = counts.read(rows, roles)
        assert bool(read.troubles) != bool(read.value)
        if read.value:
            after = with_counts(job, a_shop(), read.value)  # type: ignore[arg-type]
            assert all(size.count >= 0 for line in after.lines for size in line.sizes)


_NUMBER = st.from_regex(r"\A[0-9]{0,4}([.,][0-9]{0,4})?\Z")
_UNIT = st.sampled_from(
    ("", "mm", "cm", "m", "in", "inch", '"', "″", "'", "ft", "yd", "MM", " in.", "px", "º")
)
_WRITTEN = st.lists(
    st.tuples(
        _NUMBER,
        st.sampled_from(("", " ", "\u00a0", "\u2009")),
        st.sampled_from(("", "1/2", "3⁄8", "½", "1/0")),
        _UNIT,
    ),
    min_size=1,
    max_size=3,
).map(lambda parts: " ".join("".join(part) for part in parts))


@settings(_QUICK, max_examples=600)
@given(_WRITTEN, st.sampled_from(LengthUnit))
def test_any_length_written_nearly_right_is_read_or_refused(typed: str, unit: LengthUnit) -> None:
    try:
        length_mm = parse_length(typed, unit)
    except UnreadableLength:
        return
    assert 0 < length_mm <= LONGEST_MM
    shown = format_length(length_mm, unit)
    assert shown[0].isdigit()
