"""Where something was noticed: a coarse grid over the picture, its marked cells joined to a few boxes."""

import numpy as np
from numpy.typing import NDArray

from planner.artwork.opencv import opencv
from planner.job.findings import Region

CELLS = 96
"""Along the longer side: fine enough to point at, coarse enough to cost nothing."""
MOST_REGIONS = 12

Mask = NDArray[np.uint8]


def _cell_of_each(edges: NDArray[np.intp], length: int) -> NDArray[np.intp]:
    """Which stretch between `edges` each of `length` pixels lies in."""
    return np.repeat(np.arange(len(edges) - 1), np.diff(edges))[:length]


class Grid:
    """Gathers marks strip by strip; `regions` gives boxes as fractions, the fullest first."""

    def __init__(self, width: int, height: int) -> None:
        self._size = (width, height)
        cell = max(1.0, max(width, height) / CELLS)
        columns, rows = max(1, int(width // cell)), max(1, int(height // cell))
        self._x_edges = np.linspace(0, width, columns + 1).astype(np.intp)
        self._y_edges = np.linspace(0, height, rows + 1).astype(np.intp)
        self._marks = np.zeros((rows, columns), np.uint32)

    def add(self, mask: Mask, top: int) -> None:
        """Mark what is not zero in full rows of the picture, the first of them being row `top`."""
        bottom = top + mask.shape[0]
        first = int(np.searchsorted(self._y_edges, top, side="right")) - 1
        for row in range(first, len(self._y_edges) - 1):
            start, end = self._y_edges[row], self._y_edges[row + 1]
            if start >= bottom:
                break
            band = mask[max(start, top) - top : min(end, bottom) - top]
            columns = np.count_nonzero(band, axis=0) if band.size else np.zeros(mask.shape[1], np.intp)
            self._marks[row] += np.add.reduceat(columns, self._x_edges[:-1]).astype(np.uint32)

    def add_points(self, x: NDArray[np.intp], y: NDArray[np.intp]) -> None:
        """Mark single places, in pixels of the picture."""
        self.add_marks(np.bincount(self.cells(x, y), minlength=self._marks.size))

    def cells(self, x: NDArray[np.intp], y: NDArray[np.intp]) -> NDArray[np.intp]:
        """The number of the cell that each place, in pixels of the picture, lies in."""
        (width, height), columns = self._size, self._marks.shape[1]
        column = _cell_of_each(self._x_edges, width)[np.clip(x, 0, width - 1)]
        row = _cell_of_each(self._y_edges, height)[np.clip(y, 0, height - 1)]
        return np.asarray(row * columns + column)

    @property
    def cell_count(self) -> int:
        return self._marks.size

    def add_marks(self, marks: NDArray[np.intp]) -> None:
        """Mark cells by their numbers, each so many times."""
        self._marks += marks.reshape(self._marks.shape).astype(np.uint32)

    def count(self) -> int:
        """How many groups of marked cells there are that do not touch."""
        cv2 = opencv()
        return int(cv2.connectedComponents((self._marks > 0).astype(np.uint8), connectivity=8)[0]) - 1

    def regions(self, most: int = MOST_REGIONS) -> tuple[Region, ...]:
        """Boxes around cells that hang together, those with most marks first."""
        if not self._marks.any():
            return ()
        cv2 = opencv()
        marked = (self._marks > 0).astype(np.uint8)
        count, labels, stats, _ = cv2.connectedComponentsWithStats(marked, connectivity=8)
        weights = np.bincount(labels.ravel(), weights=self._marks.ravel(), minlength=count)
        order = np.argsort(-weights[1:], kind="stable")[:most] + 1
        return tuple(self._region(stats[label]) for label in order)

    def _region(self, stats: NDArray[np.int32]) -> Region:
        width, height = self._size
        column, row, columns, rows = (int(value) for value in stats[:4])
        left, right = self._x_edges[column] / width, self._x_edges[column + columns] / width
        top, bottom = self._y_edges[row] / height, self._y_edges[row + rows] / height
        return Region(
            x=round(float(left), 4),
            y=round(float(top), 4),
            width=round(float(right - left), 4),
            height=round(float(bottom - top), 4),
        )
