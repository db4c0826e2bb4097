"""A sheet as a lattice of places, each piece kept from the places where it would overlap another.

Which places are free for a piece is one long whole number, a bit each: to lay a piece down is to shift a
number once and to clear its bits in another, far quicker than any look at the outlines themselves.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor, sqrt

import numpy as np
import numpy.typing as npt
from shapely import affinity
from shapely.geometry import Polygon

from planner.measures.geometry import Size
from planner.measures.layout import Placement, placed_about
from planner.sheets.effort import Effort
from planner.sheets.nest import angles_of, grown_outline
from planner.sheets.nofit import Contour, contour, overlaps
from planner.sheets.outline import corners_of
from planner.sheets.problem import Piece

CELLS = 30_000
"""A sheet has about so many places for a search of many attempts,"""
FINE_CELLS = 80_000
"""or for a few that each should pack tighter."""
_FINEST_MM = 0.25
_FREE_DEG = tuple(range(0, 360, 30))
"""Angles tried for pieces that may stand at any."""

Spot = tuple[int, int, int]
"""A stamp's number, the row and the column of its top left corner."""


@dataclass(frozen=True, slots=True)
class _Stamp:
    """A piece at one angle: its grown contour, and where its middle lies from the contour's top left."""

    key: str
    angle_deg: float
    contour: Contour
    middle_mm: tuple[float, float]
    last: tuple[int, int]
    """The last row and column at which it is still on the sheet."""
    places: tuple[int, int]
    """The places up to those, counted down row by row and across column by column."""


class Lattice:
    """All that is worked out once for sheets of one size: pieces at their angles, and which overlap where."""

    def __init__(
        self, pieces: Sequence[Piece], sheet: Size, *, gap_mm: float, margin_mm: float, cells: int = CELLS
    ) -> None:
        self._sizes = {piece.key: Size(piece.width_mm, piece.height_mm) for piece in pieces}
        self._start_mm = margin_mm - gap_mm / 2
        self._gap_mm = gap_mm
        width_mm, height_mm = (side - 2 * self._start_mm for side in (sheet.width_mm, sheet.height_mm))
        self._cell_mm = max(_FINEST_MM, sqrt(max(1.0, width_mm * height_mm) / cells))
        self._columns, self._rows = max(0.0, width_mm) / self._cell_mm, max(0.0, height_mm) / self._cell_mm
        # One place more than there is room for keeps a row's end apart from the next row's beginning.
        self.strides = floor(self._columns) + 2, floor(self._rows) + 2
        self.stamps: list[_Stamp] = []
        self.stamps_of = {piece.key: self._stamped(piece) for piece in pieces}
        self._blocked: tuple[dict[tuple[int, int], tuple[int, int]], ...] = ({}, {})

    def fixed(self, shape: Polygon) -> Spot:
        """Where a shape that stays as it lies is on the lattice."""
        grown = shape.buffer(self._gap_mm / 2)
        assert isinstance(grown, Polygon)
        # In cells from the sheet's corner, so it counts as moved by nothing.
        lying = self._contour(grown, (self._start_mm, self._start_mm))
        self.stamps.append(_Stamp("", 0.0, lying, (0, 0), (0, 0), (0, 0)))
        return len(self.stamps) - 1, 0, 0

    def placement(self, spot: Spot) -> Placement:
        """What lies there, on the sheet."""
        stamp, row, column = self.stamps[spot[0]], *spot[1:]
        centre = (
            self._start_mm + column * self._cell_mm + stamp.middle_mm[0],
            self._start_mm + row * self._cell_mm + stamp.middle_mm[1],
        )
        return placed_about(stamp.key, self._sizes[stamp.key], centre, stamp.angle_deg)

    def blocked(self, one: int, other: int, is_across: bool) -> tuple[int, int]:
        """The places that a stamp takes from another, and how far the first is from the one's own."""
        known = self._blocked[is_across]
        if (one, other) not in known:
            self._work_out(one, other)
        return known[one, other]

    def _stamped(self, piece: Piece) -> list[int]:
        """The piece at each angle at which it fits on the sheet at all."""
        middle = piece.width_mm / 2, piece.height_mm / 2
        upright = Polygon(grown_outline(piece, self._gap_mm))
        numbers = []
        for angle in angles_of(piece) or _FREE_DEG:
            turned = affinity.rotate(upright, angle, origin=middle)
            left, top, _, _ = turned.bounds
            shape = self._contour(turned, (left, top))
            last = floor(self._rows - shape.rows + 1e-6), floor(self._columns - shape.columns + 1e-6)
            if min(last) < 0:
                continue
            free = np.ones((last[0] + 1, last[1] + 1), dtype=bool)
            places = _number(free, self.strides[False]), _number(free.T, self.strides[True])
            numbers.append(len(self.stamps))
            away = middle[0] - left, middle[1] - top
            self.stamps.append(_Stamp(piece.key, float(angle), shape, away, last, places))
        return numbers

    def _contour(self, shape: Polygon, corner: tuple[float, float]) -> Contour:
        cell = self._cell_mm
        return contour([((x - corner[0]) / cell, (y - corner[1]) / cell) for x, y in corners_of(shape)])

    def _work_out(self, one: int, other: int) -> None:
        """Both ways round and in both directions, since all are one look at the outlines."""
        a, b = self.stamps[one], self.stamps[other]
        rows, columns = (
            _moves(a.contour.starts[:, axis], float(b.contour.starts[:, axis].max()), a.last[at], b.last[at])
            for at, axis in ((0, 1), (1, 0))
        )
        taken = overlaps(a.contour, b.contour, rows, columns)
        self._keep(one, other, taken, rows.start, columns.start)
        if one != other:
            self._keep(other, one, taken[::-1, ::-1], 1 - rows.stop, 1 - columns.stop)

    def _keep(self, one: int, other: int, taken: npt.NDArray[np.bool_], row: int, column: int) -> None:
        downwards, across = self.strides
        self._blocked[False][one, other] = _number(taken, downwards), row * downwards + column
        self._blocked[True][one, other] = _number(taken.T, across), column * across + row


