"""What an offer's row opens to: what speaks against it, what it charges, how near the least, how pressed."""

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from planner.buying.purchase import ChargeKind
from planner.job.document import Job
from planner.measures.figures import whole
from planner.measures.temperature import format_temperature
from planner.plan import wording as sentences
from planner.pressing.card import Caution
from planner.shop.book import Shop
from planner.shop.offers import Offer
from planner.window.look import APART, GRID, RELATED, Type
from planner.window.names import piece_name, print_name
from planner.window.offers import words
from planner.window.offers.columns import CARET, EDGE
from planner.window.offers.figures import Against, OfferShown
from planner.window.widgets import StatusMark, button, column, emptied, held, label, row


class OfferDetail(QWidget):
    """Tells about one offer and lets it be taken."""

    taken = Signal(object)
    """For the print with this key, or None: for the job."""

    def __init__(self) -> None:
        super().__init__()
        self.take = button(words.TAKE_FOR_JOB, lambda: None, role="main")
        self.for_print = button(words.FOR_ONE_PRINT, lambda: None)
        self._menu = QMenu(self.for_print)
        self.for_print.setMenu(self._menu)
        self.take.clicked.connect(lambda: self.taken.emit(self._scope))
        self._scope: str | None = None
        self._content = column(space=RELATED)
        buttons = row(space=RELATED)
        buttons.addWidget(self.take)
        buttons.addWidget(self.for_print)
        buttons.addStretch(1)
        whole = column(space=RELATED)
        whole.setContentsMargins(EDGE + CARET, RELATED, EDGE, 3 * GRID)
        whole.addLayout(buttons)
        whole.addLayout(self._content)
        self.setLayout(whole)

    def show_offer(self, job: Job, shop: Shop, shown: OfferShown, scope: str | None) -> None:
        """Show an offer's row in full; `scope` is the print compared for, or None."""
        offer = shop.offer(shown.key)
        if offer is None:
            return
        self._scope = scope
        self._show_buttons(job, shown, scope)
        emptied(self._content)
        self._show_against(job, shown)
        self._add(words.CHARGES, _charges(shop, offer, shown))
        self._add(words.YIELDS, _yields(job, shown))
        self._add(words.HOW_NEAR, label(_near(shop, shown), wrap=True))
        self._add(words.PRESSED, _pressed(offer))

    def _show_buttons(self, job: Job, shown: OfferShown, scope: str | None) -> None:
        take = words.TAKE_FOR_JOB if scope is None else words.TAKE_FOR_PRINT
        if not shown.may_be_used:
            take = words.TAKE_ANYWAY
        self.take.setText(words.IS_CHOSEN if shown.chosen else take)
        self.take.setAccessibleName(f"{self.take.text()}: {shown.name}")
        self.take.setEnabled(not shown.chosen)
        self.for_print.setVisible(scope is None and len(job.prints) > 1)
        self.for_print.setAccessibleName(f"{words.FOR_ONE_PRINT}: {shown.name}")
        self._menu.clear()
        _add_prints(self._menu, job, shown, self.taken.emit)

    def _show_against(self, job: Job, shown: OfferShown) -> None:
        self._content.addWidget(label(words.AGAINST, strong=True))
        if not shown.against:
            self._content.addWidget(label(words.NOTHING_AGAINST, quiet=True))
        for against in shown.against:
            self._content.addWidget(held(_against(job, against)))

    def _add(self, title: str, what: QWidget | QVBoxLayout | QGridLayout) -> None:
        self._content.addSpacing(GRID)
        self._content.addWidget(label(title, strong=True))
        self._content.addWidget(what if isinstance(what, QWidget) else held(what))


def offer_menu(
    parent: QWidget, job: Job, shown: OfferShown, scope: str | None, take: Callable[[str | None], object]
) -> QMenu:
    """What can be done with an offer, for its context menu."""
    menu = QMenu(parent)
    name = words.TAKE_FOR_JOB if scope is None else words.TAKE_FOR_PRINT
    menu.addAction(name, partial(take, scope)).setEnabled(not shown.chosen)
    if scope is None and len(job.prints) > 1:
        _add_prints(menu.addMenu(words.FOR_ONE_PRINT), job, shown, take)
    return menu


def _add_prints(menu: QMenu, job: Job, shown: OfferShown, take: Callable[[str | None], object]) -> None:
    for print_ in job.prints:
        action = menu.addAction(print_name(job, print_), partial(take, print_.key))
        action.setCheckable(True)
        action.setChecked(job.offer_of(print_) == shown.key)


