"""Draws the demo's artwork: what the Harbour Lights community choir sends for its winter concert.

Run it to remake the files beside it: `python resources/demo/draw_artwork.py`. The choir is invented.
"""

import math
from pathlib import Path

import numpy as np
from font_source_sans_pro import SourceSansProBlack, SourceSansProSemibold
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter, ImageFont

FOLDER = Path(__file__).parent
OVERSAMPLED = 3
"""Drawn so many times larger and reduced, for clean edges."""

WARM = (246, 201, 95)
CREAM = (250, 241, 219)
SEA = (61, 139, 148)


def harbour_at_night(width_px: int = 3450, height_px: int = 2400) -> Image.Image:
    """A picture like a photograph: lamps along a quay at night, mirrored in the water."""
    rng = np.random.default_rng(1912)
    y = np.linspace(0, 1, height_px, dtype=np.float32)[:, None]
    x = np.linspace(0, 1, width_px, dtype=np.float32)[None, :]
    horizon = 0.56
    sky = np.array([[12, 18, 44], [38, 46, 92], [150, 92, 96]], np.float32)
    stops = np.array([0, 0.62, 1], np.float32)
    depth = np.clip(y / horizon, 0, 1)[:, 0]
    picture = np.stack([np.interp(depth, stops, sky[:, band]) for band in range(3)], -1)
    picture = np.repeat(picture[:, None, :].astype(np.float32), width_px, axis=1)
    water = y[:, 0] > horizon
    mirrored = np.clip((2 * horizon - y[:, 0]) * height_px, 0, height_px - 1).astype(int)
    hills = _hills(x[0], rng)
    land = (y < horizon) & (y > horizon - hills[None, :])
    picture[land] = np.array([16, 20, 36], np.float32)
    for lamp in range(46):
        at_x = 0.02 + 0.96 * (lamp + rng.uniform(-0.3, 0.3)) / 46
        at_y = horizon - rng.uniform(0.004, 0.05)
        strength = rng.uniform(60, 190)
        colour = np.array([[255, 206, 120], [255, 170, 96], [220, 232, 255]][rng.integers(3)], np.float32)
        _add_glow(picture, at_x, at_y, rng.uniform(0.004, 0.011), strength, colour)
    _add_stars(picture, rng, horizon)
    picture[water] = picture[mirrored[water]] * 0.62 + np.array([4, 10, 20], np.float32)
    picture[water] = _rippled(picture[water], rng)
    picture += rng.normal(0, 5.5, picture.shape).astype(np.float32)
    scene = Image.fromarray(np.clip(picture, 0, 255).astype(np.uint8), "RGB")
    return _with_lighthouse(scene, horizon)


def _hills(x: NDArray[np.float32], rng: np.random.Generator) -> NDArray[np.float32]:
    height = np.full_like(x, 0.05)
    for wave in range(1, 7):
        height += (0.03 / wave) * np.sin(x * 6.1 * wave + rng.uniform(0, 6.3)).astype(np.float32)
    return np.clip(height, 0.012, None)


def _add_glow(
    picture: NDArray[np.float32],
    at_x: float,
    at_y: float,
    radius: float,
    strength: float,
    colour: NDArray[np.float32],
) -> None:
    height, width = picture.shape[:2]
    reach = int(radius * width * 4)
    left, top = int(at_x * width), int(at_y * height)
    rows = slice(max(0, top - reach), min(height, top + reach))
    columns = slice(max(0, left - reach), min(width, left + reach))
    dy = (np.arange(rows.start, rows.stop) - top)[:, None]
    dx = (np.arange(columns.start, columns.stop) - left)[None, :]
    light = np.exp(-(dx**2 + dy**2) / (2 * (radius * width / 2) ** 2))
    picture[rows, columns] += (light * strength / 255)[..., None] * colour


def _add_stars(picture: NDArray[np.float32], rng: np.random.Generator, horizon: float) -> None:
    height, width = picture.shape[:2]
    for _ in range(420):
        left = rng.integers(2, width - 2)
        top = rng.integers(2, int(height * horizon * 0.8))
        picture[top : top + 2, left : left + 2] += rng.uniform(40, 190)


