"""A bar to hold a ruler or a bank card against, so that real size is real on this screen."""

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QSlider, QWidget

from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.window.look import APART, GRID, Type, tokens_of
from planner.window.popover import Popover
from planner.window.positions import PositionField, say_position
from planner.window.screens import is_likely, screen_ppi
from planner.window.sheet import words
from planner.window.widgets import button, column, label, row

CARD_MM = 85.6
"""Width of a bank card (ISO/IEC 7810, ID-1)."""
_LEAST_PX, _MOST_PX = 160, 700
_HIGH_PX = 36


class _Bar(QWidget):
    """A bar of so many pixels, with a mark at either end."""

    def __init__(self) -> None:
        super().__init__()
        self.long_px = _LEAST_PX
        self.setFixedSize(_MOST_PX + 2, _HIGH_PX)
        self.setAccessibleName(words.BAR_TO_MEASURE)

    def show_length(self, long_px: int) -> None:
        self.long_px = long_px
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.fillRect(QRectF(0, 2 * GRID, self.long_px, _HIGH_PX - 4 * GRID), QColor(tokens.chosen))
        for x in (0, self.long_px - 1):
            painter.fillRect(QRectF(x, 0, 1, _HIGH_PX), QColor(tokens.text))
        painter.end()


class MeasureScreen(Popover):
    """Asks how long a bar is in truth."""

    measured = Signal(object)
    """Logical pixels to the inch of the window's screen; None to go by what the screen says again."""

    def __init__(self, window: QWidget, unit: LengthUnit) -> None:
        super().__init__(window)
        self._unit, self._long_mm = unit, CARD_MM
        self.bar = _Bar()
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(words.BAR_ON_SCREEN)
        self.slider.setRange(_LEAST_PX, _MOST_PX)
        self.slider.setFixedWidth(_MOST_PX)
        self.slider.valueChanged.connect(self.bar.show_length)
        self.slider.setValue(round(CARD_MM / MM_PER_INCH * screen_ppi(window)))
        self.length = PositionField(words.BAR_BY_RULER)
        self.length.show_position(CARD_MM, unit)
        self.length.edited.connect(self._typed)
        self.trouble = label("", wrap=True)
        self.trouble.hide()
        self._build()

    def _build(self) -> None:
        card = say_position(CARD_MM, self._unit)
        inside = column(edge=APART)
        inside.addWidget(label(words.MEASURE_THIS_SCREEN, Type.BODY, strong=True))
        inside.addWidget(label(words.hold_a_card(card), wrap=True))
        inside.addWidget(self.bar)
        inside.addWidget(self.slider)
        typed = row()
        typed.addWidget(label(words.THE_BAR_MEASURES, quiet=True))
        typed.addWidget(self.length)
        typed.addStretch(1)
        self.keep = button(words.KEEP_MEASURE, self._keep, role="main", hint=words.KEEP_MEASURE_HINT)
        self.forget = button(words.FORGET_MEASURE, self._forget, hint=words.FORGET_MEASURE_HINT)
        typed.addWidget(self.forget)
        typed.addWidget(self.keep)
        inside.addLayout(typed)
        inside.addWidget(self.trouble)
        self.setLayout(inside)

    def _typed(self, long_mm: float, _gesture: str) -> None:
        self._long_mm = long_mm

    def _keep(self) -> None:
        self.length.commit()
        ppi = self.bar.long_px * MM_PER_INCH / self._long_mm if self._long_mm > 0 else 0.0
        if is_likely(ppi):
            self.measured.emit(ppi)
            self.close()
            return
        self.trouble.setText(words.unlikely(say_position(self._long_mm, self._unit)))
        self.trouble.show()
        self.adjustSize()

    def _forget(self) -> None:
        self.measured.emit(None)
        self.close()
