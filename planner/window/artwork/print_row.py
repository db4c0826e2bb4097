"""One print of an artwork: on which garment line, where, how wide, from which offer, how sharp."""

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QPoint, Signal
from PySide6.QtGui import QActionGroup, QContextMenuEvent
from PySide6.QtWidgets import QComboBox, QMenu, QWidget

from planner.artwork.judge import resolution
from planner.job.document import Artwork, Extra, GroupWidth, Job, Print
from planner.job.pieces import print_size
from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.plan.kind_words import kind_name
from planner.pressing.usual import start_width_mm
from planner.shop.book import Shop
from planner.shop.garments import Location, SizeGroup, UsualWidth
from planner.shop.offers import ArtRule, Offer
from planner.shop.prices import ByPiece
from planner.window import wording
from planner.window.artwork import words
from planner.window.artwork.meter import PpiMeter
from planner.window.fields import TextField, WidthField
from planner.window.look import GRID, Type
from planner.window.widgets import Combo, button, column, label, row


class WidthRow(QWidget):
    """A print width with the height that follows from it."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.caption = label(size=Type.SMALL, quiet=True)
        self.field = WidthField(name, 100.0, LengthUnit.INCH)
        self.height_label = label(size=Type.SMALL, quiet=True)
        self.across = row(space=GRID)
        self.across.addWidget(self.field)
        self.across.addWidget(self.height_label)
        self.across.addWidget(self.caption)
        self.across.addStretch(1)
        self.setLayout(self.across)

    def show_width(self, width_mm: float, artwork: Artwork, unit: LengthUnit, caption: str = "") -> None:
        self.field.show_length(width_mm, unit)
        height_mm = print_size(artwork, width_mm).height_mm
        self.height_label.setText(f"× {format_length(height_mm, unit)}")
        self.caption.setText(caption)


class PrintRow(QWidget):
    """The controls of one print."""

    changed = Signal(str, object, str)
    """Print key, the fields that change, and the gesture."""
    removed = Signal(str)
    set_apart = Signal(str)
    """The print is to have an artwork of its own, mended without the others."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self._has_siblings = False
        self.line = _combo(words.GARMENT)
        self.location = _combo(words.LOCATION)
        self.place = TextField(words.PLACE_NAME, most=60, hint=words.PLACE_NAME)
        self.width_row = WidthRow(words.PRINT_WIDTH)
        self.print_width = self.width_row.field
        self.group_rows: dict[SizeGroup, WidthRow] = {}
        self.offer = _combo(words.PRINT_OFFER)
        self.meter = PpiMeter()
        self._print: Print | None = None
        self._has_sheets = True
        self._lines: tuple[str, ...] = ()
        self._usual_widths: tuple[UsualWidth, ...] = ()
        self._offers: tuple[str | None, ...] = ()
        self._groups: tuple[SizeGroup, ...] = ()
        self._group_rows = column(space=GRID)
        self.location.addItems([kind_name(location) for location in Location])
        self._build()
        self.line.activated.connect(lambda at: self._emit(line=self._lines[at]))
        self.location.activated.connect(lambda at: self._emit(location=list(Location)[at]))
        self.offer.activated.connect(lambda at: self._emit(offer=self._offers[at]))
        self.place.edited.connect(lambda text, gesture: self._tell({"place_name": text}, gesture))
        self.print_width.edited.connect(lambda width, gesture: self._tell({"width_mm": width}, gesture))

    def show_print(self, job: Job, shop: Shop, print_: Print, lines: Sequence[str]) -> None:
        """Show one print as the job has it; `lines` are the names of the job's garment lines."""
        self._print = print_
        line = job.line(print_.line)
        self._groups = tuple(dict.fromkeys(size.group for size in line.sizes))
        self._lines = tuple(one.key for one in job.lines)
        _fill(self.line, lines, self._lines.index(print_.line))
        self.location.setCurrentIndex(list(Location).index(print_.location))
        self.place.setVisible(print_.location is Location.OTHER)
        self.place.show_value(print_.place_name)
        artwork = job.artwork(print_.artwork)
        self._has_siblings = sum(other.artwork == print_.artwork for other in job.prints) > 1
        self._usual_widths = shop.usual_widths
        self.width_row.show_width(print_.width_mm, artwork, shop.unit)
        self._show_groups(print_, artwork, shop.unit)
        self._offers = (None, *(offer.key for offer in shop.offers))
        own = self._offers.index(print_.offer) if print_.offer in self._offers else 0
        _fill(self.offer, [words.AS_THE_JOB, *(offer.name for offer in shop.offers)], own)
        offer = shop.offer(job.offer_of(print_) or "")
        self._has_sheets = offer is None or not isinstance(offer.price, ByPiece)
        self._show_meter(job, print_, offer, shop.unit)

    def _show_groups(self, print_: Print, artwork: Artwork, unit: LengthUnit) -> None:
        own = {one.group: one.width_mm for one in print_.group_widths}
        for gone in self.group_rows.keys() - own.keys():
            row_gone = self.group_rows.pop(gone)
            self._group_rows.removeWidget(row_gone)
            row_gone.hide()
            row_gone.deleteLater()
        for group, width_mm in own.items():
            if group not in self.group_rows:
                made = WidthRow(words.group_width(group))
                made.field.edited.connect(partial(self._group_edited, group))
                self.group_rows[group] = made
                self._group_rows.addWidget(made)
            self.group_rows[group].show_width(width_mm, artwork, unit, wording.on_sizes(group))

    def _show_meter(self, job: Job, print_: Print, offer: Offer | None, unit: LengthUnit) -> None:
        artwork = job.artwork(print_.artwork)
        if artwork.stays_vector:
            self.meter.show_vector()
            return
        seen = resolution(artwork, print_, offer.art if offer else ArtRule())
        widest_mm = max(print_.width_mm, *(own.width_mm for own in print_.group_widths), 0.0)
        size = print_size(artwork, widest_mm)
        printed = format_size(size.width_mm, size.height_mm, unit)
        need = words.offers_need(seen.needed) if offer else words.usual_need(seen.needed)
        how = words.meter_how(artwork.size_px, printed, seen.ppi, need, seen.eye)
        self.meter.show_ppi(seen.ppi, seen.needed, seen.seriousness, how)

    def _build(self) -> None:
        more = button("⋯", lambda: None, role="link", hint=words.PRINT_MORE)
        more.setAccessibleName(words.PRINT_MORE)
        more.clicked.connect(lambda: self._menu(more.mapToGlobal(QPoint(0, more.height()))))
        more.setFixedWidth(7 * GRID)
        place = row(space=GRID)
        place.addWidget(self.line, 1)
        place.addWidget(self.location, 1)
        place.addWidget(more)
        self.width_row.across.addWidget(self.offer)
        whole = column(space=GRID)
        whole.addLayout(place)
        whole.addWidget(self.place)
        whole.addWidget(self.width_row)
        whole.addLayout(self._group_rows)
        whole.addWidget(self.meter)
        self.setLayout(whole)

    def _menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        self.fill_menu(menu)
        menu.popup(at)

    def fill_menu(self, menu: QMenu) -> None:
        """What else can be done with the print."""
        print_ = self._print
        if print_ is None:
            return
        fill_turning(menu, print_, lambda fields: self._emit(**fields))
        together = menu.addAction(words.ONE_SHEET if self._has_sheets else words.ONE_SHEET_BY_PIECE)
        together.setEnabled(self._has_sheets)
        together.setCheckable(True)
        together.setChecked(print_.one_sheet)
        together.triggered.connect(lambda on: self._emit(one_sheet=on))
        menu.addSeparator()
        own = {one.group for one in print_.group_widths}
        without = [group for group in self._groups if group not in own]
        # One group of sizes takes the print's own width; only the others can depart from it.
        for group in (*own, *(without if len(without) > 1 else ())):
            action = menu.addAction(words.group_width(group))
            action.setCheckable(True)
            action.setChecked(group in own)
            action.toggled.connect(partial(self._set_group, group))
        menu.addSeparator()
        apart = menu.addAction(words.SET_APART, lambda: self.set_apart.emit(self.key))
        apart.setEnabled(self._has_siblings)
        menu.addAction(words.REMOVE_PRINT, lambda: self.removed.emit(self.key))

    def _set_group(self, group: SizeGroup, on: bool) -> None:
        if self._print is not None:
            kept = tuple(one for one in self._print.group_widths if one.group is not group)
            width_mm = start_width_mm(self._print.location, group, self._usual_widths)
            added = (GroupWidth(group=group, width_mm=width_mm),) if on else ()
            self._emit(group_widths=(*kept, *added))

    def _group_edited(self, group: SizeGroup, width_mm: float, gesture: str) -> None:
        if self._print is not None:
            widths = tuple(
                GroupWidth(group=group, width_mm=width_mm) if one.group is group else one
                for one in self._print.group_widths
            )
            self._tell({"group_widths": widths}, gesture)

    def _tell(self, fields: dict[str, object], gesture: str) -> None:
        self.changed.emit(self.key, fields, gesture)

    def _emit(self, **fields: object) -> None:
        self._tell(fields, "")

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        self._menu(event.globalPos())


def fill_turning(menu: QMenu, part: Print | Extra, chosen: Callable[[dict[str, object]], None]) -> None:
    """The three ways in which a piece may be turned, the present one marked; `chosen` gets the fields."""
    turning = menu.addMenu(words.TURNING)
    one_of = QActionGroup(turning)
    for name, may_turn, any_angle in (
        (words.TURN_NONE, False, False),
        (words.TURN_QUARTER, True, False),
        (words.TURN_ANY, True, True),
    ):
        action = turning.addAction(name)
        action.setCheckable(True)
        one_of.addAction(action)
        action.setChecked((part.may_turn, part.may_turn and part.any_angle) == (may_turn, any_angle))
        action.triggered.connect(partial(chosen, {"may_turn": may_turn, "any_angle": any_angle}))


def _combo(name: str) -> Combo:
    made = Combo(name)
    made.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    made.setMinimumContentsLength(8)
    return made


def _fill(combo: QComboBox, names: Sequence[str], current: int) -> None:
    if [combo.itemText(at) for at in range(combo.count())] != list(names):
        combo.clear()
        combo.addItems(list(names))
    combo.setCurrentIndex(current)
