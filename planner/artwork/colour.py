"""Colours as the eye compares them: sRGB to CIELAB, and the CIEDE2000 difference.

Sources: IEC 61966-2-1 (sRGB), CIE 15 (CIELAB, D65, 2°), and G. Sharma, W. Wu, E. N. Dalal, "The
CIEDE2000 color-difference formula", Color Research and Application 30 (2005), 21-30.
"""

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

# Linear sRGB to XYZ, IEC 61966-2-1, and the D65 white of CIE 15.
_TO_XYZ = np.array(
    [
        [0.412453, 0.357580, 0.180423],
        [0.212671, 0.715160, 0.072169],
        [0.019334, 0.119193, 0.950227],
    ]
)
_WHITE = np.array([0.95047, 1.0, 1.08883])
_POW25_7 = 25.0**7


@lru_cache(maxsize=1)
def _linear() -> FloatArray:
    """The linear value of each 8-bit sRGB level."""
    level = np.arange(256) / 255.0
    return np.where(level > 0.04045, ((level + 0.055) / 1.055) ** 2.4, level / 12.92)


def lab_of(rgb: ArrayLike) -> FloatArray:
    """CIELAB (D65) of 8-bit sRGB colours; the last axis holds R, G, B and becomes L*, a*, b*."""
    xyz = _linear()[np.asarray(rgb, dtype=np.uint8)] @ _TO_XYZ.T / _WHITE
    f = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16.0 / 116.0)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)], axis=-1)


def ciede2000(lab_1: ArrayLike, lab_2: ArrayLike) -> FloatArray:
    """CIEDE2000 difference of CIELAB colours along the last axis, shapes broadcast, kL = kC = kH = 1."""
    first, second = np.asarray(lab_1, dtype=np.float64), np.asarray(lab_2, dtype=np.float64)
    l1, a1, b1 = first[..., 0], first[..., 1], first[..., 2]
    l2, a2, b2 = second[..., 0], second[..., 1], second[..., 2]
    # Equations 2 to 7: a* stretched for greys, then chroma and hue.
    mean_c7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2.0) ** 7
    stretch = 1.5 - 0.5 * np.sqrt(mean_c7 / (mean_c7 + _POW25_7))
    a1, a2 = a1 * stretch, a2 * stretch
    c1, c2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1, h2 = _hue(a1, b1), _hue(a2, b2)
    # Equations 8 to 11: differences.
    grey = c1 * c2 == 0
    turn = h2 - h1
    turn = np.where(turn > 180.0, turn - 360.0, np.where(turn < -180.0, turn + 360.0, turn))
    turn = np.where(grey, 0.0, turn)
    delta_l, delta_c = l2 - l1, c2 - c1
    delta_h = 2.0 * np.sqrt(c1 * c2) * np.sin(np.radians(turn) / 2.0)
    # Equations 12 to 14: means; of hues along the shorter way round.
    mean_l, mean_c = (l1 + l2) / 2.0, (c1 + c2) / 2.0
    mean_h = _mean_hue(h1, h2, grey)
    return _weighed(delta_l, delta_c, delta_h, mean_l, mean_c, mean_h)


def _hue(a: FloatArray, b: FloatArray) -> FloatArray:
    return np.asarray(np.degrees(np.arctan2(b, a)) % 360.0)


def _mean_hue(h1: FloatArray, h2: FloatArray, grey: NDArray[np.bool_]) -> FloatArray:
    together = h1 + h2
    apart = np.abs(h1 - h2) > 180.0
    round_zero = np.where(together < 360.0, together + 360.0, together - 360.0)
    return np.where(grey, together, np.where(apart, round_zero, together) / 2.0)


def _weighed(dl: Any, dc: Any, dh: Any, mean_l: Any, mean_c: Any, mean_h: Any) -> FloatArray:
    """Equations 15 to 22: the differences by their weights, with the turn of blue."""
    rad = np.radians
    t = (
        1.0
        - 0.17 * np.cos(rad(mean_h - 30.0))
        + 0.24 * np.cos(rad(2.0 * mean_h))
        + 0.32 * np.cos(rad(3.0 * mean_h + 6.0))
        - 0.20 * np.cos(rad(4.0 * mean_h - 63.0))
    )
    offset = (mean_l - 50.0) ** 2
    s_l = 1.0 + 0.015 * offset / np.sqrt(20.0 + offset)
    s_c = 1.0 + 0.045 * mean_c
    s_h = 1.0 + 0.015 * mean_c * t
    c7 = mean_c**7
    r_c = 2.0 * np.sqrt(c7 / (c7 + _POW25_7))
    r_t = -np.sin(rad(60.0 * np.exp(-(((mean_h - 275.0) / 25.0) ** 2)))) * r_c
    l_, c_, h_ = dl / s_l, dc / s_c, dh / s_h
    return np.asarray(np.sqrt(np.maximum(l_**2 + c_**2 + h_**2 + r_t * c_ * h_, 0.0)))


def rgb_of_hex(hex_colour: str) -> tuple[int, int, int]:
    """R, G, B of "#rrggbb"."""
    return int(hex_colour[1:3], 16), int(hex_colour[3:5], 16), int(hex_colour[5:7], 16)


def hex_of_rgb(rgb: ArrayLike) -> str:
    """ "#rrggbb" of R, G, B."""
    red, green, blue = (int(value) for value in np.asarray(rgb).reshape(3))
    return f"#{red:02x}{green:02x}{blue:02x}"


@lru_cache(maxsize=4096)
def difference(hex_1: str, hex_2: str) -> float:
    """CIEDE2000 of two colours written "#rrggbb"."""
    return float(ciede2000(lab_of(rgb_of_hex(hex_1)), lab_of(rgb_of_hex(hex_2))))
