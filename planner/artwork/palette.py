"""The colours an artwork is made of: main colours, and how many flat ones, if it is flat art at all."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.artwork.colour import ciede2000, hex_of_rgb, lab_of
from planner.artwork.facts import MainColour, Style
from planner.artwork.opencv import opencv
from planner.artwork.planes import INK, Plane, Planes
from planner.artwork.regions import Grid

MOST_COLOURS = 16
_BIN_BITS = 5
_MOST_BINS = 3000
_TOGETHER_DE = 10.0
"""Colours nearer than this count as one main colour."""
_FLAT_DE76 = 2.5
"""How near pixels of a flat colour stay to it, JPEG's noise included; CIE 1976, for speed."""
_FLAT_COVER = 0.94
"""Share of the even area that few tight colours must cover for flat art."""
_MOST_PROBES = 20_000
_EVEN_RANGE = 12
"""Levels of 255 within 3 × 3 sampled pixels up to which a place is even, not an edge or texture."""
_LEAST_SHARE = 0.003
_BLEND_LEVELS = 24.0
"""How near to the line between two colours their blends lie, JPEG's coarser chroma included."""
_LOOKED_AT_PX = 300
_BUSY_SHARE = 0.25
"""Share of uneven area from where on unflat artwork is a photograph."""
_GRAIN = 2
"""Median bend of red, green and blue together: smooth gradients stay below, grain does not."""


@dataclass(frozen=True, slots=True)
class Palette:
    """What `palette_of` finds."""

    colours: tuple[MainColour, ...]
    flat_colours: int | None
    style: Style


@dataclass(frozen=True)
class _Bins:
    """Occupied cells of a coarse colour cube, the fullest first."""

    rgb: NDArray[np.float64]
    lab: NDArray[np.float64]
    counts: NDArray[np.float64]
    even: NDArray[np.float64]
    edge: NDArray[np.float64]
    index: NDArray[np.int32]
    """Bin of each sampled pixel by its cell; -1 for cells left out."""


def palette_of(planes: Planes) -> Palette:
    """Main colours with their shares of area and of edges, the largest first."""
    sample = planes.sample
    ink = sample[..., 3] >= INK
    if not ink.any():
        return Palette((), None, Style.FLAT)
    even, edge = _even(sample, ink), _edge(ink)
    cells = _cells(sample)
    bins = _bins(sample, cells, ink, even, edge)
    seeds, group = _grouped(bins, _TOGETHER_DE, MOST_COLOURS)
    colours = _main_colours(planes, bins, group, len(seeds), cells, ink)
    even_enough = np.count_nonzero(even) >= 0.05 * np.count_nonzero(ink)
    flat = _flat_count(bins, sample[even if even_enough else ink][:, :3], sample[ink][:, :3])
    if flat is not None:
        return Palette(colours, flat, Style.FLAT)
    return Palette(colours, None, Style.PHOTOGRAPH if _is_textured(sample) else Style.GRADIENT)


def _cells(sample: Plane) -> NDArray[np.int32]:
    shift = 8 - _BIN_BITS
    high = (sample[..., :3] >> shift).astype(np.int32)
    return (high[..., 0] << 2 * _BIN_BITS) | (high[..., 1] << _BIN_BITS) | high[..., 2]


