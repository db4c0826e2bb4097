"""All four price models against sums worked by hand, on and beside every boundary."""

from decimal import Decimal

import pytest

from planner.buying.price import (
    Design,
    Printed,
    UnknownSheet,
    area_lines,
    charged,
    days_of,
    least_cost_for,
    length_lines,
    piece_lines,
    sheet_lines,
    size_name,
    steps_of,
)
from planner.buying.purchase import ChargeKind, PriceLine
from planner.measures.geometry import Size
from planner.shop.document import changed
from planner.shop.offers import Rush
from planner.shop.prices import AreaUnit, BySheet, CountedBy, PieceRow, SheetPrice
from tests.buying.offers import SHEET, an_offer, breaks, by_area, by_length, by_piece, by_sheet, inches

D = Decimal
STEPS = ((1, "9.00"), (12, "7.50"), (24, "6.00"))


def amounts(lines: tuple[PriceLine, ...]) -> list[Decimal]:
    return [line.amount for line in lines]


@pytest.mark.parametrize(
    ("count", "amount"),
    [
        (1, "9.00"),
        (11, "99.00"),  # 11 × 9.00
        (12, "90.00"),  # 12 × 7.50
        (23, "172.50"),  # 23 × 7.50: "12–23" includes both
        (24, "144.00"),  # 24 × 6.00
    ],
)
def test_a_break_holds_from_its_own_figure_on(count: int, amount: str) -> None:
    lines = sheet_lines(by_sheet(*STEPS), [Printed(SHEET, count)], "USD")
    assert amounts(lines) == [D(amount)]


def test_breaks_by_identical_layout_count_each_layout_for_itself() -> None:
    lines = sheet_lines(by_sheet(*STEPS), [Printed(SHEET, 11), Printed(SHEET, 13)], "USD")
    assert amounts(lines) == [D("99.00"), D("97.50")]


def test_breaks_by_the_whole_order_count_all_sheets_together() -> None:
    table = by_sheet(*STEPS, counted_by=CountedBy.ORDER)
    lines = sheet_lines(table, [Printed(SHEET, 11), Printed(SHEET, 13)], "USD")
    assert amounts(lines) == [D("144.00")]  # 24 × 6.00
    assert lines[0].what == "24 sheets 11.5 × 18 in at 6.00"


def test_breaks_by_the_whole_order_count_every_size() -> None:
    small = inches(8.5, 11)
    table = BySheet(
        sheets=(
            SheetPrice(size=SHEET, breaks=breaks(*STEPS)),
            SheetPrice(size=small, breaks=breaks((1, "5.00"), (12, "4.00"))),
        ),
        counted_by=CountedBy.ORDER,
    )
    lines = sheet_lines(table, [Printed(SHEET, 10), Printed(small, 2)], "USD")
    assert amounts(lines) == [D("75.00"), D("8.00")]  # 12 in all: 10 × 7.50, 2 × 4.00


def test_set_up_is_charged_for_each_layout() -> None:
    table = by_sheet(*STEPS, set_up="15.00")
    lines = sheet_lines(table, [Printed(SHEET, 1), Printed(SHEET, 2), Printed(SHEET, 0)], "USD")
    assert amounts(lines) == [D("9.00"), D("18.00"), D("30.00")]
    assert lines[-1].kind is ChargeKind.SET_UP
    assert lines[-1].what == "set-up of 2 layouts at 15.00"


def test_a_sheet_the_offer_does_not_sell_is_refused_by_name() -> None:
    with pytest.raises(UnknownSheet, match=r"no sheet of 12 × 18 in. It sells 11.5 × 18 in"):
        sheet_lines(by_sheet(*STEPS), [Printed(inches(12, 18), 1)], "USD")


def test_area_is_the_box_in_square_inches() -> None:
    # 40 × (4 × 3.5 = 14 in²) = 560 in² at 0.06: 33.60.
    lines = area_lines(by_area((0, "0.06")), [Printed(inches(4, 3.5), 40)], "USD")
    assert amounts(lines) == [D("33.60")]
    assert lines[0].each == D("0.84")


