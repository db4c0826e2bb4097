"""The form for one offer of a transfer printer."""

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum

from planner.measures.geometry import Size
from planner.measures.lengths import MM_PER_INCH
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
from planner.window.shop.form import Form
from planner.window.shop.lens import Lens, one_of
from planner.window.shop.price_form import PriceForm

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

    SHEET = "by the sheet"
    AREA = "by the printed area"
    LENGTH = "by the length of a roll"
    PIECE = "by the piece"


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
        name="New offer",
        kind=TransferKind.FILM_SHEET,
        price=fresh_price(ChargedBy.SHEET),
        cloth=ClothRule(fibres=(Fibre.COTTON, Fibre.POLYESTER, Fibre.VISCOSE, Fibre.LINEN)),
        # 290 °F, medium pressure, hot peel: common practice for full-colour gang sheets.
        press=PressSetting(setting_c=(290 - 32) * 5 / 9, press_s=10, pressure=Pressure.MEDIUM, peel=Peel.HOT),
    )


def _charged(offer: Lens) -> Lens:
    """How an offer charges; another way starts with a table of its own."""
    price = offer.at("price")

    def get(shop: Shop) -> ChargedBy | None:
        table = price.get(shop)
        return None if table is None else next(way for way, model in _MODELS.items() if type(table) is model)

    def put(shop: Shop, charged: ChargedBy) -> Shop:
        return price.put(shop, fresh_price(charged))

    return Lens(get, put)


def _has_rush(offer: Lens) -> Lens:
    rush = offer.at("rush")
    return Lens(
        lambda shop: rush.get(shop) is not None,
        lambda shop, on: rush.put(shop, Rush(production_days=1) if on else None),
    )


def build_offer_form(form: Form, key: Callable[[], str]) -> None:
    """All fields of an offer, in the order a printer's own sheet has them."""
    offer = one_of("offers", key)
    form.text("Name", offer.at("name"))
    form.text("Transfer printer", offer.at("printer"))
    form.choice("Kind of transfer", offer.at("kind"), TransferKind)
    form.heading(
        "Prices",
        "As the printer's price sheet has them: a price holds from its count on. Paste from a spreadsheet, "
        "or import a CSV file.",
    )
    form.choice("Charged", _charged(offer), ChargedBy)
    prices = PriceForm(offer.at("price"))
    prices.edited.connect(form.take)
    form.widget("", prices, prices.show_shop)
    form.money("Least order", offer.at("least_order"))
    form.figure("Least number of pieces", offer.at("least_pieces"), whole=True)
    form.heading("Sheets")
    form.length("Gap between pieces", offer.at("gap_mm"))
    form.length("Margin along the edge", offer.at("margin_mm"))
    form.several("Its sheet files have", offer.at("wishes"), [(wish, wish.value) for wish in SheetWish])
    _days(form, offer)
    _press(form, offer.at("press"))
    cloth, art = offer.at("cloth"), offer.at("art")
    form.heading("Cloth it holds on")
    form.several("Fibres", cloth.at("fibres"), [(fibre, fibre.value) for fibre in _FIBRES])
    form.flag("Made for cloth with spandex", cloth.at("stretch"))
    form.flag("Holds on coated cloth", cloth.at("coated"))
    form.flag("Needs white or light cloth", cloth.at("light_only"))
    form.figure("Least polyester", cloth.at("least_polyester_percent"), "%")
    form.heading("Artwork it can show")
    form.figure("Resolution needed", art.at("needs_ppi"), "ppi at print size")
    form.figure("Thinnest stroke", art.at("least_stroke_mm"), "mm")
    form.figure("Smallest speck", art.at("least_speck_mm"), "mm")
    form.figure("Most colours", art.at("most_colours"), whole=True, none="any")
    form.flag("Shows half transparent areas", art.at("soft_edges"))


def _days(form: Form, offer: Lens) -> None:
    form.heading("Days and delivery")
    form.figure("Production", offer.at("production_days"), "working days", whole=True)
    form.figure("Delivery time", offer.at("delivery_days"), "working days", whole=True)
    form.money("Delivery", offer.at("delivery"), "an order")
    form.money("Free delivery from", offer.at("free_delivery_from"), none="never")
    form.flag("Offers rush", _has_rush(offer))
    rush = offer.at("rush")
    form.figure("Rush production", rush.at("production_days"), "working days", whole=True, only_with=rush)
    form.figure("Rush surcharge", rush.at("percent"), "%", only_with=rush)
    form.money("Rush fee", rush.at("fee"), "an order", only_with=rush)


def _press(form: Form, press: Lens) -> None:
    form.heading(
        "Pressing",
        "Starting values. The transfer printer's own sheet, the garment's care label and the press maker's "
        "manual always win.",
    )
    form.heat("Temperature", press.at("setting_c"))
    form.figure("Press time", press.at("press_s"), "s")
    form.choice("Pressure", press.at("pressure"), Pressure)
    form.choice("Peel", press.at("peel"), Peel)
    form.figure("Pre-press", press.at("pre_press_s"), "s")
    form.figure("Second press", press.at("second_press_s"), "s, 0 for none")
    form.flag("Cover sheet", press.at("cover_sheet"))
