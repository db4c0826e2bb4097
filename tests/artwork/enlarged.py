"""Photographs as customers send them: untouched, or enlarged beforehand, then saved in some way."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from tests.artwork import samples

FITTED_ON = (
    "astronaut.png",
    "chelsea.png",
    "motorcycle_left.png",
    "retina.jpg",
    "brick.png",
    "ihc.png",
    "coins.png",
)
HELD_BACK = ("camera.png", "coffee.png", "rocket.jpg", "hubble_deep_field.jpg", "gravel.png", "grass.png")
KERNELS = {
    "nearest": Image.Resampling.NEAREST,
    "bilinear": Image.Resampling.BILINEAR,
    "bicubic": Image.Resampling.BICUBIC,
    "Lanczos": Image.Resampling.LANCZOS,
}
FACTORS = (1.5, 2.0, 3.0, 4.0)
SAVINGS = ("as it is", "JPEG 95", "JPEG 75", "JPEG 50")
MOST_SIDE = 900


@dataclass(frozen=True, slots=True)
class Sent:
    """One picture with the truth about it."""

    photograph: str
    factor: float
    kernel: str
    saving: str
    picture: Image.Image


def saved(picture: Image.Image, saving: str, seed: int = 0) -> Image.Image:
    """The picture after a way of saving or handling it."""
    if saving.startswith("JPEG"):
        data = samples.encoded(picture, "JPEG", quality=int(saving[5:]))
        return Image.open(BytesIO(data)).convert("RGB")
    if saving == "noise":
        noise = np.random.default_rng(seed).normal(0, 3, (*picture.size[::-1], 3))
        return Image.fromarray(np.clip(np.asarray(picture) + noise, 0, 255).round().astype(np.uint8))
    if saving == "unsharp":
        return picture.filter(ImageFilter.UnsharpMask(1.5, 80, 2))
    if saving == "mosaic":
        return _through_a_mosaic(picture)
    if saving == "soft":
        return picture.filter(ImageFilter.GaussianBlur(0.6))
    return picture


def _through_a_mosaic(picture: Image.Image) -> Image.Image:
    """As a camera sees it: one colour a pixel, the others filled in from around, a little noise."""
    seen = np.asarray(picture).astype(np.float32)
    noise = np.random.default_rng(1).normal(0, 2, seen.shape).astype(np.float32)
    seen = seen + noise
    mask = np.zeros(seen.shape, np.float32)
    mask[::2, ::2, 0] = mask[1::2, 1::2, 2] = mask[::2, 1::2, 1] = mask[1::2, ::2, 1] = 1
    kernel = np.array([[1, 2, 1], [2, 4, 2], [1, 2, 1]], np.float32)
    import cv2

    filled = cv2.filter2D(seen * mask, -1, kernel) / cv2.filter2D(mask, -1, kernel)
    return Image.fromarray(np.clip(filled, 0, 255).round().astype(np.uint8))


def cropped(picture: Image.Image, most: int = MOST_SIDE) -> Image.Image:
    """The middle of the picture, for more of the same costs time and tells nothing new."""
    width, height = picture.size
    w, h = min(width, most), min(height, most)
    left, top = (width - w) // 2, (height - h) // 2
    return picture.crop((left, top, left + w, top + h))


def enlarged(picture: Image.Image, factor: float, kernel: str) -> Image.Image:
    """The middle of the picture, enlarged; no more than `MOST_SIDE` on a side comes out."""
    part = cropped(picture, round(MOST_SIDE / factor) + 8)
    size = (round(part.width * factor), round(part.height * factor))
    return cropped(part.resize(size, KERNELS[kernel]))


def originals(names: tuple[str, ...], savings: tuple[str, ...]) -> Iterator[Sent]:
    for name in names:
        photo = cropped(samples.photograph(name))
        for saving in savings:
            yield Sent(name, 1.0, "", saving, saved(photo, saving))


def reworked(names: tuple[str, ...]) -> Iterator[Sent]:
    """Honest photographs after more than one hand: reduced, cropped off the grid, saved twice."""
    for name in names:
        photo = cropped(samples.photograph(name))
        size = (round(photo.width * 0.7), round(photo.height * 0.7))
        smaller = photo.resize(size, Image.Resampling.LANCZOS)
        for saving in ("as it is", "JPEG 85", "JPEG 75", "JPEG 50"):
            yield Sent(name, 1.0, "", f"reduced, {saving}", saved(smaller, saving))
        off_grid = photo.crop((3, 5, photo.width, photo.height))
        yield Sent(name, 1.0, "", "cropped, JPEG 75", saved(off_grid, "JPEG 75"))
        for first, second in (("JPEG 75", "JPEG 85"), ("unsharp", "JPEG 75"), ("mosaic", "JPEG 85")):
            yield Sent(name, 1.0, "", f"{first}, {second}", saved(saved(photo, first), second))


def drawings(count: int, seed: int = 5) -> Iterator[Sent]:
    """Drawn art full of soft runs and shapes, saved in several ways: coarse for no fault of its pixels."""
    rng = np.random.default_rng(seed)
    wheel = samples.photograph("color.png")
    pictures = [_soft_runs(rng) for _ in range(count)] + [_shapes(rng) for _ in range(count)]
    for at, picture in enumerate((*pictures, wheel)):
        for saving in (*SAVINGS, "JPEG 85", "JPEG 60"):
            yield Sent(f"drawing {at}", 1.0, "", saving, saved(picture, saving))


def _soft_runs(rng: np.random.Generator) -> Image.Image:
    """Colour running as waves, with discs over it."""
    y, x = np.mgrid[:640, :800]
    waves = [
        128 + 110 * np.sin(x / rng.uniform(20, 90) + rng.uniform(0, 6)) * np.cos(y / rng.uniform(20, 90))
        for _ in range(3)
    ]
    picture = Image.fromarray(np.stack(waves, axis=-1).round().astype(np.uint8))
    return _with_discs(picture, rng, int(rng.integers(0, 12)))


def _shapes(rng: np.random.Generator) -> Image.Image:
    ground = Image.new("RGB", (1600, 1200), tuple(int(level) for level in rng.integers(0, 256, 3)))
    return _with_discs(ground, rng, 300).resize((800, 600), Image.Resampling.BOX)


def _with_discs(picture: Image.Image, rng: np.random.Generator, count: int) -> Image.Image:
    draw = ImageDraw.Draw(picture)
    for _ in range(count):
        x, y = (int(rng.integers(0, side)) for side in picture.size)
        r = int(rng.integers(6, 90))
        draw.ellipse(
            (x - r, y - r, x + r, y + r), fill=tuple(int(level) for level in rng.integers(0, 256, 3))
        )
    return picture


def enlargements(
    names: tuple[str, ...], savings: tuple[str, ...], factors: tuple[float, ...] = FACTORS
) -> Iterator[Sent]:
    for name in names:
        photo = samples.photograph(name)
        for factor in factors:
            for kernel in KERNELS:
                big = enlarged(photo, factor, kernel)
                for saving in savings:
                    yield Sent(name, factor, kernel, saving, saved(big, saving))
