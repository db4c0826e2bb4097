"""Colours that a transfer printer cannot hold, by the profile that its offer carries."""

from base64 import b64decode, b64encode
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork.colour import ciede2000, hex_of_rgb, lab_of
from planner.artwork.facts import Glance
from planner.artwork.planes import INK, Plane
from planner.artwork.regions import CELLS, Grid
from planner.artwork.shape_checks import Case
from planner.job.findings import Finding, FindingKind, Seriousness
from planner.shop.offers import PROFILE_STEPS, PrintProfile

MOST_SHIFT_DE = 5.0
"""CIEDE2000 beyond which anyone sees two colours side by side as different (from memory)."""
_LEAST_SHARE = 0.005
_TELLING_SHARE = 0.05
_STEP = 255 / (PROFILE_STEPS - 1)


def glance_of(sample: Plane) -> Glance:
    """A sample of "RGBA" pixels thinned to a `Grid`'s cells."""
    height, width = sample.shape[:2]
    scale = min(1.0, CELLS / max(width, height))
    size = max(1, round(width * scale)), max(1, round(height * scale))
    small = Image.fromarray(sample).resize(size, Image.Resampling.NEAREST)
    return Glance(width_px=size[0], height_px=size[1], rgba=b64encode(small.tobytes()).decode())


def colours_shift(case: Case) -> tuple[Finding, ...]:
    """Ink in colours that change visibly in print; nothing where the offer has no profile."""
    facts, profile = case.facts, case.rule.profile
    if profile is None or facts.glance is None:
        return ()
    ink, lost, commonest = _lost(facts.glance, profile)
    share = int(np.count_nonzero(lost)) / max(1, int(np.count_nonzero(ink)))
    if share < _LEAST_SHARE:
        return ()
    grid = Grid(facts.glance.width_px, facts.glance.height_px)
    grid.add(lost.astype(np.uint8), 0)
    return (
        case.finding(
            FindingKind.COLOURS_SHIFT,
            Seriousness.LOOK if share >= _TELLING_SHARE else Seriousness.NOTE,
            found=round(share, 4),
            area_mm2=round(share * facts.ink_px * case.mm_per_px**2, 1),
            subject=commonest,
            regions=grid.regions(),
        ),
    )


@lru_cache(maxsize=64)
def _lost(glance: Glance, profile: PrintProfile) -> tuple[NDArray[np.bool_], NDArray[np.bool_], str]:
    """Where there is ink, where its colour is lost, and which lost colour is the commonest."""
    pixels = np.frombuffer(b64decode(glance.rgba), np.uint8).reshape(glance.height_px, glance.width_px, 4)
    ink = pixels[..., 3] >= INK
    colours, which, times = np.unique(pixels[ink][:, :3], axis=0, return_inverse=True, return_counts=True)
    beyond = shifts_de(colours, profile) > MOST_SHIFT_DE
    lost = np.zeros(ink.shape, bool)
    lost[ink] = beyond[which.ravel()]
    commonest = hex_of_rgb(colours[np.argmax(np.where(beyond, times, 0))]) if beyond.any() else ""
    return ink, lost, commonest


def shifts_de(rgb: NDArray[np.uint8], profile: PrintProfile) -> NDArray[np.float64]:
    """How far 8-bit sRGB colours, shape (n, 3), move in print: CIEDE2000."""
    table = np.frombuffer(b64decode(profile.shifts), np.int8).reshape(*[PROFILE_STEPS] * 3, 3)
    at = rgb / _STEP
    low = np.minimum(at.astype(np.intp), PROFILE_STEPS - 2)
    part = at - low
    moved = np.zeros((len(rgb), 3))
    for corner in np.ndindex(2, 2, 2):
        weight = np.prod(np.where(corner, part, 1 - part), axis=1)
        red, green, blue = (low + corner).T
        moved += weight[:, None] * table[red, green, blue]
    lab = lab_of(rgb)
    return ciede2000(lab, lab + moved)
