"""Figures that fit a document's model and no shop: sums of them overflow, and a plan could not be made."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal

from pydantic import BaseModel

from planner.job.document import Job

MOST_AMOUNT = Decimal(10**9)
_FINEST_EXPONENT = -12
MOST_FIGURE = 1e7
"""Millimetres, seconds, pieces, pixels: ten kilometres of roll and four months of pressing."""
_LEAST_FIGURE = 1e-7
FIRST_YEAR, LAST_YEAR = 1970, 2200
LEAST_SIDE_MM = 0.05
"""Of a piece; nothing finer than this prints."""


def is_absurd(document: BaseModel) -> bool:
    """Whether any figure in the document, at any depth, is beyond all that a shop has to do with."""
    return any(_is_beyond(value) for value in _values(document)) or (
        isinstance(document, Job) and _has_invisible_pieces(document)
    )


def _values(value: object) -> Iterator[object]:
    if isinstance(value, BaseModel):
        for _, part in value:
            yield from _values(part)
    elif isinstance(value, tuple | list | frozenset):
        for part in value:
            yield from _values(part)
    elif isinstance(value, dict):
        for part in value.values():
            yield from _values(part)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _values(getattr(value, field.name))
    elif isinstance(value, Decimal | float | int | date):
        yield value


def _is_beyond(value: object) -> bool:
    if isinstance(value, Decimal):
        exponent = value.as_tuple().exponent
        return not isinstance(exponent, int) or exponent < _FINEST_EXPONENT or value.copy_abs() > MOST_AMOUNT
    if isinstance(value, date):
        return not FIRST_YEAR <= value.year <= LAST_YEAR
    assert isinstance(value, float | int)
    return not (value == 0 or _LEAST_FIGURE <= abs(value) <= MOST_FIGURE)


def _has_invisible_pieces(job: Job) -> bool:
    sizes = {artwork.key: artwork.size_px for artwork in job.artworks}
    widths = [
        *((print_.artwork, print_.width_mm) for print_ in job.prints),
        *((print_.artwork, own.width_mm) for print_ in job.prints for own in print_.group_widths),
        *((extra.artwork, extra.width_mm) for extra in job.extras),
    ]
    for artwork, width_mm in widths:
        width_px, height_px = sizes[artwork]
        height_mm = width_mm * height_px / max(1, width_px)
        if min(width_mm, height_mm) < LEAST_SIDE_MM or height_mm > MOST_FIGURE:
            return True
    return False
