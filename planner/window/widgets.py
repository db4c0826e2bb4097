"""Small parts that every panel is built from."""

from collections.abc import Callable, Sequence
from typing import TypeGuard

import shiboken6
from PySide6.QtCore import QEvent, QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QCursor,
    QFocusEvent,
    QFontMetrics,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QShortcut,
    QWheelEvent,
)
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLayout,
    QMenu,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStyle,
    QStyleOptionComboBox,
    QStylePainter,
    QVBoxLayout,
    QWidget,
)

from planner.job.findings import Seriousness
from planner.plan.kind_words import kind_name
from planner.window.look import GRID, RELATED, TARGET, Type, draw_status, tokens_of


def label(
    text: str = "", size: Type = Type.BODY, *, quiet: bool = False, strong: bool = False, wrap: bool = False
) -> QLabel:
    """A label of the type scale; plain text, so that a customer's name is never read as markup."""
    made = QLabel(text)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setProperty("type", size.value)
    made.setProperty("quiet", quiet)
    made.setProperty("strong", strong)
    made.setWordWrap(wrap)
    return made


JOINT = " + "
"""Between names that stand for several things together."""


def shortened(text: str, metrics: QFontMetrics, room_px: int) -> str:
    """A text as it fits, with an ellipsis; of joined names each keeps its beginning."""
    right = Qt.TextElideMode.ElideRight
    parts = text.split(JOINT)
    if metrics.horizontalAdvance(text) <= room_px or len(parts) == 1:
        return metrics.elidedText(text, right, room_px)
    left_px, shown = room_px - (len(parts) - 1) * metrics.horizontalAdvance(JOINT), {}
    # The shortest first: what they leave is the longer ones'.
    by_length = sorted(range(len(parts)), key=lambda at: metrics.horizontalAdvance(parts[at]))
    for done, at in enumerate(by_length):
        shown[at] = metrics.elidedText(parts[at], right, left_px // (len(parts) - done))
        left_px -= metrics.horizontalAdvance(shown[at])
    return metrics.elidedText(JOINT.join(shown[at] for at in range(len(parts))), right, room_px)


class Combo(QComboBox):
    """A combo box that a turning wheel scrolls past: scrolling a panel must not change the job.

    A text without room ends in an ellipsis, which no style of Qt sees to.
    """

    def __init__(self, name: str) -> None:
        super().__init__()
        self.setAccessibleName(name)
        self.setToolTip(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    @property
    def text_px(self) -> int:
        """How wide a text may be and be seen whole."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ComboBoxEditField
        field = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, self)
        return int(field.width())

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        option.currentText = shortened(self.currentText(), self.fontMetrics(), self.text_px)
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)
        painter.end()


class FocusDrawn(QFrame):
    """A frame that draws its own focus, and so must be drawn anew when that comes or goes."""

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()


class CardFrame(FocusDrawn):
    """A card of several of which one is the current one; a click, Enter or Space presses it."""

    pressed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._current = self._aimed_at = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def set_current(self, current: bool) -> None:
        if current != self._current:
            self._current = current
            self.update()

    def aim_at(self, aimed_at: bool) -> None:
        """Whether what is dragged would land on this card."""
        if aimed_at != self._aimed_at:
            self._aimed_at = aimed_at
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        if self._current:
            painter.fillRect(self.rect(), QColor(tokens.chosen))
        if self.hasFocus() or self._aimed_at:
            dashes = Qt.PenStyle.DashLine if self._aimed_at else Qt.PenStyle.SolidLine
            painter.setPen(QPen(QColor(tokens.accent), 2, dashes))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.pressed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Enter typed into a field on the card arrives here too.
        own = self.hasFocus()
        if own and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.pressed.emit()
        else:
            super().keyPressEvent(event)


class ElidedLabel(QLabel):
    """A label of one line that ends in an ellipsis where room ends; the tooltip has it all."""

    def __init__(self, text: str = "", *, strong: bool = False) -> None:
        super().__init__(text)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("strong", strong)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(10 * GRID)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)
        painter.end()


class SideWindow(QWidget):
    """A window of its own beside the main one; Escape and the platform's keys for it close it."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        QShortcut(QKeySequence.StandardKey.Close, self, self.close)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        # Not by a shortcut: a field that is being typed in, or an open list, has Escape first.
        if event.key() == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)


class PushButton(QPushButton):
    """A button that Enter presses as well as the space bar, outside dialogs too."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.isAutoRepeat():
            self.click()
        else:
            super().keyPressEvent(event)

    def setMenu(self, menu: QMenu) -> None:
        super().setMenu(menu)
        menu.aboutToHide.connect(self._look_for_pointer)

    def _look_for_pointer(self) -> None:
        # Nobody tells the button that the pointer left it for its menu: it would look hovered ever after.
        is_over = self.rect().contains(self.mapFromGlobal(QCursor.pos()))
        self.setAttribute(Qt.WidgetAttribute.WA_UnderMouse, is_over)
        self.update()


def button(text: str, pressed: Callable[[], object], *, role: str = "", hint: str = "") -> QPushButton:
    """A button: role "main" for the one next step of a panel, "link" for quiet ones, else plain."""
    made = PushButton(text)
    made.setProperty("role", role)
    # A sign such as "⋯" cannot be read out.
    made.setAccessibleName(text if any(letter.isalnum() for letter in text) else hint or text)
    made.setAutoDefault(False)
    if len(text) <= 2:
        made.setMinimumWidth(TARGET)
    if hint:
        made.setToolTip(hint)
        made.setAccessibleDescription(hint)
    if role == "link":
        made.setCursor(Qt.CursorShape.PointingHandCursor)
        made.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
    made.clicked.connect(lambda: pressed())
    return made


def line() -> QFrame:
    """A hair line between groups."""
    made = QFrame()
    made.setProperty("role", "line")
    made.setFixedHeight(1)
    return made


def column(*, space: int = RELATED, edge: int = 0) -> QVBoxLayout:
    layout = QVBoxLayout()
    layout.setSpacing(space)
    layout.setContentsMargins(edge, edge, edge, edge)
    return layout


def row(*, space: int = RELATED) -> QHBoxLayout:
    layout = QHBoxLayout()
    layout.setSpacing(space)
    layout.setContentsMargins(0, 0, 0, 0)
    return layout


_COLUMN_LETTERS = 54


class Scrolled(QScrollArea):
    """A widget that scrolls when there is more of it than room: down always, sideways only if it must.

    It asks for the width of what it holds, so that nothing is cut, but for no more than a column of text.
    """

    def __init__(self, inner: QWidget) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        inner.setProperty("plain", True)
        self._inner = inner
        self._asked: tuple[QSize, ...] = ()
        self.setWidget(inner)

    def minimumSizeHint(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        most = _COLUMN_LETTERS * self.fontMetrics().averageCharWidth()
        return QSize(min(self._inner.minimumSizeHint().width() + bar, most), 16 * GRID)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        # Asking makes every layout up to the window's work, and whole pages paint themselves anew.
        if event.type() is QEvent.Type.LayoutRequest:
            asks = self.minimumSizeHint(), self.sizeHint()
            if asks != self._asked:
                self._asked = asks
                self.updateGeometry()
        return super().eventFilter(watched, event)


def scrolled(inner: QWidget) -> Scrolled:
    """A widget in a frame that scrolls."""
    return Scrolled(inner)


def is_seen(widget: QWidget | None) -> TypeGuard[QWidget]:
    """Whether a widget that somebody remembered has not been ended since, and is shown."""
    return widget is not None and shiboken6.isValid(widget) and widget.isVisible()


def take_turns(coming: Sequence[QWidget], going: Sequence[QWidget]) -> None:
    """Show widgets in the place of others; the first of them takes the cursor over, if one of those had it.

    Hidden under the cursor, a button would hand it to whatever comes next in the window.
    """
    for widget in coming:
        widget.show()
    if any(widget.hasFocus() for widget in going):
        coming[0].setFocus()
    for widget in going:
        widget.hide()


def held(filled: QLayout) -> QWidget:
    """A widget for what is laid out already, to add to a layout of a window that stands.

    A filled layout added there would have PySide keep its items; see `tests/conftest.py`.
    """
    holder = QWidget()
    filled.setContentsMargins(0, 0, 0, 0)
    holder.setLayout(filled)
    return holder


def emptied(layout: QLayout) -> None:
    """Take everything out of a layout and let the widgets go."""
    cut_short(layout, 0)


def let_go(widget: QWidget) -> None:
    """Take a widget out of the window."""
    widget.hide()
    widget.setParent(None)
    widget.deleteLater()


def put_in_order(layout: QVBoxLayout, widgets: list[QWidget]) -> None:
    """Make these the layout's first widgets, in this order; those in place already are not touched."""
    for at, widget in enumerate(widgets):
        if layout.indexOf(widget) != at:
            layout.removeWidget(widget)
            layout.insertWidget(at, widget)


def cut_short(layout: QLayout, count: int) -> None:
    """Let everything in a layout go that stands after its first items, so many."""
    while (item := layout.takeAt(count)) is not None:
        if (inner := item.layout()) is not None:
            emptied(inner)
            continue
        if (widget := item.widget()) is not None:
            let_go(widget)
        # Whoever takes an item owns it, and PySide does not end it.
        shiboken6.delete(item)


class StatusMark(QWidget):
    """The shape of a seriousness; a word always stands beside it."""

    def __init__(self, serious: Seriousness) -> None:
        super().__init__()
        self._serious = serious
        self.setFixedSize(4 * GRID, 5 * GRID)
        self.setAccessibleName(kind_name(serious))

    def show_seriousness(self, serious: Seriousness) -> None:
        self._serious = serious
        self.setAccessibleName(kind_name(serious))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        side = 3.25 * GRID
        box = QRectF((self.width() - side) / 2, (self.height() - side) / 2, side, side)
        painter = QPainter(self)
        draw_status(painter, box, self._serious, tokens.of(self._serious), tokens.ground)
        painter.end()
