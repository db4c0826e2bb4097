"""The terms of one job: where it departs from the shop book in money and time."""

from collections.abc import Callable, Iterable
from decimal import Decimal

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from planner.job.document import Terms
from planner.measures.layout import Way
from planner.pricing.figures import exact
from planner.shop.book import PriceBy, RoundTo, Shop
from planner.window.costs import words
from planner.window.fields import Field, MoneyField
from planner.window.look import GRID, Type, wide_enough
from planner.window.readings import Unreadable
from planner.window.widgets import Combo, column, label, row

_WAYS: tuple[Way | None, ...] = (None, *Way)
_BY: tuple[PriceBy | None, ...] = (None, *PriceBy)
_MOST_MARKUP = 1001
_ENDS: tuple[RoundTo | None, ...] = (None, *RoundTo)


def read_percent(typed: str, most: int = 100) -> Decimal | None:
    """A percentage under `most`, or None where nothing is typed.

    Raises:
        Unreadable: it is no percentage from 0 to under `most`.
    """
    text = typed.strip().rstrip("%").strip().replace(",", ".")
    if not text:
        return None
    if not text.replace(".", "", 1).isdecimal() or not Decimal(text) < most:
        raise Unreadable(words.no_percentage(typed.strip(), most - 1))
    return Decimal(text)


class TermsForm(QWidget):
    """Margin or markup, rounding, discount, minimum order, delivery fee, cutting, rush, tax."""

    edited = Signal(object, str)
    way_chosen = Signal(object)

    def __init__(self, currency: str) -> None:
        super().__init__()
        self._by = PriceBy.MARGIN
        self.price_by = _choice(words.PRICE_BY)
        self.margin = _percent_field(words.MARGIN_HERE, self._read_target)
        self.ends = _choice(words.PRICES_END)
        self.discount = _percent_field(words.DISCOUNT, read_percent)
        self.least = MoneyField(words.LEAST_ORDER, Decimal(0), currency)
        self.fee = MoneyField(words.DELIVERY_FEE, Decimal(0), currency)
        self.way = _choice(words.CUT_APART)
        self.rush = QCheckBox(words.RUSH)
        self.exempt = QCheckBox(words.TAX_EXEMPT)
        self._margin_name = label(words.MARGIN_HERE)
        self._fee_unit, self._least_unit = (label(currency, Type.SMALL, quiet=True) for _ in range(2))
        self._build()
        self._wire()

    def show_terms(self, terms: Terms, way: Way | None, shop: Shop) -> None:
        """Show the job's terms; what is left to the shop shows the shop's as a hint."""
        rates = shop.rates
        self._by = terms.price_by or rates.price_by
        _show_choice(self.price_by, _BY.index(terms.price_by), words.BY[rates.price_by], words.BY.values())
        _show_choice(self.ends, _ENDS.index(terms.round_to), words.ENDS[rates.round_to], words.ENDS.values())
        self._margin_name.setText(words.PERCENT[self._by])
        self.margin.setAccessibleName(words.PERCENT[self._by])
        self.margin.show_value(terms.percent)
        self.margin.setPlaceholderText(exact(rates.percent))
        self.discount.show_value(terms.discount_percent or None)
        self.discount.setPlaceholderText("0")
        self.least.show_money(terms.minimum_order, shop.currency)
        self.fee.show_money(terms.delivery_fee, shop.currency)
        for unit in (self._fee_unit, self._least_unit):
            unit.setText(shop.currency)
        _show_choice(self.way, _WAYS.index(way), words.way_in_short(shop.way), map(words.way, Way))
        self.rush.setChecked(terms.rush)
        self.exempt.setChecked(terms.tax_exempt)

    def _read_target(self, typed: str) -> Decimal | None:
        return read_percent(typed, 100 if self._by is PriceBy.MARGIN else _MOST_MARKUP)

    def _build(self) -> None:
        whole = column(space=GRID)
        percent = (label("%", Type.SMALL, quiet=True) for _ in range(2))
        for name, field, unit in (
            (label(words.PRICE_BY), self.price_by, None),
            (self._margin_name, self.margin, next(percent)),
            (label(words.PRICES_END), self.ends, None),
            (label(words.DISCOUNT), self.discount, next(percent)),
            (label(words.LEAST_ORDER), self.least, self._least_unit),
            (label(words.DELIVERY_FEE), self.fee, self._fee_unit),
            (label(words.CUT_APART), self.way, None),
        ):
            across = row(space=GRID)
            across.addWidget(name, 1)
            across.addWidget(field)
            if unit is not None:
                unit.setFixedWidth(wide_enough(unit.font(), "USD") + GRID)
                across.addWidget(unit)
            whole.addLayout(across)
        whole.addWidget(self.rush)
        whole.addWidget(self.exempt)
        self.setLayout(whole)

    def _wire(self) -> None:
        self.price_by.activated.connect(self._choose_by)
        self.ends.activated.connect(lambda at: self.edited.emit({"round_to": _ENDS[at]}, ""))
        self.way.activated.connect(lambda at: self.way_chosen.emit(_WAYS[at]))
        self.margin.edited.connect(lambda percent, gesture: self.edited.emit({"percent": percent}, gesture))
        self.discount.edited.connect(
            lambda percent, gesture: self.edited.emit({"discount_percent": percent or Decimal(0)}, gesture)
        )
        self.least.edited.connect(lambda least, gesture: self.edited.emit({"minimum_order": least}, gesture))
        self.fee.edited.connect(lambda fee, gesture: self.edited.emit({"delivery_fee": fee}, gesture))
        self.rush.clicked.connect(lambda on: self.edited.emit({"rush": on}, ""))
        self.exempt.clicked.connect(lambda on: self.edited.emit({"tax_exempt": on}, ""))

    def _choose_by(self, at: int) -> None:
        fields: dict[str, object] = {"price_by": _BY[at]}
        # No margin reaches the whole price: a markup that large would price everything at cost.
        if _BY[at] is PriceBy.MARGIN and (self.margin.value or 0) >= 100:
            fields["percent"] = None
        self.edited.emit(fields, "")


def _choice(name: str) -> Combo:
    made = Combo(name)
    made.setSizeAdjustPolicy(Combo.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(12)
    return made


def _show_choice(combo: Combo, at: int, shops: str, own: Iterable[str]) -> None:
    """The first choice names what the shop does; the box is filled anew only where that changed."""
    first = words.as_shop(shops)
    if combo.itemText(0) != first:
        combo.clear()
        combo.addItems([first, *own])
    combo.setCurrentIndex(at)


def _percent_field(name: str, read: Callable[[str], Decimal | None]) -> Field[Decimal | None]:
    def say(percent: Decimal | None) -> str:
        return "" if percent is None else exact(percent)

    made: Field[Decimal | None] = Field(name, read, say, None)
    made.align_figures("8,888.88")
    return made
