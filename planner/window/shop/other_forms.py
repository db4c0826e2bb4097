"""The forms for blanks, presses, money, papers and days."""

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from typing import Any

from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from planner.measures.layout import Way
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.shop.book import PaperSize, Press, PriceBy, RoundTo, Shop
from planner.shop.cloth import Cloth, Swatch
from planner.shop.garments import Blank, GarmentKind, HardPart
from planner.window.look import GRID, tokens_of
from planner.window.shop.form import Form
from planner.window.shop.grid_edit import GridEdit
from planner.window.shop.grids import Grid, size_grid, sizes_from
from planner.window.shop.lens import WHOLE, Lens, one_of
from planner.window.shop.logo_edit import LogoEdit
from planner.window.shop.readings import (
    read_days,
    read_lines,
    read_quantities,
    read_swatches,
    say_days,
    say_swatches,
)

_SWATCH_PX = 22
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


class IronDots(StrEnum):
    """A care label's iron."""

    UNKNOWN = "not known"
    NONE = "do not iron"
    ONE = "one dot, 110 °C"
    TWO = "two dots, 150 °C"
    THREE = "three dots, 200 °C"


# ISO 3758: one dot 110 °C, two 150 °C, three 200 °C; a crossed-out iron is 0.
_DOTS = {None: IronDots.UNKNOWN, 0: IronDots.NONE, 1: IronDots.ONE, 2: IronDots.TWO, 3: IronDots.THREE}


def _iron_dots(cloth: Lens) -> Lens:
    dots = cloth.at("iron_dots")
    back = {words: count for count, words in _DOTS.items()}
    return Lens(
        lambda shop: _DOTS[dots.get(shop)] if cloth.get(shop) is not None else None,
        lambda shop, words: dots.put(shop, back[words]),
    )


def fresh_blank(key: str) -> Blank:
    white = Swatch(name="white", hex="#f7f7f4")
    return Blank(
        key=key,
        style="New style",
        kind=GarmentKind.T_SHIRT,
        cloth=Cloth(),
        colours=(white,),
        sizes=(),
        cost=Decimal(0),
    )


def build_blank_form(form: Form, key: Callable[[], str]) -> None:
    """All fields of a blank garment."""
    blank = one_of("blanks", key)
    cloth = blank.at("cloth")
    form.text("Style", blank.at("style"))
    form.choice("Kind of garment", blank.at("kind"), GarmentKind)
    form.money("Cost", blank.at("cost"), "each")
    form.heading("Cloth", "As the garment's label says it.")
    form.fibres("Fibre mix", cloth.at("fibres"))
    form.choice("Iron on the care label", _iron_dots(cloth), IronDots)
    form.flag("Coated cloth", cloth.at("coated"))
    form.heading("Colours")
    form.lines("Colours", blank.at("colours"), read_swatches, say_swatches, hint="navy #1f2a44")
    swatches = Swatches()
    form.widget("", swatches, lambda shop: swatches.show_colours(blank.at("colours").get(shop)))
    form.heading(
        "Sizes", "Widths and lengths flat, as the maker's size chart has them; a surcharge on the cost."
    )
    sizes = SizesEdit(blank.at("sizes"))
    sizes.changed_shop = form.take
    form.widget("", sizes.grid, sizes.show_shop)
    form.several("Parts to keep prints clear of", blank.at("hard_parts"), [(p, p.value) for p in HardPart])


class Swatches(QWidget):
    """A blank's colours side by side."""

    def __init__(self) -> None:
        super().__init__()
        self._colours: tuple[Swatch, ...] = ()
        self.setFixedHeight(_SWATCH_PX + 2)

    def show_colours(self, colours: tuple[Swatch, ...] | None) -> None:
        self._colours = colours or ()
        self.setAccessibleName(", ".join(swatch.name for swatch in self._colours))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(QColor(tokens_of(self).edge))
        for at, swatch in enumerate(self._colours):
            painter.setBrush(QColor(swatch.hex))
            painter.drawRect(at * (_SWATCH_PX + GRID), 0, _SWATCH_PX, _SWATCH_PX)
        painter.end()


class SizesEdit:
    """A grid over a blank's sizes."""

    def __init__(self, sizes: Lens) -> None:
        self._sizes = sizes
        self._shop: Shop | None = None
        self._shown: Any = None
        self.changed_shop: Callable[[Shop, str], None] = lambda shop, title: None
        self.grid = GridEdit("Sizes", self._read, fixed_names=True, may_grow=False)
        self.grid.edited.connect(self._take)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        sizes = self._sizes.get(shop)
        if sizes is None:
            return
        here = (next(blank.key for blank in shop.blanks if blank.sizes is sizes), shop.unit)
        if here != self._shown:
            self._shown = here
            self.grid.force_grid(size_grid(sizes, shop.unit))
        else:
            self.grid.show_grid(size_grid(sizes, shop.unit))

    def _read(self, grid: Grid) -> object:
        return sizes_from(grid, self._shop.unit if self._shop else LengthUnit.INCH)

    def _take(self, sizes: object) -> None:
        if self._shop is not None and sizes != self._sizes.get(self._shop):
            self._shop = self._sizes.put(self._shop, sizes)
            self.changed_shop(self._shop, "Change sizes")


