"""Whether a photograph's pixels carry the detail they claim, or were enlarged before it was sent.

Three kinds of traces are weighed together, for none is enough alone. Interpolation leaves no energy
in the fine end of the spectrum; it makes the second derivative swell and ebb with the period of the
enlargement (A. C. Gallagher, "Detection of linear and cubic interpolation in JPEG compressed
images", CRV 2005; B. Mahdian and S. Saic, "Blind authentication using periodic properties of
interpolation", IEEE TIFS 3, 2008); and what JPEG left of it all, `block_traces` tells. Weights:
logistic and ridge regression by `tests/artwork/fit_sharpness.py`; the benchmark tells how they do on
photographs that it has not seen.
"""

import itertools

import numpy as np
from numpy.typing import NDArray

from planner.artwork.block_traces import block_traces
from planner.artwork.facts import Sharpness, Style
from planner.artwork.opencv import opencv
from planner.artwork.planes import SOLID, Planes, heed
from planner.artwork.sharpness_weights import CONFIDENCE, HINGES, MEANS, SCALE, SPREADS
from planner.work.ticket import Ticket

TILE = 120
"""Divisible by 2, 3, 4, 5, 6 and 8: the periods of common enlargements and of JPEG's blocks."""
MOST_TILES = 24
_MOST_LOOKED_AT = 160
_LEAST_TILES = 4
_LEAST_DETAIL = 4.0
"""Standard deviation in levels under which a tile tells nothing."""
_BANDS = (0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5)
_PERIODS = (1 / 2, 1 / 3, 1 / 4, 2 / 5, 1 / 5, 1 / 6, 1 / 8, 3 / 8)
_FLOOR = 1.0
"""Power a sample of noise that rounding to whole levels adds; keeps logarithms finite."""

FloatArray = NDArray[np.float64]


def sharpness_of(planes: Planes, style: Style, ticket: Ticket | None = None) -> Sharpness | None:
    """What a photograph's detail says; None for drawn art, of which the spectrum says nothing."""
    if style is not Style.PHOTOGRAPH:
        return None
    tiles = detailed_tiles(planes, ticket)
    if len(tiles) < _LEAST_TILES:
        return None
    return judged(traces(tiles))


def judged(trace: FloatArray) -> Sharpness:
    """The verdict on a picture's traces."""
    known = expanded((trace - MEANS) / SPREADS, np.asarray(HINGES))
    confidence = 1.0 / (1.0 + np.exp(-float(known @ np.asarray(CONFIDENCE))))
    scale = 2.0 ** float(np.clip(known @ np.asarray(SCALE), 0.0, 3.0))
    return Sharpness(scale=round(scale, 2), confidence=round(confidence, 4))


def expanded(spread: FloatArray, hinges: FloatArray) -> FloatArray:
    """Traces as the weights take them: as they are, by what they exceed each row of hinges, and 1.

    The hinges bend the straight lines of the regression: a trace may matter only where it is strong.
    """
    held = np.clip(spread, -4.0, 4.0)
    one = np.ones((*held.shape[:-1], 1))
    return np.concatenate([held, *(np.maximum(0.0, held - hinge) for hinge in hinges), one], axis=-1)


def detailed_tiles(planes: Planes, ticket: Ticket | None = None) -> NDArray[np.float32]:
    """The grey values of the most detailed opaque tiles: shape (n, TILE, TILE), n at most `MOST_TILES`."""
    places = _places(planes.width, planes.height)
    found = []
    for left, top in places:
        heed(ticket)
        box = (left, top, left + TILE, top + TILE)
        if planes.alpha is not None and planes.alpha[top : top + TILE, left : left + TILE].min() < SOLID:
            continue
        grey = np.asarray(planes.picture.crop(box).convert("L"), np.float32)
        detail = float(np.abs(np.diff(grey, axis=0)).mean() + np.abs(np.diff(grey, axis=1)).mean())
        if grey.std() >= _LEAST_DETAIL:
            found.append((detail, grey))
    found.sort(key=lambda pair: -pair[0])
    tiles = [grey for _, grey in found[:MOST_TILES]]
    return np.stack(tiles) if tiles else np.empty((0, TILE, TILE), np.float32)


def _places(width: int, height: int) -> list[tuple[int, int]]:
    """Corners of tiles spread evenly, half overlapping in small pictures, on one grid of eight."""
    if width < TILE or height < TILE:
        return []
    apart = max(TILE / 2, (width * height / _MOST_LOOKED_AT) ** 0.5)
    columns, rows = int((width - TILE) // apart) + 1, int((height - TILE) // apart) + 1
    across = np.linspace(0, width - TILE, columns).astype(int)
    down = np.linspace(0, height - TILE, rows).astype(int)
    return [(int(left) // 8 * 8, int(top) // 8 * 8) for top in down for left in across]


def traces(tiles: NDArray[np.float32]) -> FloatArray:
    """All traces in figures: how power falls off by band, how strong each period is, what blocks tell."""
    both = np.concatenate([tiles, tiles.transpose(0, 2, 1)])
    steps = np.abs(np.diff(both, axis=2, append=both[:, :, -1:]))
    bends = np.abs(np.diff(both, 2, axis=2, append=both[:, :, -1:], prepend=both[:, :, :1]))
    # A centred enlargement by two treats both its phases alike but for steps within and between pixels.
    return np.concatenate([_fall_off(both), _periods(bends), _periods(steps), block_traces(tiles)])


def _fall_off(tiles: NDArray[np.float32]) -> FloatArray:
    """Logarithm of power along rows in each band over that in the band before."""
    window = np.hanning(TILE).astype(np.float32)
    # Only what runs nearly along the rows: there separable interpolation shows alone.
    slow = np.abs(np.fft.fftfreq(TILE)) <= 0.125
    both_ways = np.outer(window, window)
    # One tile at a time: all their spectra together would be a fifth of a large picture's memory.
    along = np.stack(
        [(np.abs(np.fft.rfft2((tile - tile.mean()) * both_ways)[slow]) ** 2).mean(axis=0) for tile in tiles]
    )
    along = along / TILE**2
    frequency = np.arange(TILE // 2 + 1) / TILE
    in_bands = np.stack(
        [
            along[:, (frequency > low) & (frequency <= high)].mean(axis=1)
            for low, high in itertools.pairwise(_BANDS)
        ],
        axis=1,
    )
    logs = np.log(in_bands + _FLOOR * 0.1).mean(axis=0)
    return np.concatenate([np.diff(logs), [logs[-1], logs[0] - logs[-1]]])


def _periods(derivative: NDArray[np.float32]) -> FloatArray:
    """Strength of each period in a derivative, as logarithm over that of other frequencies."""
    cv2 = opencv()
    swell = np.log(derivative + 0.5).mean(axis=1)
    smooth = np.stack([cv2.blur(row[None, :], (13, 1), borderType=cv2.BORDER_REFLECT)[0] for row in swell])
    wave = (swell - smooth)[:, 2:-2]
    strength = np.abs(np.fft.rfft(wave * np.hanning(wave.shape[1]), n=TILE, axis=1))
    typical = np.median(strength[:, 10:], axis=1, keepdims=True) + 1e-6
    line = np.log((strength / typical).mean(axis=0) + 1e-3)
    at = [round(period * TILE) for period in _PERIODS]
    jpeg = {round(eighth / 8 * TILE) for eighth in range(1, 5)}
    others = [k for k in range(12, TILE // 2) if min(abs(k - j) for j in jpeg) > 1]
    return np.concatenate([line[at], [line[others].max(), np.median(line[10:])]])
