"""Where pages lie one below the other at a zoom."""

from enum import Enum, auto

from PySide6.QtCore import QRectF, QSize


class Fit(Enum):
    """What a view keeps in sight when its size changes."""

    NONE = auto()
    WIDTH = auto()
    WHOLE = auto()


class Stack:
    """Pages of sizes in points, at so many pixels to the point, with a gap around each."""

    def __init__(self, sizes: tuple[tuple[float, float], ...], px_per_point: float, gap_px: float) -> None:
        self.sizes = sizes
        self.px_per_point = px_per_point
        self._gap = gap_px
        tops, top = [], gap_px
        for _, height in sizes:
            tops.append(top)
            top += height * px_per_point + gap_px
        self.tops = tuple(tops)
        self.height = top if sizes else 0.0
        self.width = max((width * px_per_point for width, _ in sizes), default=0.0) + 2 * gap_px

    def box(self, page: int, room_px: float) -> QRectF:
        """A page's box, in the middle of a width."""
        width, height = (points * self.px_per_point for points in self.sizes[page])
        return QRectF((room_px - width) / 2, self.tops[page], width, height)

    def visible(self, down_px: float, height_px: float) -> range:
        """The pages that a view so far down shows some of."""
        shown = [
            page
            for page, top in enumerate(self.tops)
            if top < down_px + height_px and top + self.sizes[page][1] * self.px_per_point > down_px
        ]
        return range(shown[0], shown[-1] + 1) if shown else range(0)

    def at(self, down_px: float) -> int:
        """The page at a place, or the last one above it."""
        return max((page for page, top in enumerate(self.tops) if top <= down_px), default=0)

    def fitting(
        self, fit: Fit, room: QSize, points_px: float, gap_px: float, zoom: float, page: int
    ) -> float:
        """The zoom that fits, or the one given where nothing is to fit."""
        if fit is Fit.NONE or not self.sizes:
            return zoom
        widest = max(width for width, _ in self.sizes) * points_px
        by_width = max(0.1, (room.width() - 2 * gap_px) / widest)
        if fit is Fit.WIDTH:
            return min(4.0, by_width)
        width, height = self.sizes[min(page, len(self.sizes) - 1)]
        by_height = max(0.1, (room.height() - gap_px) / (height * points_px))
        return min(4.0, by_height, max(0.1, (room.width() - 2 * gap_px) / (width * points_px)))
