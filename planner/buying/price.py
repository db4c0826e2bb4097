"""What a transfer printer charges, exact to the smallest coin, for all four price models.

Every line is rounded once, to the currency's smallest coin. A break counts from its own figure on:
(12, 7.50), (24, 6.00) charges 7.50 each for 12 as for 23. Nothing here buys more than it was asked to:
going up to the next break because that is cheaper is decided by the plan, which says so.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil

from planner.buying.purchase import ChargeKind, PriceLine
from planner.measures.figures import short, written
from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH, LengthUnit, format_length, format_size
from planner.measures.money import round_money, total
from planner.shop.offers import Offer
from planner.shop.prices import AreaUnit, ByArea, ByLength, ByPiece, BySheet, CountedBy, PieceRow, SheetPrice

_NOISE_MM = 1e-6
"""What float arithmetic may have added to a length; no printer measures as finely."""
SAME_SIZE_MM = 0.01
_LENGTHS_OF = {AreaUnit.SQUARE_INCH: LengthUnit.INCH, AreaUnit.SQUARE_CENTIMETRE: LengthUnit.MILLIMETRE}
_MM2_PER_UNIT = {AreaUnit.SQUARE_INCH: Decimal("645.16"), AreaUnit.SQUARE_CENTIMETRE: Decimal(100)}


class UnknownSheet(ValueError):
    """A layout is on a sheet size that the offer does not sell; the message says which."""

    def __init__(self, offer_sheets: Iterable[Size], size: Size) -> None:
        sold = ", ".join(size_name(sheet) for sheet in offer_sheets)
        super().__init__(f"This offer has no sheet of {size_name(size)}. It sells {sold}.")


@dataclass(frozen=True, slots=True)
class Printed:
    """One image, layout or length, and how many of it are printed."""

    size: Size
    count: int
    piece: str | None = None


@dataclass(frozen=True, slots=True)
class Design:
    """Pieces of one artwork at one size, bought by the piece."""

    piece: str
    size: Size
    count: int
    colours: int = 1


@dataclass(frozen=True, slots=True)
class Charges:
    """All lines of an order, what of them is delivery, and their sum."""

    lines: tuple[PriceLine, ...]
    delivery: Decimal
    cost: Decimal


def size_name(size: Size) -> str:
    """A size in the unit in which it is a round figure: printers' sheets in theirs, "11.5 × 18 in"."""
    return format_size(size.width_mm, size.height_mm, _unit_of(size))


def _unit_of(size: Size) -> LengthUnit:
    sides = (size.width_mm, size.height_mm)
    in_eighths = all(abs(8 * side / MM_PER_INCH - round(8 * side / MM_PER_INCH)) < 0.01 for side in sides)
    return LengthUnit.INCH if in_eighths else LengthUnit.MILLIMETRE


def _images(count: int, size: Size, unit: LengthUnit) -> str:
    """So many of a size that is the customer's, in the unit of the printer's own figures."""
    return f"{count} of {format_size(size.width_mm, size.height_mm, unit)}"


def sheet_lines(table: BySheet, printed: Sequence[Printed], currency: str) -> tuple[PriceLine, ...]:
    """Charges for sheets: one `Printed` a distinct layout, its count the runs.

    Breaks counted by the whole order count all its sheets, of every size, together.

    Raises:
        UnknownSheet: a layout's sheet is none of the table's.
    """
    printed = [one for one in printed if one.count]
    everything = sum(one.count for one in printed)
    lines = []
    if table.counted_by is CountedBy.LAYOUT:
        for one in printed:
            sheet = sheet_of(table, one.size)
            lines.append(_sheets_line(sheet, one.count, sheet.breaks.each_at(one.count), currency))
    else:
        for sheet in table.sheets:
            count = sum(one.count for one in printed if sheet_of(table, one.size) is sheet)
            if count:
                lines.append(_sheets_line(sheet, count, sheet.breaks.each_at(everything), currency))
    if table.set_up_each_layout and printed:
        lines.append(_set_up(len(printed), table.set_up_each_layout, "layout", currency))
    return tuple(lines)


def sheet_of(table: BySheet, size: Size) -> SheetPrice:
    """The table's entry for a sheet size.

    Raises:
        UnknownSheet: there is none.
    """
    for sheet in table.sheets:
        if (
            abs(sheet.size.width_mm - size.width_mm) <= SAME_SIZE_MM
            and abs(sheet.size.height_mm - size.height_mm) <= SAME_SIZE_MM
        ):
            return sheet
    raise UnknownSheet((sheet.size for sheet in table.sheets), size)


