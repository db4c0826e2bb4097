"""Photographs as customers send them: untouched, or enlarged beforehand, then saved in some way."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from PIL import Image, ImageFilter

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
