"""The rows above and below the canvas: commands, what is chosen, its exact place, and the zoom."""

from collections.abc import Callable
from math import inf

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QAction, QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QPushButton, QSizePolicy, QWidget

from planner.job.findings import Seriousness
from planner.measures.figures import short
from planner.measures.lengths import LengthUnit
from planner.window.fields import Field
from planner.window.look import GRID, RELATED, TARGET, Type, tokens_of
from planner.window.positions import PositionField
from planner.window.sheet import words
from planner.window.sheet.canvas import Canvas
from planner.window.widgets import ElidedLabel, PushButton, StatusMark, button, label, row, take_turns

_MOST_DEG = 3600


def command_button(action: QAction) -> QPushButton:
    """A quiet button that follows an action: its words, whether it can be used, its hint."""
    made = button(action.text().replace("&", ""), action.trigger, role="link")

    def follow() -> None:
        made.setText(action.text().replace("&", ""))
        made.setEnabled(action.isEnabled())
        keys = action.shortcut().toString()
        hint = action.statusTip() or action.text().replace("&", "")
        made.setToolTip(f"{hint} ({keys})" if keys else hint)

    action.changed.connect(follow)
    follow()
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    return made


def menu_button(name: str, fill: Callable[[QMenu], None], hint: str) -> QPushButton:
    """A quiet button with a menu that is filled when it opens."""
    made = PushButton(name)
    made.setProperty("role", "link")
    made.setProperty("opens", True)
    made.setToolTip(hint)
    made.setAccessibleName(name)
    made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
    made.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
    menu = QMenu(made)

    def refill() -> None:
        menu.clear()
        fill(menu)

    menu.aboutToShow.connect(refill)
    made.setMenu(menu)
    return made


class FocusFrame(QWidget):
    """Shows that the canvas has the focus. A border of its own would make every scroll repaint all of it."""

    def __init__(self, canvas: Canvas) -> None:
        super().__init__()
        self._focused = False
        inside = row(space=0)
        inside.setContentsMargins(2, 2, 2, 2)
        inside.addWidget(canvas)
        self.setLayout(inside)
        canvas.focus_changed.connect(self._show_focus)

    def _show_focus(self, focused: bool) -> None:
        self._focused = focused
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.accent if self._focused else tokens.canvas))
        painter.end()


class SearchLine(QWidget):
    """How far a search has come, as a thin line."""

    def __init__(self) -> None:
        super().__init__()
        self._share = 0.0
        self.setFixedHeight(3)

    def show_share(self, share: float) -> None:
        self._share = min(max(share, 0.0), 1.0)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), QColor(tokens.line))
        painter.fillRect(QRectF(0, 0, self.width() * self._share, self.height()), QColor(tokens.accent))
        painter.end()


class ArrangeRow(QWidget):
    """Arrange, or what the running search has found so far and the two ways to end it."""

    arrange_pressed = Signal()
    stop_pressed = Signal()
    keep_pressed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.arrange = button(
            words.ARRANGE,
            self.arrange_pressed.emit,
            role="main",
            hint=words.ARRANGE_HINT,
        )
        self.stop = button(
            words.TAKE_BEST,
            self.stop_pressed.emit,
            role="main",
            hint=words.TAKE_BEST_HINT,
        )
        self.keep = button(words.KEEP_MINE, self.keep_pressed.emit, hint=words.KEEP_MINE_HINT)
        self.words = label("", Type.SMALL, quiet=True)
        self.stop.hide()
        self.keep.hide()
        self.words.hide()
        inside = row()
        inside.addWidget(self.arrange)
        inside.addWidget(self.stop)
        inside.addWidget(self.keep)
        inside.addWidget(self.words)
        self.setLayout(inside)

    def show_running(self, running: bool, told: str) -> None:
        ends, begins = (self.stop, self.keep), (self.arrange,)
        take_turns(*(ends, begins) if running else (begins, ends))
        self.words.setVisible(running)
        self.words.setText(told)


def read_angle(typed: str) -> float:
    """Degrees clockwise from upright, at least 0 and less than 360, from what was typed.

    Raises:
        ValueError: it is no number of degrees.
    """
    text = typed.strip().removesuffix("°").strip().replace(",", ".").replace("\u2212", "-")
    try:
        angle = float(text)
    except ValueError:
        angle = inf
    if not abs(angle) <= _MOST_DEG:
        raise ValueError(words.no_angle(typed.strip()))
    return round(angle, 2) % 360