def area_lines(table: ByArea, images: Sequence[Printed], currency: str) -> tuple[PriceLine, ...]:
    """Charges for images (single pieces or groups) by the area of their boxes."""
    images = [image for image in images if image.count]
    each = table.breaks.each_at(area_of(table, images))
    lines = []
    for image in images:
        area = area_in(table.unit, image.size)
        one = max(area * each, table.minimum_each)
        how = f"at {_plain(each)}/{table.unit.value}"
        if area * each < table.minimum_each:
            how = f"at the minimum of {_plain(table.minimum_each)}"
        lines.append(
            PriceLine(
                what=f"{_images(image.count, image.size, _LENGTHS_OF[table.unit])} {how}",
                amount=round_money(image.count * one, currency),
                count=Decimal(image.count),
                each=one,
                size=image.size,
                piece=image.piece,
            )
        )
    return tuple(lines)


def area_in(unit: AreaUnit, size: Size) -> Decimal:
    """Area of a box in the table's unit, free of float noise."""
    exact = _exact(size.width_mm) * _exact(size.height_mm) / _MM2_PER_UNIT[unit]
    return exact.quantize(Decimal("1e-6")).normalize()


def area_of(table: ByArea, images: Iterable[Printed]) -> Decimal:
    """Area of all images together, in the table's unit: what its breaks count."""
    return total(image.count * area_in(table.unit, image.size) for image in images)


def length_lines(table: ByLength, lengths: Sequence[Printed], currency: str) -> tuple[PriceLine, ...]:
    """Charges for lengths cut off a roll, each charged by the started step."""
    steps = sum(one.count * steps_of(table, one.size.height_mm) for one in lengths)
    if not steps:
        return ()
    each = table.breaks.each_at(steps)
    step = _length_name(table.step_mm)
    return (
        PriceLine(
            what=f"{steps} × {step} of roll {_length_name(table.width_mm)} wide at {_plain(each)}",
            amount=round_money(steps * each, currency),
            count=Decimal(steps),
            each=each,
        ),
    )


def steps_of(table: ByLength, length_mm: float) -> int:
    """Started steps in a length; a length of exactly n steps is n."""
    return max(0, ceil((length_mm - _NOISE_MM) / table.step_mm))


def piece_lines(table: ByPiece, designs: Sequence[Design], currency: str) -> tuple[PriceLine, ...]:
    """Charges for pieces bought singly; one `Design` for every artwork at one size.

    Raises:
        ValueError: a design is in none of the table's rows (see `row_for`).
    """
    designs = [design for design in designs if design.count]
    lines = []
    for design in designs:
        row = row_for(table, design)
        if row is None:
            raise ValueError(f"This offer has no price for {size_name(design.size)}.")
        each = row.breaks.each_at(design.count)
        images = _images(design.count, design.size, _unit_of(row.largest))
        colours = f"{design.colours} colour{'s' if design.colours > 1 else ''}"
        lines.append(
            PriceLine(
                what=f"{images}, {colours}, at {_plain(each)}",
                amount=round_money(design.count * each, currency),
                count=Decimal(design.count),
                each=each,
                size=design.size,
                piece=design.piece,
            )
        )
    colours_in_all = sum(design.colours for design in designs)
    if table.set_up_each_colour and colours_in_all:
        lines.append(_set_up(colours_in_all, table.set_up_each_colour, "colour", currency))
    return tuple(lines)


def row_for(table: ByPiece, design: Design) -> PieceRow | None:
    """The cheapest row that takes the design's size (turned or not) and colours; None where none does."""
    rows = [
        row for row in table.rows if design.colours <= row.most_colours and fits_in(design.size, row.largest)
    ]
    return min(rows, key=lambda row: row.breaks.each_at(design.count), default=None)


def fits_in(size: Size, largest: Size, *, may_turn: bool = True) -> bool:
    """Whether a piece is within a largest size."""
    width, height = largest.width_mm + _NOISE_MM, largest.height_mm + _NOISE_MM
    return (size.width_mm <= width and size.height_mm <= height) or (
        may_turn and size.height_mm <= width and size.width_mm <= height
    )


