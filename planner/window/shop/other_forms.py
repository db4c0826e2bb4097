"""The forms for blanks, presses, money, papers and days."""

from collections.abc import Callable
from decimal import Decimal
from enum import StrEnum
from typing import Any

from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from planner.measures.layout import Way
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.plan.kind_words import kind_name
from planner.shop.book import PaperSize, Press, PriceBy, RoundTo, Shop
from planner.shop.cloth import Cloth, Swatch
from planner.shop.garments import Blank, GarmentKind, HardPart
from planner.window.asks import Asks
from planner.window.look import GRID, tokens_of
from planner.window.shop import words
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


class IronDots(StrEnum):
    """A care label's iron."""

    UNKNOWN = words.IRON_NOT_KNOWN
    NONE = words.NO_IRON
    ONE = words.IRON_ONE_DOT
    TWO = words.IRON_TWO_DOTS
    THREE = words.IRON_THREE_DOTS


# ISO 3758: one dot 110 °C, two 150 °C, three 200 °C; a crossed-out iron is 0.
_DOTS = {None: IronDots.UNKNOWN, 0: IronDots.NONE, 1: IronDots.ONE, 2: IronDots.TWO, 3: IronDots.THREE}


def _iron_dots(cloth: Lens) -> Lens:
    dots = cloth.at("iron_dots")
    back = {said: count for count, said in _DOTS.items()}
    return Lens(
        lambda shop: _DOTS[dots.get(shop)] if cloth.get(shop) is not None else None,
        lambda shop, said: dots.put(shop, back[said]),
    )


