"""The sizes of a garment line: a small grid of names and counts, surcharges on demand."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from functools import partial

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QContextMenuEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QLineEdit, QMenu, QWidget, QWidgetAction

from planner.job.document import SizeCount
from planner.measures.figures import whole
from planner.shop.document import changed
from planner.shop.garments import MOST_SIZE_LETTERS, BlankSize, SizeGroup
from planner.window import steps
from planner.window.fields import CountField, MoneyField
from planner.window.flow import Flow
from planner.window.garments import words
from planner.window.look import GRID, RELATED, TARGET, Type, type_font
from planner.window.readings import Unreadable, read_count
from planner.window.widgets import button, column, emptied, held, label, row

ADULT = ("XS", "S", "M", "L", "XL", "2XL", "3XL", "4XL", "5XL")
YOUTH = ("YXS", "YS", "YM", "YL", "YXL")
INFANT = ("NB", "6M", "12M", "18M", "24M")
ONE_SIZE = words.ONE_SIZE
KNOWN = (*ADULT, *YOUTH, *INFANT, ONE_SIZE)
_SAME = {"xxl": "2xl", "xxxl": "3xl", "xxxxl": "4xl", "os": "one size"}


def usual_size(name: str) -> str:
    """A size's name to compare by: "XXL" and "2xl" are one size."""
    word = name.strip().casefold()
    return _SAME.get(word, word)


def group_of(size: str) -> SizeGroup:
    """The group that a size's usual name belongs to."""
    if size in YOUTH:
        return SizeGroup.YOUTH
    if size in INFANT:
        return SizeGroup.INFANT
    return SizeGroup.ONE_SIZE if size == ONE_SIZE else SizeGroup.ADULT


def new_size(name: str, known: Sequence[BlankSize]) -> SizeCount:
    """A size that a line lacks: with the surcharge and measures that the blank's own sizes give it."""
    like = next((size for size in known if usual_size(size.size) == usual_size(name)), None)
    return (
        SizeCount(size=name, group=group_of(name))
        if like is None
        else SizeCount(**{**dict(like), "size": name})
    )


def by_group(sizes: tuple[SizeCount, ...]) -> dict[SizeGroup, tuple[SizeCount, ...]]:
    """Sizes of each group that has any, adults' first: that is what most orders begin with."""
    found = {group: tuple(size for size in sizes if size.group is group) for group in SizeGroup}
    return {group: of_group for group, of_group in found.items() if of_group}


def in_order(sizes: tuple[SizeCount, ...]) -> tuple[SizeCount, ...]:
    """Sizes by their usual order; the shop's own names stay behind, as they were added."""
    return tuple(sorted(sizes, key=lambda one: KNOWN.index(one.size) if one.size in KNOWN else len(KNOWN)))


