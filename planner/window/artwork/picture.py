"""An artwork's picture on the colours of the garments it goes on."""

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QImage, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap
from PySide6.QtWidgets import QApplication, QSizePolicy, QWidget

from planner.job.findings import Region
from planner.window import wording
from planner.window.artwork import words
from planner.window.artwork.closer_canvas import draw_spot
from planner.window.look import GRID, Type, tokens_of, type_font

SIDE = 24 * GRID


class ArtworkPicture(QWidget):
    """Shows a picture over one band for each garment colour; over the canvas grey where there is none.

    Pressed, it asks for a closer look; dragged, it is carried to where the artwork shall go.
    """

    pressed = Signal()
    dragged = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._image: QImage | None = None
        self._colours: tuple[str, ...] = ()
        self._spots: tuple[Region, ...] = ()
        self._held_at: QPoint | None = None
        """Where the mouse button went down, while it may still become a drag."""
        self.setFixedSize(SIDE, SIDE)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(words.PICTURE)
        self.setToolTip(words.PICTURE_HINT)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_picture(self, image: QImage | None, colours: tuple[str, ...]) -> None:
        if image is not self._image or colours != self._colours:
            self._image, self._colours = image, colours
            self.update()

    def mark(self, spots: tuple[Region, ...]) -> None:
        """Mark parts of the artwork by hatch and outline; none takes the marks away."""
        if spots != self._spots:
            self._spots = spots
            self.update()

    @property
    def spots(self) -> tuple[Region, ...]:
        """What is marked now."""
        return self._spots

    def sizeHint(self) -> QSize:
        return QSize(SIDE, SIDE)

    def paintEvent(self, event: QPaintEvent) -> None:
        tokens = tokens_of(self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        whole = QRectF(self.rect())
        bands = self._colours or (tokens.canvas,)
        for at, colour in enumerate(bands):
            left = whole.width() * at / len(bands)
            painter.fillRect(QRectF(left, 0, whole.width() / len(bands) + 1, whole.height()), QColor(colour))
        if self._image is None:
            painter.setFont(type_font(self.font(), Type.SMALL))
            painter.setPen(QColor(tokens.quiet if not self._colours else "#808080"))
            painter.drawText(whole, Qt.AlignmentFlag.AlignCenter, wording.READING)
        else:
            room = whole.adjusted(GRID, GRID, -GRID, -GRID)
            size = QSize(self._image.size()).scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
            target = QRectF(0, 0, size.width(), size.height())
            target.moveCenter(whole.center())
            ratio = self.devicePixelRatioF()
            small = self._image.scaled(
                round(size.width() * ratio),
                round(size.height() * ratio),
                Qt.AspectRatioMode.IgnoreAspectRatio,
                Qt.TransformationMode.SmoothTransformation,
            )
            painter.drawImage(target, small)
            self._draw_spots(painter, target)
        focused = self.hasFocus()
        painter.setPen(QPen(QColor(tokens.accent if focused else tokens.line), 3 if focused else 1))
        painter.drawRect(whole.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()

    def _draw_spots(self, painter: QPainter, picture: QRectF) -> None:
        least = 1.5 * GRID
        for spot in self._spots:
            box = QRectF(
                picture.left() + spot.x * picture.width(),
                picture.top() + spot.y * picture.height(),
                spot.width * picture.width(),
                spot.height * picture.height(),
            )
            wide, high = max(0.0, least - box.width()) / 2, max(0.0, least - box.height()) / 2
            draw_spot(painter, box.adjusted(-wide, -high, wide, high))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton:
            self._held_at = event.position().toPoint()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._held_at is None:
            return
        moved = (event.position().toPoint() - self._held_at).manhattanLength()
        if moved >= QApplication.startDragDistance():
            self._held_at = None
            self.dragged.emit()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self._held_at is not None:
            self._held_at = None
            self.pressed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.pressed.emit()
            return
        super().keyPressEvent(event)


class SwatchDot(QWidget):
    """A small square of a garment's colour; its name always stands beside it."""

    def __init__(self, hex_colour: str = "#ffffff", side: int = 4 * GRID) -> None:
        super().__init__()
        self._colour = hex_colour
        self.setFixedSize(side, side)

    def show_colour(self, hex_colour: str) -> None:
        if hex_colour != self._colour:
            self._colour = hex_colour
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self._colour))
        painter.setPen(QPen(QColor(tokens_of(self).edge), 1))
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()


def swatch_icon(hex_colour: str) -> QIcon:
    """A square of a colour, edged so that it shows on any ground."""
    picture = QPixmap(QSize(16, 16))
    picture.fill(QColor("#888888"))
    inner = QPixmap(QSize(14, 14))
    inner.fill(QColor(hex_colour))
    painter = QPainter(picture)
    painter.drawPixmap(1, 1, inner)
    painter.end()
    return QIcon(picture)
