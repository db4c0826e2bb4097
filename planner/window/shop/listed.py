"""A list of named parts of the shop book, with adding, duplicating and removing, beside a form for one."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QSplitter, QWidget

from planner.shop.book import Shop
from planner.shop.document import changed
from planner.window.look import APART, GRID, RELATED, TARGET, tokens_of
from planner.window.shop import words
from planner.window.shop.form import Form
from planner.window.widgets import button, column, label, row, scrolled


def free_key(taken: set[str], stem: str) -> str:
    """A key that no part carries yet: "offer-1", "offer-2"."""
    number = 1
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"


def free_name(taken: set[str], name: str) -> str:
    """The name with a number behind it where it is taken."""
    if name not in taken:
        return name
    number = 2
    while f"{name} ({number})" in taken:
        number += 1
    return f"{name} ({number})"


class Listed(QWidget):
    """One tuple of the shop book. The form shows the part chosen in the list."""

    edited = Signal(object, str)

    def __init__(
        self,
        *,
        parts: str,
        one: str,
        name_of: str,
        fresh: Callable[[str], Any],
        nothing: str,
        build: Callable[[Form, Callable[[], str]], None],
    ) -> None:
        super().__init__()
        self._parts, self._one, self._name_of, self._fresh = parts, one, name_of, fresh
        self._shop: Shop | None = None
        self.key = ""
        self.list = QListWidget()
        self.list.setAccessibleName(parts)
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.currentItemChanged.connect(self._choose)
        self.form = Form()
        build(self.form, lambda: self.key)
        self.form.edited.connect(self._edited)
        self.add = button(words.ADD, self._add, hint=words.one_more(one))
        self.duplicate = button(words.DUPLICATE, self._duplicate, hint=words.copy_of(one))
        self.remove = button(words.REMOVE, self._remove, hint=words.take_out(one))
        self._nothing = label(nothing, quiet=True, wrap=True)
        self._build()
        self._dress()

    def add_tool(self, tool: QWidget) -> None:
        """One more button below the list."""
        self._left.addWidget(tool)

    def show_shop(self, shop: Shop) -> None:
        self._shop = shop
        parts = getattr(shop, self._parts)
        keys = [part.key for part in parts]
        if self.key not in keys:
            self.key = keys[0] if keys else ""
        self.list.blockSignals(True)
        while self.list.count() > len(parts):
            self.list.takeItem(self.list.count() - 1)
        while self.list.count() < len(parts):
            self.list.addItem(QListWidgetItem())
        for at, part in enumerate(parts):
            item = self.list.item(at)
            item.setSizeHint(QSize(0, TARGET))
            item.setText(getattr(part, self._name_of))
            item.setData(Qt.ItemDataRole.UserRole, part.key)
        if keys:
            self.list.setCurrentRow(keys.index(self.key))
        self.list.blockSignals(False)
        self.form.setVisible(bool(keys))
        self._nothing.setVisible(not keys)
        self.duplicate.setEnabled(bool(keys))
        self.remove.setEnabled(bool(keys))
        if keys:
            self.form.show_shop(shop)

    def _build(self) -> None:
        tools = row(space=GRID)
        for tool in (self.add, self.duplicate, self.remove):
            tools.addWidget(tool)
        left = self._left = column(edge=RELATED)
        left.addWidget(self.list, 1)
        left.addLayout(tools)
        beside = QWidget()
        beside.setLayout(left)
        page = column(edge=APART)
        page.addWidget(self._nothing)
        page.addWidget(self.form)
        page.addStretch(1)
        inner = QWidget()
        inner.setLayout(page)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(beside)
        self.area = scrolled(inner)
        split.addWidget(self.area)
        split.setStretchFactor(1, 1)
        split.setSizes([280, 620])
        split.setChildrenCollapsible(False)
        split.setHandleWidth(1)
        whole = column(space=0)
        whole.addWidget(split)
        self.setLayout(whole)

    def _dress(self) -> None:
        """What is chosen stands on the quiet ground of chosen things, not on the accent."""
        tokens = tokens_of(self)
        self.list.setStyleSheet(
            f"QListWidget {{ background: {tokens.field}; border: 1px solid {tokens.line}; outline: none; }}"
            f"QListWidget::item {{ padding-left: {GRID}px; }}"
            f"QListWidget::item:selected {{ background: {tokens.chosen}; color: {tokens.text}; }}"
            f"QListWidget:focus {{ border: 2px solid {tokens.accent}; }}"
        )

    def _choose(self, item: QListWidgetItem | None) -> None:
        if item is not None and self._shop is not None:
            self.key = item.data(Qt.ItemDataRole.UserRole)
            self.form.show_shop(self._shop)
            self.area.verticalScrollBar().setValue(0)

    def _name_it(self) -> None:
        """A part was added: its name is what is typed first."""
        self.area.verticalScrollBar().setValue(0)
        next(iter(self.form.fields.values())).setFocus(Qt.FocusReason.TabFocusReason)

    def _edited(self, shop: Shop, title: str) -> None:
        self.show_shop(shop)
        self.edited.emit(shop, title)

    def _put(self, parts: tuple[Any, ...], title: str) -> None:
        if self._shop is not None:
            self._edited(changed(self._shop, **{self._parts: parts}), title)

    def _now(self) -> tuple[Any, ...]:
        return tuple(getattr(self._shop, self._parts)) if self._shop else ()

    def _add(self) -> None:
        parts = self._now()
        made = self._fresh(free_key({part.key for part in parts}, self._one.replace(" ", "-")))
        name = free_name({getattr(part, self._name_of) for part in parts}, getattr(made, self._name_of))
        made = changed(made, **{self._name_of: name})
        self.key = made.key
        self._put((*parts, made), words.add(self._one))
        self._name_it()

    def _duplicate(self) -> None:
        parts = self._now()
        at = next(at for at, part in enumerate(parts) if part.key == self.key)
        key = free_key({part.key for part in parts}, self._one.replace(" ", "-"))
        name = free_name({getattr(part, self._name_of) for part in parts}, getattr(parts[at], self._name_of))
        copy = changed(parts[at], key=key, **{self._name_of: name})
        self.key = key
        self._put((*parts[: at + 1], copy, *parts[at + 1 :]), words.duplicate(self._one))
        self._name_it()

    def _remove(self) -> None:
        parts = self._now()
        at = next(at for at, part in enumerate(parts) if part.key == self.key)
        rest = parts[:at] + parts[at + 1 :]
        self.key = rest[min(at, len(rest) - 1)].key if rest else ""
        self._put(rest, words.remove(self._one))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            self._dress()
