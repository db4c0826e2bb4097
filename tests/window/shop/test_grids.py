"""Price tables and sizes as grids, price lists from CSV files, and what is said about mistakes."""

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.measures.figures import write_for, written_for
from planner.measures.geometry import Size
from planner.measures.lengths import LengthUnit
from planner.shop.garments import SizeGroup
from planner.shop.prices import AreaUnit, ByArea, ByPiece, BySheet
from planner.shop.starting import starting_shop
from planner.window.readings import Unreadable
from planner.window.shop.grids import GridError, grid_of, price_from, size_grid, sizes_from
from planner.window.shop.price_csv import COUNT, grid_from, guess
from planner.window.shop.readings import read_decimal, read_heat, read_size, say_decimal, say_price
from planner.window.tables.rows import LEAVE_OUT, read_rows

INCH, MM = LengthUnit.INCH, LengthUnit.MILLIMETRE
OFFERS = starting_shop().offers
SHEETS = next(offer.price for offer in OFFERS if isinstance(offer.price, BySheet))
PIECES = next(offer.price for offer in OFFERS if isinstance(offer.price, ByPiece))


@pytest.mark.parametrize("region", ["US", "DE", "FR", "CH"])
@pytest.mark.parametrize("unit", list(LengthUnit))
@pytest.mark.parametrize("offer", OFFERS, ids=lambda offer: offer.key)
def test_every_table_comes_back_from_its_grid(offer: object, unit: LengthUnit, region: str) -> None:
    write_for(region)
    price = offer.price  # type: ignore[attr-defined]
    back = price_from(grid_of(price, unit), price, unit)
    assert grid_of(back, unit) == grid_of(price, unit)
    assert type(back) is type(price)
    # Sizes shown are rounded; left as they are, they keep their exact figures.
    assert back == price


def test_a_sheet_without_a_price_at_a_count_has_no_break_there() -> None:
    grid = [["from sheets", "11.5 × 18 in", "22 x 24 in"], ["1", "17.50", "31"], ["12", "9", ""]]
    price = price_from(grid, SHEETS, INCH)
    assert isinstance(price, BySheet)
    assert [len(sheet.breaks.steps) for sheet in price.sheets] == [2, 1]
    assert price.sheets[0].breaks.each_at(12) == Decimal(9)
    assert price.sheets[1].breaks.each_at(12) == Decimal(31)
    assert price.sheets[1].size.height_mm == pytest.approx(24 * 25.4)


def test_rows_may_stand_in_any_order() -> None:
    grid = [["", "11.5 × 18 in"], ["12", "9"], ["", ""], ["1", "17.50"]]
    price = price_from(grid, SHEETS, INCH)
    assert isinstance(price, BySheet)
    assert [step.from_count for step in price.sheets[0].breaks.steps] == [1, 12]


@pytest.mark.parametrize("signs", ["{}–{}", "{}-{}", "{} to {}", "from {} to {}"])
def test_ranges_are_typed_as_a_price_sheet_has_them_and_hold_both_ends(signs: str) -> None:
    """12–23 at 7.50: twelve cost 7.50 each and so do twenty-three."""
    ranges = [signs.format(1, 11), signs.format(12, 23), "24+"]
    grid = [
        ["", "11.5 × 18 in"],
        *([cell, each] for cell, each in zip(ranges, ("9", "7.50", "6"), strict=True)),
    ]
    price = price_from(grid, SHEETS, INCH)
    assert isinstance(price, BySheet)
    breaks = price.sheets[0].breaks
    assert [breaks.each_at(count) for count in (1, 11, 12, 23, 24, 500)] == [
        Decimal(each) for each in ("9", "9", "7.50", "7.50", "6", "6")
    ]
    assert [row[0] for row in grid_of(price, INCH)[1:]] == ["1", "12", "24"]


@pytest.mark.parametrize("typed", ["24+", "24 or more", "24 and up", "at least 24", "≥ 24", "24–"])
def test_a_range_without_an_end_begins_where_it_says(typed: str) -> None:
    price = price_from([["", "11.5 × 18 in"], ["1", "9"], [typed, "6"]], SHEETS, INCH)
    assert isinstance(price, BySheet)
    assert [step.from_count for step in price.sheets[0].breaks.steps] == [1, 24]


def test_ranges_by_area_may_share_their_ends() -> None:
    table = ByArea(unit=AreaUnit.SQUARE_INCH, breaks=SHEETS.sheets[0].breaks, largest=Size(500, 500))
    grid = [["", ""], ["0–250", "0.08"], ["250–1,000", "0.07"], ["1,000+", "0.06"]]
    price = price_from(grid, table, INCH)
    assert isinstance(price, ByArea)
    assert [step.from_count for step in price.breaks.steps] == [0, 250, 1000]


