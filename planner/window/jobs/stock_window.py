"""Left-over transfers: which of them this job uses, and all that lie in stock."""

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from planner.measures.figures import whole
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.stock import OnShelf
from planner.shop.book import Shop
from planner.shop.stock import LeftOver
from planner.window.fields import CountField
from planner.window.jobs import words
from planner.window.jobs.tables import Rows, figure
from planner.window.look import APART, RELATED
from planner.window.widgets import SideWindow, column, label, line, scrolled


class StockWindow(SideWindow):
    """Shows the stock beside the open job; tells which counts were typed."""

    use_edited = Signal(str, int, str)
    """Piece key, how many of it come from stock, and the gesture."""
    shelf_edited = Signal(object, int)
    """The heap as it was, and how many there really are."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setWindowTitle(words.STOCK)
        self.resize(760, 520)
        self.setMinimumSize(560, 320)
        self.uses: dict[str, CountField] = {}
        self.counts: list[CountField] = []
        self._shelf: tuple[OnShelf, ...] | None = None
        self._stock: tuple[LeftOver, ...] | None = None
        self._for_job = Rows(("", words.NEEDED, words.HELD, words.USE))
        self._all = Rows(("", words.COUNT))
        self._for_job_said, self._all_said = label(quiet=True, wrap=True), label(quiet=True, wrap=True)
        self._build()

    def show_stock(
        self, shelf: tuple[OnShelf, ...], shop: Shop, names: Mapping[str, str], *, open_for_use: bool
    ) -> None:
        """Show what serves the job, and everything there is."""
        serving = tuple(one for one in shelf if one.held or one.taken) if open_for_use else ()
        if serving != self._shelf:
            self._show_serving(serving, names)
        if shop.left_over != self._stock:
            self._show_all(shop)

    def _build(self) -> None:
        inner = QWidget()
        page = column(space=RELATED, edge=APART)
        page.addWidget(label(words.FOR_THIS_JOB, strong=True))
        page.addWidget(self._for_job)
        page.addWidget(self._for_job_said)
        page.addSpacing(RELATED)
        page.addWidget(line())
        page.addSpacing(RELATED)
        page.addWidget(label(words.ON_SHELF, strong=True))
        page.addWidget(self._all)
        page.addWidget(self._all_said)
        page.addStretch(1)
        inner.setLayout(page)
        whole = column(space=0)
        whole.addWidget(scrolled(inner))
        self.setLayout(whole)

    def _show_serving(self, serving: tuple[OnShelf, ...], names: Mapping[str, str]) -> None:
        # Fields in use stay: typing must not lose the cursor.
        if [one.piece.key for one in serving] != [one.piece.key for one in self._shelf or ()]:
            self.uses.clear()
            self._for_job.clear()
            for one in serving:
                field = CountField(f"{words.USE}: {names[one.piece.key]}")
                field.edited.connect(partial(self._use, one.piece.key))
                self.uses[one.piece.key] = field
                cells = (figure(whole(one.wanted)), figure(whole(one.held)), field)
                self._for_job.add(names[one.piece.key], cells)
        self._shelf = serving
        for one in serving:
            self.uses[one.piece.key].show_value(one.taken)
        self._for_job.setVisible(bool(serving))
        self._for_job_said.setText(words.FOR_THIS_JOB_WHY if serving else words.NOTHING_FITS)

    def _show_all(self, shop: Shop) -> None:
        stock = shop.left_over
        self._stock = stock
        self.counts.clear()
        self._all.clear()
        for heap in stock:
            design, offer = heap.design, shop.offer(heap.offer)
            size = sentences.size(design.width_mm, design.height_mm, shop.unit)
            name = words.shelf_line(heap.name, size, kind_name(design.kind), offer.name if offer else "")
            field = CountField(f"{words.COUNT}: {name}", heap.count)
            # Only when the cursor leaves: on the way from 12 to 15 nothing must be taken out.
            field.editingFinished.connect(partial(self._counted, heap, field))
            self.counts.append(field)
            self._all.add(name, (field,), words.shelf_since(heap.job, sentences.day(heap.since)))
        self._all.setVisible(bool(stock))
        self._all_said.setText(words.SHELF_WHY if stock else words.SHELF_EMPTY)

    def _use(self, key: str, count: int, gesture: str) -> None:
        self.use_edited.emit(key, count, gesture)

    def _counted(self, heap: LeftOver, field: CountField) -> None:
        if field.value != heap.count and not field.is_wrong:
            self.shelf_edited.emit(heap, field.value)
