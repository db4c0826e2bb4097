"""The terms of one job: where it departs from the shop book in money and time."""

from decimal import Decimal

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from planner.job.document import Terms
from planner.measures.layout import Way
from planner.shop.book import Shop
from planner.window import wording
from planner.window.fields import Field, MoneyField
from planner.window.look import GRID, Type, wide_enough
from planner.window.readings import Unreadable
from planner.window.widgets import Combo, column, label, row

_WAYS: tuple[Way | None, ...] = (None, *Way)


def read_percent(typed: str) -> Decimal | None:
    """A percentage under 100, or None where nothing is typed.

    Raises:
        Unreadable: it is no percentage from 0 to under 100.
    """
    text = typed.strip().rstrip("%").strip().replace(",", ".")
    if not text:
        return None
    if not text.replace(".", "", 1).isdigit() or not Decimal(text) < 100:
        raise Unreadable(f"“{typed.strip()}” is no percentage. Type a figure from 0 to 99, such as 45.")
    return Decimal(text)


class TermsForm(QWidget):
    """Margin, discount, delivery fee, rush, tax."""

    edited = Signal(object, str)
    way_chosen = Signal(object)

    def __init__(self, currency: str) -> None:
        super().__init__()
        self.margin = _percent_field(wording.MARGIN_HERE)
        self.discount = _percent_field(wording.DISCOUNT_HERE)
        self.fee = MoneyField(wording.DELIVERY_FEE, Decimal(0), currency)
        self.way = Combo(wording.CUT_APART)
        self.way.addItems([wording.AS_THE_SHOP, *(wording.way(way) for way in Way)])
        self.way.setSizeAdjustPolicy(Combo.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.way.setMinimumContentsLength(12)
        self.way.activated.connect(lambda at: self.way_chosen.emit(_WAYS[at]))
        self.rush = QCheckBox(wording.RUSH)
        self.exempt = QCheckBox(wording.TAX_EXEMPT)
        self._fee_unit = label(currency, Type.SMALL, quiet=True)
        whole = column(space=GRID)
        for name, field, unit in (
            (wording.MARGIN_HERE, self.margin, label("%", Type.SMALL, quiet=True)),
            (wording.DISCOUNT_HERE, self.discount, label("%", Type.SMALL, quiet=True)),
            (wording.DELIVERY_FEE, self.fee, self._fee_unit),
        ):
            across = row(space=GRID)
            across.addWidget(label(name), 1)
            across.addWidget(field)
            unit.setFixedWidth(wide_enough(unit.font(), "USD") + GRID)
            across.addWidget(unit)
            whole.addLayout(across)
        cut = row(space=GRID)
        cut.addWidget(label(wording.CUT_APART), 1)
        cut.addWidget(self.way)
        whole.addLayout(cut)
        whole.addWidget(self.rush)
        whole.addWidget(self.exempt)
        self.setLayout(whole)
        self.margin.edited.connect(lambda percent, gesture: self.edited.emit({"percent": percent}, gesture))
        self.discount.edited.connect(
            lambda percent, gesture: self.edited.emit({"discount_percent": percent or Decimal(0)}, gesture)
        )
        self.fee.edited.connect(lambda fee, gesture: self.edited.emit({"delivery_fee": fee}, gesture))
        self.rush.clicked.connect(lambda on: self.edited.emit({"rush": on}, ""))
        self.exempt.clicked.connect(lambda on: self.edited.emit({"tax_exempt": on}, ""))

    def show_terms(self, terms: Terms, way: Way | None, shop: Shop) -> None:
        """Show the job's terms; an empty margin shows the shop's as a hint."""
        self.margin.show_value(terms.percent)
        self.margin.setPlaceholderText(f"{shop.rates.percent.normalize():f}")
        self.discount.show_value(terms.discount_percent or None)
        self.discount.setPlaceholderText("0")
        self.fee.show_money(terms.delivery_fee, shop.currency)
        self._fee_unit.setText(shop.currency)
        self.way.setCurrentIndex(_WAYS.index(way))
        self.rush.setChecked(terms.rush)
        self.exempt.setChecked(terms.tax_exempt)


def _percent_field(name: str) -> Field[Decimal | None]:
    def say(percent: Decimal | None) -> str:
        return "" if percent is None else f"{percent.normalize():f}"

    made: Field[Decimal | None] = Field(name, read_percent, say, None)
    made.align_figures("8,888.88")
    return made
