"""Offers with prices invented for the tests, one a price model."""

from decimal import Decimal
from typing import Any

from planner.job.pieces import NeededPiece
from planner.measures.geometry import Size
from planner.shop.cloth import Fibre
from planner.shop.offers import ClothRule, Offer, Peel, PressSetting, Pressure, TransferKind
from planner.shop.prices import (
    AreaUnit,
    Break,
    Breaks,
    ByArea,
    ByLength,
    ByPiece,
    BySheet,
    CountedBy,
    PieceRow,
    PriceTable,
    SheetPrice,
)

INCH = 25.4
SHEET = Size(11.5 * INCH, 18 * INCH)
ORDINARY = ClothRule(fibres=(Fibre.COTTON, Fibre.POLYESTER, Fibre.VISCOSE))


def inches(width: float, height: float) -> Size:
    return Size(width * INCH, height * INCH)


def breaks(*steps: tuple[float, str]) -> Breaks:
    return Breaks(steps=tuple(Break(from_count=Decimal(repr(at)), each=Decimal(each)) for at, each in steps))


def an_offer(price: PriceTable, **fields: Any) -> Offer:
    fields = {
        "key": "offer",
        "name": "Offer",
        "kind": TransferKind.FILM_SHEET,
        "cloth": ORDINARY,
        "press": PressSetting(setting_c=143, press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT),
        "gap_mm": 0.0,
        "margin_mm": 0.0,
        **fields,
    }
    return Offer(price=price, **fields)


def by_sheet(
    *steps: tuple[float, str],
    counted_by: CountedBy = CountedBy.LAYOUT,
    set_up: str = "0",
    size: Size = SHEET,
) -> BySheet:
    return BySheet(
        sheets=(SheetPrice(size=size, breaks=breaks(*steps)),),
        counted_by=counted_by,
        set_up_each_layout=Decimal(set_up),
    )


def by_area(*steps: tuple[float, str], minimum: str = "0") -> ByArea:
    return ByArea(
        unit=AreaUnit.SQUARE_INCH,
        breaks=breaks(*steps),
        largest=inches(22, 22),
        minimum_each=Decimal(minimum),
    )


def by_length(*steps: tuple[float, str]) -> ByLength:
    return ByLength(width_mm=22 * INCH, longest_mm=200 * INCH, step_mm=12 * INCH, breaks=breaks(*steps))


def by_piece(*rows: tuple[Size, int, Breaks], set_up: str = "0") -> ByPiece:
    return ByPiece(
        rows=tuple(PieceRow(largest=size, most_colours=most, breaks=steps) for size, most, steps in rows),
        set_up_each_colour=Decimal(set_up),
    )


def needed(key: str, width: float, height: float, count: int, artwork: str | None = None) -> NeededPiece:
    return NeededPiece(key, key, artwork or f"art {key}", inches(width, height), count, True)
