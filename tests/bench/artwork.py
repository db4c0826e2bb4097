"""Artwork: what reading and measuring costs against a plain decode, and how right the measurements are.

`python -m tests.bench.artwork [FILES…] [--only PART] [--json OUT]`. Without files a 43-megapixel
drawing with a photograph in it (PNG, "RGBA") and a 24-megapixel JPEG are made. Ratios are against
Pillow's decode of the same file in the same run; memory is what the process needs at its
peak beyond what it had, over the size of the decoded RGBA picture, measured in a process of its
own (Linux only).

Accuracy is tested on pictures drawn by code and on those of scikit-image's photographs that the weights
have not seen (`HELD_BACK`).
"""

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from io import BytesIO
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw

from planner.artwork.check import import_measured
from planner.artwork.facts import ArtworkFacts, Sharpness
from planner.artwork.measure import measure_picture
from planner.artwork.palette import palette_of
from planner.artwork.pixels import thumbnail
from planner.artwork.planes import planes_of
from planner.artwork.sharpness import sharpness_of
from planner.job.document import Artwork
from tests.artwork import samples
from tests.artwork.enlarged import HELD_BACK, KERNELS, SAVINGS, cropped, enlarged, saved
from tests.artwork.flat_art import flat_art
from tests.bench.report import Row, add_json_option, row, show

_ROUNDS = 7
_SURE = 0.9
_CLEARLY_ENLARGED = 2.0


