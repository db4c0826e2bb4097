"""Millimetres to whole micrometres, the only unit that the arrangers and the validator count in.

Sizes are rounded down and places to the nearest: then a size that is a repeating fraction of a
millimetre (an inch divided by 32, a picture at 300 ppi) still fills a sheet exactly, and no two pieces
come nearer than a micrometre to what was asked.
"""

from math import floor

_NOISE = 0.01
"""Share of a micrometre that float arithmetic may have lost."""


def place_um(mm: float) -> int:
    """A coordinate, a gap or a sheet's side: the nearest whole micrometre."""
    return round(mm * 1000)


def size_um(mm: float) -> int:
    """A piece's side: whole micrometres, rounded down."""
    return floor(mm * 1000 + _NOISE)


def to_mm(um: int) -> float:
    """Back to millimetres."""
    return um / 1000
