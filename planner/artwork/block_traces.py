"""Traces of enlargement that JPEG leaves standing, taken on the file's own grid of 8 × 8 blocks.

JPEG rounds each frequency of a block to steps (ITU-T T.81, A.3.4) and so empties the fine ones of many an
honest photograph. What tells is less than the steps would have left: from the coarse half of each block
one can say how many fine coefficients should have survived, and count how many did. Beside it: fine
coefficients that mirror the coarse ones, as those of doubled pixels do; differences that swell and ebb
from pixel to pixel within blocks; and how many pixels the steepest edges take.

The steps are found in the pixels (Z. Fan and R. L. de Queiroz, "Identification of bitmap compression
history", IEEE TIP 12, 2003), since many a JPEG is sent on as PNG.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

_SIDE = 8
_BLOCKS = 14
"""Whole blocks along a tile, wherever the grid begins in it."""
_BUSY = 0.7
"""Only blocks above this quantile of detail are heard."""
_SHOWS = 6.0
"""Coefficients are held against steps no finer than this, so that noise does not pass for detail."""
_SLOPE, _LEVEL = 1.3, 0.7
"""How a block's detail usually falls off with frequency, and where it stands beside its coarse half."""
_LEAST_EDGE = 40.0
"""Levels from which on a rise is an edge."""
_FEW_EDGES = 50
_USUAL_WIDTHS = (0.3, 0.6, 1.0)
_SURE_OF_STEPS = 0.35
_MOST_COMPARED = 1500

# ITU-T T.81, table K.1: what nearly every encoder scales by its quality.
_LUMINANCE = np.array(
    (
        (16, 11, 10, 16, 24, 40, 51, 61),
        (12, 12, 14, 19, 26, 58, 60, 55),
        (14, 13, 16, 24, 40, 57, 69, 56),
        (14, 17, 22, 29, 51, 87, 80, 62),
        (18, 22, 37, 56, 68, 109, 103, 77),
        (24, 35, 55, 64, 81, 104, 113, 92),
        (49, 64, 78, 87, 103, 121, 120, 101),
        (72, 92, 95, 98, 112, 100, 103, 99),
    ),
    np.float32,
)
_COARSE = ((0, 1), (1, 0), (1, 1), (0, 2), (2, 0), (1, 2), (2, 1), (0, 3), (3, 0), (2, 2), (1, 3), (3, 1))

Floats = NDArray[np.float32]


