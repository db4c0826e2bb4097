"""What the page shows of each offer: figures in words, and what each column sorts by. No Qt here."""

from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import partial

from planner.buying.compare import OfferResult
from planner.buying.purchase import Order, Purchase
from planner.job.document import Job
from planner.job.findings import Finding, Seriousness
from planner.measures.figures import whole
from planner.measures.temperature import in_scale
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.pressing.calendar_reckoning import open_days_of
from planner.shop.book import Shop
from planner.shop.document import changed
from planner.shop.offers import Offer
from planner.window import wording
from planner.window.before import Before
from planner.window.offers import words
from planner.window.told import Told


class Column(Enum):
    """What is told of every offer, by the name that heads it."""

    NAME = words.NAME
    COST = words.COST
    EACH = words.EACH
    SHEETS = words.SHEETS
    ARRIVES = words.ARRIVES
    PRESS = words.PRESS


_WITH_BEFORE = tuple(column for column in Column if column is not Column.NAME)


@dataclass(frozen=True, slots=True)
class Cell:
    """A figure with its unit, and a smaller line below."""

    told: Told
    unit: str = ""
    below: str = ""
    warns: bool = False
    """The line below tells what forbids the offer."""
    hint: str = ""
    """The same in a sentence."""

    @property
    def figure(self) -> str:
        return self.told.text


@dataclass(frozen=True, slots=True)
class Against:
    """One kind of trouble, and the prints that it meets."""

    seriousness: Seriousness
    kind: str
    sentence: str
    prints: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OfferShown:
    """One offer as a row of the page."""

    result: OfferResult
    name: str
    kind: str
    cells: dict[Column, Cell]
    keys: dict[Column, Decimal | float | str]
    against: tuple[Against, ...]
    chosen: bool
    chosen_for_some: bool
    cheapest: bool
    priced_by: str
    """The offer's price model, which says what is counted: sheets, a length or pieces."""
    was: Mapping[Column, str] = field(default_factory=dict)
    """Figures that an edit changed since somebody looked, as they were."""

    @property
    def key(self) -> str:
        return self.result.offer

    @property
    def may_be_used(self) -> bool:
        return self.result.may_be_used

    @property
    def marks(self) -> tuple[str, ...]:
        """Words for what singles this offer out."""
        chosen = words.CHOSEN if self.chosen else words.CHOSEN_FOR_SOME if self.chosen_for_some else ""
        return tuple(word for word in (chosen, words.CHEAPEST if self.cheapest else "") if word)

    @property
    def against_words(self) -> str:
        """The kinds of trouble in a line, the worst first."""
        if not self.against:
            return ""
        worst = self.against[0].seriousness
        kinds = dict.fromkeys(each.kind for each in self.against if each.seriousness is worst)
        others = len({each.kind for each in self.against}) - len(kinds)
        more = f", and {others} more" if others > 0 else ""
        return f"{sentences.seriousness(worst)}: {', '.join(kinds)}{more}"

    @property
    def spoken(self) -> str:
        """The row as a sentence for a screen reader."""
        told = [
            f"{cell.figure} {cell.unit} {self._was_spoken(column)}{cell.below}".strip()
            for column, cell in self.cells.items()
            if column is not Column.NAME
        ]
        return words.row_spoken(self.name, [*self.marks, *told, self.against_words])

    def _was_spoken(self, column: Column) -> str:
        return f"({wording.was(self.was[column])}) " if column in self.was else ""


def offers_shown(
    job: Job, shop: Shop, results: Iterable[OfferResult], scope: str | None
) -> tuple[OfferShown, ...]:
    """One row an offer, in the order of the results; `scope` names the print compared for, None: all."""
    results = tuple(results)
    cheapest = next((result.offer for result in results if result.may_be_used), None)
    asked = [print_ for print_ in job.prints if scope in (None, print_.key)]
    taken = {job.offer_of(print_) for print_ in asked}
    shown = []
    for result in results:
        offer = shop.offer(result.offer)
        if offer is None:
            continue
        shown.append(
            OfferShown(
                result=result,
                name=offer.name,
                kind=kind_name(offer.kind),
                cells=_cells(job, shop, offer, result),
                keys=_keys(offer, result),
                against=_against(job, shop, result.findings),
                chosen=taken == {offer.key},
                chosen_for_some=len(taken) > 1 and offer.key in taken,
                cheapest=offer.key == cheapest,
                priced_by=offer.price.model,
            )
        )
    return tuple(shown)


def with_before(shown: OfferShown, scope: str | None, before: Before) -> OfferShown:
    """The row with what its figures were before an edit."""
    was = {column: before.was(_place(shown, scope, column)) for column in _WITH_BEFORE}
    return replace(shown, was={column: text for column, text in was.items() if text})


def figures_of(shown: Iterable[OfferShown], scope: str | None) -> dict[Hashable, Told]:
    """What `Before` remembers of these rows."""
    return {_place(each, scope, column): each.cells[column].told for each in shown for column in _WITH_BEFORE}


def with_standing(
    results: Iterable[OfferResult], purchase: Purchase | None, *, provisional: bool
) -> tuple[OfferResult, ...]:
    """The results, the accepted sheets of the job's one offer in place of dearer ones found for it."""
    standing = purchase.orders[0] if purchase and len(purchase.orders) == 1 and not provisional else None
    return tuple(
        _standing(result, standing)
        if standing is not None and standing.offer == result.offer and standing.cost <= result.cost
        else result
        for result in results
    )


