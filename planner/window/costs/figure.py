"""A figure with its name: it can be asked how it came about, and shows what it was before."""

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from planner.window import wording
from planner.window.look import GRID, Type, tokens_of, type_font, wide_enough
from planner.window.told import Told
from planner.window.widgets import ElidedLabel, column, label, row

CHANGE_MS = 4000
"""How long a figure shows what it was before, where that need not be kept until it is looked at."""


class Figure(QWidget):
    """A row "name   before → figure unit"; clicked or asked by Enter it shows how the figure came about."""

    toggled = Signal(bool)

    def __init__(self, name: str, size: Type = Type.BODY, *, strong: bool = False) -> None:
        super().__init__()
        self._told: Told | None = None
        self._seen: Told | None = None
        """As it was when somebody last looked."""
        self._how = ""
        self._name = name
        self.name = ElidedLabel(name, strong=strong)
        self.before = label(size=Type.SMALL, quiet=True)
        self.figure = label(size=size, strong=strong)
        self.unit = label(size=Type.SMALL, quiet=True)
        self.how = label(size=Type.SMALL, quiet=True, wrap=True)
        self.how.setContentsMargins(2 * GRID, 0, 0, GRID)
        self.how.hide()
        self.figure.setFont(type_font(self.figure.font(), size, strong=strong))
        self._forget = QTimer(self)
        self._forget.setSingleShot(True)
        self._forget.setInterval(CHANGE_MS)
        self._forget.timeout.connect(self.look_at)
        across = row(space=GRID)
        across.addWidget(self.name, 1)
        across.addWidget(self.before)
        across.addWidget(self.figure)
        self.unit.setMinimumWidth(wide_enough(type_font(self.font(), Type.SMALL), "USD") + GRID)
        across.addWidget(self.unit)
        whole = column(space=0)
        whole.addLayout(across)
        whole.addWidget(self.how)
        self.setLayout(whole)
        # Not of the whole: a fixed least height would let the layout cut large type and what is unfolded.
        self.name.setMinimumHeight(6 * GRID)

    def show_figure(self, told: Told, unit: str, how: str, *, name: str = "", held: bool = False) -> None:
        """Show a figure, and beside it what it was: while `held` until it is looked at, else for a moment."""
        if name and name != self._name:
            self._name = name
            self.name.setText(name)
        if held:
            self._forget.stop()
        elif self._told is not None and told.was(self._told):
            self._seen = self._told
            self._forget.start()
        self._seen = self._seen or told
        self._told = told
        self.before.setText(wording.before_it(self._was))
        self.figure.setText(told.text)
        self.unit.setText(unit)
        self.unit.setVisible(bool(unit))
        self.how.setText(how)
        self._how = how
        self._tell()
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if how else Qt.FocusPolicy.NoFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor if how else Qt.CursorShape.ArrowCursor)
        if not how:
            self.how.hide()

    def look_at(self) -> None:
        """Somebody knows the figure as it is."""
        self._forget.stop()
        self._seen = self._told
        self.before.setText("")
        self._tell()

    def forget_change(self) -> None:
        """Show the figure alone, as when another job was opened."""
        self._told = None
        self.look_at()

    @property
    def _was(self) -> str:
        return self._told.was(self._seen) if self._told and self._seen else ""

    def _tell(self) -> None:
        """Say the figure, and what it was, to a screen reader and in the tooltip."""
        was = f" ({wording.was(was)})" if (was := self._was) else ""
        self.setAccessibleName(f"{self._name}: {self.figure.text()} {self.unit.text()}{was}")
        self.setAccessibleDescription(self._how)
        self.setToolTip("\n".join(part for part in (f"{self._name}{was}", self._how) if part))

    def ask(self) -> None:
        """Show or hide how the figure came about."""
        if self.how.text():
            self.how.setVisible(self.how.isHidden())
            self.toggled.emit(not self.how.isHidden())

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(QPen(QColor(tokens_of(self).accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
            painter.end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self.ask()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.ask()
            return
        super().keyPressEvent(event)
