"""A small spreadsheet for price tables and sizes: typed, pasted, checked as a whole."""

import csv
import io
from collections.abc import Callable

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetrics,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from planner.window.look import GRID, RELATED, TARGET, Type, tokens_of, type_font
from planner.window.shop.form import Complaint
from planner.window.shop.grids import Grid, GridError

_LEAST_COLUMN_PX, _COLUMN_PX = 96, 132
_MOST_ROWS_SHOWN = 11
_BESIDE_PX = 6 * GRID
"""What a cell keeps clear on both sides of its words."""


class CellGround(QStyledItemDelegate):
    """Paints a cell's own ground, which the application's style sheet leaves out."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        ground = index.data(Qt.ItemDataRole.BackgroundRole)
        if ground is not None:
            painter.fillRect(option.rect, ground)
        super().paint(painter, option, index)


class GridEdit(QWidget):
    """Rows of words under a row of names: `edited` when every cell can be read, else a sentence why not."""

    edited = Signal(object)
    """What `read` made of the grid."""

    def __init__(
        self,
        name: str,
        read: Callable[[Grid], object],
        *,
        fixed_names: bool,
        may_grow: bool = True,
        most_rows_shown: int = _MOST_ROWS_SHOWN,
    ) -> None:
        super().__init__()
        self._read, self._most_rows_shown = read, most_rows_shown
        self._wrong: tuple[int, int] | None = None
        self._fixed_names, self._may_grow = fixed_names, may_grow
        self._filling = False
        self.note = Complaint()
        self.table = QTableWidget()
        self.table.setAccessibleName(name)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.table.verticalHeader().setDefaultSectionSize(TARGET)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.table.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.setItemDelegate(CellGround(self.table))
        self.table.setTabKeyNavigation(True)
        self.table.cellChanged.connect(self._changed)
        self.table.installEventFilter(self)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(RELATED)
        whole.addWidget(self.table)
        whole.addWidget(self.note)

    @property
    def is_wrong(self) -> bool:
        return not self.note.isHidden()

    def set_growing(self, may_grow: bool) -> None:
        """Whether there is an empty column to add one more."""
        self._may_grow = may_grow

    def show_grid(self, grid: Grid) -> None:
        """Show these words with an empty row (and column) to add to; what is wrong and unread stays."""
        if self.is_wrong or self.grid() == _trimmed(grid):
            return
        self._fill(grid)

    def force_grid(self, grid: Grid) -> None:
        """Show these words whatever stood there, as for another offer."""
        self.note.say("")
        self._fill(grid)

    def put(self, grid: Grid) -> None:
        """Take words as though they were typed, as from an imported list."""
        self._fill(grid)
        self._take()

    def grid(self) -> Grid:
        """All words, empty rows and columns at the ends left out."""
        table = self.table
        return _trimmed(
            [
                [self._word(row, column) for column in range(table.columnCount())]
                for row in range(table.rowCount())
            ]
        )

    def _word(self, row: int, column: int) -> str:
        item = self.table.item(row, column)
        return item.text().strip() if item else ""

    def _fill(self, grid: Grid) -> None:
        self._filling = True
        wide = max(len(row) for row in grid) + (1 if self._may_grow else 0)
        self.table.setRowCount(len(grid) + 1)
        self.table.setColumnCount(wide)
        strong = type_font(self.font(), Type.BODY, strong=True)
        for row in range(len(grid) + 1):
            for column in range(wide):
                word = grid[row][column] if row < len(grid) and column < len(grid[row]) else ""
                self.table.setItem(row, column, self._item(word, row, column, strong))
        self._fit()
        self._filling = False

    def _fit(self) -> None:
        """Columns of one width, narrower where that brings the last one into view; the table fits them."""
        rows, columns = self.table.rowCount(), max(self.table.columnCount(), 1)
        self.table.ensurePolished()  # The style sheet says how wide the frame is.
        frame = 2 * self.table.frameWidth()
        is_long = rows > self._most_rows_shown
        beside = frame + (self.table.verticalScrollBar().sizeHint().width() if is_long else 0)
        column_px = min(_COLUMN_PX, max(_LEAST_COLUMN_PX, (self.width() - beside) // columns))
        is_wide = columns * column_px + beside > self.width()
        below = frame + (self.table.horizontalScrollBar().sizeHint().height() if is_wide else 0)
        for column in range(columns):
            self.table.setColumnWidth(column, column_px)
        self.table.setMaximumWidth(columns * column_px + beside)
        names_px = self._names_px(column_px)
        self.table.setRowHeight(0, names_px)
        self.table.setFixedHeight(names_px + (min(rows, self._most_rows_shown) - 1) * TARGET + below)

    def _names_px(self, column_px: int) -> int:
        """Height of the row of names: two lines where one has no room for the longest."""
        letters = QFontMetrics(type_font(self.font(), Type.BODY, strong=True))
        names = (self._word(0, column) for column in range(self.table.columnCount()))
        longest_px = max((letters.horizontalAdvance(name) for name in names), default=0)
        return TARGET if longest_px + _BESIDE_PX <= column_px else TARGET + letters.height()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _item(self, word: str, row: int, column: int, strong: QFont) -> QTableWidgetItem:
        item = QTableWidgetItem(word)
        right = (column > 0 or row > 0) and not (self._fixed_names and column < 2)
        item.setTextAlignment(
            Qt.AlignmentFlag.AlignVCenter
            | (Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft)
        )
        self._colour(item, row, wrong=False)
        if row == 0:
            item.setFont(strong)
            if self._fixed_names or column == 0 or not self._may_grow:
                item.setFlags(Qt.ItemFlag.ItemIsEnabled)
        return item

    def _changed(self, row: int, column: int) -> None:
        if not self._filling:
            self._take()

    def _take(self) -> None:
        """Read the whole; mark the cell that cannot be read and say why."""
        self._mark(None)
        try:
            value = self._read(self.grid())
        except GridError as error:
            self._mark((error.row, error.column))
            self.note.say(str(error))
            return
        self.note.say("")
        self._filling = True
        self._grow()
        self._filling = False
        self.edited.emit(value)

    def _grow(self) -> None:
        """Always one empty row below, and one empty column beside where that is allowed."""
        strong = type_font(self.font(), Type.BODY, strong=True)
        table = self.table
        if any(self._word(table.rowCount() - 1, column) for column in range(table.columnCount())):
            table.insertRow(table.rowCount())
            for column in range(table.columnCount()):
                table.setItem(
                    table.rowCount() - 1, column, self._item("", table.rowCount() - 1, column, strong)
                )
        last = table.columnCount() - 1
        if self._may_grow and any(self._word(row, last) for row in range(table.rowCount())):
            table.insertColumn(last + 1)
            for row in range(table.rowCount()):
                table.setItem(row, last + 1, self._item("", row, last + 1, strong))
        self._fit()

    def _mark(self, wrong: tuple[int, int] | None) -> None:
        """Colour all cells, the one that cannot be read as such."""
        self._wrong = wrong
        self._filling = True
        for row in range(self.table.rowCount()):
            for column in range(self.table.columnCount()):
                item = self.table.item(row, column)
                if item is not None:
                    self._colour(item, row, wrong=(row, column) == wrong)
        self._filling = False

    def _colour(self, item: QTableWidgetItem, row: int, *, wrong: bool) -> None:
        tokens = tokens_of(self)
        ground = tokens.ground if row == 0 else tokens.field
        item.setBackground(QColor(tokens.stop if wrong else ground))
        item.setForeground(QColor(tokens.ground if wrong else tokens.text))

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange:
            self._mark(self._wrong)

    def _paste(self, text: str) -> None:
        """Cells from a spreadsheet, from the current cell on."""
        rows = list(csv.reader(io.StringIO(text), delimiter="\t"))
        at_row, at_column = max(0, self.table.currentRow()), max(0, self.table.currentColumn())
        grid = self.grid()
        for down, words in enumerate(rows):
            while len(grid) <= at_row + down:
                grid.append([])
            line = grid[at_row + down]
            line += [""] * (at_column + len(words) - len(line))
            line[at_column : at_column + len(words)] = [word.strip() for word in words]
        self.put(grid)

    def _copy(self) -> None:
        ranges = self.table.selectedRanges()
        if not ranges:
            return
        area = ranges[0]
        QGuiApplication.clipboard().setText(
            "\n".join(
                "\t".join(
                    self._word(row, column) for column in range(area.leftColumn(), area.rightColumn() + 1)
                )
                for row in range(area.topRow(), area.bottomRow() + 1)
            )
        )

    def _clear(self) -> None:
        self._filling = True
        for item in self.table.selectedItems():
            if item.flags() & Qt.ItemFlag.ItemIsEditable:
                item.setText("")
        self._filling = False
        self._take()

    def _is_at(self, row: int, column: int) -> bool:
        """Whether the cursor is in this cell."""
        return (self.table.currentRow(), self.table.currentColumn()) == (row, column)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and watched is self.table:
            if event.matches(QKeySequence.StandardKey.Paste):
                self._paste(QGuiApplication.clipboard().text())
                return True
            if event.matches(QKeySequence.StandardKey.Copy):
                self._copy()
                return True
            if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
                self._clear()
                return True
            # At its ends Tab leads out of the table: round in it, nobody came away by keys.
            last = self.table.rowCount() - 1, self.table.columnCount() - 1
            if event.key() == Qt.Key.Key_Tab and self._is_at(*last):
                return self.focusNextPrevChild(True)
            if event.key() == Qt.Key.Key_Backtab and self._is_at(0, 0):
                return self.focusNextPrevChild(False)
        return super().eventFilter(watched, event)


def _trimmed(grid: Grid) -> Grid:
    """Without empty rows at the foot and empty columns at the right."""
    rows = [list(row) for row in grid]
    while rows and not any(rows[-1]):
        rows.pop()
    wide = max((at + 1 for row in rows for at, word in enumerate(row) if word), default=0)
    return [[*row[:wide], *[""] * (wide - len(row))] for row in rows]
