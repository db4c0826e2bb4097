"""The resolution meter: effective ppi at print size against the offer's need."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from planner.job.findings import Seriousness
from planner.window import meanings
from planner.window.artwork import words
from planner.window.look import GRID, RELATED, Tokens, Type, draw_status, tokens_of, type_font, wide_enough

_SPAN = 2.0
"""The track ends at this many times the need."""


class PpiMeter(QWidget):
    """A track with a mark at the need; the figure, its unit and a word beside it."""

    def __init__(self) -> None:
        super().__init__()
        self._ppi, self._need = 0.0, 300.0
        self._serious: Seriousness | None = None
        self._vector = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumHeight(6 * GRID)

    def show_ppi(self, ppi: float, need: float, serious: Seriousness | None, how: str) -> None:
        """Show a raster artwork's effective ppi; `serious` comes from the plan's own finding."""
        self._ppi, self._need, self._serious, self._vector = ppi, need, serious, False
        self.setAccessibleName(words.meter_spoken(ppi, self.word))
        self.setToolTip(how)
        self.update()

    def show_vector(self) -> None:
        self._vector = True
        self.setAccessibleName(words.SHARP_AT_ANY)
        self.setToolTip(meanings.VECTOR)
        self.update()

    @property
    def word(self) -> str:
        if self._vector:
            return words.SHARP_AT_ANY
        return words.meter_word(self._serious)

    def sizeHint(self) -> QSize:
        return QSize(50 * GRID, 6 * GRID)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tokens = tokens_of(self)
        body = type_font(self.font(), Type.BODY, strong=True)
        small = type_font(self.font(), Type.SMALL)
        text_width = wide_enough(body, "8888") + wide_enough(small, "ppi") + RELATED
        word_width = wide_enough(small, words.meter_word(Seriousness.STOP)) + 5 * GRID
        track_width = self.width() - text_width - word_width - RELATED
        if self._vector or track_width < 8 * GRID:
            track_width = 0
        else:
            self._draw_track(painter, tokens, QRectF(0, self.height() / 2 - GRID, track_width, 2 * GRID))
        at = float(track_width + (RELATED if track_width else 0))
        if not self._vector:
            at = self._draw_figure(painter, tokens, at)
        if self._serious is not None and not self._vector:
            box = QRectF(at, self.height() / 2 - 6, 12, 12)
            draw_status(painter, box, self._serious, tokens.of(self._serious), tokens.ground)
            at += 4 * GRID
        painter.setFont(small)
        painter.setPen(QColor(tokens.text))
        where = QRectF(at, 0, self.width() - at, self.height())
        painter.drawText(where, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self.word)
        painter.end()

    def _draw_figure(self, painter: QPainter, tokens: Tokens, at: float) -> float:
        body, small = type_font(self.font(), Type.BODY, strong=True), type_font(self.font(), Type.SMALL)
        flags = Qt.AlignmentFlag.AlignVCenter
        painter.setFont(body)
        painter.setPen(QColor(tokens.text))
        width = wide_enough(body, "8888")
        painter.drawText(
            QRectF(at, 0, width, self.height()), flags | Qt.AlignmentFlag.AlignRight, f"{self._ppi:.0f}"
        )
        painter.setFont(small)
        painter.setPen(QColor(tokens.quiet))
        unit = wide_enough(small, "ppi") + GRID
        painter.drawText(
            QRectF(at + width + GRID / 2, 0, unit, self.height()), flags | Qt.AlignmentFlag.AlignLeft, "ppi"
        )
        return at + width + unit + GRID

    def _draw_track(self, painter: QPainter, tokens: Tokens, track: QRectF) -> None:
        painter.setPen(QPen(QColor(tokens.edge), 1))
        painter.setBrush(QColor(tokens.field))
        painter.drawRect(track.adjusted(0.5, 0.5, -0.5, -0.5))
        share = min(1.0, self._ppi / (_SPAN * self._need))
        filled = QRectF(track.left() + 1, track.top() + 1, (track.width() - 2) * share, track.height() - 2)
        colour = QColor(tokens.of(self._serious) if self._serious else tokens.quiet)
        if self._serious:
            # Short of the need is hatched as well as coloured.
            painter.fillRect(filled, QBrush(colour, Qt.BrushStyle.Dense4Pattern))
        else:
            painter.fillRect(filled, colour)
        need_x = track.left() + track.width() / _SPAN
        painter.setPen(QPen(QColor(tokens.text), 2))
        painter.drawLine(QPointF(need_x, track.top() - 3), QPointF(need_x, track.bottom() + 3))
        painter.setBrush(QColor(tokens.text))
        painter.setPen(Qt.PenStyle.NoPen)
        top = track.top() - 3
        painter.drawPolygon(
            QPolygonF([QPointF(need_x - 3, top - 3), QPointF(need_x + 3, top - 3), QPointF(need_x, top)])
        )