def _against(job: Job, against: Against) -> QHBoxLayout:
    across = row(space=RELATED)
    mark = StatusMark(against.seriousness)
    top = column(space=0)
    top.addWidget(mark)
    top.addStretch(1)
    told = column(space=0)
    serious = sentences.seriousness(against.seriousness)
    told.addWidget(label(f"{serious}: {against.sentence}", wrap=True))
    prints = [print_ for print_ in job.prints if print_.key in against.prints]
    if prints and len(prints) < len(job.prints):
        names = "; ".join(print_name(job, print_) for print_ in prints)
        told.addWidget(label(names, Type.SMALL, quiet=True, wrap=True))
    across.addLayout(top)
    across.addLayout(told, 1)
    return across


def _charges(shop: Shop, offer: Offer, shown: OfferShown) -> QGridLayout:
    grid = QGridLayout()
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(RELATED)
    grid.setVerticalSpacing(GRID // 2)
    grid.setColumnStretch(0, 1)
    order, free_from = shown.result.order, offer.free_delivery_from
    lines = [(line.what, line.amount, False) for line in order.lines if line.kind is not ChargeKind.DELIVERY]
    if order.lines and (order.delivery or offer.delivery):
        told = words.delivery(sentences.bare_money(free_from, shop.currency) if free_from else "")
        lines.append((told, order.delivery, False))
    lines.append((words.TOGETHER, order.cost, True))
    for at, (what, amount, strong) in enumerate(lines):
        figure = label(sentences.bare_money(amount, shop.currency), strong=strong)
        grid.addWidget(label(what, wrap=True, strong=strong), at, 0)
        grid.addWidget(figure, at, 1)
        figure.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        grid.addWidget(label(shop.currency, Type.SMALL, quiet=True), at, 2)
    return grid


def _yields(job: Job, shown: OfferShown) -> QVBoxLayout:
    """How often each layout is printed, and what that gives of each piece."""
    order = shown.result.order
    grid = QGridLayout()
    grid.setHorizontalSpacing(APART)
    grid.setVerticalSpacing(GRID // 2)
    grid.setColumnStretch(0, 1)
    for at, head in enumerate((words.NEEDED, words.SPARES, words.OVER), 1):
        grid.addWidget(label(head, Type.SMALL, quiet=True), 0, at, Qt.AlignmentFlag.AlignRight)
    for at, piece in enumerate(order.pieces, 1):
        grid.addWidget(label(piece_name(job, piece.piece), wrap=True), at, 0)
        over = max(0, piece.surplus)
        for column_at, number in enumerate((piece.need, piece.spares, over), 1):
            figure = label(whole(number), strong=bool(over) and column_at == 3)
            grid.addWidget(figure, at, column_at, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
    for at, refused in enumerate(order.not_placed, len(order.pieces) + 1):
        grid.addWidget(label(piece_name(job, refused.piece), wrap=True), at, 0)
        grid.addWidget(label(words.not_printed(refused.count), Type.SMALL, quiet=True), at, 1, 1, 3)
    inner = column(space=GRID)
    if order.layouts:
        runs = tuple(layout.runs for layout in order.layouts)
        inner.addWidget(label(words.printed_so_often(runs), wrap=True))
    inner.addLayout(grid)
    return inner


def _near(shop: Shop, shown: OfferShown) -> str:
    return sentences.bound(shown.result.order, shop.currency) or words.NO_BOUND


def _pressed(offer: Offer) -> QVBoxLayout:
    press = offer.press
    told = [
        format_temperature(press.setting_c),
        words.press_for(press.press_s),
        words.pressure(press.pressure),
        words.peel(press.peel),
    ]
    if press.pre_press_s:
        told.insert(1, words.pre_press_for(press.pre_press_s))
    if press.second_press_s:
        told.append(words.second_press_for(press.second_press_s))
    if press.cover_sheet:
        told.append(words.COVER_SHEET)
    if offer.finishing_s:
        told.append(words.handwork(offer.finishing_s))
    inner = column(space=0)
    inner.addWidget(label(", ".join(told), wrap=True))
    cautions = " ".join(sentences.caution(what) for what in (Caution.WHO_WINS, Caution.TEST_FIRST))
    inner.addWidget(label(cautions, Type.SMALL, quiet=True, wrap=True))
    return inner
