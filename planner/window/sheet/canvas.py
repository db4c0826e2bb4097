"""The bench under mouse and keys: choosing, dragging, nudging."""

from collections.abc import Collection
from enum import Enum, auto

from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
)
from PySide6.QtWidgets import QRubberBand, QToolTip

from planner.measures.lengths import MM_PER_INCH, LengthUnit
from planner.window.sheet import words
from planner.window.sheet.bench import BenchScene
from planner.window.sheet.drag import Drag
from planner.window.sheet.items import PieceItem
from planner.window.sheet.places import Spot
from planner.window.sheet.view import BenchView
from planner.window.sheet.zoom import readable

NUDGE_MM = {LengthUnit.INCH: MM_PER_INCH / 64, LengthUnit.MILLIMETRE: 0.5}
_FAST = 10
_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class _Hand(Enum):
    """What the pressed mouse is doing."""

    NOTHING = auto()
    WAITING = auto()
    DRAGGING = auto()
    BAND = auto()
    PANNING = auto()


class Canvas(BenchView):
    """Shows the bench; tells of drops, nudges and of what is chosen, and changes no layout itself."""

    pressed = Signal()
    """A hand comes down, before it takes anything."""
    dropped = Signal(object)
    """A finished `Drag`."""
    dragged = Signal(object, QPoint)
    """The `Drag` under way, and where the hand is (global), at every step of it."""
    let_go = Signal()
    """What was dragged is no longer in the hand."""
    nudged = Signal(float, float)
    """Right and down, in mm."""
    choice_changed = Signal()
    pointer_moved = Signal(object)
    """Where in the scene, or None when the pointer has left."""
    menu_asked = Signal(QPoint)
    focus_changed = Signal(bool)
    hint_wanted = Signal(object, object)
    """The piece under the resting pointer and the global point, for a tooltip."""

    def __init__(self, bench: BenchScene) -> None:
        super().__init__(bench)
        self.current: Spot | None = None
        self.locked = False
        self._hand = _Hand.NOTHING
        self._pressed = QPoint()
        self._drag: Drag | None = None
        self._band_keeps: list[PieceItem] = []
        self._let_go_on: PieceItem | None = None
        """Of several chosen pieces the one pressed: chosen alone unless they are dragged."""
        self._space = False
        self._band = QRubberBand(QRubberBand.Shape.Rectangle, self.viewport())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAccessibleName(words.SHEETS)

    @property
    def is_dragging(self) -> bool:
        return self._hand is _Hand.DRAGGING

    def fit_chosen(self) -> None:
        """The chosen pieces in view, or the current sheet."""
        box = self._box_of_choice()
        if not box.isEmpty():
            self.fit(box)
        elif self.current is not None:
            self.fit(self.current.box)

    def show_real_size(self) -> None:
        """Real size, with the chosen pieces in the middle."""
        box = self._box_of_choice()
        self.real_size(None if box.isEmpty() else box.center())

    def _box_of_choice(self) -> QRectF:
        whole = QRectF()
        for piece in self.bench.chosen():
            whole = whole.united(piece.sceneBoundingRect())
        return whole

    def choose(self, pieces: Collection[PieceItem]) -> None:
        self.bench.choose(pieces)
        if pieces:
            first = min(pieces, key=lambda piece: piece.ref)
            self.make_current(self.bench.spot(first.offer, first.ref.sheet))
        self.choice_changed.emit()

    def make_current(self, spot: Spot | None) -> None:
        self.current = spot
        self.bench.set_current(spot)
        self.view_changed.emit()

    def go_to(self, spot: Spot) -> None:
        """Bring one sheet fully into view."""
        self.make_current(spot)
        header_mm = min(0.06 * spot.size.height_mm, 30)
        self.fit(readable(spot.box.adjusted(0, -header_mm, 0, 0), self.viewport().size()))
        self.choice_changed.emit()

    def _choose_next(self, step: int) -> bool:
        """The next piece in reading order; False past the last, so that the focus moves on."""
        pieces = self.bench.all_pieces()
        chosen = [at for at, piece in enumerate(pieces) if piece.chosen]
        if chosen:
            at = (max(chosen) if step > 0 else min(chosen)) + step
        else:
            at = 0 if step > 0 else len(pieces) - 1
        if not 0 <= at < len(pieces):
            self.choose([])
            return False
        self.choose([pieces[at]])
        self.find_chosen()
        return True

    def find_chosen(self) -> None:
        """Push the bench so that chosen pieces are seen, where none of them is."""
        chosen = self.bench.chosen()
        if chosen and not any(self._in_view(piece) for piece in chosen):
            self.ensureVisible(self._box_of_choice(), 40, 40)
            self.view_changed.emit()

    def _in_view(self, piece: PieceItem) -> bool:
        seen = self.mapToScene(self.viewport().rect()).boundingRect()
        return seen.contains(piece.sceneBoundingRect().center())

    def take_back(self) -> bool:
        """Give up the gesture under way, everything back where it was; False where there is none."""
        if self._hand is _Hand.NOTHING:
            return False
        if self._drag is not None:
            self._drag.take_back()
            self.let_go.emit()
        self._hand, self._drag = _Hand.NOTHING, None
        self._band.hide()
        return True

    def _begin(self, event: QMouseEvent) -> None:
        self._pressed = event.position().toPoint()
        if event.button() is Qt.MouseButton.MiddleButton or self._space:
            self._hand = _Hand.PANNING
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        point = self.mapToScene(self._pressed)
        piece = self.bench.piece_at(point)
        more = bool(
            event.modifiers() & (Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.ControlModifier)
        )
        chosen = self.bench.chosen()
        if piece is None:
            self._hand = _Hand.BAND
            self._band_keeps = chosen if more else []
            if not more:
                self.choose([])
            self.make_current(self.bench.spot_at(point) or self.current)
            self.choice_changed.emit()
            return
        self._hand = _Hand.WAITING
        self._let_go_on = None if more else piece
        if more:
            self.choose([p for p in chosen if p is not piece] if piece.chosen else [*chosen, piece])
        elif not piece.chosen:
            self.choose([piece])

    def _continue(self, event: QMouseEvent) -> None:
        at = event.position().toPoint()
        if self._hand is _Hand.PANNING:
            moved = at - self._pressed
            self._pressed = at
            self.pan(-moved.x(), -moved.y())
            return
        if self._hand is _Hand.BAND:
            self._stretch_band(at)
            return
        if self._hand is _Hand.WAITING and (at - self._pressed).manhattanLength() >= 4 and not self.locked:
            pieces = self.bench.chosen()
            if pieces:
                self._hand = _Hand.DRAGGING
                self._drag = Drag(self.bench, pieces)
        if self._hand is _Hand.DRAGGING and self._drag is not None:
            free = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
            moved_by = self.mapToScene(at) - self.mapToScene(self._pressed)
            self._drag.move(moved_by, reach_mm=0.0 if free else 8 / self.px_per_mm)
            self.dragged.emit(self._drag, self.viewport().mapToGlobal(at))
            self.pointer_moved.emit(self.mapToScene(at))

    def _stretch_band(self, at: QPoint) -> None:
        band = QRect(self._pressed, at).normalized()
        self._band.setGeometry(band)
        self._band.show()
        area = self.mapToScene(band).boundingRect()
        inside = [p for p in self.bench.all_pieces() if p.sceneBoundingRect().intersects(area)]
        wanted = {*self._band_keeps, *inside}
        if wanted != set(self.bench.chosen()):
            self.choose(wanted)

    def _finish(self) -> None:
        hand, drag = self._hand, self._drag
        self._hand, self._drag = _Hand.NOTHING, None
        self._band.hide()
        self._show_cursor()
        chosen = self.bench.chosen()
        if hand is _Hand.WAITING and len(chosen) > 1 and self._let_go_on in chosen:
            self.choose([self._let_go_on])
        if hand is _Hand.DRAGGING and drag is not None:
            self.bench.show_guides(None, ())
            if drag.is_moved:
                self.dropped.emit(drag)
            else:
                drag.take_back()
            self.let_go.emit()

    def _show_cursor(self) -> None:
        shape = Qt.CursorShape.OpenHandCursor if self._space else Qt.CursorShape.ArrowCursor
        self.viewport().setCursor(shape)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self._hand is _Hand.NOTHING:
            self.pressed.emit()
            self._begin(event)
        event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._hand is _Hand.NOTHING:
            self.pointer_moved.emit(self.mapToScene(event.position().toPoint()))
        else:
            self._continue(event)
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._finish()
        event.accept()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        point = self.mapToScene(event.position().toPoint())
        spot = self.bench.spot_at(point)
        if self.bench.piece_at(point) is None and spot is not None:
            self.go_to(spot)
        elif self._hand is _Hand.NOTHING:
            self._begin(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if event.reason() is QContextMenuEvent.Reason.Mouse:
            piece = self.bench.piece_at(self.mapToScene(event.pos()))
            if piece is not None and not piece.chosen:
                self.choose([piece])
        self.menu_asked.emit(event.globalPos())

    def viewportEvent(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent):
            piece = self.bench.piece_at(self.mapToScene(event.pos()))
            if piece is None:
                QToolTip.hideText()
            self.hint_wanted.emit(piece, event.globalPos())
            return True
        if event.type() is QEvent.Type.Leave:
            self.pointer_moved.emit(None)
        return super().viewportEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self._show_cursor()
        elif key == Qt.Key.Key_Escape and (self.take_back() or self.bench.chosen()):
            if self._hand is _Hand.NOTHING:
                self.choose([])
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            page = self.viewport().height() * 4 // 5
            self.pan(0, page if key == Qt.Key.Key_PageDown else -page)
        elif key in _ARROWS:
            right, down = _ARROWS[Qt.Key(key)]
            times = _FAST if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            if self.bench.chosen() and not self.locked:
                step = NUDGE_MM[self.bench.unit] * times
                self.nudged.emit(right * step, down * step)
            else:
                self.pan(40 * right * times, 40 * down * times)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._show_cursor()
        super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.focus_changed.emit(True)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._space = False
        self._show_cursor()
        self.focus_changed.emit(False)
        super().focusOutEvent(event)

    def focusNextPrevChild(self, following: bool) -> bool:
        if self.bench.spots and self._choose_next(1 if following else -1):
            return True
        return super().focusNextPrevChild(following)
