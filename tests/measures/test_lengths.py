"""Lengths as people type them, held against NIST SP 811 (2008), B.8: 1 in = 25.4 mm exactly."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.measures import figures
from planner.measures.lengths import (
    LengthUnit,
    UnreadableLength,
    effective_ppi,
    format_area,
    format_length,
    format_size,
    in_unit,
    parse_length,
)

INCH, MM = LengthUnit.INCH, LengthUnit.MILLIMETRE


@pytest.mark.parametrize(
    ("typed", "length_mm"),
    [
        ("11 in", 279.4),
        ("11in", 279.4),
        ('11"', 279.4),
        ("11 inches", 279.4),
        ("11″", 279.4),
        ("280 mm", 280),
        ("28 cm", 280),
        ("2.8cm", 28),
        ("0.28 m", 280),
        ("1 ft", 304.8),
        ("3.5 in", 88.9),
        ("3,5 in", 88.9),
        (".5 in", 12.7),
        ('3 1/2"', 88.9),
        ("3-1/2 in", 88.9),
        ("3½ in", 88.9),
        ("½ in", 12.7),
        ("1/4 in", 6.35),
        ("7/8", 22.225),
        ("3 ⅜", 85.725),
        ("  4 IN. ", 101.6),
    ],
)
def test_lengths_are_read_as_people_write_them(typed: str, length_mm: float) -> None:
    assert parse_length(typed, INCH) == pytest.approx(length_mm, rel=1e-12)


def test_a_bare_number_is_in_the_shops_unit() -> None:
    assert parse_length("10", INCH) == 254.0
    assert parse_length("10", MM) == 10.0


@pytest.mark.parametrize(
    "typed",
    ["", "   ", "eleven", "11 yd", "-3 in", "0", "0 mm", "1/0 in", "3 in 2", "1e9 m", "101 m", "nan", "½½"],
)
def test_what_is_no_length_is_refused_with_a_sentence_that_shows_how(typed: str) -> None:
    with pytest.raises(UnreadableLength) as refused:
        parse_length(typed, INCH)
    assert str(refused.value) == (f"“{typed}” is not a length. Type for example 11 in, 280 mm or 3 1/2 in.")


@given(st.integers(min_value=1, max_value=100_000 * 10))
def test_tenths_of_a_millimetre_survive_being_shown_and_typed_again(tenths: int) -> None:
    length_mm = tenths / 10
    assert parse_length(format_length(length_mm, MM), INCH) == pytest.approx(length_mm, rel=1e-12)


@given(st.integers(min_value=1, max_value=300_000))
def test_hundredths_of_an_inch_survive_being_shown_and_typed_again(hundredths: int) -> None:
    length_mm = hundredths * 0.254
    assert parse_length(format_length(length_mm, INCH), MM) == pytest.approx(length_mm, rel=1e-12)


@given(st.text(max_size=12))
def test_any_text_is_either_a_sensible_length_or_refused(typed: str) -> None:
    try:
        length_mm = parse_length(typed, INCH)
    except UnreadableLength:
        return
    assert 0 < length_mm <= 100_000


def test_lengths_and_sizes_are_shown_without_needless_zeros() -> None:
    assert format_length(279.4, INCH) == "11 in"
    assert format_length(88.9, INCH) == "3.5 in"
    assert format_length(90, MM) == "90 mm"
    assert format_length(0, INCH) == "0 in"
    assert format_length(-0.001, INCH) == "0 in"
    assert format_length(2540, INCH) == "100 in"
    assert format_size(279.4, 215.9, INCH) == "11 × 8.5 in"


def test_an_area_is_told_in_the_square_of_the_unit() -> None:
    # An inch is 25.4 mm (international yard and pound agreement, 1959): 645.16 mm² to the square inch.
    assert format_area(645.16, INCH) == "1.0 in²"
    assert format_area(64.516, INCH) == "0.10 in²"
    assert format_area(1_290_320, INCH) == "2,000.0 in²"
    assert format_area(54_305.9, MM) == "54,306 mm²"


def test_pixels_to_the_inch_count_at_the_printed_size() -> None:
    # 3300 px on 11 in are the trade's 300 ppi.
    assert effective_ppi(3300, 279.4) == pytest.approx(300)
    assert in_unit(279.4, INCH) == pytest.approx(11)


@pytest.mark.parametrize("territory", ["US", "GB", "DE", "FR", "CH", "IN", "BR"])
@given(st.floats(1, 90_000))
def test_a_length_shown_in_any_region_is_read_back_there(territory: str, length_mm: float) -> None:
    with figures.written_for(territory):
        for unit in LengthUnit:
            shown = format_length(length_mm, unit)
            assert format_length(parse_length(shown, unit), unit) == shown


@pytest.mark.parametrize(
    ("territory", "typed", "length_mm"),
    [
        ("DE", "3,5 in", 88.9),
        ("DE", "3.5 in", 88.9),
        ("DE", "11,125 in", 282.575),
        ("DE", "1.234,5 mm", 1234.5),
        ("DE", "0.125 in", 3.175),
        ("US", "11.125 in", 282.575),
        ("US", "1,234.5 mm", 1234.5),
        ("GB", "11.125 in", 282.575),
    ],
)
def test_lengths_are_read_with_the_regions_decimal_sign(territory: str, typed: str, length_mm: float) -> None:
    with figures.written_for(territory):
        assert parse_length(typed, INCH) == pytest.approx(length_mm, rel=1e-12)


@pytest.mark.parametrize(
    ("territory", "typed", "ways"),
    [("DE", "1.234 mm", ("1234", "1,234")), ("US", "1,234 mm", ("1234", "1.234"))],
)
def test_a_length_that_could_be_a_thousand_times_another_is_asked_for_again(
    territory: str, typed: str, ways: tuple[str, str]
) -> None:
    with figures.written_for(territory):
        with pytest.raises(UnreadableLength) as refused:
            parse_length(typed, MM)
        assert all(way in str(refused.value) for way in ways)
        assert [parse_length(way, MM) for way in ways] == [1234.0, 1.234]


def test_lengths_and_sizes_are_shown_with_the_regions_decimal_sign() -> None:
    with figures.written_for("DE"):
        assert format_length(88.9, INCH) == "3,5 in"
        assert format_size(279.4, 215.9, INCH) == "11 × 8,5 in"
        assert format_length(1215.25, MM) == "1215,2 mm"
