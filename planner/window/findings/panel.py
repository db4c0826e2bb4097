"""The list of findings: what a person must know or decide, worst first, each with what can be done."""

from collections.abc import Callable, Hashable, Iterable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from planner.job.document import Job
from planner.job.findings import Finding, Seriousness
from planner.measures.lengths import LengthUnit
from planner.plan import wording as sentences
from planner.plan.kind_words import kind_name
from planner.plan.model import Plan
from planner.shop.book import Shop
from planner.window import wording
from planner.window.findings import words
from planner.window.findings.finding_row import FindingRow
from planner.window.look import APART, GRID, RELATED, TARGET, Type
from planner.window.names import line_name, print_name
from planner.window.widgets import (
    StatusMark,
    button,
    column,
    cut_short,
    emptied,
    label,
    put_in_order,
    row,
    scrolled,
)

_ANY_HEIGHT = 16_777_215
"""Qt's own largest size of a widget."""


class FindingsPanel(QWidget):
    """Findings in groups by seriousness, then those decided."""

    shown = Signal(object)
    """The finding a person wants to see in place."""
    decided = Signal(object, str)
    """A finding and the reason typed."""
    undecided = Signal(str)
    fix_requested = Signal(object)
    folded = Signal(bool)
    """Whether only the counts are shown from now on."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: dict[str, FindingRow] = {}
        self._before: dict[str, FindingRow] = {}
        self._spare: list[FindingRow] = []
        """Rows whose finding went: another finding may have them."""
        self._half_typed: dict[str, str] = {}
        """Reasons that were being typed when their finding went, by its id: a width on its way to
        another one takes findings along that are back with the next key."""
        self._labels: dict[Hashable, QWidget] = {}
        self._labels_before: dict[Hashable, QWidget] = {}
        self._told_counts: list[tuple[Seriousness, str]] = []
        self._state: object = None
        self._list = QVBoxLayout()
        self._list.setContentsMargins(APART, GRID, APART, RELATED)
        self._list.setSpacing(GRID)
        self._counts = row(space=GRID)
        inner = QWidget()
        outer = QVBoxLayout(inner)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addLayout(self._list)
        outer.addStretch(1)
        head = row(space=RELATED)
        head.setContentsMargins(APART, RELATED, APART, GRID)
        head.addWidget(label(wording.FINDINGS, strong=True))
        head.addSpacing(RELATED)
        head.addLayout(self._counts)
        head.addStretch(1)
        self.fold_button = button(words.FOLD, lambda: self.fold(not self.is_folded), role="link")
        head.addWidget(self.fold_button)
        whole = column(space=0)
        whole.addLayout(head)
        self._area = scrolled(inner)
        whole.addWidget(self._area, 1)
        self.setLayout(whole)
        self._head_height = TARGET + RELATED + GRID
        self.fold(False)

    @property
    def is_folded(self) -> bool:
        """Whether only the counts are shown, to leave the room to the page above."""
        return self._area.isHidden()

    def fold(self, folded: bool) -> None:
        """Show the counts alone, or the list too."""
        changes = folded != self.is_folded
        self._area.setVisible(not folded)
        self.fold_button.setText(words.UNFOLD if folded else words.FOLD)
        self.setMinimumHeight(self._head_height if folded else 24 * GRID)
        self.setMaximumHeight(self._head_height if folded else _ANY_HEIGHT)
        if changes:
            self.folded.emit(folded)

    def forget(self) -> None:
        """Another job is on the desk: what was half typed was about another's findings."""
        self._half_typed.clear()

    def show_plan(
        self,
        job: Job,
        shop: Shop,
        plan: Plan,
        fixable: frozenset[str],
        known: Mapping[str, Finding] | None = None,
    ) -> None:
        """Show a plan's findings; `fixable` are the ids that the planner can mend.

        `known` are the findings that somebody has looked at: what is new, changed or gone since is told.
        """
        reasons = {decision.finding: decision.reason for decision in job.decisions}
        places = tuple(_place(job, shop, finding) for finding in (*plan.findings, *plan.decided))
        state = (plan.findings, plan.decided, job.decisions, shop.unit, fixable, places, known)
        if state == self._state:
            return
        self._state = state
        # A finding's row stays while the finding does: an edit must not take away the reason being typed.
        cursor_at = self._row_with_cursor()
        self._before, self.rows = self.rows, {}
        self._labels_before, self._labels = self._labels, {}
        shown = {finding.id for finding in (*plan.findings, *plan.decided)}
        self._half_typed |= {
            key: row.reason.text()
            for key, row in self._before.items()
            if row.is_deciding and key not in shown
        }
        self._spare = self._rows_without(shown, cursor_at[1] if cursor_at else None)
        parts: list[QWidget] = []
        for serious in Seriousness:
            group = [finding for finding in plan.findings if finding.seriousness is serious]
            parts += self._group(words.GROUPS[serious], group, job, shop, {}, fixable)
        parts += self._group(words.DECIDED, list(plan.decided), job, shop, reasons, frozenset())
        parts += self._changes(shop.unit, plan, known)
        if not self.rows:
            parts += (label(words.NO_FINDINGS), label(words.NO_FINDINGS_WHY, quiet=True, wrap=True))
        put_in_order(self._list, parts)
        if cursor_at is not None:
            self._keep_cursor(*cursor_at)
        cut_short(self._list, len(parts))
        self._show_counts(plan, known)

    def _row_with_cursor(self) -> tuple[int, FindingRow] | None:
        at = QApplication.focusWidget()
        rows = enumerate(self.rows.values())
        return next(((number, row) for number, row in rows if at and row.isAncestorOf(at)), None)

    def _keep_cursor(self, number: int, row: FindingRow) -> None:
        """Where a finding was mended or decided its row goes: what follows it takes the cursor."""
        rows = list(self.rows.values())
        if row in rows:
            return
        for other in (*rows[number:], *reversed(rows[:number])):
            if other.take_cursor():
                return
        self.fold_button.setFocus()

    def _changes(self, unit: LengthUnit, plan: Plan, known: Mapping[str, Finding] | None) -> list[QWidget]:
        """Say at the rows what changed; gives the words for what is gone."""
        now = {finding.id: finding for finding in (*plan.findings, *plan.decided)}
        known = now if known is None else known
        for key, finding in now.items():
            before = known.get(key)
            if before is None:
                change = words.NEW_FINDING
            elif before.found != finding.found:
                change = f"{sentences.found(before, unit)} → {sentences.found(finding, unit)}"
            else:
                change = ""
            self.rows[key].show_change(change)
        gone = [finding for key, finding in known.items() if key not in now]
        if not gone:
            return []
        return [
            self._title(words.GONE_FINDINGS),
            *(self._gone(finding, sentences.finding(finding, unit)) for finding in gone),
        ]

    def _title(self, title: str) -> QWidget:
        return self._kept(title, lambda: label(title, Type.SMALL, quiet=True))

    def _gone(self, finding: Finding, sentence: str) -> QWidget:
        return self._kept((finding.id, sentence), lambda: label(sentence, quiet=True, wrap=True))

    def _kept(self, key: Hashable, made: Callable[[], QWidget]) -> QWidget:
        self._labels[key] = self._labels_before.get(key) or made()
        return self._labels[key]

    def _group(
        self,
        title: str,
        findings: list[Finding],
        job: Job,
        shop: Shop,
        reasons: dict[str, str],
        fixable: frozenset[str],
    ) -> list[QWidget]:
        if not findings:
            return []
        parts = [self._title(title)]
        for finding in findings:
            made = self._before.pop(finding.id, None) or self._another_row()
            if (half_typed := self._half_typed.pop(finding.id, None)) is not None:
                made.go_on_deciding(half_typed)
            made.show_finding(finding, _place(job, shop, finding), shop.unit)
            made.show_decision(reasons.get(finding.id, ""))
            made.show_fix(words.fix_name(finding, shop.unit) if finding.id in fixable else "")
            self.rows[finding.id] = made
            parts.append(made)
        return parts

    def _rows_without(self, findings: Iterable[str], at: FindingRow | None) -> list[FindingRow]:
        """Rows of none of these findings, without those in which a reason is typed or the cursor is."""
        gone = self._before.keys() - set(findings)
        rows = (row for key, row in self._before.items() if key in gone)
        return [row for row in rows if not row.is_deciding and row is not at]

    def _another_row(self) -> FindingRow:
        # Making one takes longer than all its words do.
        if self._spare:
            return self._spare.pop(0)
        made = FindingRow()
        made.shown.connect(self.shown)
        made.decided.connect(self.decided)
        made.undecided.connect(self.undecided)
        made.fix_requested.connect(self.fix_requested)
        return made

    def _show_counts(self, plan: Plan, known: Mapping[str, Finding] | None) -> None:
        decided = {finding.id for finding in plan.decided}
        told = []
        for serious in Seriousness:
            count = sum(finding.seriousness is serious for finding in plan.findings)
            before = count
            if known is not None:
                open_ones = [finding for key, finding in known.items() if key not in decided]
                before = sum(finding.seriousness is serious for finding in open_ones)
            if count or before:
                was = f"{before} → " if before != count else ""
                told.append((serious, f"{was}{count} {kind_name(serious)}"))
        if told == self._told_counts:
            return
        self._told_counts = told
        emptied(self._counts)
        for serious, counted in told:
            self._counts.addWidget(StatusMark(serious))
            self._counts.addWidget(label(counted))
            self._counts.addSpacing(RELATED)


def _place(job: Job, shop: Shop, finding: Finding) -> str:
    """Where a finding is, as short as it can be told."""
    key = (finding.print or "").partition("/")[0]
    print_ = next((print_ for print_ in job.prints if print_.key == key), None)
    if print_ is not None:
        parts = [print_name(job, print_)]
    else:
        named = (one.name for one in job.artworks if one.key == finding.artwork)
        parts = [wording.short_name(name) for name in named if name]
        parts += [line_name(job, garment) for garment in job.lines if garment.key == finding.line]
    if finding.offer and (offer := shop.offer(finding.offer)) and not parts:
        parts.append(offer.name)
    return ", ".join(parts)
