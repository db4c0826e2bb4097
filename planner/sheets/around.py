"""Outlines put into the room that other outlines leave: around pinned pieces, and extras beside all others.

The sheet is a grid of cells. A cell that anything touches is taken whole, so what keeps apart on the grid
keeps apart on the sheet. In which cells a piece may begin is one convolution for all of them at once.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, floor, sqrt

import numpy as np
import numpy.typing as npt
from shapely import affinity, contains_xy
from shapely.geometry import MultiPolygon, Polygon

from planner.measures.geometry import Size
from planner.measures.layout import Placement, placed_about
from planner.sheets.effort import Effort
from planner.sheets.problem import Piece
from planner.sheets.validate import placed_outline

_CELLS = 60_000
"""Of so many a grid has about; more would find more room and take longer."""
_FINEST_MM = 0.25
_FREE_DEG = tuple(range(0, 360, 30))
"""Angles tried for pieces that may stand at any."""

_Shape = Polygon | MultiPolygon
_Cells = npt.NDArray[np.bool_]
_Waves = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class _Stamp:
    """The cells that a piece takes at one angle, and where its middle lies from their top left corner."""

    cells: _Cells
    angle_deg: float
    middle_mm: tuple[float, float]


class Ground:
    """One sheet's free room, and what is put into it."""

    def __init__(
        self,
        sheet: Size,
        *,
        gap_mm: float,
        margin_mm: float,
        taken: Iterable[Polygon],
        is_across: bool = False,
    ) -> None:
        self._is_across = is_across
        self._grown_mm = gap_mm / 2
        self._start_mm = margin_mm - self._grown_mm
        width_mm, height_mm = (side - 2 * self._start_mm for side in (sheet.width_mm, sheet.height_mm))
        self.cell_mm = max(_FINEST_MM, sqrt(max(1.0, width_mm * height_mm) / _CELLS))
        # Floats must not cost the last row where a piece fits a sheet exactly.
        rows, columns = (max(1, floor(s / self.cell_mm + 1e-6)) for s in (height_mm, width_mm))
        self._taken: _Cells = np.zeros((rows, columns), dtype=bool)
        for shape in taken:
            self._mark(shape.buffer(self._grown_mm))
        self._fast = _fast_size(rows), _fast_size(columns)
        self._seen = self._transformed(self._taken)
        self._stamps: dict[str, list[tuple[_Stamp, _Waves]]] = {}
        self._full: set[str] = set()

    def put(self, piece: Piece) -> Placement | None:
        """One copy where it reaches down least, or across least; None where there is no room for it."""
        if piece.key in self._full:
            return None
        best: tuple[tuple[int, int], int, tuple[int, int]] | None = None
        stamps = self._stamps_of(piece)
        for number, (stamp, waves) in enumerate(stamps):
            at = self._first_free(stamp.cells.shape, waves)
            if at is not None:
                rows, columns = stamp.cells.shape
                reach = (at[1] + columns, at[0]) if self._is_across else (at[0] + rows, at[1])
                if best is None or (reach, number) < best[:2]:
                    best = reach, number, at
        if best is None:
            self._full.add(piece.key)
            return None
        stamp, _ = stamps[best[1]]
        rows, columns = stamp.cells.shape
        row, column = best[2]
        self._taken[row : row + rows, column : column + columns] |= stamp.cells
        self._seen = self._transformed(self._taken)
        centre = (
            self._start_mm + column * self.cell_mm + stamp.middle_mm[0],
            self._start_mm + row * self.cell_mm + stamp.middle_mm[1],
        )
        return placed_about(piece.key, Size(piece.width_mm, piece.height_mm), centre, stamp.angle_deg)

    def nearest_move(self, shape: _Shape) -> tuple[float, float] | None:
        """The shortest move (right, down) in mm that brings a shape, as it lies, where there is room."""
        grown = shape.buffer(self._grown_mm)
        left, top, _, _ = grown.bounds
        cells = _touched(grown, (left, top), _cells_across(grown, self.cell_mm), self.cell_mm)
        free = self._free(cells.shape, np.conj(self._transformed(cells)))
        rows, columns = np.nonzero(free)
        if not len(rows):
            return None
        dx = self._start_mm + columns * self.cell_mm - left
        dy = self._start_mm + rows * self.cell_mm - top
        best = int((dx * dx + dy * dy).argmin())
        return float(dx[best]), float(dy[best])

    def _stamps_of(self, piece: Piece) -> list[tuple[_Stamp, _Waves]]:
        if piece.key not in self._stamps:
            stamps = _stamps(piece, self._grown_mm, self.cell_mm)
            self._stamps[piece.key] = [(stamp, np.conj(self._transformed(stamp.cells))) for stamp in stamps]
        return self._stamps[piece.key]

    def _free(self, size: tuple[int, ...], waves: _Waves) -> _Cells:
        """In which cells something of that size may begin; no rows where it is larger than the sheet."""
        rows, columns = (max(0, have - need + 1) for have, need in zip(self._taken.shape, size, strict=True))
        hits = np.fft.irfft2(self._seen * waves, s=self._fast)
        return np.asarray(hits[:rows, :columns] < 0.5)

    def _first_free(self, size: tuple[int, ...], waves: _Waves) -> tuple[int, int] | None:
        if any(have < need for have, need in zip(self._taken.shape, size, strict=True)):
            return None
        free = self._free(size, waves)
        if self._is_across:
            column, row = divmod(int(free.T.argmax()), len(free))
        else:
            row, column = divmod(int(free.argmax()), free.shape[1])
        return (row, column) if free[row, column] else None

    def _transformed(self, cells: _Cells) -> _Waves:
        return np.fft.rfft2(cells, s=self._fast)

    def _mark(self, shape: Polygon) -> None:
        """Take every cell that the shape touches."""
        left, top, right, bottom = shape.bounds
        rows, columns = self._taken.shape
        start, cell = self._start_mm, self.cell_mm
        first_row, last_row = max(0, floor((top - start) / cell)), min(rows, ceil((bottom - start) / cell))
        first, last = max(0, floor((left - start) / cell)), min(columns, ceil((right - start) / cell))
        if first_row < last_row and first < last:
            corner = start + first * cell, start + first_row * cell
            found = _touched(shape, corner, (last_row - first_row, last - first), cell)
            self._taken[first_row:last_row, first:last] |= found


