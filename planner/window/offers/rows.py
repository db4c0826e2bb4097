"""The list of offers: rows in two groups, one of them open."""

from functools import partial
from itertools import pairwise

from PySide6.QtCore import QEvent, QPoint, Signal
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QMenu, QWidget

from planner.job.document import Job
from planner.shop.book import Shop
from planner.window.look import APART, GRID, Type, type_font
from planner.window.offers import words
from planner.window.offers.detail import OfferDetail, offer_menu
from planner.window.offers.figures import Column, OfferShown, in_order
from planner.window.offers.header import SortHeader
from planner.window.offers.row import RowHead
from planner.window.widgets import column, label, line, put_in_order


class OfferRow(QWidget):
    """Figures of one offer, and what they open to."""

    def __init__(self) -> None:
        super().__init__()
        self.head = RowHead()
        self.detail = OfferDetail()
        self.detail.hide()
        whole = column(space=0)
        whole.addWidget(self.head)
        whole.addWidget(self.detail)
        whole.addWidget(line())
        self.setLayout(whole)

    @property
    def is_open(self) -> bool:
        return not self.detail.isHidden()

    def show_open(self, is_open: bool) -> None:
        self.detail.setVisible(is_open)
        self.head.show_open(is_open)


class OfferRows(QWidget):
    """Shows offers sorted; arrows go up and down, Enter opens one."""

    offer_chosen = Signal(str, object)
    """Offer key, and the key of the print it is for, or None for the job."""

    def __init__(self) -> None:
        super().__init__()
        self.header = SortHeader()
        self.rows: dict[str, OfferRow] = {}
        self.menu: QMenu | None = None
        self._asked: tuple[Job, Shop, str | None] | None = None
        self._shown: tuple[OfferShown, ...] = ()
        self._captions = [
            label(text, Type.SMALL, quiet=True) for text in (words.MAY_BE_USED, words.RULED_OUT)
        ]
        self._list = column(space=0)
        for caption in self._captions:
            caption.setContentsMargins(APART, 2 * GRID, APART, GRID)
            caption.hide()
        whole = column(space=0)
        whole.addWidget(self.header)
        whole.addWidget(line())
        whole.addLayout(self._list)
        self.setLayout(whole)
        self.header.sorted.connect(lambda by, falling: self._put_in_order())

    def show_offers(self, job: Job, shop: Shop, shown: tuple[OfferShown, ...], scope: str | None) -> None:
        """Show these offers; rows that stay keep cursor and whether they are open."""
        self._asked, self._shown = (job, shop, scope), shown
        for gone in self.rows.keys() - {each.key for each in shown}:
            row = self.rows.pop(gone)
            row.hide()
            row.deleteLater()
        fractions = self._fractions(shown)
        for each in shown:
            row = self.rows.get(each.key) or self._add(each.key)
            row.head.show_offer(each, fractions)
            if row.is_open:
                row.detail.show_offer(job, shop, each, scope)
        self._put_in_order()

    def in_order(self) -> tuple[OfferShown, ...]:
        """The offers as they stand, from the top."""
        return in_order(self._shown, self.header.by, falling=self.header.falling)

    def take_to_first(self) -> None:
        """Put the cursor on the offer at the top."""
        if first := next(iter(self.in_order()), None):
            self.rows[first.key].head.setFocus()

    def toggle(self, key: str) -> None:
        """Open an offer's row and close the others, or close it."""
        wanted = not self.rows[key].is_open
        shown = next(each for each in self._shown if each.key == key)
        # Filled before it is seen, so that the row opens at its full height.
        if wanted and self._asked is not None:
            job, shop, scope = self._asked
            self.rows[key].detail.show_offer(job, shop, shown, scope)
        for other, row in self.rows.items():
            row.show_open(wanted and other == key)

    def _add(self, key: str) -> OfferRow:
        row = OfferRow()
        row.head.toggled.connect(lambda: self.toggle(key))
        row.head.menu_asked.connect(lambda at: self._open_menu(key, at))
        row.head.stepped.connect(lambda step: self._step(key, step))
        row.detail.taken.connect(lambda print_key: self.offer_chosen.emit(key, print_key))
        self.rows[key] = row
        return row

    def _open_menu(self, key: str, at: QPoint) -> None:
        if self._asked is None:
            return
        job, _, scope = self._asked
        shown = next(each for each in self._shown if each.key == key)
        self.menu = offer_menu(self, job, shown, scope, partial(self.offer_chosen.emit, key))
        self.menu.popup(at)

    def _step(self, key: str, step: int) -> None:
        keys = [each.key for each in self.in_order()]
        at = min(len(keys) - 1, max(0, keys.index(key) + step))
        self.rows[keys[at]].head.setFocus()

    def _put_in_order(self) -> None:
        ordered = self.in_order()
        split = sum(1 for each in ordered if each.may_be_used)
        widgets: list[QWidget] = [self.rows[each.key] for each in ordered]
        usable, ruled_out = self._captions
        put_in_order(self._list, [usable, *widgets[:split], ruled_out, *widgets[split:]])
        usable.setVisible(0 < split < len(ordered))
        ruled_out.setVisible(split < len(ordered))
        order = [row.head for row in (self.rows[each.key] for each in ordered)]
        for before, after in pairwise(order):
            QWidget.setTabOrder(before, after)

    def _fractions(self, shown: tuple[OfferShown, ...]) -> dict[Column, float]:
        """Room that the longest fraction of each column takes, so that points stand in one line."""
        widest: dict[Column, float] = {}
        for each in shown:
            for which, cell in each.cells.items():
                strong = which is Column.COST
                metrics = QFontMetricsF(type_font(self.font(), Type.BODY, strong=strong))
                _, point, fraction = cell.figure.partition(".")
                room = metrics.horizontalAdvance(point + fraction) if point else 0.0
                widest[which] = max(widest.get(which, 0.0), room)
        return widest

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange and self._asked is not None:
            self.show_offers(self._asked[0], self._asked[1], self._shown, self._asked[2])