@pytest.mark.parametrize(
    ("grid", "where", "words"),
    [
        ([["", "11.5 × 18 in"], ["1–11", "9"], ["13–23", "7"]], (2, 0), "“1–11” is followed by 13"),
        ([["", "11.5 × 18 in"], ["1–12", "9"], ["8–23", "7"]], (2, 0), "“1–12” is followed by 8"),
        ([["", "11.5 × 18 in"], ["1", "cheap"]], (1, 1), "“cheap” is no figure"),
        ([["", "11.5 × 18 in"], ["", "4.00"]], (1, 0), "lacks the count"),
        ([["", "large"], ["1", "4.00"]], (0, 1), "“large” is no size"),
        ([["", "11.5 × 18 in"], ["1", "4"], ["1", "5"]], (2, 0), "Two rows start at 1"),
        ([["", "11.5 × 18 in", "9 × 9 in"], ["1", "4", ""]], (0, 2), "has no price"),
        ([["", "11.5 × 18 in", "big"], ["1", "4", ""]], (0, 2), "“big” is no size"),
        ([["", "11.5 × 18 in", ""], ["1", "4", "6"]], (0, 2), "Type the size of the sheet above"),
        ([["", "11.5 × 18 in"]], (1, 0), "needs one row"),
        ([["", "11.5 × 18 in"], ["1", "-4"]], (1, 1), "must be 0 or more"),
    ],
)
def test_mistakes_are_told_with_their_cell(grid: list[list[str]], where: tuple[int, int], words: str) -> None:
    with pytest.raises(GridError, match=words) as caught:
        price_from(grid, SHEETS, INCH)
    assert (caught.value.row, caught.value.column) == where


def test_prices_by_the_piece_name_size_and_colours() -> None:
    grid = [["", "4 × 4 in, 2 colours", "12 x 14 in, 1 color"], ["24", "1.45", "2.10"]]
    price = price_from(grid, PIECES, INCH)
    assert isinstance(price, ByPiece)
    assert [(row.largest.width_mm, row.most_colours) for row in price.rows] == [
        (pytest.approx(101.6), 2),
        (pytest.approx(304.8), 1),
    ]
    with pytest.raises(GridError, match="how many colours"):
        price_from([["", "4 × 4 in"], ["24", "1"]], PIECES, INCH)


def test_sizes_come_back_from_their_grid_and_mistakes_are_told() -> None:
    blank = starting_shop().blanks[0]
    assert size_grid(sizes_from(size_grid(blank.sizes, MM), MM), MM) == size_grid(blank.sizes, MM)
    (size,) = sizes_from([[], ["YL", "you", "17 in", "", ""]], INCH)
    assert (size.group, size.body_width_mm, size.body_length_mm) == (
        SizeGroup.YOUTH,
        pytest.approx(431.8),
        None,
    )
    with pytest.raises(GridError, match="stands twice"):
        sizes_from([[], ["M", "", "", "", ""], ["M", "", "", "", ""]], INCH)
    with pytest.raises(GridError, match="no group of sizes"):
        sizes_from([[], ["M", "grown-up", "", "", ""]], INCH)


@given(st.decimals(min_value=0, max_value=10**6, places=3, allow_nan=False))
def test_figures_are_read_as_they_are_said(figure: Decimal) -> None:
    assert read_decimal(say_decimal(figure)) == figure
    assert read_decimal(say_price(figure)) == figure


@pytest.mark.parametrize(
    ("typed", "figure"),
    [("$1,234.50", "1234.50"), ("12,5", "12.5"), ("USD 4", "4"), ("4.10 €", "4.10"), ("1.234,5", "1234.5")],
)
def test_figures_may_carry_currency_signs_and_commas(typed: str, figure: str) -> None:
    assert read_decimal(typed) == Decimal(figure)


@pytest.mark.parametrize("typed", ["", "x25", "ask", "1.2.3", "--4", "4 to 5"])
def test_what_is_no_figure_is_refused(typed: str) -> None:
    with pytest.raises(Unreadable):
        read_decimal(typed)


def test_sizes_and_temperatures_are_read_in_many_ways() -> None:
    for typed in ("11.5 × 18 in", "11.5x18", "11 1/2 in by 18 in", "292.1 mm * 457.2 mm"):
        size = read_size(typed, INCH)
        assert (size.width_mm, size.height_mm) == (pytest.approx(292.1), pytest.approx(457.2))
    # NIST SP 811: 290 °F are 143.33 °C.
    for typed in ("290 F", "290°F", "290", "290 F / 143 C"):
        assert read_heat(typed) == pytest.approx(143.333, abs=0.001)
    assert read_heat("143 C") == 143
    with pytest.raises(Unreadable):
        read_heat("hot")


