"""Artwork pictures ready to draw, in levels: never many times larger than what is drawn."""

from bisect import bisect_left
from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap, QTransform

PictureSource = Callable[[str, int], QImage | None]
"""Artwork key and the longest side wanted, in pixels; None while there is no picture yet."""

LEVELS = (64, 128, 256, 512, 1024, 2048)
"""Drawn much smaller, a picture of 256 px turns to noise: hence the lower two. 500 pieces drawn from 256 px
stay fluid, from 1200 px they do not (measured): the upper two are for pieces that fill the view."""
_FIRST, _EASY = 256, 512
"""The smallest level that is asked for, and the largest kept for every artwork."""
_FEW = 12
_OVERDRAWN = 1.25
"""How far a level may be drawn enlarged before the next one is fetched."""
_LIMITS = [level * _OVERDRAWN for level in LEVELS]


def level_for(longest_px: float) -> int:
    """The smallest level that still looks sharp at a drawn size."""
    return LEVELS[min(bisect_left(_LIMITS, longest_px), len(LEVELS) - 1)]


class Pictures:
    """Keeps pixmaps by artwork, level and quarter turns; asks the source at most once for each."""

    def __init__(self) -> None:
        self._source: PictureSource | None = None
        self._kept: dict[tuple[str, int, int], QPixmap | None] = {}
        self._grounded: dict[tuple[int, str], QPixmap] = {}
        self.age = 0
        """Grows whenever pictures must be asked for again; who keeps one of them looks at it."""

    def set_source(self, source: PictureSource) -> None:
        self._source = source
        self.forget()

    def forget(self) -> None:
        """Ask again for every picture: artwork was read or fixed meanwhile."""
        self._kept.clear()
        self._grounded.clear()
        self.age += 1

    def picture(self, artwork: str, longest_px: float, quarters: int = 0, ground: str = "") -> QPixmap | None:
        """The artwork for a drawn size, turned clockwise by quarter turns; None while there is none.

        With a `ground` colour all but the largest come opaque on it: drawn in half the time.
        """
        level = level_for(longest_px)
        found = self._at(artwork, level, quarters)
        if found is None:
            others = (self._kept.get((artwork, other, quarters)) for other in LEVELS)
            found = next((other for other in others if other is not None), None)
        return self._on(ground, found) if ground and found is not None and level <= _EASY else found

    def _on(self, ground: str, clear: QPixmap) -> QPixmap:
        key = (clear.cacheKey(), ground)
        if key not in self._grounded:
            made = QPixmap(clear.size())
            made.fill(QColor(ground))
            painter = QPainter(made)
            painter.drawPixmap(0, 0, clear)
            painter.end()
            self._grounded[key] = made
        return self._grounded[key]

    def _at(self, artwork: str, level: int, quarters: int) -> QPixmap | None:
        key = (artwork, level, quarters)
        if key in self._kept:
            return self._kept[key]
        if quarters:
            upright = self._at(artwork, level, 0)
            made = upright.transformed(QTransform().rotate(90 * quarters)) if upright else None
        else:
            made = self._smaller(artwork, level) if level < _FIRST else self._fetched(artwork, level)
        if level > _EASY:
            self._make_room()
        self._kept[key] = made
        return made

    def _fetched(self, artwork: str, level: int) -> QPixmap | None:
        image = self._source(artwork, level) if self._source else None
        return QPixmap.fromImage(image) if image is not None and not image.isNull() else None

    def _smaller(self, artwork: str, level: int) -> QPixmap | None:
        larger = self._at(artwork, _FIRST, 0)
        return larger and larger.scaled(
            level,
            level,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )

    def _make_room(self) -> None:
        large = [key for key in self._kept if key[1] > _EASY]
        for key in large[: max(0, len(large) - _FEW + 1)]:
            del self._kept[key]
