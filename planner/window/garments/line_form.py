"""One garment line: style, colour, cloth, cost, sizes and counts, and what is printed on it."""

from decimal import Decimal
from functools import partial

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QDragEnterEvent, QDragLeaveEvent, QDropEvent, QPaintEvent
from PySide6.QtWidgets import QMenu, QPushButton, QSizePolicy, QWidget

from planner.job.document import GarmentLine, Job
from planner.measures.lengths import format_length
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.garments import GarmentKind, HardPart
from planner.window import steps, wording
from planner.window.artwork.panel import files_in
from planner.window.carried import artwork_in, draw_drop_frame
from planner.window.fields import FibreField, Field, MoneyField, TextField
from planner.window.flow import Flow
from planner.window.garments import words
from planner.window.garments.colour import ColourField
from planner.window.garments.sizes import SizeGrid
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.names import line_name
from planner.window.readings import read_money
from planner.window.widgets import Combo, button, column, emptied, label, line, row

_IRON: tuple[int | None, ...] = (None, 0, 1, 2, 3)

_WIDEST = 92 * GRID
"""A field that is wider than its text only takes the eye farther."""


class LineForm(QWidget):
    """The controls of one garment line."""

    changed = Signal(str, object, str, str)
    """Line key, the fields that change, the undo step, the gesture."""
    duplicate_requested = Signal(str)
    remove_requested = Signal(str)
    files_dropped = Signal(str, object)
    """Line key, paths."""
    artwork_dropped = Signal(str, str)
    """Line key, artwork key."""
    print_followed = Signal(str)

    def __init__(self, key: str, currency: str) -> None:
        super().__init__()
        self.key = key
        self._line: GarmentLine | None = None
        self.style_field = TextField(words.STYLE, most=80, hint=words.STYLE_HINT)
        self.kind = Combo(words.KIND)
        self.colour = ColourField()
        self.fibres = FibreField(words.FIBRES, ())
        self.cost = MoneyField(words.BLANK_COST, Decimal(0), currency)
        self.price = _price_field(currency)
        self.iron = Combo(words.IRON)
        self._coated = label(words.COATED_SHORT, Type.SMALL, quiet=True)
        self.sizes = SizeGrid()
        self._prints = Flow(across=GRID, down=0)
        self._shown_prints: tuple[tuple[str, str], ...] | None = None
        self._followed: list[QPushButton] = []
        self._over = False
        self.setAcceptDrops(True)
        self._build()
        self._wire()

    @property
    def is_counted(self) -> bool:
        """Whether any size has a count."""
        return any(count.value for count in self.sizes.counts.values())

    def show_line(self, job: Job, shop: Shop, garment: GarmentLine) -> None:
        """Show a line as the job has it."""
        self._line = garment
        self.setAccessibleName(line_name(job, garment))
        self.style_field.show_value(garment.style)
        self.kind.setCurrentIndex(list(GarmentKind).index(garment.kind))
        blank = next((blank for blank in shop.blanks if blank.style == garment.style), None)
        self.colour.show_swatch(garment.colour, blank.colours if blank else ())
        self.fibres.show_value(garment.cloth.fibres)
        self.cost.show_money(garment.blank_cost, shop.currency)
        self.price.show_value(garment.price_each)
        self.iron.setCurrentIndex(_IRON.index(garment.cloth.iron_dots))
        self._coated.setText(words.COATED_SHORT if garment.cloth.coated else "")
        self.sizes.show_sizes(garment.sizes, shop.currency, blank.sizes if blank else ())
        self._show_prints(job, shop)

    def _show_prints(self, job: Job, shop: Shop) -> None:
        shown = tuple(
            (
                print_.key,
                f"{wording.short_name(job.artwork(print_.artwork).name)}, "
                f"{sentences.place(print_.location, print_.place_name)}, "
                f"{format_length(print_.width_mm, shop.unit)}",
            )
            for print_ in job.prints_on(self.key)
        )
        if shown == self._shown_prints:
            return
        before, self._shown_prints = self._shown_prints, shown
        # A width is edited often, and made anew its button would cost more than all else here.
        if before and [key for key, _ in before] == [key for key, _ in shown]:
            for made, (_, text) in zip(self._followed, shown, strict=True):
                made.setText(text)
                made.setAccessibleName(text)
            return
        emptied(self._prints)
        self._followed = [
            button(text, partial(self.print_followed.emit, key), role="link") for key, text in shown
        ]
        for made in self._followed:
            self._prints.addWidget(made)
        if not shown:
            none = label(words.NO_PRINTS, quiet=True)
            none.setMinimumHeight(TARGET)
            self._prints.addWidget(none)

    def _build(self) -> None:
        self.kind.addItems([kind_name(kind) for kind in GarmentKind])
        self.iron.addItems([words.iron(dots) for dots in _IRON])
        self.style_field.setMinimumWidth(46 * GRID)
        self.fibres.setMinimumWidth(52 * GRID)
        more = button(words.MORE, lambda: None, role="link", hint=words.MORE_HINT)
        more.clicked.connect(lambda: self._menu(more.mapToGlobal(QPoint(0, more.height()))))
        fields = Flow()
        for caption, field, grows in (
            (words.STYLE, self.style_field, True),
            (words.KIND, self.kind, False),
            (words.COLOUR, self.colour, True),
            (words.FIBRES, self.fibres, True),
            (words.IRON, self.iron, False),
            (f"{words.BLANK_COST} {words.EACH}", self.cost, False),
            (f"{words.FIXED_PRICE} {words.EACH}", self.price, False),
        ):
            fields.addWidget(captioned(caption, field, grows=grows))
        self.price.setToolTip(words.FIXED_PRICE_HINT)
        top = Qt.AlignmentFlag.AlignTop
        prints = row(space=RELATED)
        named = label(words.PRINTS, Type.SMALL, quiet=True)
        named.setMinimumHeight(TARGET)
        prints.addWidget(named, 0, top)
        prints.addLayout(self._prints, 1)
        prints.addWidget(self._coated, 0, top)
        prints.addWidget(more, 0, top)
        whole = column(space=RELATED)
        whole.setContentsMargins(APART, APART, APART, 0)
        whole.addLayout(fields)
        whole.addWidget(self.sizes)
        whole.addLayout(prints)
        whole.addSpacing(GRID)
        whole.addWidget(line())
        self.setLayout(whole)

    def _wire(self) -> None:
        step = steps.LINE
        self.style_field.edited.connect(lambda text, gesture: self._tell({"style": text}, step, gesture))
        self.kind.activated.connect(lambda at: self._tell({"kind": list(GarmentKind)[at]}, step))
        self.colour.edited.connect(lambda swatch, gesture: self._tell({"colour": swatch}, step, gesture))
        self.fibres.edited.connect(lambda fibres, gesture: self._tell_cloth(gesture, fibres=fibres))
        self.iron.activated.connect(lambda at: self._tell_cloth("", iron_dots=_IRON[at]))
        self.cost.edited.connect(lambda cost, gesture: self._tell({"blank_cost": cost}, step, gesture))
        self.price.edited.connect(lambda price, gesture: self._tell({"price_each": price}, step, gesture))
        self.sizes.edited.connect(lambda sizes, named, gesture: self._tell({"sizes": sizes}, named, gesture))

    def _tell(self, fields: dict[str, object], step: str, gesture: str = "") -> None:
        self.changed.emit(self.key, fields, step, gesture)

    def _tell_cloth(self, gesture: str, **fields: object) -> None:
        if self._line is not None:
            self._tell({"cloth": changed(self._line.cloth, **fields)}, steps.LINE, gesture)

    def _menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        self.fill_menu(menu)
        menu.popup(at)

    def fill_menu(self, menu: QMenu) -> None:
        """What else can be done with the line."""
        menu.addAction(words.DUPLICATE_LINE, lambda: self.duplicate_requested.emit(self.key))
        parts = menu.addMenu(words.HARD_PARTS)
        have = self._line.hard_parts if self._line else ()
        for part in HardPart:
            action = parts.addAction(words.hard_part(part))
            action.setCheckable(True)
            action.setChecked(part in have)
            action.toggled.connect(partial(self._set_hard_part, part))
        coated = menu.addAction(words.COATED)
        coated.setCheckable(True)
        coated.setChecked(bool(self._line and self._line.cloth.coated))
        coated.triggered.connect(lambda on: self._tell_cloth("", coated=on))
        menu.addSeparator()
        menu.addAction(words.REMOVE_LINE, lambda: self.remove_requested.emit(self.key))

    def _set_hard_part(self, part: HardPart, on: bool) -> None:
        have = self._line.hard_parts if self._line else ()
        kept = tuple(one for one in HardPart if (one in have and one is not part) or (on and one is part))
        self._tell({"hard_parts": kept}, steps.LINE)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self._menu(event.globalPos())

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls() or artwork_in(event.mimeData()) is not None:
            self._show_over(True)
            event.acceptProposedAction()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        self._show_over(False)

    def dropEvent(self, event: QDropEvent) -> None:
        self._show_over(False)
        if files := files_in(event.mimeData()):
            self.files_dropped.emit(self.key, files)
            event.acceptProposedAction()
        elif artwork := artwork_in(event.mimeData()):
            self.artwork_dropped.emit(self.key, artwork)
            event.acceptProposedAction()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._over:
            draw_drop_frame(self)

    def _show_over(self, over: bool) -> None:
        self._over = over
        self.update()


def captioned(caption: str, field: QWidget, *, grows: bool = False) -> QWidget:
    """A field under its caption; without one, level with the fields beside it."""
    holder = QWidget()
    inner = column(space=0)
    if caption:
        above = label(caption, Type.SMALL, quiet=True)
        above.setBuddy(field)
        inner.addWidget(above)
    inner.addWidget(field)
    field.setMinimumHeight(TARGET)
    holder.setLayout(inner)
    if grows:
        holder.setMaximumWidth(_WIDEST)
    growing = QSizePolicy.Policy.Expanding if grows else QSizePolicy.Policy.Fixed
    holder.setSizePolicy(growing, QSizePolicy.Policy.Fixed)
    return holder


def _price_field(currency: str) -> Field[Decimal | None]:
    """A price, or nothing for the shop's own reckoning."""

    def read(typed: str) -> Decimal | None:
        return read_money(typed, currency) if typed.strip() else None

    def say(price: Decimal | None) -> str:
        return "" if price is None else sentences.bare_money(price, currency)

    made: Field[Decimal | None] = Field(words.FIXED_PRICE, read, say, None)
    made.setPlaceholderText(words.BY_MARGIN)
    made.align_figures(words.BY_MARGIN)
    return made