def _even(sample: Plane, ink: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Ink whose neighbours look the same."""
    cv2 = opencv()
    square = np.ones((3, 3), np.uint8)
    spread = cv2.subtract(cv2.dilate(sample, square), cv2.erode(sample, square))
    red, green, blue, alpha = cv2.split(spread)
    widest = cv2.max(cv2.max(red, green), cv2.max(blue, alpha))
    return np.asarray((widest <= _EVEN_RANGE) & ink)


def _is_textured(sample: Plane) -> bool:
    """Whether a picture that is no flat art is a photograph: much of it uneven, or grain all over.

    Looked at in one size, so that an enlarged photograph remains one.
    """
    every = max(1, max(sample.shape[:2]) // _LOOKED_AT_PX)
    small = np.ascontiguousarray(sample[::every, ::every])
    ink = small[..., 3] >= INK
    if not ink.any():
        return False
    if np.count_nonzero(_even(small, ink)) <= (1 - _BUSY_SHARE) * np.count_nonzero(ink):
        return True
    grey = small[..., :3].astype(np.int16).sum(axis=2)
    bend = np.abs(grey[:, 2:] - 2 * grey[:, 1:-1] + grey[:, :-2])[ink[:, 1:-1]]
    return bool(bend.size) and float(np.median(bend)) >= _GRAIN


def _edge(ink: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Ink that borders on cloth, the picture's own border included."""
    cv2 = opencv()
    inner = cv2.erode(
        ink.astype(np.uint8), np.ones((3, 3), np.uint8), borderType=cv2.BORDER_CONSTANT, borderValue=0
    )
    return np.asarray(ink & (inner == 0))


def _bins(
    sample: Plane,
    cells: NDArray[np.int32],
    ink: NDArray[np.bool_],
    even: NDArray[np.bool_],
    edge: NDArray[np.bool_],
) -> _Bins:
    size = 1 << 3 * _BIN_BITS
    inked = cells[ink]
    counts = np.bincount(inked, minlength=size).astype(np.float64)
    sums = [np.bincount(inked, weights=sample[..., band][ink], minlength=size) for band in range(3)]
    order = np.argsort(-counts, kind="stable")[:_MOST_BINS]
    order = order[counts[order] > 0]
    rgb = np.stack([total[order] / counts[order] for total in sums], axis=-1)
    index = np.full(size, -1, np.int32)
    index[order] = np.arange(len(order), dtype=np.int32)
    return _Bins(
        rgb=rgb,
        lab=lab_of(np.round(rgb)),
        counts=counts[order],
        even=np.bincount(cells[even], minlength=size)[order].astype(np.float64),
        edge=np.bincount(cells[edge], minlength=size)[order].astype(np.float64),
        index=index,
    )


def _grouped(bins: _Bins, within_de: float, most: int) -> tuple[list[int], NDArray[np.intp]]:
    """Seeds (the fullest bin not near one already) and, for each bin, the seed nearest to it."""
    seeds: list[int] = []
    apart = np.full((0, len(bins.counts)), np.inf)
    free = np.ones(len(bins.counts), bool)
    while free.any() and len(seeds) < most:
        seed = int(np.argmax(np.where(free, bins.counts, -1)))
        seeds.append(seed)
        away = ciede2000(bins.lab, bins.lab[seed])
        apart = np.vstack([apart, away])
        free &= away > within_de
    return seeds, np.argmin(apart, axis=0)


def _main_colours(
    planes: Planes,
    bins: _Bins,
    group: NDArray[np.intp],
    count: int,
    cells: NDArray[np.int32],
    ink: NDArray[np.bool_],
) -> tuple[MainColour, ...]:
    area = np.bincount(group, weights=bins.counts, minlength=count)
    edge = np.bincount(group, weights=bins.edge, minlength=count)
    all_area, all_edge = float(area.sum()), max(1.0, float(edge.sum()))
    of_pixel = np.full(len(bins.index), -1, np.int32)
    of_pixel[bins.index >= 0] = group[bins.index[bins.index >= 0]]
    marks = _marks(of_pixel[cells], ink, count)
    found = []
    for label in np.argsort(-area, kind="stable"):
        share = float(area[label]) / all_area
        if share < _LEAST_SHARE and float(edge[label]) / all_edge < 0.02:
            continue
        inside = group == label
        # The fullest bin, not the mean: a mean of two close inks is neither of them.
        fullest = int(np.argmax(np.where(inside, bins.counts, -1)))
        grid = Grid(ink.shape[1], ink.shape[0])
        grid.add_marks(marks[label])
        found.append(
            MainColour(
                hex=hex_of_rgb(np.round(bins.rgb[fullest])),
                share=round(share, 4),
                edge_share=round(float(edge[label]) / all_edge, 4),
                regions=grid.regions(4),
            )
        )
    return tuple(found)


def _marks(labels: NDArray[np.int32], ink: NDArray[np.bool_], count: int) -> NDArray[np.intp]:
    """How many inked pixels of each label lie in each cell of a `Grid`: shape (count, cells)."""
    grid = Grid(labels.shape[1], labels.shape[0])
    y, x = np.nonzero(ink & (labels >= 0))
    where = labels[y, x] * grid.cell_count + grid.cells(x, y)
    return np.bincount(where, minlength=count * grid.cell_count).reshape(count, -1)


def _flat_count(bins: _Bins, colours: NDArray[np.uint8], inked: NDArray[np.uint8]) -> int | None:
    """Number of flat colours, blends along their common edges left out; None where it is not flat art.

    `colours` are those of the even places, or of all ink where hardly any place is even.
    """
    every = max(1, len(inked) // _MOST_PROBES)
    inked = inked[::every]
    seeds, _ = _grouped(bins, _TOGETHER_DE, MOST_COLOURS)
    probes = colours[:: max(1, len(colours) // _MOST_PROBES)]
    in_lab = lab_of(probes)
    apart = np.stack([_from_modal(probes, in_lab, bins.rgb[seed]) for seed in seeds])
    nearest = np.argmin(apart, axis=0)
    constant = nearest[apart[nearest, np.arange(len(probes))] <= _FLAT_DE76]
    if len(constant) < _FLAT_COVER * len(probes):
        return None
    shares = np.bincount(constant, minlength=len(seeds)) / len(probes)
    flat = [seed for seed, share in zip(seeds, shares, strict=True) if share >= _LEAST_SHARE]
    inked_in_lab = lab_of(inked)
    for seed in seeds:
        if seed in flat:
            continue
        # Thin lines have no even places; blends scatter, and lie between two others.
        close = ciede2000(bins.lab, bins.lab[seed]) <= _TOGETHER_DE
        around = float(bins.counts[close].sum())
        constant_px = float(np.sum(_from_modal(inked, inked_in_lab, bins.rgb[seed]) <= _FLAT_DE76)) * every
        enough = around >= 2 * _LEAST_SHARE * float(bins.counts.sum()) and constant_px >= 0.5 * around
        if enough and not _is_blend(bins.rgb[seed], bins.rgb[flat]):
            flat.append(seed)
    return len(flat)


def _from_modal(
    probes: NDArray[np.uint8], in_lab: NDArray[np.float64], rgb: NDArray[np.float64]
) -> NDArray[np.float64]:
    """How far each probe is, in CIELAB, from the most frequent exact colour near `rgb`."""
    near = np.abs(probes.T - rgb[:, None]).max(axis=0) <= 1 << 8 - _BIN_BITS
    if not near.any():
        return np.full(len(probes), np.inf)
    red, green, blue = probes[near].T.astype(np.int32)
    _, first, times = np.unique(red << 16 | green << 8 | blue, return_index=True, return_counts=True)
    modal = in_lab[near][first[int(times.argmax())]]
    away = in_lab - modal
    return np.asarray(np.sqrt(np.einsum("ij,ij->i", away, away)))


def _is_blend(rgb: NDArray[np.float64], others: NDArray[np.float64]) -> bool:
    """Whether a colour lies between two others, as anti-aliased pixels on their common edge do."""
    for first in range(len(others)):
        for second in range(first + 1, len(others)):
            way = others[second] - others[first]
            along = float(np.clip(np.dot(rgb - others[first], way) / max(1e-9, float(way @ way)), 0, 1))
            if float(np.linalg.norm(others[first] + along * way - rgb)) <= _BLEND_LEVELS:
                return True
    return False
