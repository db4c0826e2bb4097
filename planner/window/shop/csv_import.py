"""Import of a price list: the file's columns matched to what they are, and a look before anything counts."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QComboBox, QDialog, QTableWidget, QTableWidgetItem, QVBoxLayout, QWidget

from planner.measures.lengths import LengthUnit
from planner.shop.prices import ByPiece, PriceTable
from planner.window.look import APART, RELATED, TARGET, Type, tokens_of
from planner.window.shop.form import Complaint
from planner.window.shop.grid_edit import CellGround
from planner.window.shop.grids import Grid, GridError, may_grow, price_from
from planner.window.shop.price_csv import COUNT, LEAVE_OUT, PRICE, grid_from, guess, has_names, read_rows
from planner.window.widgets import button, label, row

_COLUMN_PX = 150
_MOST_SHOWN = 30


class ImportDialog(QDialog):
    """Shows a file's rows under a row of choices. `taken` carries the grid when the person takes it."""

    taken = Signal(object)

    def __init__(self, path: str, price: PriceTable, unit: LengthUnit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._price, self._unit = price, unit
        self._rows: Grid = []
        self.setWindowTitle(f"Import prices from {Path(path).name}")
        self.setModal(True)
        self.resize(760, 520)
        self.note = Complaint()
        self.table = QTableWidget()
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(TARGET)
        self.table.setItemDelegate(CellGround(self.table))
        self.choices: list[QComboBox] = []
        self.take = button("Take these prices", self._take, role="main")
        close = button("Leave prices as they are", self.reject)
        tools = row()
        tools.addStretch(1)
        tools.addWidget(close)
        tools.addWidget(self.take)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(APART, APART, APART, APART)
        whole.setSpacing(RELATED)
        whole.addWidget(label("Say what each column is", Type.LARGE))
        hint = "One column says from how many a price holds. "
        if may_grow(price):
            size = "4 × 4 in, 2 colours" if isinstance(price, ByPiece) else "11.5 × 18 in"
            hint += f"For each column of prices type the size it is for, such as {size}."
        whole.addWidget(label(hint, Type.SMALL, quiet=True, wrap=True))
        whole.addWidget(self.table, 1)
        whole.addWidget(self.note)
        whole.addLayout(tools)
        self._open(Path(path))

    def grid(self) -> Grid:
        """The price grid as the choices make it.

        Raises:
            ValueError: the choices make none.
        """
        return grid_from(self._rows, [box.currentText().strip() for box in self.choices], self._price)

    def _open(self, path: Path) -> None:
        try:
            self._rows = read_rows(path)
        except ValueError as error:
            self.note.say(str(error))
            self.take.setEnabled(False)
            return
        roles = guess(self._rows, self._price, self._unit)
        self.table.setColumnCount(len(roles))
        self.table.setRowCount(1 + min(len(self._rows), _MOST_SHOWN))
        for column, role in enumerate(roles):
            self.table.setColumnWidth(column, _COLUMN_PX)
            self.table.setCellWidget(0, column, self._choice(role))
        for at, words in enumerate(self._rows[:_MOST_SHOWN]):
            for column, word in enumerate(words):
                item = QTableWidgetItem(word)
                item.setFlags(Qt.ItemFlag.ItemIsEnabled)
                self.table.setItem(at + 1, column, item)
        self._check()

    def _choice(self, role: str) -> QComboBox:
        box = QComboBox()
        box.setEditable(may_grow(self._price))
        box.addItems([LEAVE_OUT, COUNT, *([] if may_grow(self._price) else [PRICE])])
        if role not in (LEAVE_OUT, COUNT, PRICE):
            box.addItem(role)
        box.setCurrentText(role)
        box.currentTextChanged.connect(lambda _words: self._check())
        self.choices.append(box)
        return box

    def _check(self) -> None:
        """Say what would go wrong, mark where, and take nothing until it is right."""
        if len(self.choices) < self.table.columnCount():
            return
        self._mark(None)
        try:
            price_from(self.grid(), self._price, self._unit)
        except GridError as error:
            self._mark(error)
            self.note.say(str(error))
            self.take.setEnabled(False)
        except ValueError as error:
            self.note.say(str(error))
            self.take.setEnabled(False)
        else:
            self.note.say("")
            self.take.setEnabled(True)

    def _mark(self, error: GridError | None) -> None:
        tokens = tokens_of(self)
        used = [at for at, box in enumerate(self.choices) if box.currentText() not in (LEAVE_OUT, COUNT)]
        counts = [at for at, box in enumerate(self.choices) if box.currentText() == COUNT]
        first = 2 if self._rows and has_names(self._rows) else 1
        for row_at in range(1, self.table.rowCount()):
            for column in range(self.table.columnCount()):
                item = self.table.item(row_at, column)
                if item is None:
                    continue
                left_out = column not in used and column not in counts
                item.setForeground(QColor(tokens.quiet if left_out else tokens.text))
                item.setBackground(QColor(tokens.ground if left_out else tokens.field))
        if error is None or error.row == 0:
            return
        columns = [*counts[:1], *used]
        item = self.table.item(error.row - 1 + first, columns[error.column]) if columns else None
        if item is not None:
            item.setBackground(QColor(tokens.stop))
            item.setForeground(QColor(tokens.ground))

    def _take(self) -> None:
        self.taken.emit(self.grid())
        self.accept()
