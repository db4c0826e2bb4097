"""Pictures of the guide, made from the real window: `python -m tests.pictures.guide [--to FOLDER]`."""

import argparse
import io
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from PIL import Image
from PySide6.QtCore import QBuffer, QIODevice, QRect
from PySide6.QtWidgets import QWidget

from planner.shop.resources import resource
from tests.pictures.demo_window import DemoWindow

_COLOURS = 96
"""Enough for a window of few colours, and a quarter of the bytes."""


def guide_pictures(demo: DemoWindow) -> dict[str, bytes]:
    """All pictures that the guide shows, as PNG, by their file names."""
    window = demo.window
    pages = window.pages
    taken = {"artwork.png": _grabbed(window.artwork, high_px=560)}
    for name, page in (("garments.png", window.garments), ("offers.png", window.offers)):
        pages.setCurrentWidget(page)
        demo.settle()
        taken[name] = _grabbed(page, high_px=420)
    taken["findings.png"] = _grabbed(window.findings, high_px=200)
    window.arrange()
    demo.settle()
    pages.setCurrentWidget(window.sheets)
    demo.settle()
    window.sheets.canvas.viewport().update()
    demo.settle()
    taken["sheets.png"] = _grabbed(window.sheets)
    taken["costs.png"] = _grabbed(window.costs, high_px=520)
    return taken


def _grabbed(widget: QWidget, *, high_px: int = 0) -> bytes:
    area = QRect(0, 0, widget.width(), min(widget.height(), high_px or widget.height()))
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    widget.grab(area).save(buffer, "PNG")
    seen = Image.open(io.BytesIO(bytes(buffer.data().data()))).convert("RGB")
    small = seen.quantize(_COLOURS, dither=Image.Dither.NONE)
    out = io.BytesIO()
    small.save(out, "PNG", optimize=True)
    return out.getvalue()


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--to", type=Path, default=resource("guide"), metavar="FOLDER")
    folder = parser.parse_args(arguments).to
    with tempfile.TemporaryDirectory() as own:
        demo = DemoWindow(Path(own))
        for name, data in guide_pictures(demo).items():
            (folder / name).write_bytes(data)
            sys.stdout.write(f"{name}: {len(data) // 1024} KiB\n")
        demo.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
