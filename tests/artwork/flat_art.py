"""Flat artwork as customers send it: badges, text, thin lines, runs and half tones, saved or scanned."""

from collections.abc import Iterator

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from tests.artwork import samples
from tests.artwork.enlarged import saved

_SIZE = (900, 600)
_FINER = 4
"""Drawn so many times larger and reduced, which leaves edges as a good export does."""
HANDLINGS = ("as it is", "JPEG 95", "JPEG 75", "JPEG 50", "scanned", "scanned, JPEG 75")


def flat_art(seed: int = 11) -> Iterator[tuple[str, Image.Image]]:
    """Each drawing after each way of handling it, with what it is; none was ever enlarged."""
    rng = np.random.default_rng(seed)
    drawings = {
        "badge": samples.on_ground(samples.logo(*_SIZE), (255, 255, 255)),
        "badge on colour": samples.on_ground(samples.logo(*_SIZE), _colour(rng)),
        "small text": _text(14, (20, 20, 30), (255, 255, 255)),
        "text": _text(24, (20, 20, 30), (255, 255, 255)),
        "large text": _text(60, _colour(rng), (255, 255, 255)),
        "light text": _text(36, (250, 240, 200), (30, 50, 90)),
        "hair lines": _lines(rng, 1),
        "lines": _lines(rng, 3),
        "few discs": _discs(rng, 40, 4),
        "discs": _discs(rng, 120, 12),
        "many discs": _discs(rng, 300, 30),
        "run": _run(rng),
        "fine half tone": _half_tone(8),
        "half tone": _half_tone(16),
    }
    for name, drawing in drawings.items():
        for handling in HANDLINGS:
            yield f"{name}, {handling}", _handled(drawing, handling, rng)
    for name, clear in (("badge", samples.logo(*_SIZE)), ("bars", samples.line_art(2))):
        yield f"{name}, clear ground", clear


def _handled(drawing: Image.Image, handling: str, rng: np.random.Generator) -> Image.Image:
    if not handling.startswith("scanned"):
        return saved(drawing, handling)
    # The grain of paper is grey.
    grain = rng.normal(0, 4, (drawing.height, drawing.width, 1))
    scanned = Image.fromarray(np.clip(np.asarray(drawing) + grain, 0, 255).round().astype(np.uint8))
    return saved(scanned, handling.removeprefix("scanned").removeprefix(", ") or "as it is")


def _colour(rng: np.random.Generator) -> tuple[int, int, int]:
    red, green, blue = (int(level) for level in rng.integers(0, 256, 3))
    return red, green, blue


def _fine_ground() -> Image.Image:
    return Image.new("RGB", (_SIZE[0] * _FINER, _SIZE[1] * _FINER), (250, 250, 245))


def _text(height_px: int, ink: tuple[int, int, int], ground: tuple[int, int, int]) -> Image.Image:
    picture = Image.new("RGB", _SIZE, ground)
    draw, face = ImageDraw.Draw(picture), ImageFont.load_default(height_px)
    for top in np.arange(20, 560, height_px * 1.3):
        draw.text((20, top), "Harbour Lights community choir, winter concert", fill=ink, font=face)
    return picture


def _lines(rng: np.random.Generator, width_px: int) -> Image.Image:
    big = _fine_ground()
    draw = ImageDraw.Draw(big)
    for _ in range(60):
        ends = [(int(rng.integers(0, big.width)), int(rng.integers(0, big.height))) for _ in range(2)]
        draw.line(ends, fill=_colour(rng), width=width_px * _FINER)
    return big.resize(_SIZE, Image.Resampling.BOX)


def _discs(rng: np.random.Generator, count: int, colours: int) -> Image.Image:
    big, inks = _fine_ground(), [_colour(rng) for _ in range(colours)]
    draw = ImageDraw.Draw(big)
    for _ in range(count):
        x, y, r = (int(rng.integers(*ends)) for ends in ((0, big.width), (0, big.height), (40, 500)))
        draw.ellipse((x - r, y - r, x + r, y + r), fill=inks[int(rng.integers(0, colours))])
    return big.resize(_SIZE, Image.Resampling.BOX)


def _run(rng: np.random.Generator) -> Image.Image:
    """A badge on a ground whose colour runs from one corner to the other."""
    first, second = rng.integers(0, 256, 3), rng.integers(0, 256, 3)
    y, x = np.mgrid[: _SIZE[1], : _SIZE[0]]
    along = ((x / _SIZE[0] + y / _SIZE[1]) / 2)[..., None]
    ground = Image.fromarray((first + (second - first) * along).round().astype(np.uint8)).convert("RGBA")
    return Image.alpha_composite(ground, samples.logo(*_SIZE)).convert("RGB")


def _half_tone(pitch_px: int) -> Image.Image:
    """Dots that grow from left to right."""
    y, x = np.mgrid[: _SIZE[1] * _FINER, : _SIZE[0] * _FINER] / _FINER
    away = np.hypot(x % pitch_px - pitch_px / 2, y % pitch_px - pitch_px / 2)
    dots = np.where(away < x / _SIZE[0] * pitch_px * 0.7, 30, 250).astype(np.uint8)
    return Image.fromarray(dots).resize(_SIZE, Image.Resampling.BOX).convert("RGB")