def fresh_blank(key: str) -> Blank:
    white = Swatch(name="white", hex="#f7f7f4")
    return Blank(
        key=key,
        style=words.NEW_STYLE,
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
    form.text(words.STYLE, blank.at("style"))
    form.choice(words.KIND_OF_GARMENT, blank.at("kind"), GarmentKind)
    form.money(words.COST, blank.at("cost"), words.EACH)
    form.heading(words.CLOTH, words.CLOTH_WHY)
    form.fibres(words.FIBRE_MIX, cloth.at("fibres"))
    form.choice(words.IRON_ON_THE_CARE_LABEL, _iron_dots(cloth), IronDots)
    form.flag(words.COATED_CLOTH, cloth.at("coated"))
    form.heading(words.COLOURS)
    form.lines(words.COLOURS, blank.at("colours"), read_swatches, say_swatches, hint=words.COLOURS_EXAMPLE)
    swatches = Swatches()
    form.widget("", swatches, lambda shop: swatches.show_colours(blank.at("colours").get(shop)))
    form.heading(words.SIZES, words.SIZES_WHY)
    sizes = SizesEdit(blank.at("sizes"))
    sizes.changed_shop = form.take
    form.widget("", sizes.grid, sizes.show_shop)
    form.several(words.HARD_PARTS, blank.at("hard_parts"), [(p, kind_name(p)) for p in HardPart])


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
        self.grid = GridEdit(words.SIZES, self._read, fixed_names=True, may_grow=False)
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
            self.changed_shop(self._shop, words.CHANGE_SIZES)


def fresh_press(key: str) -> Press:
    # 16 × 20 in is a common platen (common practice).
    return Press(
        key=key, name=words.NEW_PRESS, platen_width_mm=16 * MM_PER_INCH, platen_height_mm=20 * MM_PER_INCH
    )


def build_press_form(form: Form, key: Callable[[], str]) -> None:
    press = one_of("presses", key)
    form.text(words.NAME, press.at("name"))
    form.length(words.PLATEN_WIDTH, press.at("platen_width_mm"))
    form.length(words.PLATEN_HEIGHT, press.at("platen_height_mm"))
    form.figure(words.WARM_UP, press.at("warm_up_min"), "min")
    form.figure(words.CHANGE_OF_TEMPERATURE, press.at("reset_min"), "min")
    form.figure(words.LOAD_ALIGN_PEEL_UNLOAD, press.at("loading_s"), words.SECONDS_A_PRESSING)


def build_money_form(form: Form) -> None:
    """Rates, price, tax and spares."""
    rates, spares = WHOLE.at("rates"), WHOLE.at("spares")
    form.heading(words.COSTS)
    form.text(words.CURRENCY, WHOLE.at("currency"), wide=80)
    form.money(words.PRESS_TIME, rates.at("labour_hour"), words.AN_HOUR)
    form.figure(words.OVERHEAD, rates.at("overhead_percent"), words.OF_OTHER_COSTS)
    form.figure(words.SPOILAGE, rates.at("spoilage_percent"), words.OF_BLANKS_COST)
    form.figure(words.PAYMENT_FEES, rates.at("payment_fee_percent"), words.OF_PRICE)
    form.heading(words.PRICE)
    form.choice(
        words.PRICE_BY,
        rates.at("price_by"),
        PriceBy,
        {PriceBy.MARGIN: words.MARGIN_OF_PRICE, PriceBy.MARKUP: words.MARKUP_OF_COST},
    )
    form.figure(words.MARGIN_OR_MARKUP, rates.at("percent"), "%")
    form.figure(words.WARN_UNDER_A_MARGIN_OF, rates.at("floor_margin_percent"), "%")
    form.choice(
        words.PRICES_END_ON,
        rates.at("round_to"),
        RoundTo,
        {RoundTo.NONE: words.ANY_CENT, RoundTo.FIVE_CENTS: words.FIVE_CENTS},
    )
    form.read_by(
        words.QUANTITIES_ON_A_LADDER,
        WHOLE.at("ladder"),
        read_quantities,
        lambda ladder: ", ".join(f"{quantity}" for quantity in ladder),
        wide=260,
    )
    form.figure(words.DEPOSIT, rates.at("deposit_percent"), "%")
    form.figure(words.A_QUOTE_HOLDS_FOR, rates.at("quote_valid_days"), words.DAYS_UNIT, whole=True)
    form.heading(words.TAX, words.TAX_WHY)
    form.text(words.NAME_OF_THE_TAX, rates.at("tax_name"), wide=160)
    form.figure(words.RATE, rates.at("tax_percent"), "%")
    form.heading(
        words.SPARES,
        words.SPARES_WHY,
    )
    form.figure(words.MISPRINTS, spares.at("misprint_rate"), words.OF_PRESSINGS, share=True)
    form.figure(words.CERTAINTY_OF_FINISHING, spares.at("confidence"), "%", share=True)
    form.figure(words.A_PLAIN_PERCENTAGE_INSTEAD, spares.at("percent"), "%", none=words.NO_SPARES_GIVEN)
    form.figure(
        words.A_PLAIN_COUNT_INSTEAD, spares.at("count"), words.A_PRINT, whole=True, none=words.NO_SPARES_GIVEN
    )


def build_papers_form(form: Form, asks: Asks) -> None:
    """Letterhead, terms, units, paper and arranging."""
    head = WHOLE.at("letterhead")
    form.heading(words.LETTERHEAD)
    form.text(words.NAME_OF_THE_SHOP, head.at("name"))
    form.lines(words.ADDRESS, head.at("address"), read_lines, "\n".join)
    form.text(words.E_MAIL, head.at("email"))
    form.text(words.PHONE, head.at("phone"))
    logo = LogoEdit(asks)
    logo.edited.connect(form.take)
    form.widget(words.LOGO, logo, logo.show_shop)
    form.lines(words.TERMS_ON_THE_QUOTE, head.at("terms"), read_lines, "\n".join)
    form.heading(words.UNITS_AND_PAPER)
    form.choice(
        words.LENGTHS_IN,
        WHOLE.at("unit"),
        LengthUnit,
        {LengthUnit.INCH: words.INCHES, LengthUnit.MILLIMETRE: words.MILLIMETRES},
    )
    form.choice(words.PAPER, WHOLE.at("paper"), PaperSize)
    form.heading(words.SHEETS)
    form.choice(
        words.PIECES_ARE_CUT_APART,
        WHOLE.at("way"),
        Way,
        {
            Way.LOOSE: words.CUT_LOOSE,
            Way.STRAIGHT: words.CUT_STRAIGHT,
            Way.OUTLINE: words.CUT_OUTLINE,
        },
    )
    form.figure(words.SEARCH_FOR_BETTER_SHEETS, WHOLE.at("search_s"), words.SECONDS_AT_MOST)


def _open_days() -> Lens:
    return WHOLE.at("open_weekdays")


def build_days_form(form: Form) -> None:
    """Working days and holidays."""
    form.heading(words.WORKING_DAYS)
    form.several(words.OPEN_ON, _open_days(), list(enumerate(words.WEEKDAYS)))
    form.figure(words.HOURS_A_DAY, WHOLE.at("hours_a_day"), "h")
    form.figure(
        words.BLANKS_ARRIVE_WITHIN, WHOLE.at("blanks_delivery_days"), words.WORKING_DAYS_UNIT, whole=True
    )
    form.heading(words.CLOSED_DAYS, words.CLOSED_DAYS_WHY)
    form.text(words.COUNTRY_OR_STATE, WHOLE.at("region"), wide=100)
    form.lines(words.ALSO_CLOSED_ON, WHOLE.at("closed_days"), read_days, say_days, hint="2026-12-24")