class SizeGrid(QWidget):
    """Edits the sizes of a line; a row of figures copied from a spreadsheet may be pasted into a count."""

    edited = Signal(object, str, str)
    """The sizes (a tuple of SizeCount), what kind of change as an undo step, and its gesture."""

    def __init__(self) -> None:
        super().__init__()
        self._sizes: tuple[SizeCount, ...] = ()
        self._known: tuple[BlankSize, ...] = ()
        self._shown: tuple[tuple[SizeGroup, tuple[str, ...]], ...] = ()
        self._currency = "USD"
        self._surcharges = False
        self.counts: dict[str, CountField] = {}
        self.costs: dict[str, MoneyField] = {}
        self.total = label(strong=True)
        self.total.setFont(type_font(self.total.font(), Type.BODY, strong=True))
        self.total.setMinimumHeight(TARGET)
        self.add = button(f"+ {words.ADD_SIZE}", self._open_menu, role="link")
        self._groups = column(space=RELATED)
        self._last = Flow(across=GRID, down=GRID)
        self._last.addWidget(self.add)
        self._groups.addWidget(held(self._last))
        across = row(space=RELATED)
        across.addLayout(self._groups, 1)
        across.addWidget(self.total, 0, Qt.AlignmentFlag.AlignBottom)
        self.setLayout(across)

    def show_sizes(
        self, sizes: tuple[SizeCount, ...], currency: str, known: tuple[BlankSize, ...] = ()
    ) -> None:
        """Show names, counts and surcharges; `known` are the sizes of the line's blank in the shop book."""
        wanted = self._surcharges or any(size.surcharge for size in sizes)
        groups = by_group(sizes)
        names = tuple((group, tuple(size.size for size in groups[group])) for group in groups)
        rebuild = names != self._shown or wanted != bool(self.costs)
        self._sizes, self._currency, self._known = sizes, currency, known
        if rebuild:
            self._shown = names
            self._rebuild(wanted and bool(sizes))
        for size in sizes:
            self.counts[size.size].show_value(size.count)
            if size.size in self.costs:
                self.costs[size.size].show_money(size.surcharge, currency)
        count = sum(size.count for size in sizes)
        self.total.setText(f"{whole(count)} {words.TOGETHER}")

    def read_in_order(self) -> tuple[QWidget, ...]:
        """A row of counts at one go, then their surcharges; then the next row where there is one."""
        fields: tuple[QWidget, ...] = (*self.counts.values(), *self.costs.values())
        return (*sorted(fields, key=lambda field: field.mapTo(self, QPoint()).y()), self.add)

    def focus_first(self) -> None:
        """Put the cursor in the first count, or open the list of sizes where there is none."""
        first = next(iter(self.counts.values()), None)
        if first is None:
            self._open_menu()
        else:
            first.setFocus(Qt.FocusReason.TabFocusReason)

    def _rebuild(self, surcharges: bool) -> None:
        self._last.removeWidget(self.add)
        self.add.setParent(self)
        emptied(self._groups)
        self.counts, self.costs = {}, {}
        groups = by_group(self._sizes)
        heads = [
            _head(words.size_group(group) if len(groups) > 1 else "", surcharges=surcharges)
            for group in groups
        ]
        for head, sizes in zip(heads, groups.values(), strict=True):
            self._last = Flow(across=GRID, down=GRID)
            for size in sizes:
                self._last.addWidget(self._cell(size, surcharges))
            across = row(space=RELATED)
            if surcharges or len(groups) > 1:
                # Beside the cells, not among them: rows of sizes stand in line under one another.
                head.setFixedWidth(max(one.sizeHint().width() for one in heads))
                across.addWidget(head, 0, Qt.AlignmentFlag.AlignTop)
            across.addLayout(self._last, 1)
            self._groups.addWidget(held(across))
        if not groups:
            self._last = Flow(across=GRID, down=GRID)
            self._groups.addWidget(held(self._last))
        self._last.addWidget(self.add)
        self.add.show()

    def _cell(self, size: SizeCount, surcharges: bool) -> QWidget:
        above = label(size.size, Type.SMALL, quiet=True)
        above.setAlignment(Qt.AlignmentFlag.AlignRight)
        count = _PastingCount(size.size, self._paste)
        count.edited.connect(partial(self._count_edited, size.size))
        count.setContextMenuPolicy(Qt.ContextMenuPolicy.NoContextMenu)
        self.counts[size.size] = count
        if not surcharges:
            return _stacked(above, count)
        cost = MoneyField(f"{words.SURCHARGE} {size.size}", size.surcharge, self._currency)
        cost.edited.connect(partial(self._surcharge_edited, size.size))
        count.setFixedWidth(cost.width())
        self.costs[size.size] = cost
        return _stacked(above, count, cost)

    def _count_edited(self, size: str, count: int, gesture: str) -> None:
        self._tell(self._with(size, count=count), steps.COUNT, gesture)

    def _surcharge_edited(self, size: str, amount: Decimal, gesture: str) -> None:
        self._tell(self._with(size, surcharge=amount), steps.SIZES, gesture)

    def _with(self, size: str, **fields: object) -> tuple[SizeCount, ...]:
        return tuple(changed(one, **fields) if one.size == size else one for one in self._sizes)

    def _tell(self, sizes: tuple[SizeCount, ...], step: str, gesture: str = "") -> None:
        self._sizes = sizes
        self.edited.emit(sizes, step, gesture)

    def _paste(self, first: str, typed: str) -> bool:
        """Counts from a spreadsheet's row or column, from one size on; False: not several counts."""
        if named := self._named_counts(typed):
            self._tell(in_order(tuple(named.values())), steps.COUNT)
            return True
        parts = typed.strip().replace("\n", "\t").split("\t")
        try:
            counts = [read_count(part) for part in parts]
        except Unreadable:
            return False
        if len(counts) < 2:
            return False
        names = list(self.counts)
        by_name = dict(zip(names[names.index(first) :], counts, strict=False))
        self._tell(
            tuple(changed(size, count=by_name.get(size.size, size.count)) for size in self._sizes),
            steps.COUNT,
        )
        return True

    def _named_counts(self, typed: str) -> dict[str, SizeCount] | None:
        """The sizes with counts from a block that names each size above or beside its count."""
        rows = [line.split("\t") for line in typed.strip("\r\n").splitlines()]
        if len(rows) < 2:
            return None
        across = list(zip(*rows, strict=False)) if len({len(row) for row in rows}) == 1 else []
        return self._from_pairs(rows) or self._from_pairs(across)

    def _from_pairs(self, pairs: Sequence[Sequence[str]]) -> dict[str, SizeCount] | None:
        """The sizes with counts from pairs of a size and its count; None where one is no such pair."""
        found = {usual_size(size.size): size for size in self._sizes}
        names = (*KNOWN, *(size.size for size in self._known))
        usual = {usual_size(name): new_size(name, self._known) for name in names}
        for pair in pairs:
            name = usual_size(pair[0])
            known = found.get(name) or usual.get(name)
            if known is None or len(pair) != 2:
                return None
            try:
                found[name] = changed(known, count=read_count(pair[1]))
            except Unreadable:
                return None
        return found if pairs else None

    def _open_menu(self) -> None:
        menu = QMenu(self)
        have = {size.size for size in self._sizes}
        for names in (ADULT, YOUTH, INFANT, (ONE_SIZE,)):
            for name in names:
                if name not in have:
                    menu.addAction(name, partial(self._add, name))
            menu.addSeparator()
        other = QLineEdit()
        other.setPlaceholderText(words.OTHER_SIZE)
        other.setAccessibleName(words.OTHER_SIZE)
        other.setMaxLength(MOST_SIZE_LETTERS)

        def take() -> None:
            menu.close()
            name = other.text().strip()
            if name and name not in have:
                self._add(name)

        other.returnPressed.connect(take)
        holder = QWidgetAction(menu)
        holder.setDefaultWidget(other)
        menu.addAction(holder)
        menu.popup(self.add.mapToGlobal(QPoint(0, self.add.height())))

    def _add(self, name: str) -> None:
        added = (*self._sizes, new_size(name, self._known))
        self._tell(in_order(added), steps.SIZES)
        self.counts[name].setFocus()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        menu = QMenu(self)
        shown = menu.addAction(words.SURCHARGES)
        shown.setCheckable(True)
        shown.setChecked(bool(self.costs))
        shown.triggered.connect(self._show_surcharges)
        at = self.childAt(event.pos())
        for name, field in self.counts.items():
            if at is field:
                kept = tuple(size for size in self._sizes if size.size != name)
                menu.addAction(f"{words.REMOVE_SIZE} {name}", partial(self._tell, kept, steps.SIZES))
        menu.popup(event.globalPos())

    def _show_surcharges(self, shown: bool) -> None:
        self._surcharges = shown
        self.show_sizes(self._sizes, self._currency, self._known)


