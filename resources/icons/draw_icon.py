"""Draws the program's icon: pieces of different sizes ganged on one sheet, the last one on its way there.

`python resources/icons/draw_icon.py` writes `planner.png`, `planner.ico` and `planner.icns` beside itself.
"""

from pathlib import Path

from PIL import Image, ImageDraw

SIDE = 1024
_DRAWN = 2 * SIDE
"""Drawn twice as large and reduced: Pillow's shapes have no soft edges of their own."""
GROUND, SHEET, LINE = "#24405c", "#f4f1e8", "#c9c2ae"
SEA, SUN, CORAL = "#3f8f93", "#e2b13c", "#d0664a"


def icon() -> Image.Image:
    """The icon, "RGBA", `SIDE` pixels square."""
    big = Image.new("RGBA", (_DRAWN, _DRAWN), (0, 0, 0, 0))
    draw = ImageDraw.Draw(big)
    _box(draw, (0.04, 0.04, 0.96, 0.96), GROUND, corner=0.2)
    _box(draw, (0.18, 0.14, 0.74, 0.86), SHEET, corner=0.03)
    _box(draw, (0.24, 0.20, 0.68, 0.42), SEA, corner=0.02)
    _box(draw, (0.24, 0.46, 0.44, 0.60), SUN, corner=0.02)
    _box(draw, (0.24, 0.64, 0.44, 0.78), SUN, corner=0.02)
    for from_, to in (((0.49, 0.47), (0.67, 0.47)), ((0.49, 0.78), (0.67, 0.78))):
        draw.line([_at(from_), _at(to)], fill=LINE, width=_length(0.012))
    for from_, to in (((0.49, 0.47), (0.49, 0.78)), ((0.67, 0.47), (0.67, 0.78))):
        draw.line([_at(from_), _at(to)], fill=LINE, width=_length(0.012))
    piece = Image.new("RGBA", (_length(0.2), _length(0.33)), (0, 0, 0, 0))
    ImageDraw.Draw(piece).rounded_rectangle(
        (0, 0, piece.width - 1, piece.height - 1), radius=_length(0.02), fill=CORAL
    )
    turned = piece.rotate(-14, expand=True, resample=Image.Resampling.BICUBIC)
    big.alpha_composite(turned, _at((0.575, 0.47)))
    return big.convert("RGBa").resize((SIDE, SIDE), Image.Resampling.BOX).convert("RGBA")


def _box(
    draw: ImageDraw.ImageDraw, corners: tuple[float, float, float, float], fill: str, *, corner: float
) -> None:
    left, top, right, bottom = corners
    draw.rounded_rectangle((*_at((left, top)), *_at((right, bottom))), radius=_length(corner), fill=fill)


def _at(point: tuple[float, float]) -> tuple[int, int]:
    return _length(point[0]), _length(point[1])


def _length(share: float) -> int:
    return round(share * _DRAWN)


def main() -> None:
    folder = Path(__file__).parent
    drawn = icon()
    drawn.resize((256, 256), Image.Resampling.LANCZOS).save(folder / "planner.png", optimize=True)
    drawn.save(folder / "planner.ico", sizes=[(side, side) for side in (16, 24, 32, 48, 64, 128, 256)])
    drawn.resize((512, 512), Image.Resampling.LANCZOS).save(folder / "planner.icns")


if __name__ == "__main__":
    main()