@pytest.mark.parametrize(("count", "amount"), [(71, "59.64"), (72, "50.40")])
def test_area_breaks_count_the_area_of_the_whole_order(count: int, amount: str) -> None:
    # From 1008 in² on 0.05: 72 × 14 = 1008 exactly; 71 × 14 = 994 at 0.06 is 59.64.
    lines = area_lines(by_area((0, "0.06"), (1008, "0.05")), [Printed(inches(4, 3.5), count)], "USD")
    assert amounts(lines) == [D(amount)]


def test_area_in_square_centimetres() -> None:
    table = changed(by_area((0, "0.01")), unit=AreaUnit.SQUARE_CENTIMETRE)
    lines = area_lines(table, [Printed(Size(100, 80), 3)], "EUR")
    assert amounts(lines) == [D("2.40")]  # 3 × 80 cm² × 0.01
    assert lines[0].what == "3 of 100 × 80 mm at 0.01/cm²"
    # Priced by the square inch, a size is told in inches, round or not.
    (line,) = area_lines(by_area((0, "0.06")), [Printed(Size(279.4, 194.4), 28)], "USD")
    assert line.what == "28 of 11 × 7.65 in at 0.06/in²"


def test_a_small_image_costs_the_minimum_each() -> None:
    table = by_area((0, "0.06"), minimum="0.50")
    lines = area_lines(table, [Printed(inches(2, 2), 10), Printed(inches(4, 3.5), 10)], "USD")
    assert amounts(lines) == [D("5.00"), D("8.40")]  # 4 in² × 0.06 = 0.24 < 0.50; 14 × 0.06 = 0.84


def test_an_amount_is_rounded_once_a_line_halves_up() -> None:
    # 3 × 1.5 × 1 in² × 0.03 = 0.135: 0.14, not 3 × round(0.045).
    lines = area_lines(by_area((0, "0.03")), [Printed(inches(1.5, 1), 3)], "USD")
    assert amounts(lines) == [D("0.14")]


def test_a_currency_without_cents_is_rounded_to_whole_units() -> None:
    # ISO 4217: the yen has no minor unit. 14 in² × 6.25 = 87.5.
    assert amounts(area_lines(by_area((0, "6.25")), [Printed(inches(4, 3.5), 1)], "JPY")) == [D("88")]


@pytest.mark.parametrize(
    ("length_in", "steps"), [(0.1, 1), (11.9, 1), (12, 1), (12.01, 2), (24, 2), (36.5, 4)]
)
def test_every_started_step_of_length_counts(length_in: float, steps: int) -> None:
    assert steps_of(by_length((1, "8")), length_in * 25.4) == steps


def test_length_breaks_count_the_steps_of_the_order() -> None:
    table = by_length((1, "8.00"), (5, "7.00"))
    roll = inches(22, 24)
    assert amounts(length_lines(table, [Printed(roll, 2)], "USD")) == [D("32.00")]  # 4 × 8.00
    lines = length_lines(table, [Printed(roll, 2), Printed(inches(22, 1), 1)], "USD")
    assert amounts(lines) == [D("35.00")]  # 5 × 7.00
    assert lines[0].what == "5 × 12 in of roll 22 in wide at 7.00"


BY_PIECE = by_piece(
    (inches(4, 4), 1, breaks((12, "1.10"), (48, "0.70"))),
    (inches(4, 4), 3, breaks((12, "1.60"), (48, "0.95"))),
    (inches(12, 12), 1, breaks((12, "2.20"), (48, "1.40"))),
    set_up="20.00",
)


