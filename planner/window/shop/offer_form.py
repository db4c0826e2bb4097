"""The form for one offer of a transfer printer."""

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum

from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH
from planner.plan.kind_words import kind_name
from planner.shop.book import Shop
from planner.shop.cloth import Fibre
from planner.shop.offers import ClothRule, Offer, Peel, PressSetting, Pressure, Rush, SheetWish, TransferKind
from planner.shop.prices import (
    AreaUnit,
    Break,
    Breaks,
    ByArea,
    ByLength,
    ByPiece,
    BySheet,
    PieceRow,
    PriceTable,
    SheetPrice,
)
from planner.window.asks import Asks
from planner.window.shop import words
from planner.window.shop.form import Form
from planner.window.shop.lens import Lens, one_of
from planner.window.shop.price_form import PriceForm
from planner.window.shop.profile_edit import ProfileEdit

_FIBRES = [
    Fibre.COTTON,
    Fibre.POLYESTER,
    Fibre.VISCOSE,
    Fibre.LINEN,
    Fibre.WOOL,
    Fibre.ACRYLIC,
    Fibre.NYLON,
    Fibre.SPANDEX,
    Fibre.POLYPROPYLENE,
]


class ChargedBy(StrEnum):
    """How a transfer printer charges."""

    SHEET = words.BY_SHEET
    AREA = words.BY_AREA
    LENGTH = words.BY_LENGTH
    PIECE = words.BY_PIECE


_MODELS = {
    ChargedBy.SHEET: BySheet,
    ChargedBy.AREA: ByArea,
    ChargedBy.LENGTH: ByLength,
    ChargedBy.PIECE: ByPiece,
}
_FIRST_SHEET = Size(11.5 * MM_PER_INCH, 18 * MM_PER_INCH)


def fresh_price(charged: ChargedBy) -> PriceTable:
    """A table to start from: one size, one price, to be typed over."""
    breaks = Breaks(steps=(Break(from_count=Decimal(1), each=Decimal("10.00")),))
    if charged is ChargedBy.SHEET:
        return BySheet(sheets=(SheetPrice(size=_FIRST_SHEET, breaks=breaks),))
    if charged is ChargedBy.AREA:
        area = Breaks(steps=(Break(from_count=Decimal(0), each=Decimal("0.080")),))
        return ByArea(
            unit=AreaUnit.SQUARE_INCH, breaks=area, largest=Size(22 * MM_PER_INCH, 22 * MM_PER_INCH)
        )
    if charged is ChargedBy.LENGTH:
        return ByLength(
            width_mm=22 * MM_PER_INCH, longest_mm=240 * MM_PER_INCH, step_mm=12 * MM_PER_INCH, breaks=breaks
        )
    return ByPiece(
        rows=(PieceRow(largest=Size(4 * MM_PER_INCH, 4 * MM_PER_INCH), most_colours=1, breaks=breaks),)
    )


def fresh_offer(key: str) -> Offer:
    """An offer to start from, with press settings of common practice."""
    return Offer(
        key=key,
        name=words.NEW_OFFER,
        kind=TransferKind.FILM_SHEET,
        price=fresh_price(ChargedBy.SHEET),
        cloth=ClothRule(fibres=(Fibre.COTTON, Fibre.POLYESTER, Fibre.VISCOSE, Fibre.LINEN)),
        # 290 °F, medium pressure, hot peel: common practice for full-colour gang sheets.
        press=PressSetting(setting_c=(290 - 32) * 5 / 9, press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT),
    )


def _charged(offer: Lens, key: Callable[[], str]) -> Lens:
    """How an offer charges; another way starts with a table of its own, the way back with the one it had."""
    price = offer.at("price")
    left: dict[tuple[str, ChargedBy], PriceTable] = {}

    def get(shop: Shop) -> ChargedBy | None:
        table = price.get(shop)
        return None if table is None else next(way for way, model in _MODELS.items() if type(table) is model)

    def put(shop: Shop, charged: ChargedBy) -> Shop:
        before = get(shop)
        if before is not None:
            left[key(), before] = price.get(shop)
        return price.put(shop, left.get((key(), charged)) or fresh_price(charged))

    return Lens(get, put)


def _has_rush(offer: Lens) -> Lens:
    rush = offer.at("rush")
    return Lens(
        lambda shop: rush.get(shop) is not None,
        lambda shop, on: rush.put(shop, Rush(production_days=1) if on else None),
    )


