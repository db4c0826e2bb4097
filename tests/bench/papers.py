"""Sheet files: size, time, exactness in two renderers, and memory on a long roll.

    python -m tests.bench.papers [--json OUT]

The set "60 copies of 6" is one sheet, 22 in wide, with ten copies of each of six artworks drawn here:
two cut-out photographs with grain, two flat logos, a soft gradient, fine lettering. The inputs are the
six PNG files as Pillow saves them. References are measured in the same run: reportlab drawing the same
files the plain way, zlib packing the same pixels, Pillow saving the same sheet.
"""

import argparse
import io
import resource
import subprocess
import sys
import tempfile
import time
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from PIL import Image, ImageDraw
from reportlab.pdfgen.canvas import Canvas

from planner.artwork.decoding import InProcess
from planner.artwork.page_items import PageItems, page_items
from planner.job.document import Artwork
from planner.measures.geometry import Rect, Size
from planner.paper.image_streams import ImageStore
from planner.paper.print_sheet import PrintPiece, PrintSheet, dots_of, sheet_dots
from planner.paper.sheet_pdf import sheet_pdf
from planner.paper.sheet_png import DEFLATE_LEVEL as PNG_LEVEL
from planner.paper.sheet_png import placed_pixels, strips, write_sheet_png
from planner.paper.verify import verify_pdf, verify_png
from tests.bench.report import Row, add_json_option, row, show

PPI = 300
MM_PER_DOT = 25.4 / PPI
ROLL_HEIGHT_IN = 240
MIB = 1 << 20
ZLIB_LEVEL = 4


class HeldInks:
    def __init__(self, pictures: dict[str, Image.Image]) -> None:
        self._pictures = pictures

    def picture(self, artwork: Artwork, size_px: tuple[int, int] | None = None) -> Image.Image:
        return self._pictures[artwork.key]

    def picture_of_file(self, data: bytes, artwork: Artwork, size_px: tuple[int, int]) -> Image.Image:
        return InProcess().printed(data, artwork, size_px)

    def plain_file(self, artwork: Artwork) -> bytes | None:
        return None

    def vector_page(self, artwork: Artwork) -> bytes | None:
        return None

    def page_items(self, pdf: bytes, name: str) -> PageItems:
        return page_items(pdf)


def pictures(width: int, height: int) -> dict[str, Image.Image]:
    """The six artworks, RGBA, all of one size."""
    rng = np.random.default_rng(11)
    y, x = np.mgrid[:height, :width].astype(np.float32)
    radius = np.hypot((x - width / 2) / (width / 2), (y - height / 2) / (height / 2))
    disc = np.clip((0.96 - radius) * height / 3, 0, 1)
    found = {}
    for number in (1, 2):
        waves = [128 + 90 * np.sin(x / (60 + 40 * c) + number) * np.cos(y / (90 - 20 * c)) for c in range(3)]
        grain = rng.normal(0, 3 + 2 * number, (height, width, 3))
        found[f"photo-{number}"] = _rgba(np.stack(waves, -1) + grain, disc)
    for number in (1, 2):
        rays = np.cos((8 + 5 * number) * np.arctan2(y - height / 2, x - width / 2)) > 0
        shape = np.clip((0.7 + 0.25 * rays - radius) * height / 3, 0, 1)
        colours = np.where((radius < 0.45)[..., None], (222, 160, 30), (16, 96, 104)).astype(np.float32)
        found[f"logo-{number}"] = _rgba(colours, shape)
    sweep = np.stack([255 * x / width, 255 * y / height, 255 - 255 * x / width], -1)
    found["gradient"] = _rgba(sweep, np.clip(1.05 - radius, 0, 1))
    found["lettering"] = _lettering(width, height)
    return found


def _rgba(colours: NDArray[np.floating], alpha: NDArray[np.floating]) -> Image.Image:
    pixels = np.empty((*alpha.shape, 4), np.uint8)
    pixels[..., :3] = np.where((alpha > 0)[..., None], np.clip(colours, 0, 255), 0)
    pixels[..., 3] = np.round(255 * alpha)
    return Image.fromarray(pixels)


def _lettering(width: int, height: int) -> Image.Image:
    picture = Image.new("RGBA", (width, height))
    draw = ImageDraw.Draw(picture)
    for line in range(0, height - 60, 64):
        for at in range(8, width - 60, 46):
            draw.arc((at, line, at + 36, line + 52), 20 * (at % 7), 300, (20, 20, 60, 255), width=6)
    return picture