def _rippled(water: NDArray[np.float32], rng: np.random.Generator) -> NDArray[np.float32]:
    rows = len(water)
    shifted = np.empty_like(water)
    phase = rng.uniform(0, 6.3)
    for row in range(rows):
        nearness = row / rows
        shift = 26 * nearness * math.sin(row * (0.9 - 0.75 * nearness) + phase) + rng.normal(
            0, 2 + 7 * nearness
        )
        shifted[row] = np.roll(water[row], int(shift), axis=0)
    return shifted


def _with_lighthouse(scene: Image.Image, horizon: float) -> Image.Image:
    width, height = scene.size
    foot_x, foot_y = width * 0.76, height * (horizon + 0.012)
    tall = height * 0.36
    beam = Image.new("L", scene.size, 0)
    lamp = (foot_x, foot_y - tall * 0.93)
    ImageDraw.Draw(beam).polygon([lamp, (0, lamp[1] - height * 0.20), (0, lamp[1] + height * 0.04)], fill=120)
    beam = beam.filter(ImageFilter.GaussianBlur(width / 90))
    fade = Image.linear_gradient("L").rotate(90).resize(scene.size)
    beam = Image.composite(beam, Image.new("L", scene.size, 0), fade)
    scene.paste((255, 226, 160), mask=beam.point(lambda level: int(level * 0.55)))
    draw = ImageDraw.Draw(scene)
    bottom, top = tall * 0.10, tall * 0.062
    for band in range(5):
        low, high = band / 5, (band + 1) / 5
        y_low, y_high = foot_y - tall * 0.84 * low, foot_y - tall * 0.84 * high
        half_low, half_high = bottom + (top - bottom) * low, bottom + (top - bottom) * high
        draw.polygon(
            [
                (foot_x - half_low, y_low),
                (foot_x + half_low, y_low),
                (foot_x + half_high, y_high),
                (foot_x - half_high, y_high),
            ],
            fill=(176, 62, 48) if band % 2 else (206, 200, 188),
        )
    room = tall * 0.05
    draw.rectangle(
        [foot_x - room, foot_y - tall * 0.96, foot_x + room, foot_y - tall * 0.84], fill=(255, 232, 160)
    )
    draw.polygon(
        [
            (foot_x - room * 1.4, foot_y - tall * 0.96),
            (foot_x + room * 1.4, foot_y - tall * 0.96),
            (foot_x, foot_y - tall * 1.05),
        ],
        fill=(60, 28, 26),
    )
    return scene.filter(ImageFilter.UnsharpMask(2, 60, 2))


def _lighthouse_mark(
    draw: ImageDraw.ImageDraw, centre: float, top: float, tall: float, ink: tuple[int, int, int]
) -> None:
    """The choir's sign: a lighthouse whose beams are two staves."""
    half = tall * 0.15
    draw.polygon(
        [
            (centre - half * 0.62, top + tall * 0.34),
            (centre + half * 0.62, top + tall * 0.34),
            (centre + half, top + tall),
            (centre - half, top + tall),
        ],
        fill=ink,
    )
    draw.rectangle(
        [centre - half * 0.55, top + tall * 0.17, centre + half * 0.55, top + tall * 0.30], fill=WARM
    )
    draw.polygon(
        [(centre - half * 0.85, top + tall * 0.17), (centre + half * 0.85, top + tall * 0.17), (centre, top)],
        fill=ink,
    )
    for line in range(5):
        y = top + tall * (0.14 + 0.05 * line)
        slant = tall * 0.06 * (line - 2)
        for side in (-1, 1):
            start = (centre + side * half * 1.15, y)
            end = (centre + side * tall * 0.95, y + slant)
            draw.line([start, end], fill=ink, width=max(1, int(tall * 0.016)))
    for side, along, drop in ((-1, 0.55, 0.02), (1, 0.48, -0.02), (1, 0.74, 0.035), (-1, 0.8, -0.03)):
        x, y, r = centre + side * tall * along, top + tall * (0.25 + drop), tall * 0.042
        draw.ellipse([x - r * 1.25, y - r, x + r * 1.25, y + r], fill=WARM)
        draw.line([(x + r * 1.1, y), (x + r * 1.1, y - r * 4.2)], fill=WARM, width=max(1, int(r * 0.42)))