def build_offer_form(form: Form, key: Callable[[], str], *, asks: Asks) -> None:
    """All fields of an offer, in the order a printer's own sheet has them."""
    offer = one_of("offers", key)
    form.text(words.NAME, offer.at("name"))
    form.text(words.TRANSFER_PRINTER, offer.at("printer"))
    form.choice(words.KIND_OF_TRANSFER, offer.at("kind"), TransferKind)
    form.heading(
        words.PRICES,
        words.PRICES_WHY,
    )
    form.choice(words.CHARGED, _charged(offer, key), ChargedBy)
    prices = PriceForm(offer.at("price"), asks)
    prices.edited.connect(form.take)
    form.widget("", prices, prices.show_shop)
    form.money(words.LEAST_ORDER, offer.at("least_order"))
    form.figure(words.LEAST_NUMBER_OF_PIECES, offer.at("least_pieces"), whole=True)
    form.heading(words.SHEETS)
    form.length(words.GAP_BETWEEN_PIECES, offer.at("gap_mm"))
    form.length(words.MARGIN_ALONG_THE_EDGE, offer.at("margin_mm"), words.MARGIN_HINT)
    form.several(
        words.ITS_SHEET_FILES_HAVE, offer.at("wishes"), [(wish, kind_name(wish)) for wish in SheetWish]
    )
    _days(form, offer)
    _press(form, offer.at("press"))
    cloth, art = offer.at("cloth"), offer.at("art")
    form.heading(words.CLOTH_IT_HOLDS_ON)
    form.several(words.FIBRES, cloth.at("fibres"), [(fibre, kind_name(fibre)) for fibre in _FIBRES])
    form.flag(words.MADE_FOR_CLOTH_WITH_SPANDEX, cloth.at("stretch"))
    form.flag(words.HOLDS_ON_COATED_CLOTH, cloth.at("coated"))
    form.flag(words.NEEDS_WHITE_OR_LIGHT_CLOTH, cloth.at("light_only"))
    form.figure(words.LEAST_POLYESTER, cloth.at("least_polyester_percent"), "%")
    form.heading(words.ARTWORK_IT_CAN_SHOW)
    form.figure(words.RESOLUTION_NEEDED, art.at("needs_ppi"), words.PPI_NEEDED)
    form.figure(words.THINNEST_STROKE, art.at("least_stroke_mm"), "mm")
    form.figure(words.SMALLEST_SPECK, art.at("least_speck_mm"), "mm")
    form.figure(words.MOST_COLOURS, art.at("most_colours"), whole=True, none=words.ANY)
    form.flag(words.SHOWS_HALF_TRANSPARENT_AREAS, art.at("soft_edges"))
    profile = ProfileEdit(art.at("profile"), asks)
    profile.edited.connect(form.take)
    form.widget(words.PRINT_PROFILE, profile, profile.show_shop)


def _days(form: Form, offer: Lens) -> None:
    form.heading(words.DAYS_AND_DELIVERY)
    form.figure(words.PRODUCTION, offer.at("production_days"), words.WORKING_DAYS_UNIT, whole=True)
    form.figure(words.DELIVERY_TIME, offer.at("delivery_days"), words.WORKING_DAYS_UNIT, whole=True)
    form.money(words.DELIVERY, offer.at("delivery"), words.AN_ORDER)
    form.money(words.FREE_DELIVERY_FROM, offer.at("free_delivery_from"), none=words.NEVER)
    form.flag(words.OFFERS_RUSH, _has_rush(offer))
    rush = offer.at("rush")
    form.figure(
        words.RUSH_PRODUCTION, rush.at("production_days"), words.WORKING_DAYS_UNIT, whole=True, only_with=rush
    )
    form.figure(words.RUSH_SURCHARGE, rush.at("percent"), "%", only_with=rush)
    form.money(words.RUSH_FEE, rush.at("fee"), words.AN_ORDER, only_with=rush)


def _press(form: Form, press: Lens) -> None:
    form.heading(
        words.PRESSING,
        words.PRESSING_WHY,
    )
    form.heat(words.TEMPERATURE, press.at("setting_c"))
    form.figure(words.PRESS_TIME, press.at("press_s"), "s")
    form.choice(words.PRESSURE, press.at("pressure"), Pressure)
    form.choice(words.PEEL, press.at("peel"), Peel)
    form.figure(words.PRE_PRESS, press.at("pre_press_s"), "s")
    form.figure(words.SECOND_PRESS, press.at("second_press_s"), words.SECONDS_OR_NONE)
    form.flag(words.COVER_SHEET, press.at("cover_sheet"))
