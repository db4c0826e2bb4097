"""The room that outlines leave for others as they lie, whatever their angle and however many at once.

The sheet is a grid of cells. A cell that anything touches is taken whole, so what keeps apart on the grid
keeps apart on the sheet. In which cells a shape may begin is one convolution for all of them at once.
"""

from collections.abc import Iterable
from math import ceil, floor, sqrt

import numpy as np
import numpy.typing as npt
from shapely import contains_xy
from shapely.geometry import MultiPolygon, Polygon

from planner.measures.geometry import Size

_CELLS = 60_000
"""Of so many a grid has about; more would find more room and take longer."""
_FINEST_MM = 0.25

_Shape = Polygon | MultiPolygon
_Cells = npt.NDArray[np.bool_]
_Waves = npt.NDArray[np.complex128]


class Ground:
    """One sheet's free room."""

    def __init__(
        self,
        sheet: Size,
        *,
        gap_mm: float,
        margin_mm: float,
        taken: Iterable[Polygon],
    ) -> None:
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

    def _free(self, size: tuple[int, ...], waves: _Waves) -> _Cells:
        """In which cells something of that size may begin; no rows where it is larger than the sheet."""
        rows, columns = (max(0, have - need + 1) for have, need in zip(self._taken.shape, size, strict=True))
        hits = np.fft.irfft2(self._seen * waves, s=self._fast)
        return np.asarray(hits[:rows, :columns] < 0.5)

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
