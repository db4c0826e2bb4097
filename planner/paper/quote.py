"""The quote: the customer's paper. Made from a type that holds no costs, and from nothing that does."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from planner.measures.figures import whole
from planner.measures.lengths import LengthUnit
from planner.measures.money import total
from planner.paper import fonts, style
from planner.paper import quote_words as words
from planner.paper.blocks import Cell, Drawn, StartOfPaper, gap
from planner.paper.build import Imprint, pdf_of
from planner.paper.garment import GarmentPicture, draw_garment
from planner.paper.logo import logo_block
from planner.paper.pen import Area, Pen
from planner.paper.pictures import Pictures
from planner.paper.text import paragraph
from planner.paper.words import size_counts
from planner.plan import wording
from planner.plan.kind_words import kind_name
from planner.pricing.quote import Quote, QuoteLine
from planner.shop.book import Logo, PaperSize

PICTURE_SIDES = (80.0, 66.0, 54.0)
"""Pictures shrink where that keeps a quote on one page."""
PRICE_WIDTH = 100.0


@dataclass(frozen=True, slots=True)
class QuoteLook:
    """How a quote is laid out and what it shows beside its words."""

    paper: PaperSize
    unit: LengthUnit
    garments: Mapping[str, GarmentPicture]
    """Picture of each line, by the line's key."""
    ladder: tuple[tuple[int, Decimal], ...] = ()
    """Quantities and the price of a garment at each, where the shop wants them shown."""
    logo: Logo | None = None


def quote_pdf(quote: Quote, look: QuoteLook, pictures: Pictures) -> bytes:
    """The quote on its own."""
    imprint = Imprint(quote.title, quote.quoted_on, look.paper, quote.shop_name, words.QUOTE)
    return pdf_of(quote_story(quote, look, pictures), imprint)


def quote_story(quote: Quote, look: QuoteLook, pictures: Pictures) -> list[Flowable]:
    page = style.page_size(look.paper)
    for side in PICTURE_SIDES:
        body, closing = _parts(quote, look, pictures, side)
        if _height([*body, *closing], page.content_width) <= page.content_height - 4:
            return [*body, *closing]
    body, closing = _parts(quote, look, pictures, PICTURE_SIDES[0])
    # Total and signature are never parted.
    return [*body, KeepTogether(closing)]


def _height(story: list[Flowable], width: float) -> float:
    return sum(float(part.wrap(width, 100_000)[1]) for part in story)


def _parts(
    quote: Quote, look: QuoteLook, pictures: Pictures, side: float
) -> tuple[list[Flowable], list[Flowable]]:
    """What the quote lists, and what closes it."""
    width = style.page_size(look.paper).content_width
    body: list[Flowable] = [StartOfPaper(words.QUOTE), _letterhead(quote, look, pictures, width), gap(7)]
    body.append(paragraph(words.QUOTE, style.TITLE_TEXT))
    if quote.title:
        body.append(paragraph(quote.title, style.LEAD_TEXT))
    body += [gap(5), _parties(quote, width), gap(5)]
    for _, priced in itertools.groupby(quote.lines, lambda line: line.line):
        body.append(_line_block(tuple(priced), quote.currency, look, pictures, width, side))
    if not quote.lines:
        body.append(paragraph(words.NO_GARMENTS))
    closing: list[Flowable] = [gap(2), _sums(quote, width), gap(4)]
    if look.ladder:
        closing += [_ladder(quote, look, width), gap(3)]
    closing += [*(paragraph(term, style.TEXT) for term in quote.terms), gap(2)]
    closing += [paragraph(words.RIGHTS, style.FINE), gap(7), Drawn(width, 30, _draw_signatures)]
    return body, closing


def _plain(cells: list[list[Cell]], widths: list[float], *more: tuple) -> Table:  # type: ignore[type-arg]
    rules = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("FONTNAME", (0, 0), (-1, -1), fonts.REGULAR),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 0),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
        *more,
    ]
    return Table(cells, colWidths=widths, style=TableStyle(rules), hAlign="LEFT")


def _letterhead(quote: Quote, look: QuoteLook, pictures: Pictures, width: float) -> Flowable:
    name: list[Flowable] = [paragraph(quote.shop_name, style.HEADING_TEXT)]
    if look.logo is not None:
        name = [logo_block(look.logo, pictures), gap(1), *name]
    lines = [paragraph(line, style.FINE_RIGHT) for line in quote.shop_lines]
    return _plain([[name, lines]], [width * 0.55, width * 0.45])


def _parties(quote: Quote, width: float) -> Flowable:
    who: list[Flowable] = [paragraph(words.FOR, style.FINE)]
    for at, line in enumerate(quote.customer or (words.NOBODY,)):
        who.append(paragraph(line, style.STRONG_TEXT if at == 0 else style.TEXT))

    def dated(name: str, value: str) -> list[Flowable]:
        return [paragraph(name, style.FINE), paragraph(value, style.STRONG_TEXT)]

    due = wording.day(quote.due) if quote.due else words.TO_BE_AGREED
    columns: list[Cell] = [
        who,
        dated(words.QUOTED_ON, wording.day(quote.quoted_on)),
        dated(words.VALID_UNTIL, wording.day(quote.valid_until)),
        dated(words.DELIVERY, due),
    ]
    return _plain([columns], [width * 0.4, width * 0.2, width * 0.2, width * 0.2])


