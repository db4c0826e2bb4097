"""Widths of strokes and of the gaps between them, read from the ridge of a distance transform.

On the middle line of a stroke the distance to its edge has a crest; crest and both sides of it give the
width. What merely runs out (a corner, the tip of a spike) has a crest that climbs: it is left out.
Widths come in steps, each counting all that is narrower, so that judging at a size is looking one up.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.artwork.facts import Thin
from planner.artwork.opencv import opencv
from planner.artwork.planes import FAINT, INK, SOLID, Plane, Planes, heed
from planner.artwork.regions import Grid
from planner.work.ticket import Ticket

FloatArray = NDArray[np.float64]

FINE_MOST_PX = 18.0
"""Wider strokes are measured on the picture at half its size."""
_FINE_SURE_PX = 17.0
"""What is wider than this is taken from the half-size picture; a stroke in between may count twice."""
WIDEST_PX = 48.0
"""Half a millimetre at 2400 ppi: wider ones are thin at no print size that makes sense."""
_CELL = 4
"""Where to look is decided on a picture reduced by this."""
_SURELY_FINE_CELLS = 4
"""Strokes up to 12 pixels fill three cells across at most, or four where they slant."""
STEPS_PX = (
    *(half / 2 for half in range(1, 17)),
    *(float(whole) for whole in range(9, 17)),
    *(float(even) for even in range(18, 50, 2)),
)
"""Upper bounds of the widths told apart: to 8 by halves, to 16 by ones, then by twos."""
_TILE = 384
_HALO = 40
_BEYOND = 20
"""How far ridges are followed beyond a tile's core: enough to tell strokes from dots."""
_CLIMB = 0.45
"""How much higher a crest's neighbour may be, in pixels: a right-angled corner climbs by 0.7 at least."""
_STEADY = 0.7
"""Least width of a stroke in terms of the widest within two of its widths: spikes under 15° climb faster."""
_ELONGATED = 1.6
"""Length over width from where on something is a stroke and not a dot."""
_ACROSS = 1.01
"""Distances that go by neighbours come out 1.8 % short to 0.9 % long, by the stroke's direction."""
_MOST_UNCOUNTED = 1.0
"""A mask is wrong by half a pixel on each side at most."""
_HAIRLINE = 40
MOST_POINTS = 4_000_000
"""Ridge pixels from where on the rest, further down, is not looked at: noise has no end of them."""
_AT_ONCE = 200_000
"""Ridge pixels that are added up together."""
_EIGHTHS = 8.0
"""Distances are kept in eighths of a pixel in bytes, for byte dilations cost a quarter of float ones."""


class _Tally:
    """Lengths and places by step of width."""

    def __init__(self, width: int, height: int) -> None:
        self._size = (width, height)
        self._places = Grid(width, height)
        self._lengths = np.zeros(len(STEPS_PX))
        self._widest = np.zeros(len(STEPS_PX))
        self._marks = np.zeros((len(STEPS_PX), self._places.cell_count), np.intp)
        self._waiting: list[tuple[NDArray[np.intp], NDArray[np.intp], FloatArray, FloatArray]] = []
        self._waiting_px = 0
        self._points = 0

    def add(self, x: NDArray[np.intp], y: NDArray[np.intp], widths: FloatArray, lengths: FloatArray) -> None:
        self._waiting.append((x, y, widths, lengths))
        self._points += len(x)
        self._waiting_px += len(x)
        if self._waiting_px >= _AT_ONCE:
            self._settle()

    @property
    def is_full(self) -> bool:
        """Whether there are so many thin places that more of them would tell nothing new."""
        return self._points >= MOST_POINTS

    def _settle(self) -> None:
        """Add up what waits: many parts at once cost hardly more than one."""
        if not self._waiting:
            return
        x, y, widths, lengths = (np.concatenate(column) for column in zip(*self._waiting, strict=True))
        self._waiting, self._waiting_px = [], 0
        steps = np.searchsorted(STEPS_PX, widths, side="left")
        known = steps < len(STEPS_PX)
        x, y, widths, lengths, steps = x[known], y[known], widths[known], lengths[known], steps[known]
        np.maximum.at(self._widest, steps, widths)
        self._lengths += np.bincount(steps, weights=lengths, minlength=len(STEPS_PX))
        where = steps * self._places.cell_count + self._places.cells(x, y)
        self._marks += np.bincount(where, minlength=self._marks.size).reshape(self._marks.shape)

    def thin(self) -> tuple[Thin, ...]:
        self._settle()
        found, length = [], 0.0
        together = Grid(*self._size)
        for step in np.flatnonzero(self._lengths):
            length += float(self._lengths[step])
            together.add_marks(self._marks[step])
            found.append(
                Thin(
                    width_px=round(float(self._widest[step]), 2),
                    length_px=round(length, 1),
                    count=together.count(),
                    regions=together.regions(),
                )
            )
        return tuple(found)