def a_sheet(names: list[str], size_px: tuple[int, int], copies: int, sheet: Size) -> PrintSheet:
    """Copies in rows on whole dots, every third one turned, all in cells of the longer side."""
    cell = max(size_px) + 40
    a_row = int(sheet.width_mm / MM_PER_DOT) // cell
    pieces = []
    for at in range(copies * len(names)):
        name = names[at % len(names)]
        turned = 90 * (at % 3)
        width, height = size_px if turned != 90 else size_px[::-1]
        left, top = (at % a_row) * cell + 20, (at // a_row) * cell + 20
        box = Rect(*(side * MM_PER_DOT for side in (left, top, width, height)))
        artwork = Artwork(
            key=name, name=f"{name}.png", sha256="0" * 64, width_px=size_px[0], height_px=size_px[1]
        )
        own = Size(size_px[0] * MM_PER_DOT, size_px[1] * MM_PER_DOT)
        pieces.append(PrintPiece(artwork, box, own, turned))
    return PrintSheet(sheet, PPI, tuple(pieces), "bench")


def timed(work: Callable[[], object], times: int = 1) -> tuple[object, float]:
    """What the work gives, and the processor's seconds of its quickest turn, all threads together.

    Processor time, since others use the machine too.
    """
    seconds = []
    for _ in range(times):
        started = time.process_time()
        result = work()
        seconds.append(time.process_time() - started)
    return result, min(seconds)


def reportlab_plain(sheet: PrintSheet, files: dict[str, Path]) -> bytes:
    """The same sheet as reportlab makes it, files and defaults as they come."""
    buffer = io.BytesIO()
    inch = 72 / 25.4
    canvas = Canvas(buffer, (sheet.size.width_mm * inch, sheet.size.height_mm * inch))
    for piece in sheet.pieces:
        box = piece.box
        canvas.saveState()
        canvas.translate(
            (box.x_mm + box.width_mm / 2) * inch,
            (sheet.size.height_mm - box.y_mm - box.height_mm / 2) * inch,
        )
        canvas.rotate(-piece.turned_deg)
        width, height = piece.size.width_mm * inch, piece.size.height_mm * inch
        canvas.drawImage(str(files[piece.artwork.key]), -width / 2, -height / 2, width, height, mask="auto")
        canvas.restoreState()
    canvas.save()
    return buffer.getvalue()


def size_and_time(folder: Path) -> Iterator[Row]:
    """Sixty copies of six: bytes beside the inputs, seconds beside reportlab and zlib."""
    size_px = (1900, 1500)
    art = pictures(*size_px)
    files = {name: folder / f"{name}.png" for name in art}
    for name, picture in art.items():
        picture.save(files[name])
    inputs = sum(file.stat().st_size for file in files.values())
    sheet = a_sheet(list(art), size_px, 10, Size(22 * 25.4, 15.5 * 25.4 * 8))
    pdf, seconds = timed(lambda: sheet_pdf(sheet, ImageStore(HeldInks(art))), 4)
    plain, plain_seconds = timed(lambda: reportlab_plain(sheet, files), 2)
    raw = [picture.tobytes() for picture in art.values()]
    _, zlib_seconds = timed(lambda: [zlib.compress(pixels, ZLIB_LEVEL) for pixels in raw], 2)
    assert isinstance(pdf, bytes)
    assert isinstance(plain, bytes)
    path = folder / "sheet.pdf"
    path.write_bytes(pdf)
    _, checked = timed(lambda: verify_pdf(path, sheet, HeldInks(art)))
    name = "60 copies of 6"
    yield row(name, "PDF bytes / inputs", len(pdf), reference=inputs, seconds=seconds)
    yield row(name, "reportlab bytes / inputs", len(plain), reference=inputs, seconds=plain_seconds)
    yield row(name, "seconds / reportlab", seconds, reference=plain_seconds, seconds=seconds)
    yield row(name, "seconds / zlib of pixels", seconds, reference=zlib_seconds, seconds=seconds)
    yield row(name, "seconds to read back", checked, reference=seconds, seconds=checked)


def exactness(folder: Path) -> Iterator[Row]:
    """Black artworks on white: what a renderer paints tells alpha and place, dot by dot."""
    size_px = (570, 450)
    art = {}
    for name, picture in pictures(*size_px).items():
        alpha = picture.getchannel("A")
        black = Image.new("RGBA", picture.size)
        black.putalpha(alpha)
        art[name] = black
    sheet = a_sheet(list(art), size_px, 10, Size(22 * 25.4, 17 * 25.4))
    path = folder / "black.pdf"
    path.write_bytes(sheet_pdf(sheet, ImageStore(HeldInks(art))))
    width, height = sheet_dots(sheet)
    placed = placed_pixels(sheet, HeldInks(art))
    wanted = next(strips(width, height, placed, height))[1][..., 3]
    for renderer, render in (("pdftoppm", _by_pdftoppm), ("pdfium", _by_pdfium)):
        started = time.perf_counter()
        seen = render(path, width, height)
        seconds = time.perf_counter() - started
        worst_px, worst_level = 0, 0
        for piece, pixels in zip(sheet.pieces, placed, strict=True):
            box = dots_of(piece, PPI)
            rows, columns = (
                slice(box.top - 9, box.top + box.height + 9),
                slice(box.left - 9, box.left + box.width + 9),
            )
            worst_px = max(worst_px, _bounds_apart(seen[rows, columns], wanted[rows, columns]))
            inside = slice(box.top, box.top + box.height), slice(box.left, box.left + box.width)
            apart = np.abs(seen[inside].astype(int) - pixels.pixels[..., 3].astype(int))
            worst_level = max(worst_level, int(apart.max()))
        yield row(renderer, "placement, px", worst_px, seconds=seconds)
        yield row(renderer, "alpha, levels", worst_level, seconds=seconds)


def _by_pdftoppm(path: Path, width: int, height: int) -> NDArray[np.uint8]:
    stem = path.with_suffix("")
    subprocess.run(["pdftoppm", "-r", str(PPI), "-gray", "-singlefile", str(path), str(stem)], check=True)
    with Image.open(path.with_suffix(".pgm")) as picture:
        assert picture.size == (width, height)
        return 255 - np.asarray(picture)


def _by_pdfium(path: Path, width: int, height: int) -> NDArray[np.uint8]:
    document = pypdfium2.PdfDocument(path)
    # A hair under the exact scale: pdfium rounds the page up, and the exact one gives a dot too many.
    picture = document[0].render(scale=PPI / 72 - 1e-9).to_pil().convert("L")
    document.close()
    assert picture.size == (width, height)
    return 255 - np.asarray(picture)


def _bounds_apart(seen: NDArray[np.uint8], wanted: NDArray[np.uint8]) -> int:
    """How far apart the edges of what is painted are, in dots."""

    def bounds(pixels: NDArray[np.uint8]) -> NDArray[np.intp]:
        rows, columns = np.nonzero(pixels.any(1))[0], np.nonzero(pixels.any(0))[0]
        return np.array([rows[0], rows[-1], columns[0], columns[-1]])

    return int(np.abs(bounds(seen) - bounds(wanted)).max())


def sheet_png(folder: Path) -> Iterator[Row]:
    """6600 × 7200: our writer beside Pillow's at the same level."""
    size_px = (950, 750)
    art = pictures(*size_px)
    sheet = a_sheet(list(art), size_px, 7, Size(22 * 25.4, 24 * 25.4))
    path = folder / "sheet.png"
    placed, seconds = timed(lambda: write_sheet_png(sheet, HeldInks(art), path), 2)
    width, height = sheet_dots(sheet)
    whole = Image.fromarray(next(strips(width, height, placed, height))[1])  # type: ignore[arg-type]
    _, pillow = timed(lambda: whole.save(folder / "pillow.png", compress_level=PNG_LEVEL, dpi=(PPI, PPI)), 2)
    with Image.open(path) as ours:
        assert np.array_equal(np.asarray(ours), np.asarray(whole))
    name = f"PNG {width} × {height}"
    yield row(name, "seconds / Pillow", seconds, reference=pillow, seconds=seconds)
    yield row(
        name,
        "bytes / Pillow",
        path.stat().st_size,
        reference=(folder / "pillow.png").stat().st_size,
        seconds=seconds,
    )


def roll(folder: Path) -> Iterator[Row]:
    """A 22 × 240 in roll in a process of its own, written and read back: its peak memory."""
    for key, picture in pictures(1500, 1200).items():
        picture.save(folder / f"roll-{key}.png", compress_level=1)
    started = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.papers", "--roll-to", str(folder / "roll.png")],
        check=True,
        capture_output=True,
        text=True,
    )
    write_s, peak, empty = (float(part) for part in done.stdout.split())
    raw = 22 * PPI * ROLL_HEIGHT_IN * PPI * 4 / MIB
    name = "roll 22 × 240 in"
    yield row(name, "peak MiB / raw pixels", peak, reference=raw, seconds=time.perf_counter() - started)
    yield row(name, "of it before the sheet", empty, reference=raw, seconds=0.0)
    yield row(name, "seconds to write", write_s, seconds=write_s)


def write_roll(path: Path) -> None:
    """The roll's own process: prints seconds, peak and the peak before the sheet in MiB."""
    art = {}
    for file in sorted(path.parent.glob("roll-*.png")):
        with Image.open(file) as picture:
            art[file.stem] = picture.convert("RGBA")
    before = peak_mib()
    size_px = next(iter(art.values())).size
    sheet = a_sheet(list(art), size_px, 30, Size(22 * 25.4, ROLL_HEIGHT_IN * 25.4))
    placed, seconds = timed(lambda: write_sheet_png(sheet, HeldInks(art), path))
    verify_png(path, sheet, placed)  # type: ignore[arg-type]
    print(seconds, peak_mib(), before)


def peak_mib() -> float:
    """The most memory this process ever held."""
    status = Path("/proc/self/status")
    if status.exists():
        # getrusage would tell the peak of the parent, which Linux hands down when it starts a process.
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MIB


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    add_json_option(parser)
    parser.add_argument("--roll-to", type=Path, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.roll_to:
        write_roll(options.roll_to)
        return
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        rows = [made for part in (size_and_time, exactness, sheet_png, roll) for made in part(folder)]
    show(rows, options.json)


if __name__ == "__main__":
    main()