def _head(group: str, *, surcharges: bool) -> QWidget:
    """A group's name beside its counts, and the word beside its surcharges; sizes' names stand above."""
    of_counts = label(group, Type.SMALL, strong=True)
    of_counts.setFixedHeight(TARGET)
    parts = [label(" ", Type.SMALL), of_counts]
    if surcharges:
        of_costs = label(words.SURCHARGE, Type.SMALL, quiet=True)
        of_costs.setMinimumHeight(TARGET)
        parts.append(of_costs)
    return _stacked(*parts)


def _stacked(*parts: QWidget) -> QWidget:
    holder = QWidget()
    inner = column(space=GRID // 2)
    for part in parts:
        inner.addWidget(part)
    if len(parts) == 1:
        parts[0].setMinimumHeight(TARGET)
    holder.setLayout(inner)
    return holder


class _PastingCount(CountField):
    """A count that hands several pasted figures to the grid."""

    def __init__(self, size: str, pasted: Callable[[str, str], bool]) -> None:
        super().__init__(words.count_of(size))
        self._size, self._pasted = size, pasted

    def keyPressEvent(self, event: QKeyEvent) -> None:
        paste = QKeySequence.StandardKey.Paste
        if event.matches(paste) and self._pasted(self._size, QApplication.clipboard().text()):
            return
        super().keyPressEvent(event)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not self.is_wrong:
            # As in a column of figures; Tab does the same.
            self.focusNextChild()
