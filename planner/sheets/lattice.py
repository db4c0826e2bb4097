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

_Floats = npt.NDArray[np.float64]
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
    base: int = -1
    """Which upright one this is, -1 for what is pinned,"""
    quarters: int = 0
    """and how often that was turned by a quarter."""


@dataclass(frozen=True, slots=True)
class _Upright:
    """A grown outline before it is turned by quarters, in a box of whole rows and columns.

    In whole cells a turned pair is in each other's way just where the upright pair is, turned.
    """

    corners: _Floats
    """(column, row) from the box's top left."""
    box: tuple[int, int]

    def turned(self, quarters: int) -> "_Upright":
        """The outline and its box turned clockwise."""
        corners, box = self.corners, self.box
        for _ in range(quarters):
            corners = np.column_stack((box[0] - corners[:, 1], corners[:, 0]))
            box = box[1], box[0]
        return _Upright(corners, box)


@dataclass(frozen=True, slots=True)
class _Taken:
    """Moves of one stamp against another, from a first row and column on, and whether they overlap there."""

    row: int
    column: int
    cells: npt.NDArray[np.bool_]

    def turned(self, ones: tuple[int, int], others: tuple[int, int], quarters: int) -> "_Taken":
        """The same for the pair turned clockwise, given both upright boxes."""
        row, column, cells = self.row, self.column, self.cells
        for _ in range(quarters):
            row, column = column, ones[0] - others[0] - (row + cells.shape[0] - 1)
            cells = cells.T[:, ::-1]
            ones, others = (ones[1], ones[0]), (others[1], others[0])
        return _Taken(row, column, cells)

    def swapped(self) -> "_Taken":
        """Moves of the one against the other instead."""
        rows, columns = self.cells.shape
        return _Taken(1 - self.row - rows, 1 - self.column - columns, self.cells[::-1, ::-1])

    def within(self, first: tuple[int, int], last: tuple[int, int]) -> "_Taken":
        """Only the moves between two."""
        row, column = max(self.row, first[0]), max(self.column, first[1])
        cells = self.cells[row - self.row : max(0, last[0] + 1 - self.row)]
        return _Taken(row, column, cells[:, column - self.column : max(0, last[1] + 1 - self.column)])


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
        self._uprights: list[_Upright] = []
        self.stamps_of = {piece.key: self._stamped(piece) for piece in pieces}
        self._blocked: tuple[dict[tuple[int, int], tuple[int, int]], ...] = ({}, {})
        self._taken: dict[tuple[int, int, int], _Taken] = {}

    def fixed(self, shape: Polygon) -> Spot:
        """Where a shape that stays as it lies is on the lattice."""
        grown = shape.buffer(self._gap_mm / 2)
        assert isinstance(grown, Polygon)
        # In cells from the sheet's corner, so it counts as moved by nothing.
        lying = contour((np.array(corners_of(grown)) - self._start_mm) / self._cell_mm)
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
            a, b = self.stamps[one], self.stamps[other]
            taken = self._between(a, b).within((-a.last[0], -a.last[1]), b.last)
            stride = self.strides[is_across]
            if is_across:
                known[one, other] = _number(taken.cells.T, stride), taken.column * stride + taken.row
            else:
                known[one, other] = _number(taken.cells, stride), taken.row * stride + taken.column
        return known[one, other]

    def _stamped(self, piece: Piece) -> list[int]:
        """The piece at each angle at which it fits on the sheet at all, those that look alike once."""
        middle = piece.width_mm / 2, piece.height_mm / 2
        grown = Polygon(grown_outline(piece, self._gap_mm))
        bases: dict[float, tuple[int, tuple[float, float]]] = {}
        seen: set[frozenset[tuple[float, float]]] = set()
        numbers = []
        for angle in angles_of(piece) or _FREE_DEG:
            quarters, rest = int(angle // 90) % 4, angle % 90
            if rest not in bases:
                bases[rest] = self._upright(grown, rest, middle)
            base, away = bases[rest]
            turned = self._uprights[base].turned(quarters)
            if not self._fits(turned.corners):
                # Its box of whole cells may be what is too large for the room.
                quarters, (base, away) = 0, self._upright(grown, angle, middle)
                turned = self._uprights[base]
            look = turned.corners - turned.corners.min(axis=0)
            alike = frozenset((round(float(x), 6), round(float(y), 6)) for x, y in look)
            if alike in seen or not self._fits(turned.corners):
                continue
            seen.add(alike)
            numbers.append(len(self.stamps))
            self.stamps.append(self._stamp(piece.key, float(angle), base, quarters, away))
        return numbers

    def _upright(
        self, grown: Polygon, angle: float, middle: tuple[float, float]
    ) -> tuple[int, tuple[float, float]]:
        """The number of a new upright outline, and where the piece's middle lies from its box's top left."""
        shape = affinity.rotate(grown, angle, origin=middle)
        left, top, _, _ = shape.bounds
        corners = (np.array(corners_of(shape)) - (left, top)) / self._cell_mm
        columns, rows = np.ceil(corners.max(axis=0) - 1e-6).astype(int).tolist()
        self._uprights.append(_Upright(corners, (rows, columns)))
        return len(self._uprights) - 1, (middle[0] - left, middle[1] - top)

    def _fits(self, corners: _Floats) -> bool:
        columns, rows = corners.max(axis=0)
        return bool(rows <= self._rows + 1e-6 and columns <= self._columns + 1e-6)

    def _stamp(self, key: str, angle: float, base: int, quarters: int, away: tuple[float, float]) -> _Stamp:
        upright = self._uprights[base]
        box = upright.box
        for _ in range(quarters):
            away = box[0] * self._cell_mm - away[1], away[0]
            box = box[1], box[0]
        shape = contour(upright.turned(quarters).corners)
        last = floor(self._rows - shape.rows + 1e-6), floor(self._columns - shape.columns + 1e-6)
        free = np.ones((last[0] + 1, last[1] + 1), dtype=bool)
        places = _number(free, self.strides[False]), _number(free.T, self.strides[True])
        return _Stamp(key, angle, shape, away, last, places, base, quarters)

    def _between(self, a: _Stamp, b: _Stamp) -> _Taken:
        """Moves of b against a, all of them that keep both on the sheet among them."""
        if a.base > b.base >= 0:
            return self._between(b, a).swapped()
        if min(a.base, b.base) < 0:
            return _taken(a.contour, b.contour, a.last, b.last)
        relative = (b.quarters - a.quarters) % 4
        one, other = self._uprights[a.base], self._uprights[b.base]
        key = a.base, b.base, relative
        if key not in self._taken:
            turned = other.turned(relative)
            # Turned, the sheet's longer side may run either way.
            side = floor(max(self._rows, self._columns))
            lasts = [(max(0, side - box[0] + 1), max(0, side - box[1] + 1)) for box in (one.box, turned.box)]
            self._taken[key] = _taken(contour(one.corners), contour(turned.corners), *lasts)
        return self._taken[key].turned(one.box, other.turned(relative).box, a.quarters)


def _taken(one: Contour, other: Contour, ones_last: tuple[int, int], others_last: tuple[int, int]) -> _Taken:
    rows, columns = (
        _moves(one.starts[:, axis], float(other.starts[:, axis].max()), ones_last[at], others_last[at])
        for at, axis in ((0, 1), (1, 0))
    )
    return _Taken(rows.start, columns.start, overlaps(one, other, rows, columns))


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
        if not count:
            return
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