class InfoRow(QWidget):
    """What is chosen, and where exactly it lies."""

    placed = Signal(object, object)
    """Left and top in mm; None where that one was not edited."""
    turned = Signal(float)
    """Degrees clockwise from upright."""

    def __init__(self) -> None:
        super().__init__()
        self.words = ElidedLabel()
        self.words.setProperty("type", Type.SMALL.value)
        self.left, self.top = PositionField(words.FROM_THE_LEFT), PositionField(words.FROM_THE_TOP)
        self.left.edited.connect(lambda mm, _gesture: self.placed.emit(mm, None))
        self.top.edited.connect(lambda mm, _gesture: self.placed.emit(None, mm))
        self.angle = Field(words.TURNED, read_angle, lambda degrees: f"{short(degrees)}°", 0.0)
        self.angle.setToolTip(words.TURNED_HINT)
        self.angle.align_figures("359.99°")
        self.angle.edited.connect(lambda degrees, _gesture: self.turned.emit(degrees))
        self._turn = QWidget()
        beside = row(space=GRID)
        beside.addWidget(label(words.TURNED_BESIDE, Type.SMALL, quiet=True))
        beside.addWidget(self.angle)
        beside.addSpacing(GRID)
        self._turn.setLayout(beside)
        self._place = QWidget()
        inside = row(space=GRID)
        for name, field in (("from left", self.left), ("from top", self.top)):
            inside.addWidget(label(name, Type.SMALL, quiet=True))
            inside.addWidget(field)
            inside.addSpacing(GRID)
        self._place.setLayout(inside)
        self.setFixedHeight(TARGET + 2 * GRID)
        whole = row()
        whole.setContentsMargins(RELATED, 0, 0, 0)
        whole.addWidget(self.words, 1)
        whole.addWidget(self._turn)
        whole.addWidget(self._place)
        self.setLayout(whole)
        self.show_angle(None)

    def show_angle(self, turned_deg: float | None) -> None:
        """How the one chosen piece is turned; None where it may not stand at any angle."""
        if turned_deg is not None:
            self.angle.show_value(turned_deg)
        self._turn.setVisible(turned_deg is not None)

    def show_words(self, told: str, hint: str = "") -> None:
        self.words.setText(told)
        self.words.setToolTip(hint or told)

    def show_place(self, left_mm: float | None, top_mm: float | None, unit: LengthUnit) -> None:
        """Where the chosen pieces' box begins; None hides the fields; the row keeps its height."""
        if left_mm is not None and top_mm is not None:
            self.left.show_position(left_mm, unit)
            self.top.show_position(top_mm, unit)
        self._place.setVisible(left_mm is not None)


class FaultBar(QFrame):
    """What is wrong with the sheets, in a sentence over the canvas's foot, and the way out."""

    settle_pressed = Signal()
    show_pressed = Signal()
    add_pressed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._mark = StatusMark(Seriousness.STOP)
        self._words = label("", wrap=True)
        self.settle = button(words.SETTLE, self.settle_pressed.emit, hint="Enter")
        self.show_it = button(words.SHOW, self.show_pressed.emit)
        self.add = button(words.ADD_MISSING, self.add_pressed.emit, hint=words.ADD_MISSING_HINT)
        inside = QHBoxLayout(self)
        inside.setContentsMargins(3 * GRID, GRID, GRID, GRID)
        inside.setSpacing(RELATED)
        inside.addWidget(self._mark)
        inside.addWidget(self._words, 1)
        inside.addWidget(self.settle)
        inside.addWidget(self.show_it)
        inside.addWidget(self.add)
        self.setMinimumHeight(TARGET + 3 * GRID)
        self.hide()

    @property
    def sentence(self) -> str:
        return self._words.text() if not self.isHidden() else ""

    def say(
        self,
        sentence: str,
        seriousness: Seriousness = Seriousness.STOP,
        *,
        settle: str = "",
        show: bool = False,
        add: bool = False,
    ) -> None:
        """A sentence and the ways out of it; `settle` names the spot. Without a sentence the bar is away."""
        self._mark.show_seriousness(seriousness)
        self._words.setText(sentence)
        self.settle.setText(settle)
        self.settle.setVisible(bool(settle))
        self.show_it.setVisible(show)
        self.add.setVisible(add)
        self.setVisible(bool(sentence))
        if sentence:
            self.raise_()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(tokens.field))
        painter.setPen(QColor(tokens.edge))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()
