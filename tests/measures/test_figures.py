"""Figures by region, held against Unicode CLDR as babel carries it and formats with it."""

import re
from decimal import Decimal

import pytest
from babel.localedata import locale_identifiers
from babel.numbers import format_decimal
from hypothesis import given
from hypothesis import strategies as st

from planner.measures import figures
from planner.measures.figures import NoFigure, TwoFigures, from_cldr, region_of

ENGLISH = sorted(name[3:] for name in locale_identifiers() if re.fullmatch("en_[A-Z]{2}", name))
OTHERS = ("BR", "GR", "JP", "EE", "EG", "TR", "RU", "MX", "LU", "KR", "XX")
"""Where CLDR knows no English, one of them no country at all."""


@given(st.sampled_from(ENGLISH), st.decimals(-10_000_000, 10_000_000, places=2))
def test_figures_are_written_as_cldr_writes_them_in_every_english_of_a_region(
    territory: str, value: Decimal
) -> None:
    """U+202F, which France sets thousands apart by, is the one departure: see `from_cldr`."""
    with figures.written_for(territory):
        told = figures.decimal(value, 2)
        whole = figures.whole(int(value))
    pattern = "#,##,##0.00" if territory == "IN" else "#,##0.00"
    assert told == format_decimal(value, pattern, locale=f"en_{territory}").replace("\u202f", "\u00a0")
    assert whole == format_decimal(int(value), locale=f"en_{territory}").replace("\u202f", "\u00a0")


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (7, "7"),
        (1215, "1,215"),
        (100_000, "1,00,000"),
        (1_234_567, "12,34,567"),
        (123_456_789, "12,34,56,789"),
    ],
)
def test_india_sets_pairs_apart_above_the_thousands(number: int, told: str) -> None:
    assert format_decimal(number, locale="en_IN") == told
    with figures.written_for("IN"):
        assert figures.whole(number) == told
        assert figures.whole(-number) == f"-{told}"
        assert figures.decimal(number + 0.5, 2) == f"{told}.50"


def test_the_region_that_needs_no_cldr_is_as_cldr_has_it() -> None:
    for figure in ("decimal", "group", "twos", "day", "short_day", "day_first"):
        assert getattr(figures.US, figure) == getattr(from_cldr("US"), figure)


@pytest.mark.parametrize(
    ("territory", "decimal", "group"),
    # The languages' own pages of CLDR: pt_BR, el_GR, et_EE, ja_JP, tr_TR.
    [("BR", ",", "."), ("GR", ",", "."), ("EE", ",", "\u00a0"), ("JP", ".", ","), ("TR", ",", ".")],
)
def test_a_region_without_an_english_of_its_own_keeps_its_signs(
    territory: str, decimal: str, group: str
) -> None:
    region = region_of(territory)
    assert (region.locale, region.decimal, region.group) == ("en_001", decimal, group)


def test_a_part_of_a_country_writes_as_the_country_does() -> None:
    assert region_of("DE-BY") == region_of("DE")
    assert region_of("US-CA") is figures.US
    assert region_of("XX").locale == "en_001"


def test_a_region_holds_inside_its_block_and_nowhere_else() -> None:
    figures.write_for("DE")
    with figures.written_for("GB"):
        assert figures.decimal(1215.07, 2) == "1,215.07"
        with figures.written_for("CH"):
            assert figures.decimal(1215.07, 2) == "1’215.07"
        assert figures.whole(1215) == "1,215"
    assert figures.decimal(1215.07, 2) == "1.215,07"


@given(
    st.sampled_from((*ENGLISH, *OTHERS)),
    st.decimals(0, 99_999_999, places=3),
    st.integers(0, 3),
)
def test_what_is_written_is_read_back(territory: str, value: Decimal, places: int) -> None:
    with figures.written_for(territory):
        rounded = Decimal(f"{value:.{places}f}")
        assert figures.read(figures.decimal(value, places)) == rounded
        assert figures.read(figures.plain(value, places)) == rounded
        assert figures.read(figures.plain(value, places), grouped=False) == rounded


@given(st.sampled_from((*ENGLISH, *OTHERS)), st.decimals(1000, 9_999_999, places=2))
def test_another_regions_figure_is_read_where_it_can_mean_one_thing(territory: str, value: Decimal) -> None:
    region = region_of(territory)
    for written in (f"{value:,.2f}", f"{value:,.2f}".translate({44: ".", 46: ","})):
        assert region.read(written) == value
        assert region.read(written, grouped=False) == value


@pytest.mark.parametrize(
    ("territory", "typed", "value"),
    [
        ("DE", "3,5", "3.5"),
        ("DE", "3.5", "3.5"),
        ("DE", "1.234,50", "1234.50"),
        ("DE", "1.234", "1234"),
        ("DE", "0.125", "0.125"),
        ("DE", "1234.567", "1234.567"),
        ("DE", "1.234.567", "1234567"),
        ("DE", "1 234,5", "1234.5"),
        ("FR", "1\u202f234,5", "1234.5"),
        ("CH", "1’234.50", "1234.50"),
        ("CH", "1'234.50", "1234.50"),
        ("IN", "12,34,567.50", "1234567.50"),
        ("US", "1,234", "1234"),
        ("US", "3,5", "3.5"),
        ("US", "0,125", "0.125"),
        ("US", ".5", "0.5"),
        ("US", "5.", "5"),
    ],
)
def test_figures_are_read_as_the_region_writes_them(territory: str, typed: str, value: str) -> None:
    assert region_of(territory).read(typed) == Decimal(value)


@pytest.mark.parametrize(
    ("territory", "typed", "grouped"),
    [("FR", "1.234", True), ("CH", "1,234", True), ("DE", "1.234", False), ("US", "1,234", False)],
)
def test_a_guess_a_thousand_times_off_is_not_made(territory: str, typed: str, grouped: bool) -> None:
    region = region_of(territory)
    with pytest.raises(TwoFigures) as refused:
        region.read(typed, grouped=grouped)
    ways = str(refused.value).partition(": type ")[2].rstrip(".").split(" or ")
    assert [region.read(way, grouped=grouped) for way in ways] == [1234, Decimal("1.234")]


@pytest.mark.parametrize(
    "typed",
    ["", "x", "1,2,3", "1.2.3", "1,23,4", "1.2,3.4", ".", ",", "-1", "1e3", "١", "1 2", "12345,678,9.0"],
)
def test_what_is_no_figure_is_refused_everywhere(typed: str) -> None:
    for territory in ("US", "DE", "FR", "CH", "IN"):
        with pytest.raises(NoFigure):
            region_of(territory).read(typed)
