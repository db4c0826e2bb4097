"""The page of usual print widths."""

from PySide6.QtWidgets import QWidget

from planner.measures.lengths import LengthUnit
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window.shop import words
from planner.window.shop.form import Form
from planner.window.shop.grid_edit import GridEdit
from planner.window.shop.grids import Grid
from planner.window.shop.width_grid import width_grid, widths_from
from planner.window.widgets import button, row

_ALL_ROWS = 60


class WidthsEdit:
    """A grid over the shop's usual widths, and the way back to common practice."""

    def __init__(self, form: Form) -> None:
        self._form = form
        self._shop: Shop | None = None
        self._unit: LengthUnit | None = None
        # The page has room for the whole table, and scrolls itself where it has not.
        self.grid = GridEdit(
            words.USUAL_WIDTHS, self._read, fixed_names=True, may_grow=False, most_rows_shown=_ALL_ROWS
        )
        self.grid.edited.connect(self._take)
        self.reset = button(words.FORGET_WIDTHS, self._reset, hint=words.FORGET_WIDTHS_HINT)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        show = self.grid.show_grid if shop.unit is self._unit else self.grid.force_grid
        self._unit = shop.unit
        show(width_grid(shop.usual_widths, shop.unit))
        self.reset.setEnabled(bool(shop.usual_widths))

    def _read(self, grid: Grid) -> object:
        assert self._shop is not None
        return widths_from(grid, self._shop.usual_widths, self._shop.unit)

    def _take(self, widths: object) -> None:
        if self._shop is None:
            return
        if widths != self._shop.usual_widths:
            self._form.take(changed(self._shop, usual_widths=widths), words.CHANGE_USUAL_WIDTHS)
        # An emptied row of common practice comes back though nothing changed.
        self.grid.show_grid(width_grid(self._shop.usual_widths, self._shop.unit))

    def _reset(self) -> None:
        self._take(())


def build_widths_form(form: Form) -> None:
    """How wide prints usually are, by location and group of sizes."""
    form.heading(
        words.WIDTHS_HEAD,
        words.WIDTHS_WHY,
    )
    widths = WidthsEdit(form)
    form.widget("", widths.grid, widths.show_shop)
    beside = row()
    beside.addWidget(widths.reset)
    beside.addStretch(1)
    holder = QWidget()
    holder.setLayout(beside)
    form.widget("", holder, lambda shop: None)