def thin_strokes(planes: Planes, ticket: Ticket | None = None) -> tuple[Thin, ...]:
    """Thin strokes of ink, narrowest first; each step counts all narrower ones too."""
    return _thin(planes, clear=False, ticket=ticket)


def thin_gaps(planes: Planes, ticket: Ticket | None = None) -> tuple[Thin, ...]:
    """Thin gaps between ink, as `thin_strokes`."""
    return _thin(planes, clear=True, ticket=ticket)


def _thin(planes: Planes, *, clear: bool, ticket: Ticket | None) -> tuple[Thin, ...]:
    if planes.alpha is None:
        return ()
    cv2 = opencv()
    tally = _Tally(planes.width, planes.height)
    # A cell counts as ink, or as clear, if any of it may be.
    any_of_it = cv2.inRange(planes.cells, 0, 252) if clear else cv2.inRange(planes.cells, 3, 255)
    kind = cv2.THRESH_BINARY_INV if clear else cv2.THRESH_BINARY
    fine = _narrow(any_of_it, int(FINE_MOST_PX) // _CELL + 3, outside=clear)
    for part in _parts(planes.alpha, fine, _CELL, ticket):
        if tally.is_full:
            break
        shape = cv2.threshold(part.alpha, INK - 1, 1, kind)[1]
        _tally(tally, shape, part, 0.0, FINE_MOST_PX)
        if not clear:
            _tally_hairlines(tally, shape, part)
    wide = _narrow(any_of_it, int(WIDEST_PX) // _CELL + 3, outside=clear)
    # What is certainly finer need not be looked at twice.
    wide &= ~_narrow(any_of_it, _SURELY_FINE_CELLS, outside=clear)
    for part in _parts(planes.half, wide, _CELL // 2, ticket):
        if tally.is_full:
            break
        shape = cv2.threshold(part.alpha, INK - 1, 1, kind)[1]
        _tally(tally, shape, part, _FINE_SURE_PX / 2, WIDEST_PX / 2, 2)
    return tally.thin()


def _narrow(cells: Plane, side: int, *, outside: bool) -> Plane:
    """Cells that no square of `side` set cells covers; `outside` says whether all around is set."""
    cv2 = opencv()
    border = cv2.copyMakeBorder(
        cells, side, side, side, side, cv2.BORDER_CONSTANT, value=255 if outside else 0
    )
    opened = cv2.morphologyEx(border, cv2.MORPH_OPEN, np.ones((side, side), np.uint8))
    return np.asarray(cells & ~opened[side:-side, side:-side], np.uint8)


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of the picture with a halo of `_HALO` pixels around its core; outside the picture is clear."""

    alpha: Plane
    left: int
    """Of the core, in the picture."""
    top: int
    width: int
    height: int

    def holds(self, x: NDArray[np.intp], y: NDArray[np.intp]) -> NDArray[np.bool_]:
        """Which places, in pixels of `alpha`, lie in the core."""
        return np.asarray((x >= _HALO) & (x < _HALO + self.width) & (y >= _HALO) & (y < _HALO + self.height))


def _parts(alpha: Plane, where: Plane, cell: int, ticket: Ticket | None) -> Iterator[_Part]:
    """Tile by tile the part of it that is worth a look: `where`, in cells of so many pixels, is marked."""
    cv2 = opencv()
    height, width = alpha.shape
    for top in range(0, height, _TILE):
        heed(ticket)
        for left in range(0, width, _TILE):
            bottom, right = min(height, top + _TILE), min(width, left + _TILE)
            rows = slice(top // cell, -(-bottom // cell))
            box = cv2.boundingRect(where[rows, left // cell : -(-right // cell)])
            if box[2] == 0:
                continue
            x, y = left + box[0] * cell, top + box[1] * cell
            w, h = min(right - x, box[2] * cell), min(bottom - y, box[3] * cell)
            y0, x0 = max(0, y - _HALO), max(0, x - _HALO)
            y1, x1 = min(height, y + h + _HALO), min(width, x + w + _HALO)
            borders = (_HALO - (y - y0), y + h + _HALO - y1, _HALO - (x - x0), x + w + _HALO - x1)
            framed = cv2.copyMakeBorder(alpha[y0:y1, x0:x1], *borders, cv2.BORDER_CONSTANT, value=0)
            yield _Part(framed, x, y, w, h)


def _tally(tally: _Tally, shape: Plane, part: _Part, over_px: float, most_px: float, scale: int = 1) -> None:
    """Add a part's ridges with widths over `over_px` up to `most_px` (both in pixels of the part)."""
    x, y, widths, lengths = ridge_widths(shape, most_px, _HALO - _BEYOND)
    widths = _ACROSS * widths + _uncounted(shape, part.alpha, x, y, widths)
    keep = (widths > over_px) & part.holds(x, y)
    if keep.any():
        x, y = (x[keep] - _HALO + part.left) * scale, (y[keep] - _HALO + part.top) * scale
        tally.add(x, y, widths[keep] * scale, lengths[keep] * scale)


def ridge_widths(
    shape: Plane, most_px: float, rim: int = 1
) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.float64], NDArray[np.float64]]:
    """Columns, rows and widths of the ridge pixels of strokes up to `most_px` wide in a mask of 0 and 1.

    The last array says how much length each stands for: half a pixel where the ridge is two pixels thick.
    Of the outermost `rim` pixels nothing is told.
    """
    cv2 = opencv()
    nothing = np.empty(0, np.intp), np.empty(0, np.intp), np.empty(0), np.empty(0)
    distance = cv2.distanceTransform(shape, cv2.DIST_L2, 5)
    crest = cv2.convertScaleAbs(distance, alpha=_EIGHTHS)
    climb = cv2.subtract(cv2.dilate(crest, np.ones((3, 3), np.uint8)), crest)
    most = min(255, int((most_px / 2 + 1) * _EIGHTHS))
    ridge = cv2.inRange(crest, 1, most) & cv2.compare(climb, round(_CLIMB * _EIGHTHS), cv2.CMP_LE)
    ridge[:rim], ridge[-rim:], ridge[:, :rim], ridge[:, -rim:] = 0, 0, 0, 0
    places = cv2.findNonZero(ridge)
    if places is None:
        return nothing
    x, y = places.reshape(-1, 2).astype(np.intp).T
    steady = _steady(crest, x, y)
    x, y = x[steady], y[steady]
    if len(x) == 0:
        return nothing
    widths, shares = _widths_at(distance, x, y)
    widths, label, lengths = _joined(widths, x, y, shape.shape)
    across = np.full(len(lengths), np.inf)
    np.minimum.at(across, label, widths)
    stroke = (lengths[label] >= (_ELONGATED - 1) * across[label]) & (widths <= most_px)
    return x[stroke], y[stroke], widths[stroke], shares[stroke]


def _halved(plane: Plane) -> Plane:
    """The highest of each 2 × 2 pixels."""
    even = plane[: plane.shape[0] // 2 * 2, : plane.shape[1] // 2 * 2]
    rows = np.maximum(even[::2], even[1::2])
    return np.maximum(rows[:, ::2], rows[:, 1::2])


def _steady(crest: Plane, x: NDArray[np.intp], y: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which crests are not much lower than the highest one within about two stroke widths around."""
    cv2 = opencv()
    coarse = cv2.copyMakeBorder(_halved(crest), 0, 1, 0, 1, cv2.BORDER_REPLICATE)
    heights = crest[y, x]
    steady = np.zeros(len(x), bool)
    highest = int(heights.max(initial=0))
    above, radius, reach = 0.0, 1.5, 0
    while above < highest:
        upper = radius * _EIGHTHS
        wanted = min(_HALO // 4, max(1, round(1.5 * radius)))
        if wanted > reach:
            # Further out from what is known already, for a dilation costs by its side.
            side = 2 * (wanted - reach) + 1
            coarse, reach = cv2.dilate(coarse, np.ones((side, side), np.uint8)), wanted
        band = (heights > above) & (heights <= upper)
        if band.any():
            steady[band] = heights[band] >= _STEADY * coarse[y[band] // 2, x[band] // 2]
        above, radius = upper, radius * 1.8
    return steady


def _joined(
    widths: NDArray[np.float64], x: NDArray[np.intp], y: NDArray[np.intp], shape: tuple[int, ...]
) -> tuple[NDArray[np.float64], NDArray[np.intp], NDArray[np.float64]]:
    """Widths evened along the ridge, the ridge that each pixel is part of, and each ridge's length.

    On a grid of half the size the pieces hang together into which pixel steps cut slanting ridges; and
    a pixel is as wide as the widest next to it, for those steps are no thin places.
    """
    cv2 = opencv()
    seen = np.zeros((shape[0] // 2 + 1, shape[1] // 2 + 1), np.uint8)
    np.maximum.at(seen, (y // 2, x // 2), np.minimum(255, np.round(widths * _EIGHTHS)).astype(np.uint8))
    wider = cv2.dilate(seen, np.ones((3, 3), np.uint8))[y // 2, x // 2]
    count, labels = cv2.connectedComponents(seen, connectivity=8, ltype=cv2.CV_16U)
    label = labels[y // 2, x // 2].astype(np.intp)
    lengths = np.hypot(_extent(x // 2, label, count), _extent(y // 2, label, count)) + 1
    return wider / _EIGHTHS, label, np.asarray(lengths)


def _extent(places: NDArray[np.intp], label: NDArray[np.intp], count: int) -> FloatArray:
    """From the first to the last of each label's places, in pixels of twice the grid they are on."""
    first, last = np.full(count, np.iinfo(np.intp).max), np.full(count, -1)
    np.minimum.at(first, label, places)
    np.maximum.at(last, label, places)
    return np.asarray(2.0 * np.maximum(0, last - first))


def _widths_at(
    distance: NDArray[np.float32], x: NDArray[np.intp], y: NDArray[np.intp]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Width at each crest, and the share of a pixel's length it stands for.

    The width is the crest plus the higher of its two sides, across the stroke: exact for upright strokes,
    odd or even. Of an even one the crest is two pixels thick: each stands for a half.
    """
    middle = distance[y, x].astype(np.float64)
    sides = np.full(len(y), np.inf)
    for dy, dx, step in ((0, 1, 1.0), (1, 0, 1.0), (1, 1, 2**0.5), (1, -1, 2**0.5)):
        higher = np.maximum(distance[y + dy, x + dx], distance[y - dy, x - dx])
        sides = np.minimum(sides, middle + (higher - middle) / step)
    return middle + np.maximum(sides, 0), np.where(sides > middle - 0.01, 0.5, 1.0)


def _uncounted(
    shape: Plane, alpha: Plane, x: NDArray[np.intp], y: NDArray[np.intp], widths: FloatArray
) -> FloatArray:
    """What a mask, which knows whole pixels only, left out of each width: its edges' part coverage.

    Around each ridge pixel all coverage that the mask counted wrongly is shared out over the ridge there.
    """
    cv2 = opencv()
    if len(x) == 0:
        return widths
    ridge = np.zeros(shape.shape, np.uint8)
    ridge[y, x] = 1
    coverage, mask, line = (cv2.integral(plane) for plane in (alpha, shape, ridge))
    reach = np.ceil(widths / 2).astype(np.intp) + 2
    left, right = np.maximum(0, x - reach), np.minimum(shape.shape[1], x + reach + 1)
    top, bottom = np.maximum(0, y - reach), np.minimum(shape.shape[0], y + reach + 1)

    def within(sums: NDArray[np.int32]) -> FloatArray:
        return np.asarray(
            sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left], float
        )

    inked = within(coverage) / 255.0
    if shape[y[0], x[0]] and alpha[y[0], x[0]] < INK:  # A gap: what is not ink is covered.
        inked = (right - left) * (bottom - top) - inked
    return np.asarray(np.clip((inked - within(mask)) / within(line), -_MOST_UNCOUNTED, _MOST_UNCOUNTED))


def _tally_hairlines(tally: _Tally, ink: Plane, part: _Part) -> None:
    """Lines so thin that anti-aliasing leaves no pixel of them half covered: they are under a pixel wide."""
    cv2 = opencv()
    square = np.ones((3, 3), np.uint8)
    seen = cv2.inRange(part.alpha, _HAIRLINE, SOLID)
    seen &= cv2.compare(cv2.dilate(ink, square), 0, cv2.CMP_EQ)
    if not cv2.countNonZero(seen):
        return
    seen &= ~cv2.morphologyEx(cv2.inRange(part.alpha, FAINT, 255), cv2.MORPH_OPEN, square)
    left, top, wide, high = cv2.boundingRect(seen)
    if not wide:
        return
    seen, alpha = (plane[top : top + high, left : left + wide] for plane in (seen, part.alpha))
    count, labels, stats, _ = cv2.connectedComponentsWithStats(seen, connectivity=8)
    length = np.maximum(stats[:, cv2.CC_STAT_WIDTH], stats[:, cv2.CC_STAT_HEIGHT])
    long_enough = (length >= 6) & (np.arange(count) > 0)
    y, x = np.nonzero(long_enough[labels])
    core = part.holds(x + left, y + top)
    x, y = x[core], y[core]
    if len(x) == 0:
        return
    label = labels[y, x]
    pixels = np.maximum(1, np.bincount(label, minlength=count))
    covered = np.bincount(label, weights=alpha[y, x] / 255.0, minlength=count)
    thickness = np.maximum(1.0, pixels / np.maximum(length, 1))
    widths = (covered / pixels * thickness)[label]
    x, y = x + left - _HALO + part.left, y + top - _HALO + part.top
    tally.add(x, y, widths, 1 / thickness[label])