def test_a_price_list_is_matched_by_its_names(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_text("Article,Qty,11.5 x 18 in,Note\nA,1-5,$18.00,ask\nA,6–11,13.00,\nA,12+,9.50,\n", "utf-8")
    rows = read_rows(path, "price list")
    roles = guess(rows, SHEETS, INCH)
    assert roles == [LEAVE_OUT, COUNT, "11.5 x 18 in", LEAVE_OUT]
    price = price_from(grid_from(rows, roles, SHEETS), SHEETS, INCH)
    assert isinstance(price, BySheet)
    assert [(step.from_count, step.each) for step in price.sheets[0].breaks.steps] == [
        (1, Decimal("18.00")),
        (6, Decimal("13.00")),
        (12, Decimal("9.50")),
    ]


def test_a_list_with_semicolons_and_decimal_commas_is_read(tmp_path: Path) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes("Sheets;290 × 450 mm\n1;17,50\n10;9,25\n".encode("cp1252"))
    rows = read_rows(path, "price list")
    price = price_from(grid_from(rows, guess(rows, SHEETS, MM), SHEETS), SHEETS, MM)
    assert isinstance(price, BySheet)
    assert price.sheets[0].size == Size(290, 450)
    assert price.sheets[0].breaks.each_at(10) == Decimal("9.25")


@pytest.mark.parametrize("data", [b"", b"\n\n", b"\x89PNG\0\0\0\r", b"x" * 3_000_000])
def test_what_is_no_price_list_is_refused_with_a_sentence(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "prices.csv"
    path.write_bytes(data)
    with pytest.raises(Unreadable, match=r"prices\.csv"):
        read_rows(path, "price list")


def test_a_list_needs_one_column_of_counts(tmp_path: Path) -> None:
    with pytest.raises(Unreadable, match="from how many"):
        grid_from([["1", "2"]], [LEAVE_OUT, "11 × 17 in"], SHEETS)


GERMAN = "from;29 × 42 cm;55 × 60 cm\n1;4,50;1.250,00\n250–1.999;4,10;9\n2.000+;3,5;8\n"
BRITISH = 'from,290x420 mm,550x600 mm\n1,4.50,"1,250.00"\n"250–1,999",4.10,9\n"2,000+",3.5,8\n'


@pytest.mark.parametrize("region", ["US", "GB", "DE", "FR", "CH", "IN"])
@pytest.mark.parametrize("text", [GERMAN, BRITISH], ids=["commas", "points"])
def test_a_list_is_read_alike_in_every_region_where_it_shows_its_decimal_sign(
    tmp_path: Path, text: str, region: str
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(text.replace("250–", "2–"), "utf-8")
    with written_for(region):
        rows = read_rows(path, "price list")
        price = price_from(grid_from(rows, guess(rows, SHEETS, MM), SHEETS), SHEETS, MM)
    assert isinstance(price, BySheet)
    steps = [[(step.from_count, step.each) for step in sheet.breaks.steps] for sheet in price.sheets]
    assert steps == [
        [(1, Decimal("4.5")), (2, Decimal("4.1")), (2000, Decimal("3.5"))],
        [(1, Decimal(1250)), (2, Decimal(9)), (2000, Decimal(8))],
    ]


def test_a_list_that_shows_no_decimal_sign_is_read_as_the_region_writes(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("from;price\n1;1.250\n", "utf-8")
    assert read_decimal(read_rows(path, "price list")[1][1]) == Decimal("1.25")
    with written_for("DE"):
        assert read_decimal(read_rows(path, "price list")[1][1]) == 1250
    with written_for("FR"), pytest.raises(Unreadable, match="two ways"):
        read_decimal(read_rows(path, "price list")[1][1])


def test_a_size_with_a_decimal_comma_is_not_taken_for_colours() -> None:
    with written_for("DE"):
        grid = [["", "9,5 × 3,5"], ["1", "4"]]
        with pytest.raises(GridError, match="how many colours"):
            price_from(grid, PIECES, MM)
        grid[0][1] = "9,5 × 3,5 cm, 2"
        price = price_from(grid, PIECES, MM)
    assert isinstance(price, ByPiece)
    assert (price.rows[0].largest.width_mm, price.rows[0].most_colours) == (95, 2)