def choir_logo(width_px: int = 3400) -> Image.Image:
    """The choir's logo on a transparent ground: sign, name and place, in three flat colours."""
    scale = OVERSAMPLED
    width, height = width_px * scale, int(width_px * 0.62) * scale
    logo = Image.new("RGBA", (width, height), (*CREAM, 0))
    draw = ImageDraw.Draw(logo)
    _lighthouse_mark(draw, width / 2, height * 0.02, height * 0.56, CREAM)
    name = ImageFont.truetype(SourceSansProBlack, int(height * 0.235))
    under = ImageFont.truetype(SourceSansProSemibold, int(height * 0.083))
    draw.text((width / 2, height * 0.735), "Harbour Lights", font=name, fill=CREAM, anchor="mm")
    words = "COMMUNITY CHOIR"
    advance = width * 0.0435
    start = width / 2 - advance * (len(words) - 1) / 2
    for at, letter in enumerate(words):
        draw.text((start + at * advance, height * 0.925), letter, font=under, fill=WARM, anchor="mm")
    logo = logo.reduce(scale)
    box = logo.getchannel("A").getbbox()
    assert box is not None
    return logo.crop(box)


def sleeve_mark(width_px: int = 900) -> Image.Image:
    """A small one-colour mark for sleeves: a lamp over two waves."""
    scale = OVERSAMPLED
    side = width_px * scale
    mark = Image.new("RGBA", (side, side), (*CREAM, 0))
    draw = ImageDraw.Draw(mark)
    stroke = int(side * 0.05)
    lamp = (side * 0.5, side * 0.33)
    _dot(draw, lamp, side * 0.2, CREAM)
    _dot(draw, lamp, side * 0.15, (*CREAM, 0))
    _dot(draw, lamp, side * 0.07, CREAM)
    for turn in range(8):
        angle = math.radians(45 * turn + 22.5)
        ray = [
            (lamp[0] + reach * side * math.cos(angle), lamp[1] + reach * side * math.sin(angle))
            for reach in (0.245, 0.305)
        ]
        draw.line(ray, fill=CREAM, width=int(stroke * 0.8))
    for wave in range(2):
        level = side * (0.73 + 0.16 * wave)
        for step in range(2401):
            along = step / 2400
            at = (side * (0.06 + 0.88 * along), level + side * 0.045 * math.sin(along * 4 * math.pi))
            _dot(draw, at, stroke / 2, CREAM)
    mark = mark.reduce(scale)
    box = mark.getchannel("A").getbbox()
    assert box is not None
    return mark.crop(box)


def _dot(draw: ImageDraw.ImageDraw, at: tuple[float, float], radius: float, ink: tuple[int, ...]) -> None:
    draw.ellipse([at[0] - radius, at[1] - radius, at[0] + radius, at[1] + radius], fill=ink)


def emailed_poster(width_px: int = 640) -> Image.Image:
    """What a chat program made of the concert poster: far too few pixels, on a white ground."""
    scale = 2
    width, height = width_px * scale, int(width_px * 1.2) * scale
    poster = Image.new("RGB", (width, height), (255, 255, 255))
    draw = ImageDraw.Draw(poster)
    draw.ellipse([width * 0.16, height * 0.08, width * 0.84, height * 0.65], fill=SEA)
    _lighthouse_mark(draw, width / 2, height * 0.16, height * 0.34, CREAM)
    title = ImageFont.truetype(SourceSansProBlack, int(height * 0.105))
    small = ImageFont.truetype(SourceSansProSemibold, int(height * 0.05))
    draw.text((width / 2, height * 0.745), "Winter Concert", font=title, fill=(24, 34, 58), anchor="mm")
    draw.text((width / 2, height * 0.85), "Songs from the quay", font=small, fill=SEA, anchor="mm")
    return poster.reduce(scale)


def main() -> None:
    """Write the four files beside this one."""
    harbour_at_night().save(FOLDER / "harbour-at-night.jpg", quality=86, dpi=(72, 72), subsampling=0)
    choir_logo().save(FOLDER / "choir-logo.png", optimize=True)
    sleeve_mark().save(FOLDER / "sleeve-mark.png", optimize=True)
    emailed_poster().save(FOLDER / "poster-from-chat.jpg", quality=55)


if __name__ == "__main__":
    main()
