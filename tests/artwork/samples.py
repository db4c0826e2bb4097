"""Artwork drawn by code, and scikit-image's own photographs, for tests of reading and judging."""

from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageDraw

PHOTOGRAPHS = (
    "astronaut.png",
    "camera.png",
    "chelsea.png",
    "coffee.png",
    "hubble_deep_field.jpg",
    "moon.png",
    "motorcycle_left.png",
    "rocket.jpg",
)
"""Real pictures that scikit-image carries in its wheel."""


def shipped(name: str) -> Path:
    """Path of a file in scikit-image's data folder; nothing is downloaded."""
    import skimage

    return Path(skimage.__file__).parent / "data" / name


@lru_cache
def photograph(name: str = "astronaut.png") -> Image.Image:
    with Image.open(shipped(name)) as opened:
        return opened.convert("RGB")


def encoded(picture: Image.Image, format_name: str = "PNG", **options: Any) -> bytes:
    """The picture as a file's bytes."""
    buffer = BytesIO()
    picture.save(buffer, format_name, **options)
    return buffer.getvalue()


def logo(width: int = 600, height: int = 400, scale: int = 4) -> Image.Image:
    """A badge with a ring, bars and a hole on a clear ground, edges anti-aliased as by a good export."""
    big = Image.new("RGBA", (width * scale, height * scale), (0, 0, 0, 0))
    draw = ImageDraw.Draw(big)
    w, h = big.size
    draw.ellipse((0.1 * w, 0.1 * h, 0.9 * w, 0.9 * h), fill=(20, 60, 140, 255))
    draw.ellipse((0.2 * w, 0.2 * h, 0.8 * w, 0.8 * h), fill=(250, 220, 60, 255))
    draw.rectangle((0.4 * w, 0.3 * h, 0.46 * w, 0.7 * h), fill=(180, 30, 40, 255))
    draw.rectangle((0.54 * w, 0.3 * h, 0.6 * w, 0.7 * h), fill=(180, 30, 40, 255))
    return downscaled(big, (width, height))


def downscaled(big: Image.Image, size: tuple[int, int]) -> Image.Image:
    """Reduced with premultiplied alpha, so that clear pixels lend no colour to edges."""
    return big.convert("RGBa").resize(size, Image.Resampling.BOX).convert("RGBA")


def on_ground(motif: Image.Image, colour: tuple[int, int, int]) -> Image.Image:
    """The motif flattened on an opaque ground, as a customer without transparency sends it."""
    ground = Image.new("RGBA", motif.size, (*colour, 255))
    return Image.alpha_composite(ground, motif).convert("RGB")


def with_shadow(motif: Image.Image, blur_px: float = 12) -> Image.Image:
    """The motif over its own soft shadow."""
    from PIL import ImageFilter

    shadow = Image.new("RGBA", motif.size, (0, 0, 0, 0))
    alpha = motif.getchannel("A").filter(ImageFilter.GaussianBlur(blur_px)).point(lambda a: a * 0.6)
    shadow.putalpha(alpha)
    return Image.alpha_composite(shadow, motif)


def line_art(stroke_px: float, *, width: int = 400, height: int = 300, count: int = 5) -> Image.Image:
    """Dark parallel bars of one width, drawn with exact coverage, on a clear ground."""
    x = np.arange(width, dtype=np.float64)
    alpha = np.zeros(width)
    for bar in range(count):
        left = 40.3 + bar * 65.0
        alpha += np.clip(np.minimum(x + 1, left + stroke_px) - np.maximum(x, left), 0, 1)
    pixels = np.zeros((height, width, 4), np.uint8)
    pixels[20 : height - 20, :, 3] = np.round(255 * np.clip(alpha, 0, 1)).astype(np.uint8)
    pixels[..., :3] = (25, 25, 25)
    return Image.fromarray(pixels)
