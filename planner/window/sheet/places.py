"""Where each sheet lies on the bench: in rows, with space for the words above it."""

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF

from planner.measures.geometry import Size
from planner.window.sheet.facts import OfferShown

_ASPECT = 1.75
"""Sheets are laid in rows so that all of them fit a view about this much wider than high."""
_FEW = 8
"""Up to so many sheets stand in two rows at most."""
_MOST_ABOVE_MM = 140.0
"""Above a roll as long as a room there is no more space than above a sheet."""


@dataclass(frozen=True, slots=True)
class Spot:
    """One sheet on the bench: whose, which one, and where its top left corner is in the scene."""

    offer: str
    sheet: int
    x_mm: float
    y_mm: float
    size: Size
    above_mm: float
    """Kept free above it, for the words that stand there."""

    @property
    def box(self) -> QRectF:
        return QRectF(self.x_mm, self.y_mm, self.size.width_mm, self.size.height_mm)

    @property
    def origin(self) -> QPointF:
        return QPointF(self.x_mm, self.y_mm)


def laid_out(offers: Iterable[OfferShown]) -> tuple[Spot, ...]:
    """Places of all sheets: offer below offer, each in rows; the same for the same sheet sizes."""
    spots: list[Spot] = []
    top = 0.0
    for offer in offers:
        sizes = [layout.sheet for layout in offer.layouts]
        if not sizes:
            continue
        wide = max(size.width_mm for size in sizes)
        high = max(size.height_mm for size in sizes)
        # Many sheets are seen small, and the words over them are as high at any scale.
        share = 0.16 if len(sizes) <= _FEW else 0.3
        most_mm = max(_MOST_ABOVE_MM, wide * share)
        space, header = max(25.0, wide * 0.06), min(max(40.0, high * share), most_mm)
        columns = max(1, round((len(sizes) * _ASPECT * (high + header) / (wide + space)) ** 0.5))
        top += header
        for start in range(0, len(sizes), columns):
            row = sizes[start : start + columns]
            left = 0.0
            for number, size in enumerate(row):
                spots.append(Spot(offer.key, start + number, left, top, size, header))
                left += size.width_mm + space
            top += max(size.height_mm for size in row) + header
    return tuple(spots)
