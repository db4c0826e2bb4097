"""What changed since somebody looked: figures remembered by place, and the difference to now."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from functools import partial

from planner.buying.purchase import Order
from planner.job.document import Job
from planner.job.findings import Finding
from planner.measures.figures import whole
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.model import Missing, Plan
from planner.plan.wording_press import duration
from planner.shop.book import Shop
from planner.window import wording
from planner.window.names import day_name
from planner.window.told import Told

_IN_SHORT = 3
"""So many changes stand at the foot; the rest is a number."""


class Place(StrEnum):
    """Where figures are shown, and so where they can be looked at."""

    COSTS = "costs"
    FINDINGS = "findings"
    SHEETS = "sheets"
    OFFERS = "offers"
    PRESS = "press"


@dataclass(frozen=True, slots=True)
class Shown:
    """One figure as it was shown."""

    name: str
    told: Told


@dataclass(frozen=True, slots=True)
class Change:
    """A figure before and after; an empty text where there was none, or is none any more."""

    name: str
    before: str
    after: str

    @property
    def words(self) -> str:
        """For example "Total: 12.40 → 11.85"."""
        return f"{self.name}: {self.before or wording.NOTHING} → {self.after or wording.NOTHING}"


Figures = Mapping[str, Shown]
"""Figures of one place by a key that stays the same through edits."""


def figures_of(job: Job, shop: Shop, plan: Plan) -> dict[Place, Figures]:
    """What a person who looks at every place now would know of the job."""
    return {
        Place.COSTS: _costs(shop, plan),
        Place.FINDINGS: _findings(plan),
        Place.SHEETS: _sheets(shop, plan),
        Place.OFFERS: _offers(shop, plan),
        Place.PRESS: _press(plan),
    }


def difference(before: Figures, after: Figures) -> tuple[Change, ...]:
    """Every figure that is another one now, that came or that went."""
    changes = []
    for key in dict.fromkeys((*before, *after)):
        was, now = before.get(key), after.get(key)
        if now is None:
            changes.append(Change(before[key].name, before[key].told.again(), ""))
        elif was is None:
            changes.append(Change(now.name, "", now.told.text))
        elif text := now.told.was(was.told):
            changes.append(Change(now.name, text, now.told.text))
    return tuple(changes)


class Since:
    """Remembers each place as it was when it was last looked at, from the first complete plan on.

    While a job is still being put together every edit changes everything: nothing is remembered then.
    What comes without an edit, such as the measure of an artwork just opened, is no change either.
    """

    def __init__(self) -> None:
        self._now: dict[Place, Figures] = {}
        self._seen: dict[Place, Figures] = {}
        self._findings: tuple[Finding, ...] = ()
        self._known: tuple[Finding, ...] = ()
        self._edited = False

    @property
    def is_watching(self) -> bool:
        return bool(self._seen)

    def forget(self) -> None:
        """Another job is on the desk."""
        self._seen, self._edited = {}, False

    def note_edit(self) -> None:
        """The job or the shop book is another one from here on."""
        self._edited = True

    def take(self, job: Job, shop: Shop, plan: Plan) -> bool:
        """Take the plan that is shown now; whether it is what changes are held against from here on."""
        self._now = figures_of(job, shop, plan)
        self._findings = (*plan.findings, *plan.decided)
        complete = set(plan.missing) <= {Missing.ARRANGE}
        if not complete or (self._seen and self._edited):
            return False
        self._seen, self._known, self._edited = dict(self._now), self._findings, False
        return True

    def look_at(self, *places: Place) -> None:
        """These places were looked at as they are now."""
        if self._seen:
            self._seen |= {place: self._now[place] for place in places}
            if Place.FINDINGS in places:
                self._known = self._findings

    def changes(self, place: Place) -> tuple[Change, ...]:
        """What is another figure there than when it was looked at."""
        return difference(self._seen[place], self._now[place]) if self._seen else ()

    @property
    def known_findings(self) -> dict[str, Finding] | None:
        """The findings that somebody has looked at, by id; None while nothing is remembered."""
        return {found.id: found for found in self._known} if self._seen else None

    def in_short(self) -> str:
        """All places in one sentence for the foot; empty where nothing changed."""
        counted = self.changes(Place.FINDINGS)
        new = sum(not change.before for change in counted)
        gone = sum(not change.after for change in counted)
        parts = [
            *(change.words for change in self.changes(Place.COSTS)[:1]),
            *(change.words for change in self.changes(Place.SHEETS)[:1]),
            wording.findings_changed(new, gone),
            *(change.words for change in self.changes(Place.COSTS)[1:]),
            *(change.words for place in (Place.OFFERS, Place.PRESS) for change in self.changes(place)),
        ]
        parts = [part for part in parts if part]
        if not parts and counted:
            parts = [wording.FINDINGS]
        more = len(parts) - _IN_SHORT
        told = "  ·  ".join(parts[:_IN_SHORT])
        return f"{told}  ·  {wording.and_more(more)}" if more > 0 else told


def _costs(shop: Shop, plan: Plan) -> Figures:
    figures = {
        "total": Shown(wording.QUOTE_TOTAL, _money(plan.quote.total, shop)),
        "cost": Shown(wording.TOTAL_COST, _money(plan.costs.total, shop)),
        "margin": Shown(wording.MARGIN, Told.of(plan.costs.margin_percent, sentences.percent)),
    }
    for deadline in plan.calendar.deadlines:
        name = day_name(sentences.milestone(deadline.milestone), deadline, shop, plan.calendar.deadlines)
        key = f"{deadline.milestone} {deadline.offer}"
        figures[key] = Shown(name, Told.of(deadline.by, sentences.day))
    return figures


def _findings(plan: Plan) -> Figures:
    return {
        found.id: Shown(kind_name(found.kind), Told.of(f"{kind_name(found.seriousness)} {found.found}"))
        for found in (*plan.findings, *plan.decided)
    }


def _sheets(shop: Shop, plan: Plan) -> Figures:
    """In all, and at each offer where transfers come from several."""
    orders = [order for order in (plan.purchase.orders if plan.purchase else ()) if order.layouts]
    if not orders:
        return {}
    runs = "; ".join(" + ".join(str(layout.runs) for layout in order.layouts) for order in orders)
    figures = {
        "sheets": Shown(wording.SHEETS, Told.of(sum(order.sheets for order in orders), whole)),
        "runs": Shown(wording.RUNS, Told.of(runs)),
    }
    for order in orders:
        key, name = _of_offer(shop, order, len(orders))
        if name:
            figures[f"{key} sheets"] = Shown(f"{name}, {wording.SHEETS}", Told.of(order.sheets, whole))
    return figures


def _offers(shop: Shop, plan: Plan) -> Figures:
    """In all, and at each offer where transfers come from several."""
    orders = plan.purchase.orders if plan.purchase else ()
    figures = {}
    if plan.purchase and orders:
        figures["cost"] = Shown(wording.ORDER_COST, _money(plan.purchase.cost, shop))
        figures["days"] = Shown(wording.ORDER_DAYS, Told.of(max(order.days for order in orders), _days))
    for order in orders:
        key, name = _of_offer(shop, order, len(orders))
        if name:
            figures[f"{key} cost"] = Shown(f"{name}, {wording.ORDER_COST}", _money(order.cost, shop))
            figures[f"{key} days"] = Shown(f"{name}, {wording.ORDER_DAYS}", Told.of(order.days, _days))
    return figures


def _press(plan: Plan) -> Figures:
    pieces = sum(step.pieces for step in plan.press_work.steps)
    return {
        "pieces": Shown(wording.PRESSED, Told.of(pieces, _prints)),
        "time": Shown(wording.PRESS_TIME, Told.of(plan.press_work.total_min, duration)),
    }


def _money(amount: Decimal, shop: Shop) -> Told:
    return Told.of(amount, partial(sentences.money, currency=shop.currency))


def _days(days: int) -> str:
    return sentences.count(days, "day")


def _prints(prints: int) -> str:
    return sentences.count(prints, "print")


def _of_offer(shop: Shop, order: Order, orders: int) -> tuple[str, str]:
    """Key and name to tell an order from others by; nothing of either where it is the only one.

    So the one order is the same place at whichever offer: there a figure changes, none comes or goes.
    """
    offer = shop.offer(order.offer)
    return (offer.key, offer.name) if offer and orders > 1 else ("", "")
