"""Where one outline may not be beside another: the no-fit polygon, on a lattice of places.

Two outlines share area just where the convolution of the one with the other upside down winds around the
place (Guibas, Ramshaw, Stolfi: A Kinetic Framework for Computational Geometry, FOCS 1983). So one sweep over
the convolution's edges tells all places of the lattice at once, and none of them for being merely near.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import tau

import numpy as np
import numpy.typing as npt

_Floats = npt.NDArray[np.float64]
_Whole = npt.NDArray[np.int64]

_TURN = 1 << 31
"""Directions are whole parts of a full turn: what runs in parallel must not differ by rounding."""
_SHRUNK = 1e-7
"""Outlines are made smaller by so little that those which touch do not overlap by rounding."""


@dataclass(frozen=True, slots=True, eq=False)
class Contour:
    """An outline at one angle, in cells of the lattice from its box's top left corner."""

    starts: _Floats
    """Where its edges start, one row each."""
    ends: _Floats
    headings: _Whole
    """Which way its edges run."""
    opens: _Whole
    """The first heading that each corner turns through, and over how many it turns."""
    widths: _Whole
    signs: _Whole
    """Of each corner: 1 where it juts out, -1 where it is a hollow, 0 on a straight line."""

    @property
    def columns(self) -> float:
        """How wide it is."""
        return float(self.starts[:, 0].max())

    @property
    def rows(self) -> float:
        """How high it is."""
        return float(self.starts[:, 1].max())


def contour(corners: Sequence[tuple[float, float]] | _Floats) -> Contour:
    """The contour of a polygon that does not cross itself, given as (column, row) in cells."""
    starts = np.array(corners, dtype=np.float64)
    across, down = starts.T
    if np.dot(across, np.roll(down, -1)) < np.dot(down, np.roll(across, -1)):
        starts = starts[::-1]
    middle = (starts.min(axis=0) + starts.max(axis=0)) / 2
    starts = middle + (starts - middle) * (1 - _SHRUNK)
    ends = np.roll(starts, -1, axis=0)
    along = ends - starts
    turns = np.arctan2(along[:, 1], along[:, 0]) / tau
    headings = np.round(turns * _TURN).astype(np.int64) % _TURN
    before = np.roll(headings, 1)
    bends = (headings - before + _TURN // 2) % _TURN - _TURN // 2
    opens = np.where(bends >= 0, before, headings)
    return Contour(starts, ends, headings, opens, np.abs(bends), np.sign(bends))


def overlaps(one: Contour, other: Contour, rows: range, columns: range) -> npt.NDArray[np.bool_]:
    """Whether the other shares area with the one when moved by so many whole rows and columns."""
    starts, ends, signs = _convolution(one, other)
    from_y, to_y = starts[:, 1] - rows.start, ends[:, 1] - rows.start
    # The edge crosses every row from the first to the one before the last.
    upper, lower = np.ceil(from_y).astype(np.int64), np.ceil(to_y).astype(np.int64)
    signs = np.where(lower > upper, signs, -signs)
    first = np.clip(np.minimum(upper, lower), 0, len(rows))
    count = np.clip(np.maximum(upper, lower), 0, len(rows)) - first
    edge = np.repeat(np.arange(len(count)), count)
    row = np.arange(len(edge)) - np.repeat(np.cumsum(count) - count - first, count)
    slope = (ends[edge, 0] - starts[edge, 0]) / (to_y[edge] - from_y[edge])
    crossing = starts[edge, 0] - columns.start + (row - from_y[edge]) * slope
    column = np.clip(np.ceil(crossing), 0, len(columns)).astype(np.int64)
    wide = len(columns) + 1
    crossed = np.bincount(row * wide + column, weights=signs[edge], minlength=len(rows) * wide)
    # From the left each row winds in by a negative crossing and out by a positive one.
    # Bytes are enough: only their sum must not run over, and nothing winds so often.
    wound = np.cumsum(crossed.reshape(len(rows), wide).astype(np.int8), axis=1, dtype=np.int8)
    return wound[:, :-1] < 0


def _convolution(one: Contour, other: Contour) -> tuple[_Floats, _Floats, _Whole]:
    """Starts, ends and signs of all edges: of each outline's at those corners of the other that face them."""
    # The other upside down has its edges' headings reversed. Of two parallel edges the other's comes first.
    half = _TURN // 2
    edge, corner = np.nonzero((one.headings[:, None] - other.opens - half) % _TURN < other.widths)
    turned = (one.opens + one.widths)[:, None]
    at, beside = np.nonzero((turned - other.headings - half) % _TURN < one.widths[:, None])
    starts = (one.starts[edge] - other.starts[corner], one.starts[at] - other.starts[beside])
    ends = (one.ends[edge] - other.starts[corner], one.starts[at] - other.ends[beside])
    signs = (other.signs[corner], one.signs[at])
    return np.concatenate(starts), np.concatenate(ends), np.concatenate(signs)