def charged(offer: Offer, goods: tuple[PriceLine, ...], *, currency: str, rush: bool = False) -> Charges:
    """Goods and set-up lifted to the least order, then rush, then delivery.

    A rush percentage is taken of the goods after lifting; the threshold of free delivery looks at the
    same sum, rush not counted. Nothing ordered costs nothing. Rush is ignored where the offer has none.
    """
    if not goods:
        return Charges((), Decimal(0), Decimal(0))
    lines = list(goods)
    worth = total(line.amount for line in goods)
    if worth < offer.least_order:
        lift = round_money(offer.least_order - worth, currency)
        what = f"up to the least order of {_plain(offer.least_order)}"
        lines.append(PriceLine(what=what, amount=lift, kind=ChargeKind.LEAST_ORDER))
        worth += lift
    if rush and offer.rush is not None:
        surcharge = round_money(worth * offer.rush.percent / 100 + offer.rush.fee, currency)
        if surcharge:
            lines.append(PriceLine(what=_rush_name(offer), amount=surcharge, kind=ChargeKind.RUSH))
    delivery = delivery_for(offer, worth, currency)
    if delivery:
        lines.append(PriceLine(what="delivery", amount=delivery, kind=ChargeKind.DELIVERY))
    return Charges(tuple(lines), delivery, total(line.amount for line in lines))


def delivery_for(offer: Offer, worth: Decimal, currency: str) -> Decimal:
    """What delivery of goods worth so much costs."""
    if offer.free_delivery_from is not None and worth >= offer.free_delivery_from:
        return Decimal(0)
    return round_money(offer.delivery, currency)


def least_cost_for(offer: Offer, goods: Decimal, *, currency: str, rush: bool = False) -> Decimal:
    """The least an order can cost in all whose goods are proven to cost at least `goods`.

    Not simply the cost at `goods`: an order worth more may reach free delivery and cost less in all.
    """
    if goods <= 0:
        return Decimal(0)

    def in_all(worth: Decimal) -> Decimal:
        line = PriceLine(what="", amount=worth)
        return charged(offer, (line,), currency=currency, rush=rush).cost

    free_from = offer.free_delivery_from
    if free_from is not None and free_from > goods:
        return min(in_all(goods), in_all(free_from))
    return in_all(goods)


def days_of(offer: Offer, *, rush: bool = False) -> int:
    """Working days from order to arrival."""
    production = offer.rush.production_days if rush and offer.rush is not None else offer.production_days
    return production + offer.delivery_days


def colours_of(colours: Mapping[str, int], piece: str, artwork: str) -> int:
    """Colours of a piece: by its own key or its artwork's; 1 where nobody said."""
    return max(1, colours.get(piece, colours.get(artwork, 1)))


def _sheets_line(sheet: SheetPrice, count: int, each: Decimal, currency: str) -> PriceLine:
    return PriceLine(
        what=f"{count} sheet{'s' if count > 1 else ''} {size_name(sheet.size)} at {_plain(each)}",
        amount=round_money(count * each, currency),
        count=Decimal(count),
        each=each,
        size=sheet.size,
    )


def _set_up(count: int, each: Decimal, what: str, currency: str) -> PriceLine:
    return PriceLine(
        what=f"set-up of {count} {what}{'s' if count > 1 else ''} at {_plain(each)}",
        amount=round_money(count * each, currency),
        kind=ChargeKind.SET_UP,
        count=Decimal(count),
        each=each,
    )


def _rush_name(offer: Offer) -> str:
    assert offer.rush is not None
    parts = []
    if offer.rush.percent:
        parts.append(f"{short(float(offer.rush.percent))} %")
    if offer.rush.fee:
        parts.append(_plain(offer.rush.fee))
    return "rush, " + " and ".join(parts)


def _length_name(length_mm: float) -> str:
    eighths = 8 * length_mm / MM_PER_INCH
    unit = LengthUnit.INCH if abs(eighths - round(eighths)) < 0.01 else LengthUnit.MILLIMETRE
    return format_length(length_mm, unit)


def _plain(amount: Decimal) -> str:
    """An amount with at least two decimals, more only where it has them."""
    whole, _, cents = f"{amount:f}".partition(".")
    cents = cents.rstrip("0")
    return written(f"{whole}.{cents:0<2}")


def _exact(mm: float) -> Decimal:
    return Decimal(repr(round(mm, 6)))