def in_order(rows: Iterable[OfferShown], by: Column, *, falling: bool) -> tuple[OfferShown, ...]:
    """Those that may be used first, each group sorted by one column; equal ones stay as they are.

    By cost, those that leave pieces out come last: what they ask is not for the same.
    """
    rows = tuple(rows)
    groups = ([row for row in rows if row.may_be_used], [row for row in rows if not row.may_be_used])
    ordered: list[OfferShown] = []
    for group in groups:
        found = sorted(group, key=lambda row: row.keys[by], reverse=falling)
        if by in (Column.COST, Column.EACH):
            found.sort(key=lambda row: bool(row.result.order.not_placed))
        ordered += found
    return tuple(ordered)


def best_first(results: Iterable[OfferResult]) -> tuple[OfferResult, ...]:
    """Those that may be used first, each group cheapest first, those that leave pieces out last."""
    return tuple(
        sorted(
            results,
            key=lambda result: (
                not result.may_be_used,
                bool(result.order.not_placed),
                result.cost,
                result.offer,
            ),
        )
    )


def _place(shown: OfferShown, scope: str | None, column: Column) -> Hashable:
    return (scope, shown.key, column, shown.priced_by, shown.result.provisional)


def _standing(result: OfferResult, order: Order) -> OfferResult:
    garments = result.cost / result.cost_each if result.cost_each else Decimal(0)
    least = result.order.least_cost if order.least_cost is None else order.least_cost
    return changed(
        result,
        order=changed(order, least_cost=least, provisional=False),
        cost=order.cost,
        cost_each=order.cost / garments if garments else Decimal(0),
        sheets=order.sheets,
        surplus=sum(max(0, piece.surplus) for piece in order.pieces),
        provisional=False,
    )


def slack_days(arrives: date, due: date | None, shop: Shop) -> int | None:
    """Working days of the shop from arrival to the due date; negative where it is passed."""
    return None if due is None else open_days_of(shop).between(arrives, due)


def _cells(job: Job, shop: Shop, offer: Offer, result: OfferResult) -> dict[Column, Cell]:
    currency = shop.currency
    money = partial(sentences.bare_money, currency=currency)
    gap = result.order.gap
    near = "" if result.provisional or gap is None else words.near_least(gap)
    left_out = sum(refused.count for refused in result.order.not_placed)
    slack = slack_days(result.arrives, job.due, shop)
    setting = f"{in_scale(result.setting_c, shop.unit)}, {kind_name(result.peel)} peel"
    return {
        Column.NAME: Cell(Told.of(offer.name)),
        Column.COST: Cell(
            Told.of(result.cost, money),
            currency,
            words.left_out(left_out) if left_out else near,
            warns=left_out > 0,
            hint=words.not_printed(left_out) if left_out else "",
        ),
        Column.EACH: Cell(Told.of(result.cost_each, money), currency),
        Column.SHEETS: _sheets(shop, offer, result),
        Column.ARRIVES: Cell(
            Told.of(result.arrives, sentences.short_day),
            below=words.days(result.days, slack),
            warns=slack is not None and slack < 0,
            hint=words.days_hint(result.days, slack),
        ),
        Column.PRESS: Cell(Told.of(result.press_s, words.minutes), "min", setting),
    }


def _sheets(shop: Shop, offer: Offer, result: OfferResult) -> Cell:
    below = words.surplus(result.surplus)
    if offer.price.model == "length":
        length = Told.of(_length_mm(result), partial(words.roll_length, unit=shop.unit))
        return Cell(length, words.roll_unit(shop.unit), below)
    if offer.price.model == "sheet":
        return Cell(Told.of(result.sheets, whole), "sheet" if result.sheets == 1 else "sheets", below)
    pieces = sum(piece.ordered for piece in result.order.pieces)
    return Cell(Told.of(pieces, whole), "piece" if pieces == 1 else "pieces", below)


def _length_mm(result: OfferResult) -> float:
    return sum(layout.sheet.height_mm * layout.runs for layout in result.order.layouts)


def _keys(offer: Offer, result: OfferResult) -> dict[Column, Decimal | float | str]:
    return {
        Column.NAME: offer.name.casefold(),
        Column.COST: result.cost,
        Column.EACH: result.cost_each,
        Column.SHEETS: float(_length_mm(result) if offer.price.model == "length" else result.sheets),
        Column.ARRIVES: float(result.arrives.toordinal()),
        Column.PRESS: result.press_s,
    }


def _against(job: Job, shop: Shop, findings: Iterable[Finding]) -> tuple[Against, ...]:
    """Findings of the same sentence told once, with all prints that they meet."""
    grouped: dict[tuple[Seriousness, str, str], list[str]] = {}
    for finding in findings:
        what = (finding.seriousness, kind_name(finding.kind), sentences.finding(finding, shop.unit))
        prints = grouped.setdefault(what, [])
        if finding.print is not None:
            prints.append(finding.print.partition("/")[0])
    return tuple(
        Against(serious, kind, sentence, tuple(dict.fromkeys(prints)))
        for (serious, kind, sentence), prints in grouped.items()
    )