def a_large_drawing(width: int = 6600, height: int = 6500) -> bytes:
    """A badge, some hundred lines and a photograph on a clear ground: 43 megapixels."""
    rng = np.random.default_rng(1)
    picture = samples.logo(width // 2, height // 2, 1).resize((width, height), Image.Resampling.BICUBIC)
    draw = ImageDraw.Draw(picture)
    for _ in range(400):
        x, y = rng.integers(0, width), rng.integers(0, height)
        end = (x + int(rng.integers(-600, 600)), y + int(rng.integers(-600, 600)))
        colour = (*(int(level) for level in rng.integers(0, 256, 3)), 255)
        draw.line((x, y, *end), fill=colour, width=int(rng.integers(2, 40)))
    photo = samples.photograph("coffee.png").resize((3600, 2400), Image.Resampling.BICUBIC)
    grain = rng.normal(0, 3, (2400, 3600, 1)).astype(np.float32)
    noisy = np.clip(np.asarray(photo) + grain, 0, 255).astype(np.uint8)
    picture.paste(Image.fromarray(noisy), (1500, 2000))
    return samples.encoded(picture, compress_level=6)


def a_large_photograph() -> bytes:
    """24 megapixels, as a camera saves it."""
    photo = samples.photograph("coffee.png").resize((6000, 4000), Image.Resampling.BICUBIC)
    return samples.encoded(photo, "JPEG", quality=92)


def _in_turns(works: Sequence[Callable[[], object]]) -> Iterator[list[float]]:
    for _ in range(_ROUNDS):
        taken = []
        for work in works:
            start = time.perf_counter()
            work()
            taken.append(time.perf_counter() - start)
        yield taken


def _decoded(data: bytes) -> Image.Image:
    with Image.open(BytesIO(data)) as opened:
        opened.load()
        return opened


def _speed(name: str, data: bytes) -> Iterator[Row]:
    works: tuple[Callable[[], object], ...] = (
        lambda: _decoded(data),
        lambda: import_measured(data, name),
        lambda: thumbnail(data, most_px=512),
    )
    for work in works:
        work()
    # In turns, and the quickest of each: another program's load then meets all alike.
    plain, whole, first = (min(taken) for taken in zip(*_in_turns(works), strict=True))
    yield row(name, "import and measure, s", whole, reference=plain, seconds=whole)
    yield row(name, "first thumbnail, s", first, reference=plain, seconds=first)


_MEMORY_PROBE = """
import sys
from pathlib import Path
from planner.artwork.check import import_measured
from tests.artwork import samples

def held(key):
    lines = Path("/proc/self/status").read_text().splitlines()
    return next(int(line.split()[1]) * 1024 for line in lines if line.startswith(key))

data = Path(sys.argv[1]).read_bytes()
import_measured(samples.encoded(samples.logo()), "warm.png")
import_measured(samples.encoded(samples.photograph(), "JPEG"), "warm.jpg")
Path("/proc/self/clear_refs").write_text("5")
before = held("VmRSS")
imported, facts = import_measured(data, "large")
print(held("VmHWM") - before, imported.width_px * imported.height_px * 4)
"""


def _memory(name: str, data: bytes) -> Row:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large"
        path.write_bytes(data)
        start = time.perf_counter()
        said = subprocess.run(
            [sys.executable, "-c", _MEMORY_PROBE, str(path)], capture_output=True, text=True, check=True
        )
    peak, decoded = (float(figure) for figure in said.stdout.split())
    return row(name, "peak memory, bytes", peak, reference=decoded, seconds=time.perf_counter() - start)


def _sharp(picture: Image.Image) -> Sharpness | None:
    planes = planes_of(picture.copy())
    return sharpness_of(planes, palette_of(planes).style)


def _facts(picture: Image.Image) -> ArtworkFacts:
    artwork = Artwork(key="a", name="a", sha256="0" * 64, width_px=picture.width, height_px=picture.height)
    return measure_picture(picture.copy(), artwork)


def _stroke_errors(start: float) -> Iterator[Row]:
    """Bars drawn 0.1 to 2 mm wide at 150 to 600 ppi, upright and slanting."""
    errors_px = []
    for ppi in (150, 300, 600):
        for width_mm in (0.1, 0.2, 0.3, 0.5, 0.7, 1.0, 1.4, 2.0):
            for angle in (0, 9, 27, 45):
                width_px = width_mm / 25.4 * ppi
                if width_px < 0.5:
                    continue
                strokes = _facts(_slanting_bar(width_px, angle)).strokes
                if not strokes:
                    errors_px.append(width_px)
                    continue
                half = strokes[-1].length_px / 2
                seen = next(thin.width_px for thin in strokes if thin.length_px >= half)
                errors_px.append(abs(seen - width_px))
    seconds = time.perf_counter() - start
    yield row("thin strokes", "median error, px", statistics.median(errors_px), seconds=seconds)
    yield row("thin strokes", "largest error, px", max(errors_px), reference=1.0, seconds=seconds)
    within = sum(error <= 1 for error in errors_px) / len(errors_px)
    yield row("thin strokes", "within 1 px, share", within, reference=1.0, seconds=seconds)


def _slanting_bar(width_px: float, angle_deg: float) -> Image.Image:
    """A bar of 300 px with exact coverage to a sixteenth of a pixel."""
    side, sub = 420, (np.arange(4) + 0.5) / 4
    y, x = np.mgrid[:side, :side].astype(np.float64)
    turn = np.radians(angle_deg)
    covered = np.zeros((side, side))
    for dy in sub:
        for dx in sub:
            across = (x + dx - side / 2) * np.cos(turn) + (y + dy - side / 2 - 0.3) * np.sin(turn)
            along = (y + dy - side / 2) * np.cos(turn) - (x + dx - side / 2) * np.sin(turn)
            covered += (np.abs(across) < width_px / 2) & (np.abs(along) < 150)
    pixels = np.zeros((side, side, 4), np.uint8)
    pixels[..., 3] = np.round(covered / 16 * 255)
    return Image.fromarray(pixels)


def _boxes(start: float) -> Iterator[Row]:
    rng = np.random.default_rng(4)
    grounds = [tuple(int(level) for level in rng.integers(0, 256, 3)) for _ in range(20)]
    boxed = [samples.on_ground(samples.logo(), ground) for ground in grounds]
    through_jpeg = [saved(picture, "JPEG 75") for picture in boxed]
    runs = [Image.alpha_composite(_run(rng), samples.logo()) for _ in range(20)]
    seconds = time.perf_counter() - start
    for name, pictures in (("flat", boxed), ("flat, JPEG 75", through_jpeg), ("gradient", runs)):
        found = sum(_facts(picture).ground is not None for picture in pictures) / len(pictures)
        yield row("boxes", f"{name} found, share", found, reference=1.0, seconds=seconds)
    clean = [samples.logo(), samples.line_art(3), samples.with_shadow(samples.logo())]
    accused = sum(_facts(picture).ground is not None for picture in clean) / len(clean)
    yield row("boxes", "cut-outs accused, share", accused, seconds=seconds)
    photos = [
        cropped(samples.photograph(name), most)
        for name in (*samples.PHOTOGRAPHS, "gravel.png", "grass.png", "brick.png")
        if name not in ("hubble_deep_field.jpg", "moon.png")  # Dark or grey on all four sides.
        for most in (900, 300)
    ]
    accused = sum(_facts(photo).ground is not None for photo in photos) / len(photos)
    yield row("boxes", "photographs accused, share", accused, seconds=seconds)


def _run(rng: np.random.Generator) -> Image.Image:
    """An opaque ground whose colour runs evenly from one corner to the other."""
    first, second = rng.integers(0, 256, 3), rng.integers(0, 256, 3)
    y, x = np.mgrid[:400, :600]
    along = ((x / 599 + y / 399) / 2)[..., None]
    return Image.fromarray((first + (second - first) * along).round().astype(np.uint8)).convert("RGBA")


def _specks_and_soft(start: float) -> Iterator[Row]:
    rng = np.random.default_rng(8)
    wrong, drawn = 0, 0
    for _ in range(10):
        picture = samples.logo()
        draw = ImageDraw.Draw(picture)
        places = [(int(x), int(y)) for y in range(6, 36, 14) for x in range(10, 590, 20)]
        chosen = [places[i] for i in rng.choice(len(places), 25, replace=False)]
        for x, y in chosen:
            side = int(rng.integers(0, 5))
            draw.rectangle((x, y, x + side, y + side), fill=(0, 0, 0, 255))
        specks = _facts(picture).specks
        wrong += abs((specks[-1].count if specks else 0) - len(chosen))
        drawn += len(chosen)
    yield row("specks", "miscounted, share", wrong / drawn, seconds=time.perf_counter() - start)
    errors = []
    for blur in (6, 12, 20):
        picture = samples.with_shadow(samples.logo(), blur)
        alpha = np.asarray(picture)[..., 3]
        truth = int(((alpha >= 8) & (alpha < 248)).sum())
        errors.append(abs(_facts(picture).soft[0].area_px - truth) / truth)
    yield row("soft edges", "largest area error, share", max(errors), seconds=time.perf_counter() - start)
    accused = float(bool(_facts(samples.logo()).soft))
    yield row("soft edges", "clean edges accused, share", accused, seconds=time.perf_counter() - start)


def _sharpness(start: float) -> Iterator[Row]:
    """Confusion by factor and saving; photographs that the weights have not seen."""
    savings = (*SAVINGS, "noise", "unsharp")
    all_found: list[bool] = []
    for factor in (1.5, 2.0, 3.0, 4.0):
        sure: dict[str, list[bool]] = {saving: [] for saving in savings}
        by_kernel: dict[str, list[bool]] = {kernel: [] for kernel in KERNELS}
        scales = []
        for name in HELD_BACK:
            for kernel in KERNELS:
                big = enlarged(samples.photograph(name), factor, kernel)
                for saving in savings:
                    found = _sharp(saved(big, saving))
                    is_sure = found is not None and found.confidence > _SURE
                    sure[saving].append(is_sure)
                    by_kernel[kernel].append(is_sure)
                    if is_sure and found is not None:
                        scales.append(found.scale / factor)
        seconds = time.perf_counter() - start
        hits_here = [hit for hits in sure.values() for hit in hits]
        all_found += hits_here if factor >= _CLEARLY_ENLARGED else []
        yield row(f"enlarged × {factor:g}", "all, found", statistics.mean(hits_here), seconds=seconds)
        for saving, hits in sure.items():
            yield row(f"enlarged × {factor:g}", f"{saving}, found", statistics.mean(hits), seconds=seconds)
        for kernel, hits in by_kernel.items():
            yield row(f"enlarged × {factor:g}", f"{kernel}, found", statistics.mean(hits), seconds=seconds)
        if scales:
            middle = statistics.median(scales)
            yield row(f"enlarged × {factor:g}", "scale told ÷ true, median", middle, seconds=seconds)
    seconds = time.perf_counter() - start
    yield row("enlarged × 2 and more", "all, found", statistics.mean(all_found), seconds=seconds)
    all_accused: list[bool] = []
    for saving in (*savings, "mosaic", "soft"):
        accused = [
            (found := _sharp(saved(cropped(samples.photograph(name)), saving))) is not None
            and found.confidence > _SURE
            for name in HELD_BACK
        ]
        all_accused += accused
        yield row(
            "untouched", f"{saving}, accused", statistics.mean(accused), seconds=time.perf_counter() - start
        )
    yield row("untouched", "all, accused", statistics.mean(all_accused), seconds=time.perf_counter() - start)


def _flat(start: float) -> Iterator[Row]:
    """Drawn artwork, which nobody may call enlarged."""
    told = {name: _sharp(picture) for name, picture in flat_art()}
    accused = [name for name, found in told.items() if found is not None and found.confidence > _SURE]
    nearest = max(found.confidence if found is not None else 0.0 for found in told.values())
    seconds = time.perf_counter() - start
    yield row("flat art", "pictures", len(told), seconds=seconds)
    yield row("flat art", "accused", len(accused), seconds=seconds)
    yield row("flat art", "highest confidence, accused from", nearest, reference=_SURE, seconds=seconds)


_TABLES = {
    "strokes": _stroke_errors,
    "boxes": _boxes,
    "specks": _specks_and_soft,
    "sharpness": _sharpness,
    "flat": _flat,
}
_MADE = {"drawing": "drawing 43 MP PNG", "photograph": "photograph 24 MP JPEG"}


def _rows(files: list[Path], only: str | None) -> Iterator[Row]:
    made = {"drawing 43 MP PNG": a_large_drawing, "photograph 24 MP JPEG": a_large_photograph}
    if files:
        for path in files:
            data = path.read_bytes()
            yield from (*_speed(path.name, data), _memory(path.name, data))
        return
    for name, make in made.items():
        if only is not None and name != _MADE.get(only):
            continue
        data = make()
        yield from (*_speed(name, data), _memory(name, data))
    for name, table in _TABLES.items():
        if only in (None, name):
            yield from table(time.perf_counter())


def main() -> None:
    parser = argparse.ArgumentParser(description="Cost and accuracy of measuring artwork.")
    parser.add_argument("files", nargs="*", type=Path, help="files to measure instead of the made ones")
    parser.add_argument("--only", choices=(*_MADE, *_TABLES), help="run this part alone")
    add_json_option(parser)
    wanted = parser.parse_args()
    show(_rows(wanted.files, wanted.only), wanted.json)


if __name__ == "__main__":
    main()