def filled_around(
    ground: Ground, pieces: Sequence[Piece], effort: Effort | None = None
) -> tuple[Placement, ...]:
    """As many copies as find room, in the order given, until the effort is over."""
    placements = []
    for piece in pieces:
        for _ in range(piece.count):
            placement = None if effort is not None and effort.is_over() else ground.put(piece)
            if placement is None:
                break
            placements.append(placement)
    return tuple(placements)


def _touched(shape: _Shape, corner: tuple[float, float], size: tuple[int, int], cell: float) -> _Cells:
    # A cell that is touched has its middle within half a diagonal of the shape.
    wide = shape.buffer(cell * sqrt(0.5) + 1e-9)
    ys = corner[1] + (np.arange(size[0]) + 0.5) * cell
    xs = corner[0] + (np.arange(size[1]) + 0.5) * cell
    return np.asarray(contains_xy(wide, *np.meshgrid(xs, ys)), dtype=bool)


def _cells_across(shape: _Shape, cell_mm: float) -> tuple[int, int]:
    """Rows and columns of cells that a shape reaches over."""
    left, top, right, bottom = shape.bounds
    return ceil((bottom - top) / cell_mm - 1e-6), ceil((right - left) / cell_mm - 1e-6)


def _fast_size(length: int) -> int:
    """The next length without prime factors above 5: transforms of others take many times as long."""
    for size in range(length, 2 * length + 1):
        rest = size
        for prime in (2, 3, 5):
            while rest % prime == 0:
                rest //= prime
        if rest == 1:
            return size
    raise AssertionError("twice a length always has a power of two below it")


def _stamps(piece: Piece, grown_mm: float, cell_mm: float) -> list[_Stamp]:
    """One for each angle that the piece may stand at."""
    middle = (piece.width_mm / 2, piece.height_mm / 2)
    if piece.angles_deg is not None:
        angles: Sequence[float] = piece.angles_deg
    elif not piece.may_turn:
        angles = (0,)
    else:
        angles = _FREE_DEG if piece.any_angle else (0, 90, 180, 270)
    placement = Placement(piece.key, 0, 0, piece.width_mm, piece.height_mm)
    upright = placed_outline(placement, piece.outline)
    stamps = []
    for angle in angles:
        shape = affinity.rotate(upright, angle, origin=middle).buffer(grown_mm)
        left, top, _, _ = shape.bounds
        cells = _touched(shape, (left, top), _cells_across(shape, cell_mm), cell_mm)
        stamps.append(_Stamp(cells, float(angle), (middle[0] - left, middle[1] - top)))
    return stamps