def _moves(ones: npt.NDArray[np.float64], others_length: float, ones_last: int, others_last: int) -> range:
    """Whole moves of the other at which it may overlap the one while both are on the sheet.

    So a row of places that are taken is never longer than a row of the lattice.
    """
    first = max(ceil(float(ones.min()) - others_length), -ones_last)
    last = min(floor(float(ones.max())), others_last)
    return range(first, max(first, last + 1))


def _number(cells: npt.NDArray[np.bool_], stride: int) -> int:
    """Rows of cells as the bits of one number, the first cell lowest."""
    rows, columns = cells.shape
    padded = np.zeros((rows, stride), dtype=bool)
    padded[:, :columns] = cells
    return int.from_bytes(np.packbits(padded, bitorder="little").tobytes(), "little")


class Bed:
    """One sheet being filled, either from the top down or from the left to the right."""

    def __init__(self, lattice: Lattice, *, is_across: bool, spots: Sequence[Spot] = ()) -> None:
        self._lattice = lattice
        self._is_across = is_across
        self._stride = lattice.strides[is_across]
        self._laid = [self._inner(spot) for spot in spots]
        self._free: dict[int, tuple[int, int]] = {}
        """By stamp: its free places, after so many of what is laid down."""
        self._full: set[str] = set()

    @property
    def spots(self) -> list[Spot]:
        """All that lies here."""
        spots = []
        for stamp, place in self._laid:
            one, other = divmod(place, self._stride)
            spots.append((stamp, other, one) if self._is_across else (stamp, one, other))
        return spots

    def put(self, key: str) -> bool:
        """Lay one copy down where it reaches least far; False where there is no room for it."""
        if key in self._full:
            return False
        best: tuple[float, int, int, int] | None = None
        for stamp in self._lattice.stamps_of[key]:
            free = self._places(stamp)
            if free:
                place = (free & -free).bit_length() - 1
                start, beside = divmod(place, self._stride)
                shape = self._lattice.stamps[stamp].contour
                reach = start + (shape.columns if self._is_across else shape.rows)
                best = min(best or (reach, beside, stamp, place), (reach, beside, stamp, place))
        if best is None:
            self._full.add(key)
            return False
        self._laid.append(best[2:])
        return True

    def take_back(self, count: int) -> None:
        """As it was before the last so many were laid down."""
        del self._laid[len(self._laid) - count :]
        self._free.clear()
        self._full.clear()

    def _inner(self, spot: Spot) -> tuple[int, int]:
        stamp, row, column = spot
        return stamp, column * self._stride + row if self._is_across else row * self._stride + column

    def _places(self, stamp: int) -> int:
        free, seen = self._free.get(stamp) or (self._lattice.stamps[stamp].places[self._is_across], 0)
        for laid, place in self._laid[seen:] if free else ():
            taken, first = self._lattice.blocked(laid, stamp, self._is_across)
            at = place + first
            free &= ~(taken << at if at >= 0 else taken >> -at)
        self._free[stamp] = free, len(self._laid)
        return free


def filled_around(
    lattice: Lattice,
    taken: Sequence[Spot],
    pieces: Sequence[Piece],
    *,
    is_across: bool = False,
    effort: Effort | None = None,
) -> tuple[Placement, ...]:
    """As many copies as find room, in the order given, until the effort is over."""
    bed = Bed(lattice, is_across=is_across, spots=taken)
    for piece in pieces:
        for _ in range(piece.count):
            if (effort is not None and effort.is_over()) or not bed.put(piece.key):
                break
    return tuple(lattice.placement(spot) for spot in bed.spots[len(taken) :])