def _line_block(
    priced: Sequence[QuoteLine], currency: str, look: QuoteLook, pictures: Pictures, width: float, side: float
) -> Flowable:
    """One garment line, whose sizes may differ in price; never broken across pages.

    Pictures left, what it is in the middle, prices right.
    """
    line = priced[0]
    garment = look.garments.get(line.line)
    sides = garment.sides if garment is not None else ()
    pictures_width = (side + 6) * max(1, len(sides))

    def draw(pen: Pen, area: Area) -> None:
        for at, back in enumerate(sides):
            left = area.left + at * (side + 6)
            if garment is not None:
                room = Area(left, area.top, side, area.height)
                draw_garment(pen, room, garment, pictures, back=back)

    name = words.garment(line.style or kind_name(line.kind), line.colour_name)
    what: list[Flowable] = [paragraph(name, style.LEAD_STRONG)]
    for print_ in line.prints:
        place = wording.place(print_.location, print_.place_name)
        size = wording.size(print_.width_mm, print_.height_mm, look.unit)
        what.append(paragraph(words.printed(place, print_.name, size), style.TEXT))
    if len(priced) == 1:
        what += [gap(1), paragraph(size_counts(line.sizes), style.TEXT)]
        times = words.times(line.count, wording.money(line.price_each, currency))
    else:
        times = wording.count(sum(one.count for one in priced), "garment")
    amount = wording.money(total(one.amount for one in priced), currency)
    price: list[Flowable] = [paragraph(amount, style.STRONG_RIGHT), paragraph(times, style.FINE_RIGHT)]
    words_width = width - pictures_width - 10
    told: list[Flowable] = [_plain([[what, price]], [words_width - PRICE_WIDTH, PRICE_WIDTH])]
    if len(priced) > 1:
        told = [*told, gap(1), _by_price(priced, currency, words_width)]
    return _plain(
        [[Drawn(pictures_width, side, draw), told]],
        [pictures_width + 10, words_width],
        ("LINEABOVE", (0, 0), (-1, 0), 0.5, style.HAIRLINE),
        ("TOPPADDING", (0, 0), (-1, -1), side / 8),
        ("BOTTOMPADDING", (0, 0), (-1, -1), side / 8),
    )


def _by_price(priced: Sequence[QuoteLine], currency: str, width: float) -> Flowable:
    """Sizes with the price of each, a row for each price."""
    rows: list[list[Cell]] = [
        [
            paragraph(size_counts(one.sizes), style.TEXT),
            paragraph(words.times(one.count, wording.money(one.price_each, currency)), style.FINE_RIGHT),
            paragraph(wording.money(one.amount, currency), style.TEXT_RIGHT),
        ]
        for one in priced
    ]
    each = 80.0
    return _plain(rows, [width - each - PRICE_WIDTH, each, PRICE_WIDTH], ("TOPPADDING", (0, 0), (-1, -1), 2))


def _sums(quote: Quote, width: float) -> Flowable:
    def money_row(name: str, amount: str, *, strong: bool = False) -> list[Cell]:
        left, right = (style.STRONG_TEXT, style.STRONG_RIGHT) if strong else (style.TEXT, style.TEXT_RIGHT)
        return ["", paragraph(name, left), paragraph(amount, right)]

    rows: list[list[Cell]] = []
    if any((quote.discount, quote.top_up, quote.delivery, quote.tax, quote.tax_percent, quote.tax_exempt)):
        rows.append(money_row(words.SUBTOTAL, wording.money(quote.subtotal, quote.currency)))
    if quote.discount:
        rows.append(
            money_row(words.DISCOUNT, words.taken_off(wording.money(abs(quote.discount), quote.currency)))
        )
    if quote.top_up:
        rows.append(money_row(words.TO_MINIMUM, wording.money(quote.top_up, quote.currency)))
    if quote.delivery:
        rows.append(money_row(words.DELIVERY, wording.money(quote.delivery, quote.currency)))
    if quote.tax_exempt:
        rows.append(money_row(words.exempt(quote.tax_name), wording.money(quote.tax, quote.currency)))
    elif quote.tax or quote.tax_percent:
        name = words.taxed(quote.tax_name, quote.tax_percent)
        rows.append(money_row(name, wording.money(quote.tax, quote.currency)))
    total_row = len(rows)
    rows.append(
        [
            "",
            paragraph(words.TOTAL, style.LEAD_STRONG),
            paragraph(wording.money(quote.total, quote.currency), _TOTAL),
        ]
    )
    if quote.deposit:
        name = words.deposit(quote.deposit_percent)
        rows.append(money_row(name, wording.money(quote.deposit, quote.currency)))
    return _plain(
        rows,
        [width - 270, 160, 110],
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
        ("LINEABOVE", (0, 0), (-1, 0), 0.5, style.HAIRLINE),
        ("LINEABOVE", (1, total_row), (-1, total_row), 1, style.BLACK),
        ("TOPPADDING", (1, total_row), (-1, total_row), 6),
        ("BOTTOMPADDING", (1, total_row), (-1, total_row), 6),
    )


_TOTAL = style.right_of(style.LEAD_STRONG)


def _ladder(quote: Quote, look: QuoteLook, width: float) -> Flowable:
    """Quantities above their prices, as many side by side as there are."""
    name = paragraph(words.OTHER_QUANTITIES, style.FINE)
    columns: list[Cell] = [
        [
            paragraph(whole(quantity), style.FINE_RIGHT),
            paragraph(wording.money(price, quote.currency), style.TEXT_RIGHT),
        ]
        for quantity, price in look.ladder
    ]
    each = min(70.0, (width - 110) / len(columns))
    return _plain([[name, *columns]], [width - each * len(columns), *[each] * len(columns)])


def _draw_signatures(pen: Pen, area: Area) -> None:
    for column, name in ((area.column(0, 7, 12), words.SIGNATURE), (area.column(7, 5, 12), words.DATE)):
        pen.line(column.left, area.bottom + 14, column.right, area.bottom + 14, width=0.6)
        pen.text(column.left, area.bottom + 3, name, style.SMALL, colour=style.GREY)
