"""The bar at the top: whose job it is, when it is due, where transfers come from, and what is next."""

from collections.abc import Callable
from datetime import date
from functools import partial

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QHBoxLayout,
    QMenu,
    QPushButton,
    QWidget,
    QWidgetAction,
)

from planner.job.document import Job
from planner.job.findings import Finding, Seriousness
from planner.job.state import JobState
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.model import Missing, Plan
from planner.pressing.calendar_reckoning import open_days_of
from planner.shop.book import Shop
from planner.window import wording
from planner.window.due_calendar import DueCalendar
from planner.window.fields import DateField, TextField
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.names import print_name
from planner.window.widgets import JOINT, Combo, button, column, emptied, label, row

_SHOWN_NEXT = 3
GO_NEXT_KEY = "F8"


def shared_out(job: Job, shop: Shop) -> dict[str, list[str]]:
    """Prints on garments by the name of the offer they are bought at; nothing unless these are several."""
    shares: dict[str, list[str]] = {}
    for offer in shop.offers:
        at = [print_ for print_ in job.prints if job.offer_of(print_) == offer.key]
        if named := [print_name(job, print_) for print_ in at if job.line(print_.line).count]:
            shares[offer.name] = named
    return shares if len(shares) > 1 else {}


class JobBar(QWidget):
    """Title, customer, due date, offer; Arrange and Export; the next step as a link."""

    title_edited = Signal(object, str)
    customer_edited = Signal(object, str)
    details_requested = Signal()
    """Contact, address and notes of the customer."""
    due_edited = Signal(object, str)
    state_chosen = Signal(object)
    offer_chosen = Signal(object)
    """An offer's key, or None."""
    shared_offer_chosen = Signal(str)
    """The key of an offer to buy all prints at, which are shared out among several until now."""
    arrange_requested = Signal()
    export_requested = Signal()
    next_followed = Signal(object)
    """Which `Missing` the person wants to be taken to."""

    finding_followed = Signal(object)
    """Which `Finding` the person wants to be taken to."""

    def __init__(self, today: Callable[[], date]) -> None:
        super().__init__()
        self._today = today
        self._shop = Shop()
        self.title = TextField(wording.TITLE, hint=wording.UNTITLED)
        self.title.setProperty("type", Type.LARGE.value)
        self.title.setProperty("quiet", True)
        self.customer = TextField(wording.CUSTOMER, hint=wording.CUSTOMER_HINT)
        self.due = DateField(wording.DUE, today, sentences.day)
        self.offer = Combo(wording.OFFER)
        self.state = Combo(wording.STATE)
        self.state.setToolTip(wording.STATE_HINT)
        self.state.addItems([kind_name(state) for state in JobState])
        self.arrange = button(
            wording.ARRANGE, self.arrange_requested.emit, role="main", hint=wording.ARRANGE_HINT
        )
        self.export = button(wording.EXPORT, self.export_requested.emit, hint=wording.EXPORT_HINT)
        self._offers: tuple[str | None, ...] = ()
        self._is_shared = False
        self._plan: Plan | None = None
        self._missing: tuple[Missing, ...] | None = None
        self._shown = 0
        self._followed: Missing | None = None
        self._cursor_then: QWidget | None = None
        self._fields: dict[Missing, QWidget] = {
            Missing.CUSTOMER: self.customer,
            Missing.DUE: self.due,
            Missing.OFFER: self.offer,
            Missing.ARRANGE: self.arrange,
        }
        self._next = row(space=GRID)
        self._build()
        self.title.edited.connect(self.title_edited)
        self.customer.edited.connect(self.customer_edited)
        self.due.edited.connect(self.due_edited)
        self.offer.activated.connect(self._offer_activated)
        self.state.activated.connect(lambda at: self.state_chosen.emit(tuple(JobState)[at]))

    def show_plan(self, job: Job, shop: Shop, plan: Plan) -> None:
        """Show the job's own fields and what is still missing."""
        self.title.show_value(job.title)
        self.customer.show_value(job.customer.name)
        self.due.show_value(job.due)
        self.state.setCurrentIndex(tuple(JobState).index(job.state))
        self._shop = shop
        self._show_offers(job, shop)
        self._show_next(plan)

    def take_to(self, missing: Missing) -> bool:
        """Put the cursor where something is missing, if that is in this bar."""
        field = self._fields.get(missing)
        if field is not None:
            field.setFocus()
        return field is not None

    def follow_next(self) -> None:
        """Go to what is missing, each time a thing further; then to the first stop, then to the export."""
        missing = self._plan.missing if self._plan else ()
        if missing:
            order = tuple(Missing)
            here = self._here()
            at = order.index(here) if here else -1
            self._follow(next((one for one in missing if order.index(one) > at), missing[0]))
        elif stop := self._first_stop():
            self.finding_followed.emit(stop)
        else:
            self.export.setFocus()

    def _follow(self, missing: Missing) -> None:
        self._followed = missing
        self.next_followed.emit(missing)
        self._cursor_then = QApplication.focusWidget()

    def _here(self) -> Missing | None:
        """Where the walk goes on from: what was followed last, or the field where somebody went since."""
        cursor = QApplication.focusWidget()
        if cursor is self._cursor_then:
            return self._followed
        return next((one for one, field in self._fields.items() if field is cursor), self._followed)

    def _first_stop(self) -> Finding | None:
        findings = self._plan.findings if self._plan else ()
        return next((found for found in findings if found.seriousness is Seriousness.STOP), None)

    def _build(self) -> None:
        self.offer.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.offer.setMinimumContentsLength(14)
        self.details = _beside(wording.CUSTOMER_MORE, self.details_requested.emit)
        self.details.setText("⋯")
        customer = row(space=GRID // 2)
        customer.addWidget(self.customer, 1)
        customer.addWidget(self.details)
        pick = _beside(wording.PICK_DAY, self._pick_day)
        due = row(space=GRID // 2)
        due.addWidget(self.due, 1)
        due.addWidget(pick)
        fields = row(space=APART)
        self.title.setMinimumWidth(40 * GRID)
        for caption, field, share in (
            ("", self.title, 3),
            (wording.CUSTOMER, customer, 4),
            (wording.DUE, due, 4),
            (wording.OFFER, self.offer, 3),
        ):
            fields.addLayout(_captioned(caption, field), share)
        buttons = row()
        buttons.addWidget(self.arrange)
        buttons.addWidget(self.export)
        fields.addLayout(_captioned(" ", buttons))
        whole = column(space=RELATED)
        whole.setContentsMargins(APART, RELATED, APART, RELATED)
        whole.addLayout(fields)
        foot = row(space=RELATED)
        foot.addLayout(self._next, 1)
        foot.addWidget(label(wording.STATE, Type.SMALL, quiet=True))
        foot.addWidget(self.state)
        whole.addLayout(foot)
        self.setLayout(whole)

    def _show_offers(self, job: Job, shop: Shop) -> None:
        shares = shared_out(job, shop)
        self._is_shared = bool(shares)
        keys: tuple[str | None, ...] = (None, *(offer.key for offer in shop.offers))
        first = JOINT.join(shares) if shares else wording.NO_OFFER
        names = (first, *(offer.name for offer in shop.offers))
        shown = tuple(self.offer.itemText(at) for at in range(self.offer.count()))
        if keys != self._offers or names != shown:
            self._offers = keys
            self.offer.clear()
            self.offer.addItems(names)
            for at, offer in enumerate(shop.offers, start=1):
                self.offer.setItemData(at, kind_name(offer.kind), Qt.ItemDataRole.ToolTipRole)
        self.offer.setToolTip(wording.shares_hint(shares) if shares else wording.OFFER)
        alone = keys.index(job.offer) if job.offer in keys else 0
        self.offer.setCurrentIndex(0 if shares else alone)

    def _show_next(self, plan: Plan) -> None:
        self._plan = plan
        shown = self._most_links(plan.missing)
        if (plan.missing, shown) == (self._missing, self._shown) and plan.missing:
            return
        self._missing, self._shown = plan.missing, shown
        emptied(self._next)
        if not plan.missing:
            stop = self._first_stop()
            done = label(wording.STOPS_LEFT if stop else wording.ALL_THERE, quiet=True)
            done.setMinimumHeight(TARGET)
            self._next.addWidget(done)
            if stop:
                self._next.addWidget(button(wording.FIRST_STOP, self.follow_next, role="link"))
        else:
            self._next.addWidget(label(wording.NEXT, strong=True))
            for missing in plan.missing[:shown]:
                link = button(sentences.missing(missing), partial(self._follow, missing), role="link")
                self._next.addWidget(link)
            if (more := len(plan.missing) - shown) > 0:
                self._next.addWidget(self._others(wording.and_more(more), plan.missing[shown:]))
        self._next.addStretch(1)

    def _others(self, name: str, missing: tuple[Missing, ...]) -> QWidget:
        """What has no room beside the first: a menu of links."""
        made = button(name, lambda: None, role="link")
        menu = QMenu(made)
        for one in missing:
            menu.addAction(sentences.missing(one), partial(self._follow, one))
        made.setMenu(menu)
        return made

    def _most_links(self, missing: tuple[Missing, ...]) -> int:
        """How many links find room beside the state, so that none is cut; one always is shown."""
        texts = [sentences.missing(one) for one in missing[:_SHOWN_NEXT]]
        letters = self.fontMetrics()
        room = self.width() - self.state.sizeHint().width() - 8 * APART
        room -= letters.horizontalAdvance(wording.NEXT + wording.and_more(len(missing)) + wording.STATE)
        for shown in range(len(texts), 1, -1):
            if sum(letters.horizontalAdvance(text) + 5 * GRID for text in texts[:shown]) <= room:
                return shown
        return min(1, len(texts))

    def _offer_activated(self, at: int) -> None:
        key = self._offers[at]
        if not self._is_shared:
            self.offer_chosen.emit(key)
        elif key is not None:
            # The bar names all offers of the job: one of them picked stands for all, too.
            self.shared_offer_chosen.emit(key)

    def _pick_day(self) -> None:
        menu = QMenu(self)

        def take(day: date) -> None:
            menu.close()
            self.due_edited.emit(day, "")

        chosen, open_days = self.due.value or self._today(), open_days_of(self._shop)
        holder = QWidgetAction(menu)
        holder.setDefaultWidget(DueCalendar(chosen, today=self._today(), open_days=open_days, take=take))
        menu.addAction(holder)
        menu.popup(self.due.mapToGlobal(QPoint(0, self.due.height())))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._plan is not None:
            self._show_next(self._plan)


def _beside(name: str, pressed: Callable[[], object]) -> QPushButton:
    """A small square button that belongs to the field on its left."""
    made = button("▾", pressed, hint=name)
    made.setAccessibleName(name)
    made.setFixedWidth(TARGET)
    made.setStyleSheet("padding: 0")
    return made


def _captioned(caption: str, field: QWidget | QHBoxLayout) -> QHBoxLayout:
    """A field with its caption above; the outer row lets it grow sideways only."""
    inner = column(space=0)
    above = label(caption or " ", Type.SMALL, quiet=True)
    inner.addWidget(above)
    if isinstance(field, QWidget):
        inner.addWidget(field)
        if caption:
            above.setBuddy(field)
    else:
        inner.addLayout(field)
    outer = row()
    outer.addLayout(inner)
    return outer
