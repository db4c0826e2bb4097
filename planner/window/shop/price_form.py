"""The price table of one offer: the grid, and what its way of charging has beside it."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planner.measures.geometry import Size
from planner.measures.lengths import LengthUnit
from planner.shop.book import Shop
from planner.shop.prices import AreaUnit, ByArea, ByLength, ByPiece, BySheet, CountedBy, PriceTable
from planner.window.asks import Asks
from planner.window.shop import words
from planner.window.shop.form import Form
from planner.window.shop.grid_edit import GridEdit
from planner.window.shop.grids import Grid, grid_of, may_grow, price_from
from planner.window.shop.lens import Lens
from planner.window.shop.price_csv import PriceList
from planner.window.shop.readings import read_size, say_size
from planner.window.tables.dialog import ImportDialog
from planner.window.widgets import button, column, row


class PriceForm(QWidget):
    """Any of the four price tables."""

    edited = Signal(object, str)

    def __init__(self, price: Lens, asks: Asks) -> None:
        super().__init__()
        self._asks = asks
        self._price = price
        self._shop: Shop | None = None
        self._shown: tuple[object, ...] = ()
        self.grid = GridEdit(words.PRICES, self._read, fixed_names=False)
        self.grid.edited.connect(self._take)
        self.import_csv = button(
            words.IMPORT_PRICES,
            self._import,
            hint=words.IMPORT_PRICES_HINT,
        )
        self._forms: dict[type, Form] = {
            BySheet: self._sheet_form(),
            ByArea: self._area_form(),
            ByLength: self._length_form(),
            ByPiece: self._piece_form(),
        }
        tools = row()
        tools.addWidget(self.import_csv)
        tools.addStretch(1)
        whole = column()
        whole.addWidget(self.grid)
        whole.addLayout(tools)
        for form in self._forms.values():
            form.edited.connect(self.edited)
            whole.addWidget(form)
        self.setLayout(whole)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        price = self._price.get(shop)
        if price is None:
            return
        for model, form in self._forms.items():
            form.setVisible(type(price) is model)
        self._forms[type(price)].show_shop(shop)
        self.grid.set_growing(may_grow(price))
        # The same table of the same offer keeps what is being typed; another one is shown anew.
        here = (self._key(shop), type(price), shop.unit)
        if here != self._shown:
            self._shown = here
            self.grid.force_grid(grid_of(price, shop.unit))
        else:
            self.grid.show_grid(grid_of(price, shop.unit))

    def _key(self, shop: Shop) -> str:
        price = self._price.get(shop)
        return next(offer.key for offer in shop.offers if offer.price is price)

    @property
    def _table(self) -> PriceTable | None:
        return self._price.get(self._shop) if self._shop else None

    @property
    def _unit(self) -> LengthUnit:
        return self._shop.unit if self._shop else LengthUnit.INCH

    def _read(self, grid: Grid) -> object:
        assert self._table is not None
        return price_from(grid, self._table, self._unit)

    def _take(self, price: PriceTable) -> None:
        if self._shop is not None and price != self._table:
            self._shop = self._price.put(self._shop, price)
            self.edited.emit(self._shop, words.CHANGE_PRICES)

    def _import(self) -> None:
        path = self._asks.prices_file(self)
        if path and self._table is not None:
            self.import_from(path)

    def import_from(self, path: Path) -> None:
        """Look at a file's prices, and take them when the person agrees."""
        assert self._table is not None
        dialog = ImportDialog(path, PriceList(self._table, self._unit), self.window())
        dialog.taken.connect(self.grid.put)
        dialog.open()

    def _sheet_form(self) -> Form:
        form = Form()
        form.choice(
            words.BREAKS_COUNT,
            self._price.at("counted_by"),
            CountedBy,
            {CountedBy.LAYOUT: words.SHEETS_OF_ONE_LAYOUT, CountedBy.ORDER: words.ALL_SHEETS_OF_THE_ORDER},
        )
        form.money(words.SET_UP, self._price.at("set_up_each_layout"), words.A_LAYOUT)
        return form

    def _area_form(self) -> Form:
        form = Form()
        form.choice(words.UNIT_OF_AREA, self._price.at("unit"), AreaUnit)
        _size_field(form, words.LARGEST_IMAGE, self._price.at("largest"))
        form.money(words.LEAST_CHARGE, self._price.at("minimum_each"), words.AN_IMAGE)
        return form

    def _length_form(self) -> Form:
        form = Form()
        form.length(words.WIDTH_OF_THE_ROLL, self._price.at("width_mm"))
        form.length(words.LONGEST_PIECE_OF_ROLL, self._price.at("longest_mm"))
        form.length(words.SOLD_IN_STEPS_OF, self._price.at("step_mm"))
        return form

    def _piece_form(self) -> Form:
        form = Form()
        form.money(words.SET_UP, self._price.at("set_up_each_colour"), words.A_COLOUR)
        return form


def _size_field(form: Form, name: str, lens: Lens) -> None:
    def read(typed: str) -> Size:
        return read_size(typed, form.unit)

    form.read_by(name, lens, read, lambda size: say_size(size, form.unit))
