"""What stands in the place of the canvas while there are no sheets."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from planner.window.look import APART, RELATED, Type, tokens_of
from planner.window.sheet import words
from planner.window.widgets import button, column, label, row

_WIDE_PX = 420


class Empty(QWidget):
    """What is so, what to do next, and Arrange where that is it."""

    def __init__(self, arrange: Callable[[], object]) -> None:
        super().__init__()
        self.title = label(words.NO_SHEETS_YET, Type.LARGE)
        self.words = label("", wrap=True)
        self.arrange = button(words.ARRANGE, arrange, role="main")
        inside = column()
        inside.addStretch(2)
        inside.addWidget(self.title)
        inside.addWidget(self.words)
        inside.addSpacing(RELATED)
        inside.addWidget(self.arrange, 0, Qt.AlignmentFlag.AlignLeft)
        inside.addStretch(3)
        middle = QWidget()
        middle.setLayout(inside)
        middle.setMaximumWidth(_WIDE_PX)
        whole = row(space=0)
        whole.setContentsMargins(APART, APART, APART, APART)
        whole.addStretch(1)
        whole.addWidget(middle, 8)
        whole.addStretch(1)
        self.setLayout(whole)

    @property
    def can_arrange(self) -> bool:
        return not self.arrange.isHidden()

    def say(self, title: str, told: str, can_arrange: bool) -> None:
        self.title.setText(title)
        self.words.setText(told)
        self.arrange.setVisible(can_arrange)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens_of(self).canvas))
        painter.end()
