"""Pieces that settle where an edit put them, so that the eye can follow."""

from collections.abc import Mapping

from PySide6.QtCore import QEasingCurve, QPointF, QVariantAnimation
from PySide6.QtWidgets import QStyle, QWidget

from planner.window.look import SETTLE_MS
from planner.window.sheet.items import PieceItem


class Glide:
    """One movement at a time; none where the system wants no motion."""

    def __init__(self, over: QWidget) -> None:
        self._over = over
        self._ways: list[tuple[PieceItem, QPointF, QPointF]] = []
        self._run = QVariantAnimation(over)
        self._run.setDuration(SETTLE_MS)
        self._run.setStartValue(0.0)
        self._run.setEndValue(1.0)
        self._run.setEasingCurve(QEasingCurve.Type.OutCubic)
        self._run.valueChanged.connect(self._show)

    def begin(self, starts: Mapping[PieceItem, QPointF]) -> None:
        """Let pieces that are elsewhere now come there from where they were."""
        self.finish()
        self._ways = [
            (piece, start, QPointF(piece.pos()))
            for piece, start in starts.items()
            if piece.scene() is not None and piece.pos() != start
        ]
        moves = self._over.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration) > 0
        if self._ways and moves and self._over.isVisible():
            self._show(0.0)
            self._run.start()

    def finish(self) -> None:
        """Everything where it belongs, at once."""
        if self._run.state() is QVariantAnimation.State.Running:
            self._run.stop()
            self._show(1.0)
        self._ways = []

    def _show(self, share: float) -> None:
        for piece, start, end in self._ways:
            piece.setPos(start + (end - start) * share)
