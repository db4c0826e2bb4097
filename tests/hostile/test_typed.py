"""Whatever is typed, or written into a document, is read or refused: never an error nobody foresaw."""

import copy
import json
from collections.abc import Callable
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from planner.job.document import Job
from planner.measures.lengths import LONGEST_MM, LengthUnit, UnreadableLength, parse_length
from planner.plan.demo import demo_job
from planner.plan.make_plan import make_plan
from planner.shop.book import Shop
from planner.shop.prices import PriceTable
from planner.shop.starting import starting_shop
from planner.storage.absurd import is_absurd
from planner.window import readings
from planner.window.shop import readings as shop_readings
from planner.window.shop.grids import Grid
from planner.window.shop.price_csv import grid_from, guess
from planner.window.tables.rows import read_rows

TODAY = date(2026, 11, 25)
_LIKELY = st.text(alphabet="0123456789.,/+-−×x '\"½¾ªº²٣eEinmcft%€$\u00a0\n", max_size=30)
TYPED = st.one_of(
    _LIKELY,
    st.text(max_size=40),
    st.sampled_from(
        ("9" * 400, "9" * 5000, "1/" + "9" * 5000, "1e999999999", "0" * 9000, "١٢", "-0", "∞", "nan")
    ),
)
EVIL = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.sampled_from((0, -1, 1, 10**9, 10**18, 10**400, 1e-300, 1e308, -1e308)),
    st.sampled_from(
        (
            "1e999999999",
            "1e-999999999",
            "NaN",
            "Infinity",
            "-0",
            "9" * 5000,
            "",
            "\0",
            "1970-01-01",
            "9999-12-31",
        )
    ),
    st.text(max_size=12),
    st.just([]),
    st.just({}),
)
_QUICK = settings(max_examples=80, deadline=None, derandomize=True)
_SLOW = settings(
    max_examples=80, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)


@_QUICK
@given(TYPED, st.sampled_from(LengthUnit))
def test_any_typed_length_is_read_or_refused(typed: str, unit: LengthUnit) -> None:
    try:
        length_mm = parse_length(typed, unit)
    except UnreadableLength:
        return
    assert 0 < length_mm <= LONGEST_MM


_READERS: dict[str, Callable[[str], Any]] = {
    "fibres": readings.read_fibres,
    "money": lambda typed: readings.read_money(typed, "USD"),
    "count": readings.read_count,
    "date": lambda typed: readings.read_date(typed, TODAY),
    "colour": readings.read_colour,
    "decimal": shop_readings.read_decimal,
    "size": lambda typed: shop_readings.read_size(typed, LengthUnit.INCH),
    "heat": shop_readings.read_heat,
    "swatches": shop_readings.read_swatches,
    "days": shop_readings.read_days,
}


@pytest.mark.parametrize("field", sorted(_READERS))
@_QUICK
@given(typed=TYPED)
def test_any_typed_field_is_read_or_refused(field: str, typed: str) -> None:
    try:
        _READERS[field](typed)
    except (readings.Unreadable, UnreadableLength):
        return


@lru_cache
def _demo() -> tuple[Job, dict[str, Any]]:
    job = demo_job(TODAY)[0]
    return job, json.loads(job.model_dump_json())


def _places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place in a document, by the keys that lead there."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for key, part in inner for place in _places(part, (*path, key)))]


def _spoilt(document: dict[str, Any], place: tuple[Any, ...], evil: Any) -> dict[str, Any]:
    made = copy.deepcopy(document)
    holder = made
    for key in place[:-1]:
        holder = holder[key]
    holder[place[-1]] = evil
    return made


@_SLOW
@given(st.data())
def test_a_spoilt_job_is_refused_or_planned(data: st.DataObject) -> None:
    document = _demo()[1]
    place = data.draw(st.sampled_from(_places(document)[1:]))
    spoilt = _spoilt(document, place, data.draw(EVIL))
    try:
        job = Job.model_validate_json(json.dumps(spoilt))
    except ValidationError:
        return
    if is_absurd(job):  # As read from a file.
        return
    make_plan(job, starting_shop(), facts={}, today=TODAY)


@_SLOW
@given(st.data())
def test_a_spoilt_shop_book_is_refused_or_planned_with(data: st.DataObject) -> None:
    document = json.loads(starting_shop().model_dump_json())
    place = data.draw(st.sampled_from(_places(document)[1:]))
    spoilt = _spoilt(document, place, data.draw(EVIL))
    try:
        shop = Shop.model_validate_json(json.dumps(spoilt))
    except ValidationError:
        return
    if is_absurd(shop):
        return
    make_plan(_demo()[0], shop, facts={}, today=TODAY)


@_QUICK
@given(
    st.recursive(
        EVIL,
        lambda inner: (
            st.lists(inner)
            | st.dictionaries(
                st.sampled_from(
                    (
                        "model",
                        "unit",
                        "breaks",
                        "steps",
                        "from_count",
                        "each",
                        "sheets",
                        "size",
                        "rows",
                        "largest",
                    )
                ),
                inner,
            )
        ),
    )
)
def test_any_price_table_is_read_or_refused(document: Any) -> None:
    try:
        TypeAdapter(PriceTable).validate_json(json.dumps(document))
    except ValidationError:
        return


_TABLES = [offer.price for offer in starting_shop().offers]
_CSV = st.one_of(
    st.binary(max_size=300),
    st.lists(st.lists(_LIKELY, max_size=4), max_size=6).map(
        lambda rows: "\n".join(";".join(row) for row in rows).encode()
    ),
    st.sampled_from((b"\xff\xfe\0", b"1;2\r3\r\n4", b",\n" * 4_000, b"a" + b";" * 9_000)),
)


@settings(_QUICK, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=_CSV, price=st.sampled_from(_TABLES))
def test_any_price_list_is_read_or_refused(tmp_path: Path, data: bytes, price: PriceTable) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes(data)
    try:
        rows = read_rows(path, "price list")
        grid: Grid = grid_from(rows, guess(rows, price, LengthUnit.INCH), price)
    except readings.Unreadable:
        return
    assert len(grid) <= len(rows) + 1


def test_a_price_list_with_a_quotation_mark_never_closed_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes(b'from;price\n"' + b"x" * 140_000)
    with pytest.raises(readings.Unreadable, match="never closed"):
        read_rows(path, "price list")