def block_traces(tiles: Floats) -> NDArray[np.float64]:
    """Figures of square grey tiles, all cut on one grid of eight pixels: shape (n, side, side)."""
    blocks = _blocks(tiles, _grid(tiles.transpose(0, 2, 1)), _grid(tiles))
    steps = _steps(_spectra(blocks[:: max(1, len(blocks) // _MOST_COMPARED)]))
    detail = np.abs(np.diff(blocks, axis=2)).mean((1, 2)) + np.abs(np.diff(blocks, axis=1)).mean((1, 2))
    busy = blocks[detail >= np.quantile(detail, _BUSY)]
    spectra = _spectra(busy)
    rows = np.concatenate([spectra, spectra.transpose(0, 2, 1)])
    step_rows = np.concatenate([np.broadcast_to(one, spectra.shape) for one in (steps, steps.T)])
    return np.array(
        [
            *_missing(rows, step_rows),
            *_fine_share(rows),
            *_mirrored(rows),
            *_swell(np.concatenate([busy, busy.transpose(0, 2, 1)])),
            *_edge_widths(tiles),
            np.log(steps[0, 1:4].mean()),
            np.log(steps[0, 4:].mean()),
        ]
    )


def _grid(tiles: Floats) -> int:
    """Column in which the first whole block begins: where neighbours differ more than those around them."""
    differ = np.minimum(np.abs(np.diff(tiles, axis=2)), 12).mean(axis=(0, 1))
    jump = np.concatenate([[0.0], differ[1:-1] - (differ[:-2] + differ[2:]) / 2])
    by_column = [jump[column::_SIDE].mean() for column in range(_SIDE)]
    return (int(np.argmax(by_column)) + 1) % _SIDE


def _blocks(tiles: Floats, top: int, left: int) -> Floats:
    extent = _BLOCKS * _SIDE
    cut = tiles[:, top : top + extent, left : left + extent]
    shaped = cut.reshape(len(tiles), _BLOCKS, _SIDE, _BLOCKS, _SIDE)
    return np.asarray(shaped.transpose(0, 1, 3, 2, 4).reshape(-1, _SIDE, _SIDE), np.float32)


@lru_cache(maxsize=1)
def _cosines() -> Floats:
    """The orthonormal DCT of eight samples (ITU-T T.81, A.3.3)."""
    n = np.arange(_SIDE)
    cosines = np.sqrt(2 / _SIDE) * np.cos(np.pi * (2 * n[None, :] + 1) * n[:, None] / (2 * _SIDE))
    cosines[0] /= np.sqrt(2)
    return np.asarray(cosines, np.float32)


def _spectra(blocks: Floats) -> Floats:
    cosines = _cosines()
    return np.asarray(cosines @ (blocks - 128) @ cosines.T, np.float32)


@lru_cache(maxsize=1)
def _tables() -> Floats:
    """Steps of all usual qualities, coarsest first."""
    scales = [5000 / quality if quality < 50 else 200 - 2 * quality for quality in range(20, 98)]
    return np.stack([np.clip((_LUMINANCE * scale + 50) // 100, 1, 255) for scale in scales])


def _steps(spectra: Floats) -> Floats:
    """The table that the coarse coefficients keep to; steps of one where they keep to none."""
    tables = _tables()
    score = np.zeros(len(tables))
    for down, across in _COARSE:
        sizes = np.abs(spectra[:, down, across])
        for step in np.unique(tables[:, down, across]):
            told = sizes[sizes > step / 2]
            if step >= 2 and len(told) > 20:
                score[tables[:, down, across] == step] += np.cos(2 * np.pi / step * told).mean()
    score /= len(_COARSE)
    if score.max() <= _SURE_OF_STEPS:
        return np.ones((_SIDE, _SIDE), np.float32)
    # Multiples of half a step are multiples of a whole one as well: the coarsest that fits is meant.
    return np.asarray(tables[int(np.flatnonzero(score >= score.max() * 0.97)[0])])


def _missing(rows: Floats, steps: Floats) -> list[float]:
    """For each frequency, as logarithms: how many and how much over what is due, and how many are due."""
    coarse = np.sqrt((rows[:, :2, 1:4] ** 2).mean(axis=(1, 2)))[:, None]
    told = []
    for v in range(2, _SIDE):
        step = np.maximum(steps[:, :2, v], _SHOWS)
        size = np.abs(rows[:, :2, v])
        usual = coarse * _LEVEL * (2.0 / v) ** _SLOPE
        # Coefficients are spread by Laplace's law (R. Reininger and J. Gibson, IEEE Trans. Commun. 31, 1983).
        chance = np.exp(-0.5 * step / (usual + 1e-3))
        there = size >= 0.5 * step
        due = float(chance.sum())
        told += [
            np.log((float(there.sum()) + 4) / (due + 4)),
            np.log((float(size[there].sum()) + 100) / (float((chance * (usual + 0.5 * step)).sum()) + 100)),
            np.log(due + 4) - 8,
        ]
    return told


def _fine_share(rows: Floats) -> list[float]:
    """The fine half of a block beside its coarse half: middle, and finest blocks."""
    fine, coarse = (np.abs(rows[:, :2, part]).sum(axis=(1, 2)) for part in (slice(4, 8), slice(1, 4)))
    return list(np.quantile(np.log((fine + 8) / (coarse + 8)), (0.5, 0.8, 0.95)))


def _mirrored(rows: Floats) -> list[float]:
    """How far frequency 8 - v copies frequency v."""
    told = []
    for v in (1, 2, 3):
        low, high = rows[:, :2, v].ravel(), rows[:, :2, _SIDE - v].ravel()
        told.append(float((low * high).sum() / np.sqrt((low * low).sum() * (high * high).sum() + 1e4)))
    return told


def _swell(blocks: Floats) -> list[float]:
    """How first and second differences rise and fall from pixel to pixel within a block."""
    d = np.log(np.abs(np.diff(blocks, axis=2)).mean(axis=(0, 1)) + 0.2)
    bend = np.log(np.abs(np.diff(blocks, 2, axis=2)).mean(axis=(0, 1)) + 0.2)
    twos = float(d[1] + d[3] + d[5] - (d[0] + d[6]) / 2 - d[2] - d[4])
    return [
        twos,
        abs(twos),
        d[3] - (d[1] + d[5]) / 2,
        abs(bend[0] - 2 * bend[1] + 2 * bend[2] - 2 * bend[3] + 2 * bend[4] - bend[5]),
        bend[0] + bend[5] - bend[1] - bend[4],
        bend[2] + bend[3] - bend[1] - bend[4],
    ]


def _edge_widths(tiles: Floats) -> list[float]:
    """Logarithm of the pixels an edge takes at its steepest: the sharpest twentieth, fifth and half."""
    widths = []
    for turned in (tiles, tiles.transpose(0, 2, 1)):
        step = np.diff(turned, axis=2, append=turned[:, :, -1:]).ravel()
        rising = step >= 0
        starts = np.concatenate([[0], np.flatnonzero(rising[1:] != rising[:-1]) + 1])
        rise = np.abs(np.add.reduceat(step, starts))
        steepest = np.maximum.reduceat(np.abs(step), starts)
        edges = rise >= _LEAST_EDGE
        widths.append(rise[edges] / steepest[edges])
    every = np.concatenate(widths)
    if len(every) <= _FEW_EDGES:
        return list(_USUAL_WIDTHS)
    return list(np.log(np.quantile(every, (0.05, 0.2, 0.5))))
