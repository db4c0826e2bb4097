"""Reads artwork through a bundle's own worker: `python packaging/bundle/try_reader.py PROGRAM`.

Run by the Python of the environment that was bundled, which starts the worker as the window would.
"""

import io
import sys

from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from planner.artwork.guarded import HIDDEN_ARGUMENT, Guarded

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" width="96" height="48"><rect width="9" height="9"/></svg>'


def main(program: str) -> int:
    """Exit status 0 where each kind came out at its right size."""
    picture, page = io.BytesIO(), io.BytesIO()
    Image.new("RGBA", (30, 20), "navy").save(picture, "WEBP")
    canvas = Canvas(page, pagesize=(72, 36))
    canvas.rect(9, 9, 9, 9)
    canvas.save()
    guard = Guarded(command=(program, HIDDEN_ARGUMENT))
    try:
        wide = {
            name: guard.imported(data, name).width_px
            for name, data in (("a.webp", picture.getvalue()), ("a.svg", SVG), ("a.pdf", page.getvalue()))
        }
    finally:
        guard.close()
    print(f"reader: {wide}")
    return 0 if wide == {"a.webp": 30, "a.svg": 300, "a.pdf": 300} else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
