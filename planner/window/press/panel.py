"""The press panel: order of work, the garment with its prints to scale, and each print's press card."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QSplitter, QStackedWidget, QWidget

from planner.job.document import Job, SizeCount
from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.plan.model import Plan
from planner.pressing.card import PressCard
from planner.pressing.usual import usual
from planner.shop.book import Shop
from planner.shop.garments import SizeGroup
from planner.window.flow import Flow
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.pixmaps import Pictures, PictureSource
from planner.window.positions import PositionField
from planner.window.press import words
from planner.window.press.card_view import CardView
from planner.window.press.garment_view import GarmentView
from planner.window.press.geometry import most_ordered, shown_print
from planner.window.press.work_list import WorkList
from planner.window.widgets import column, label, row, scrolled

_LIST_PX = 270
_BESIDE, _BELOW = (3, 2), (1, 1)
"""Shares of the garment's picture and its card, side by side and below one another."""
_NARROW_PX, _WIDE_PX = 960, 1300
_LEAST_PX = (500, 280)
_HINT_PX = (160, 460)


class PressPanel(QWidget):
    """Shows how the job is pressed; a print dragged on its garment ends in one `placement_edited`."""

    placement_edited = Signal(str, float, float, object, str)
    """Print key, top and aside in mm (as `planner.job.document.GroupPlace` has them), the group of sizes
    they hold for, and the gesture."""

    ordered = Signal(object, object, str)
    """The offer (None: the blanks), the day it was ordered (None: not yet), and the gesture."""

    def __init__(self, today: Callable[[], date]) -> None:
        super().__init__()
        self._pictures = Pictures()
        self.work, self.card = WorkList(today), CardView()
        self.garment = GarmentView(self._pictures)
        self.sizes = QComboBox()
        self.sizes.setAccessibleName(words.SIZE_SHOWN)
        self.sizes.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.top, self.aside = PositionField(words.FROM_MARK), PositionField(words.FROM_CENTRE)
        self._top_name = label("", Type.SMALL, quiet=True)
        self._aside_name = label("", Type.SMALL, quiet=True)
        self.moves = label("", Type.SMALL, quiet=True)
        """Which sizes are meant, where the line has several groups of them."""
        self._job: Job | None = None
        self._shop: Shop | None = None
        self._plan: Plan | None = None
        self._cards: tuple[PressCard, ...] = ()
        self._chosen = ""
        self._size = ""
        self._group = SizeGroup.ADULT
        self._measured = ""
        self._build()
        self._wire()

    def set_picture_source(self, source: PictureSource) -> None:
        """Where pictures come from: called with an artwork key and the longest side wanted in pixels."""
        self._pictures.set_source(source)
        self.garment.update()

    def pictures_changed(self) -> None:
        """Ask for the pictures again."""
        self._pictures.forget()
        self.garment.update()

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show the press cards of a plan; the chosen one stays chosen while it exists. Tells nothing."""
        self._job, self._shop, self._plan = job, shop, plan
        self._cards = tuple(sorted(plan.press_cards, key=lambda card: card.position))
        keys = [card.print for card in self._cards]
        if self._chosen not in keys:
            self._chosen = keys[0] if keys else ""
        self._stack.setCurrentIndex(0 if keys else 1)
        self._refresh()

    def choose(self, print_key: str) -> None:
        """Show one print's card."""
        if print_key != self._chosen:
            self._chosen = print_key
            self._refresh()

    @property
    def chosen_card(self) -> PressCard | None:
        return next((card for card in self._cards if card.print == self._chosen), None)

    def _build(self) -> None:
        card = QWidget()
        edge = column(edge=APART)
        edge.addWidget(self.card)
        card.setLayout(edge)
        left, right = scrolled(self.work), scrolled(card)
        left.setMinimumWidth(190)
        right.setMinimumWidth(240)
        self._beside = _Shared(_BESIDE)
        self._beside.addWidget(self._picture())
        self._beside.addWidget(right)
        # A splitter keeps the least width it worked out before the inner one was turned.
        self._beside.setMinimumWidth(_LEAST_PX[0] - 200)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.addWidget(left)
        self._split.addWidget(self._beside)
        self._split.setStretchFactor(0, 0)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([_LIST_PX, 940])
        for part in (self._split, self._beside):
            part.setChildrenCollapsible(False)
            part.setHandleWidth(1)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._split)
        self._stack.addWidget(_nothing())
        self._stack.setCurrentIndex(1)
        whole = column(space=0)
        whole.addWidget(self._stack)
        self.setLayout(whole)
        # What lies side by side must not keep the panel from becoming narrow enough to lie below.
        self.setMinimumSize(*_LEAST_PX)

    def _picture(self) -> QWidget:
        """The garment, with size and exact place above it."""
        places = Flow(down=GRID)
        edge = column(space=0)
        edge.setContentsMargins(RELATED, GRID, RELATED, GRID)
        edge.addLayout(places)
        size_name = label(words.SIZE, Type.SMALL, quiet=True)
        pairs = ((size_name, self.sizes), (self._top_name, self.top), (self._aside_name, self.aside))
        for name, field in pairs:
            pair = row(space=GRID)
            pair.addWidget(name)
            pair.addWidget(field)
            holder = QWidget()
            holder.setLayout(pair)
            places.addWidget(holder)
        places.addWidget(self.moves)
        inside = column(space=0)
        inside.addLayout(edge)
        inside.addWidget(self.garment, 1)
        picture = QWidget()
        picture.setLayout(inside)
        return picture

    def _wire(self) -> None:
        self.work.card_chosen.connect(self.choose)
        self.work.dates.ordered.connect(self.ordered)
        self.garment.print_chosen.connect(self.choose)
        self.garment.placed.connect(self._place)
        self.garment.moving.connect(self._show_position)
        self.sizes.activated.connect(self._choose_size)
        self.top.edited.connect(lambda mm, gesture: self._type(mm, None, gesture))
        self.aside.edited.connect(lambda mm, gesture: self._type(None, mm, gesture))

    def _refresh(self) -> None:
        job, shop, plan, card = self._job, self._shop, self._plan, self.chosen_card
        if job is None or shop is None or plan is None:
            return
        self.work.show_work(job, shop, self._cards, plan.press_work, plan.calendar, self._chosen)
        if card is None:
            return
        self.card.show_card(card, job, shop)
        size = self._fill_sizes(job, card)
        self._show_place(job, card, size, shop.unit)

    def _show_place(self, job: Job, card: PressCard, size: SizeCount | None, unit: LengthUnit) -> None:
        group = self._group = size.group if size else SizeGroup.ADULT
        self.moves.setText(words.moves_only(group))
        self.moves.setVisible(len({one.group for one in job.line(card.line).sizes}) > 1)
        known = usual(card.location, group)
        usual_top_mm = known.top_in * MM_PER_INCH if known else None
        self.garment.show_print(job, card.print, size, unit, usual_top_mm)
        print_ = shown_print(job, job.print_of(card.print), group)
        self._measured = print_.measured
        self._name_places()
        self._show_position(print_.top_mm, print_.aside_mm)

    def _show_position(self, top_mm: float, aside_mm: float) -> None:
        if self._shop is not None:
            self.top.show_position(top_mm, self._shop.unit)
            self.aside.show_position(aside_mm, self._shop.unit)

    def _name_places(self) -> None:
        """Names of the two distances, shorter where there is little room."""
        narrow = self.width() < _WIDE_PX
        self._top_name.setText(self._measured.partition(" ")[0] if narrow else self._measured)
        self._aside_name.setText(words.LEFT if narrow else words.TO_LEFT)
        # Level with the fields beside it; below them it must not take a field's height from the garment.
        self.moves.setMinimumHeight(0 if narrow else self.top.sizeHint().height())
        self.top.setToolTip(words.type_distance(self._measured))
        self.aside.setToolTip(words.FROM_CENTRE_HINT)

    def _fill_sizes(self, job: Job, card: PressCard) -> SizeCount | None:
        """The sizes of the line to choose from; the one ordered most where none was chosen."""
        line = job.line(card.line)
        most = most_ordered(line)
        chosen = next((size for size in line.sizes if size.size == self._size), most)
        names = [words.size_ordered(size.size, size.count) for size in line.sizes]
        if names != [self.sizes.itemText(at) for at in range(self.sizes.count())]:
            self.sizes.clear()
            self.sizes.addItems(names)
        if chosen is not None:
            self.sizes.setCurrentIndex(line.sizes.index(chosen))
        return chosen

    def _choose_size(self, at: int) -> None:
        if self._job is not None and self.chosen_card is not None:
            self._size = self._job.line(self.chosen_card.line).sizes[at].size
            self._refresh()

    def _type(self, top_mm: float | None, aside_mm: float | None, gesture: str) -> None:
        now = self.garment.chosen
        if now is not None:
            put = now.at(
                now.top_mm if top_mm is None else top_mm, now.aside_mm if aside_mm is None else aside_mm
            )
            self._place(put.key, put.top_mm, put.aside_mm, gesture)

    def _place(self, key: str, top_mm: float, aside_mm: float, gesture: str) -> None:
        self.placement_edited.emit(key, top_mm, aside_mm, self._group, gesture)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Card beside the garment where there is room, else below it."""
        super().resizeEvent(event)
        narrow = self.width() < _NARROW_PX
        turn = Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal
        if self._beside.orientation() is not turn:
            self._beside.turn(turn, _BELOW if narrow else _BESIDE)
            self._split.setSizes([210 if narrow else _LIST_PX, self.width() - _LIST_PX])
        self._name_places()


class _Shared(QSplitter):
    """Keeps its parts' shares whatever its size, until a hand moves the handle.

    Qt takes as much from each part when a splitter shrinks: the lesser part would all but vanish.
    """

    def __init__(self, shares: tuple[int, int]) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self._shares: tuple[int, int] | None = shares
        self.splitterMoved.connect(self._leave_to_hand)

    def turn(self, orientation: Qt.Orientation, shares: tuple[int, int]) -> None:
        """Side by side or below one another, by these shares until a hand moves the handle."""
        self._shares = shares
        self.setOrientation(orientation)
        self._share_out()

    def _leave_to_hand(self) -> None:
        self._shares = None

    def _share_out(self) -> None:
        if self._shares is not None:
            long = self.width() if self.orientation() is Qt.Orientation.Horizontal else self.height()
            self.setSizes([long * share // sum(self._shares) for share in self._shares])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_out()


def _nothing() -> QWidget:
    """What stands there while there are no press cards."""
    hint = label(words.NOTHING_TO_PRESS_WHY, wrap=True)
    # A wrapped label asks for more width than it needs, and would hold the whole panel open.
    hint.setMinimumWidth(_HINT_PX[0])
    hint.setMaximumWidth(_HINT_PX[1])
    said = column(edge=2 * APART)
    said.addStretch(2)
    said.addWidget(label(words.NOTHING_TO_PRESS, Type.LARGE))
    said.addWidget(hint)
    said.addStretch(3)
    nothing = QWidget()
    nothing.setLayout(said)
    return nothing