def fresh_press(key: str) -> Press:
    # 16 × 20 in is a common platen (common practice).
    return Press(
        key=key, name="New press", platen_width_mm=16 * MM_PER_INCH, platen_height_mm=20 * MM_PER_INCH
    )


def build_press_form(form: Form, key: Callable[[], str]) -> None:
    press = one_of("presses", key)
    form.text("Name", press.at("name"))
    form.length("Platen width", press.at("platen_width_mm"))
    form.length("Platen height", press.at("platen_height_mm"))
    form.figure("Warm-up", press.at("warm_up_min"), "min")
    form.figure("Change of temperature", press.at("reset_min"), "min")
    form.figure("Load, align, peel, unload", press.at("loading_s"), "s a pressing")


def build_money_form(form: Form) -> None:
    """Rates, price, tax and spares."""
    rates, spares = WHOLE.at("rates"), WHOLE.at("spares")
    form.heading("Costs")
    form.text("Currency", WHOLE.at("currency"), wide=80)
    form.money("Press time", rates.at("labour_hour"), "an hour")
    form.figure("Overhead", rates.at("overhead_percent"), "% of all other costs")
    form.figure("Spoilage", rates.at("spoilage_percent"), "% of the blanks' cost")
    form.figure("Payment fees", rates.at("payment_fee_percent"), "% of the price")
    form.heading("Price")
    form.choice(
        "Price by",
        rates.at("price_by"),
        PriceBy,
        {PriceBy.MARGIN: "margin, a share of the price", PriceBy.MARKUP: "markup, a share of the cost"},
    )
    form.figure("Margin or markup", rates.at("percent"), "%")
    form.figure("Warn under a margin of", rates.at("floor_margin_percent"), "%")
    form.choice(
        "Prices end on",
        rates.at("round_to"),
        RoundTo,
        {RoundTo.NONE: "any cent", RoundTo.FIVE_CENTS: "five cents"},
    )
    form.read_by(
        "Quantities on a ladder",
        WHOLE.at("ladder"),
        read_quantities,
        lambda ladder: ", ".join(f"{quantity}" for quantity in ladder),
    )
    form.figure("Deposit", rates.at("deposit_percent"), "%")
    form.figure("A quote holds for", rates.at("quote_valid_days"), "days", whole=True)
    form.heading("Tax", "Your own rate: the planner never guesses it, and the local tax office decides.")
    form.text("Name of the tax", rates.at("tax_name"), wide=160)
    form.figure("Rate", rates.at("tax_percent"), "%")
    form.heading(
        "Spares",
        "How many transfers are ordered beyond the need: reckoned from how often a pressing goes wrong, "
        "unless a plain percentage or count is given.",
    )
    form.figure("Misprints", spares.at("misprint_rate"), "% of pressings", share=True)
    form.figure("Certainty of finishing", spares.at("confidence"), "%", share=True)
    form.figure("A plain percentage instead", spares.at("percent"), "%", none="none")
    form.figure("A plain count instead", spares.at("count"), "a print", whole=True, none="none")


def build_papers_form(form: Form) -> None:
    """Letterhead, terms, units, paper and arranging."""
    head = WHOLE.at("letterhead")
    form.heading("Letterhead")
    form.text("Name of the shop", head.at("name"))
    form.lines("Address", head.at("address"), read_lines, "\n".join)
    form.text("E-mail", head.at("email"))
    form.text("Phone", head.at("phone"))
    logo = LogoEdit()
    logo.edited.connect(form.take)
    form.widget("Logo", logo, logo.show_shop)
    form.lines("Terms on the quote", head.at("terms"), read_lines, "\n".join)
    form.heading("Units and paper")
    form.choice(
        "Lengths in",
        WHOLE.at("unit"),
        LengthUnit,
        {LengthUnit.INCH: "inches", LengthUnit.MILLIMETRE: "millimetres"},
    )
    form.choice("Paper", WHOLE.at("paper"), PaperSize)
    form.heading("Sheets")
    form.choice(
        "Pieces are cut apart",
        WHOLE.at("way"),
        Way,
        {
            Way.LOOSE: "by hand, along each piece",
            Way.STRAIGHT: "by straight cuts, with a trimmer",
            Way.OUTLINE: "by outline, with scissors",
        },
    )
    form.figure("Search for better sheets", WHOLE.at("search_s"), "s at most")


def _open_days() -> Lens:
    return WHOLE.at("open_weekdays")


def build_days_form(form: Form) -> None:
    """Working days and holidays."""
    form.heading("Working days")
    form.several("Open on", _open_days(), list(enumerate(_WEEKDAYS)))
    form.figure("Hours a day at the press", WHOLE.at("hours_a_day"), "h")
    form.figure("Blanks arrive within", WHOLE.at("blanks_delivery_days"), "working days", whole=True)
    form.heading(
        "Closed days", "Holidays of the country or state are counted; add your own days, one a line."
    )
    form.text("Country or state", WHOLE.at("region"), wide=100)
    form.lines("Also closed on", WHOLE.at("closed_days"), read_days, say_days, hint="2026-12-24")
