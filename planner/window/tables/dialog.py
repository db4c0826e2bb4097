"""Import of a table: the file's columns matched to what they are, and a look before anything counts."""

from pathlib import Path

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QComboBox, QDialog, QTableWidget, QTableWidgetItem, QVBoxLayout, QWidget

from planner.window.look import APART, GRID, RELATED, TARGET, Type, tokens_of
from planner.window.shop.form import Complaint
from planner.window.shop.grid_edit import CellGround
from planner.window.tables import words
from planner.window.tables.rows import LEAVE_OUT, Matcher, Read, Rows, read_rows
from planner.window.widgets import button, label, row

_COLUMN_PX = 150
_MOST_SHOWN = 200
_SIZE_PX = (820, 560)


class ImportDialog(QDialog):
    """Shows a file's rows under a row of choices; a cell that cannot be read can be put right here.

    `taken` carries what the matcher read when the person takes it.
    """

    taken = Signal(object)

    def __init__(self, path: Path, matcher: Matcher, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._matcher = matcher
        self._rows: Rows = []
        self._read = Read()
        self._filling = True
        self.setWindowTitle(words.import_of(path.name))
        self.setModal(True)
        self.resize(*_SIZE_PX)
        self.note = Complaint()
        self.told = label("", quiet=True, wrap=True)
        self.table = QTableWidget()
        self.table.setAccessibleName(matcher.title)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(TARGET)
        self.table.setItemDelegate(CellGround(self.table))
        self.table.cellChanged.connect(self._corrected)
        self.choices: list[QComboBox] = []
        self.take = button(matcher.take, self._take, role="main")
        self._build()
        self._open(path)
        self._filling = False

    def _build(self) -> None:
        tools = row()
        tools.addStretch(1)
        tools.addWidget(button(self._matcher.leave, self.reject))
        tools.addWidget(self.take)
        whole = QVBoxLayout()
        whole.setContentsMargins(APART, APART, APART, APART)
        whole.setSpacing(RELATED)
        whole.addWidget(label(self._matcher.title, Type.LARGE))
        whole.addWidget(label(self._matcher.hint, Type.SMALL, quiet=True, wrap=True))
        whole.addWidget(self.table, 1)
        whole.addWidget(self.note)
        whole.addWidget(self.told)
        whole.addLayout(tools)
        self.setLayout(whole)

    def _open(self, path: Path) -> None:
        try:
            self._rows = read_rows(path, self._matcher.what)
        except ValueError as error:
            self.note.say(str(error))
            self.take.setEnabled(False)
            return
        roles = self._matcher.guess(self._rows)
        self.table.setColumnCount(len(roles))
        self.table.setRowCount(1 + min(len(self._rows), _MOST_SHOWN))
        self.table.setRowHeight(0, TARGET + 2 * GRID)
        self.choices = [self._choice(role) for role in roles]
        for column, box in enumerate(self.choices):
            self.table.setColumnWidth(column, _COLUMN_PX)
            self.table.setCellWidget(0, column, box)
        names = self._matcher.has_names(self._rows)
        for at, cells in enumerate(self._rows[:_MOST_SHOWN]):
            for column, word in enumerate(cells):
                item = QTableWidgetItem(word)
                if at == 0 and names:
                    item.setFlags(Qt.ItemFlag.ItemIsEnabled)
                self.table.setItem(at + 1, column, item)
        self._check()

    def _choice(self, role: str) -> QComboBox:
        box = QComboBox()
        box.setEditable(self._matcher.own_roles)
        box.addItems(list(self._matcher.roles))
        if role not in self._matcher.roles:
            box.addItem(role)
        box.setCurrentText(role)
        box.currentTextChanged.connect(lambda _words: self._check())
        return box

    def _corrected(self, row_at: int, column: int) -> None:
        item = self.table.item(row_at, column)
        if not self._filling and row_at and item is not None:
            self._rows[row_at - 1][column] = item.text().strip()
            self._check()

    def _check(self) -> None:
        """Say what would be taken, or what stands against it and where."""
        roles = [box.currentText().strip() for box in self.choices]
        self._read = read = self._matcher.read(self._rows, roles)
        self._mark(roles, read)
        self.note.say(_complaint(read))
        self.told.setText(read.told)
        self.take.setEnabled(not read.troubles)

    def _mark(self, roles: list[str], read: Read) -> None:
        tokens = tokens_of(self)
        wrong = {(trouble.row, trouble.column): trouble.sentence for trouble in read.troubles}
        filling, self._filling = self._filling, True
        for row_at in range(1, self.table.rowCount()):
            for column, role in enumerate(roles):
                item = self.table.item(row_at, column)
                if item is None:
                    continue
                sentence = wrong.get((row_at - 1, column), "")
                left_out = role == LEAVE_OUT
                item.setToolTip(sentence)
                ground = tokens.stop if sentence else tokens.ground if left_out else tokens.field
                ink = tokens.ground if sentence else tokens.quiet if left_out else tokens.text
                item.setBackground(QColor(ground))
                item.setForeground(QColor(ink))
        self._filling = filling

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() is QEvent.Type.PaletteChange and self._rows:
            self._mark([box.currentText().strip() for box in self.choices], self._read)

    def _take(self) -> None:
        self.taken.emit(self._read.value)
        self.accept()


def _complaint(read: Read) -> str:
    """The first trouble, its row where one is to blame, and how many there are beside."""
    if not read.troubles:
        return ""
    first, more = read.troubles[0], len(read.troubles) - 1
    return words.complaint(first.sentence, None if first.row is None else first.row + 1, more)
