"""The page of offers: every offer of the shop book side by side for this job."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from planner.buying.compare import OfferResult
from planner.job.document import Job
from planner.job.findings import Seriousness
from planner.measures.money import minor_units
from planner.measures.temperature import format_temperature
from planner.plan import wording as sentences
from planner.shop.book import Shop
from planner.window import wording
from planner.window.look import APART, GRID, RELATED, Type, status_picture, tokens_of, type_font
from planner.window.widgets import button, column, label, line, row

_COLUMNS = (
    wording.OFFER_NAME,
    wording.COST,
    wording.EACH_GARMENT,
    wording.SHEETS,
    wording.ARRIVES,
    wording.AGAINST,
)
_FIGURES = frozenset({1, 2, 3})


class OffersPage(QWidget):
    """Compares offers; the one under the cursor can be taken for the job."""

    offer_taken = Signal(str)
    closer_look_requested = Signal()
    """Search for good sheets at every offer instead of quick ones."""

    def __init__(self) -> None:
        super().__init__()
        self.table = QTableWidget(0, len(_COLUMNS))
        self.take = button(wording.TAKE_OFFER, self._take, role="main")
        self.look = button(
            wording.LOOK_CLOSER, self.closer_look_requested.emit, hint=wording.LOOK_CLOSER_HINT
        )
        self.against = label(wrap=True)
        self._hint = label(quiet=True, wrap=True)
        self._results: tuple[OfferResult, ...] = ()
        self._chosen: str | None = None
        self._shop: Shop | None = None
        self._build()

    def show_results(self, job: Job, shop: Shop, results: tuple[OfferResult, ...]) -> None:
        """Show a comparison: those that may be used first, cheapest first."""
        kept = self._current()
        self._results, self._chosen, self._shop = results, job.offer, shop
        self.table.setRowCount(len(results))
        for at, result in enumerate(results):
            self._show_row(at, result, shop)
        self._hint.setText(self._hint_for(job))
        keys = [result.offer for result in results]
        wanted = kept if kept in keys else job.offer if job.offer in keys else None
        self.table.setCurrentCell(keys.index(wanted) if wanted else 0, 0)
        self.table.resizeRowsToContents()
        self._show_current()

    def _build(self) -> None:
        table = self.table
        table.setAccessibleName(wording.OFFERS)
        table.setHorizontalHeaderLabels(list(_COLUMNS))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setShowGrid(False)
        table.setWordWrap(False)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        header = table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(len(_COLUMNS) - 1, QHeaderView.ResizeMode.Stretch)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        for at in _FIGURES:
            item = QTableWidgetItem(_COLUMNS[at])
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            table.setHorizontalHeaderItem(at, item)
        table.currentCellChanged.connect(lambda *cells: self._show_current())
        table.cellDoubleClicked.connect(lambda *cell: self._take())
        buttons = row()
        buttons.addWidget(self.take)
        buttons.addWidget(self.look)
        buttons.addStretch(1)
        below = column(space=RELATED)
        below.setContentsMargins(APART, RELATED, APART, RELATED)
        below.addWidget(self.against)
        below.addLayout(buttons)
        above = column(space=GRID)
        above.setContentsMargins(APART, RELATED, APART, RELATED)
        above.addWidget(self._hint)
        whole = column(space=0)
        whole.addLayout(above)
        whole.addWidget(table, 1)
        whole.addWidget(line())
        whole.addLayout(below)
        self.setLayout(whole)

    def _hint_for(self, job: Job) -> str:
        if not job.prints:
            return wording.NO_PRINTS_TO_COMPARE
        return wording.QUICK_FIGURES if any(result.provisional for result in self._results) else ""

    def _show_row(self, at: int, result: OfferResult, shop: Shop) -> None:
        offer = shop.offer(result.offer)
        assert offer is not None
        decimals = minor_units(shop.currency)
        mark = f"{offer.name} ({wording.CHOSEN})" if result.offer == self._chosen else offer.name
        texts = (
            mark,
            f"{result.cost:,.{decimals}f}",
            f"{result.cost_each:,.{decimals}f}",
            f"{result.sheets:,}" if result.sheets else "—",
            sentences.day(result.arrives).removesuffix(f", {result.arrives.year}"),
            self._worst(result, shop),
        )
        for column_at, text in enumerate(texts):
            item = QTableWidgetItem(text)
            if column_at in _FIGURES:
                item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            if column_at <= 1:
                strong = result.offer == self._chosen
                item.setFont(type_font(self.font(), Type.BODY, strong=strong))
            if column_at == 0:
                item.setToolTip(offer.kind.value)
            if column_at == 1:
                item.setToolTip("\n".join(charge.what for charge in result.order.lines))
            if column_at == len(texts) - 1 and result.findings:
                serious = result.findings[0].seriousness
                item.setIcon(status_picture(serious, tokens_of(self), ratio=self.devicePixelRatioF()))
            self.table.setItem(at, column_at, item)

    def _worst(self, result: OfferResult, shop: Shop) -> str:
        if not result.findings:
            return wording.NOTHING_AGAINST
        more = len(result.findings) - 1
        worst = result.findings[0]
        word = f"{sentences.seriousness(worst.seriousness)}: {worst.kind.value}"
        return f"{word}, {wording.and_more(more)}" if more else word

    def _current(self) -> str | None:
        at = self.table.currentRow()
        return self._results[at].offer if 0 <= at < len(self._results) else None

    def _show_current(self) -> None:
        at = self.table.currentRow()
        if self._shop is None or not 0 <= at < len(self._results):
            self.against.setText("")
            self.take.setEnabled(False)
            return
        result, shop = self._results[at], self._shop
        told = dict.fromkeys(sentences.finding(finding, shop.unit) for finding in result.findings)
        charges = "; ".join(charge.what for charge in result.order.lines)
        pressed = f"{format_temperature(result.setting_c)}, {result.peel.value} peel"
        self.against.setText("\n".join([*[*told][:3], f"{charges}. Pressed at {pressed}."]))
        self.take.setEnabled(result.offer != self._chosen)
        stops = any(finding.seriousness is Seriousness.STOP for finding in result.findings)
        self.take.setText(wording.TAKE_ANYWAY if stops else wording.TAKE_OFFER)

    def _take(self) -> None:
        key = self._current()
        if key is not None and key != self._chosen:
            self.offer_taken.emit(key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.table.hasFocus():
            self._take()
            return
        super().keyPressEvent(event)
