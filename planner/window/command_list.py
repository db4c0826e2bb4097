"""A list of all commands, searched by typing."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtGui import QAction, QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QWidget

from planner.window import wording
from planner.window.look import GRID, RELATED, TARGET
from planner.window.popover import Popover
from planner.window.widgets import column

_MOST_SHOWN = 12


class CommandList(Popover):
    """Opens over the window; arrows choose, Enter runs, Escape leaves."""

    def __init__(self, parent: QWidget, actions: Sequence[QAction]) -> None:
        super().__init__(parent)
        self._over_width = parent.width()
        self._actions = [action for action in actions if action.isEnabled()]
        self.search = QLineEdit()
        self.search.setPlaceholderText(wording.FIND_COMMAND_HINT)
        self.search.setAccessibleName(wording.FIND_COMMAND_HINT)
        self.found = QListWidget()
        self.found.setAccessibleName(wording.COMMANDS)
        self.found.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.search.textChanged.connect(self._filter)
        self.search.returnPressed.connect(self._run)
        self.found.itemClicked.connect(lambda item: self._run())
        self.search.installEventFilter(self)
        whole = column(space=RELATED, edge=RELATED)
        whole.addWidget(self.search)
        whole.addWidget(self.found)
        self.setLayout(whole)
        self._filter("")

    def open(self) -> None:
        """Show the list near the top of its window."""
        width = min(120 * GRID, self._over_width - 8 * GRID)
        self.setFixedWidth(width)
        self.open_at(QPoint((self._over_width - width) // 2, 12 * GRID), self.search)

    def _filter(self, typed: str) -> None:
        words = typed.lower().split()
        self.found.clear()
        for action in self._actions:
            name = action.data() or action.text().replace("&", "")
            if all(word in name.lower() for word in words):
                key = action.shortcut().toString()
                item = QListWidgetItem(f"{name}    {key}" if key else name)
                item.setData(Qt.ItemDataRole.UserRole, self._actions.index(action))
                self.found.addItem(item)
        self.found.setCurrentRow(0)
        rows = max(1, min(_MOST_SHOWN, self.found.count()))
        self.found.setFixedHeight(rows * TARGET + GRID)
        self.adjustSize()

    def _run(self) -> None:
        item = self.found.currentItem()
        if item is not None:
            action = self._actions[item.data(Qt.ItemDataRole.UserRole)]
            self.close()
            action.trigger()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()), 0)
            if step:
                row = (self.found.currentRow() + step) % max(1, self.found.count())
                self.found.setCurrentRow(row)
                return True
        return super().eventFilter(watched, event)