@pytest.mark.parametrize(
    ("size", "colours", "count", "goods", "set_up"),
    [
        (inches(4, 3.5), 1, 47, "51.70", "20.00"),  # 47 × 1.10
        (inches(4, 3.5), 1, 48, "33.60", "20.00"),  # 48 × 0.70
        (inches(4, 3.5), 2, 48, "45.60", "40.00"),  # row of 3 colours: 48 × 0.95, two colours set up
        (inches(11, 8), 1, 12, "26.40", "20.00"),  # 12 × 2.20
        (inches(3.5, 4), 1, 5, "5.50", "20.00"),  # under the first break its price holds
    ],
)
def test_pieces_are_charged_by_their_row_and_set_up_by_colour(
    size: Size, colours: int, count: int, goods: str, set_up: str
) -> None:
    lines = piece_lines(BY_PIECE, [Design("front", size, count, colours)], "USD")
    assert amounts(lines) == [D(goods), D(set_up)]


def test_the_cheapest_row_that_takes_the_piece_is_charged() -> None:
    row = PieceRow(largest=inches(20, 20), most_colours=9, breaks=breaks((1, "0.50")))
    table = changed(BY_PIECE, rows=(*BY_PIECE.rows, row))
    assert amounts(piece_lines(table, [Design("front", inches(4, 4), 10)], "USD"))[0] == D("5.00")


def test_least_order_rush_and_delivery_come_in_that_order() -> None:
    offer = an_offer(
        by_sheet((1, "9.00")),
        least_order=D(25),
        rush=Rush(production_days=1, percent=D(10), fee=D("5.00")),
        delivery=D("8.95"),
        free_delivery_from=D(50),
        production_days=3,
        delivery_days=2,
    )

    def bill(count: int, *, rush: bool) -> list[Decimal]:
        goods = sheet_lines(by_sheet((1, "9.00")), [Printed(SHEET, count)], "USD")
        charges = charged(offer, goods, currency="USD", rush=rush)
        assert charges.cost == sum(amounts(charges.lines))
        return amounts(charges.lines)

    assert bill(2, rush=False) == [D("18.00"), D("7.00"), D("8.95")]
    assert bill(2, rush=True) == [D("18.00"), D("7.00"), D("7.50"), D("8.95")]  # 25 × 10 % + 5
    assert bill(5, rush=True) == [D("45.00"), D("9.50"), D("8.95")]  # rush does not earn free delivery
    assert bill(6, rush=False) == [D("54.00")]
    assert (days_of(offer), days_of(offer, rush=True)) == (5, 3)
    hurried = charged(
        offer, area_lines(by_area((0, "1")), [Printed(inches(5, 9), 1)], "USD"), currency="USD", rush=True
    )
    assert [line.what for line in hurried.lines if line.kind is ChargeKind.RUSH] == ["rush, 10 % and 5.00"]


def test_goods_of_exactly_the_threshold_are_delivered_free() -> None:
    offer = an_offer(by_sheet((1, "10")), delivery=D(8), free_delivery_from=D(50))
    goods = sheet_lines(by_sheet((1, "10")), [Printed(SHEET, 5)], "USD")
    assert charged(offer, goods, currency="USD").cost == D(50)


def test_nothing_ordered_costs_nothing() -> None:
    assert (
        charged(an_offer(by_sheet((1, "9")), least_order=D(25), delivery=D(9)), (), currency="USD").cost == 0
    )


def test_the_least_cost_in_all_knows_that_more_goods_may_be_delivered_free() -> None:
    offer = an_offer(by_sheet((1, "10")), delivery=D(8), free_delivery_from=D(50))
    assert least_cost_for(offer, D(45), currency="USD") == D(50)  # not 45 + 8
    assert least_cost_for(offer, D(30), currency="USD") == D(38)
    assert least_cost_for(offer, D(60), currency="USD") == D(60)


def test_sizes_are_named_in_the_unit_in_which_they_are_round() -> None:
    assert size_name(SHEET) == "11.5 × 18 in"
    assert size_name(Size(297, 420)) == "297 × 420 mm"
