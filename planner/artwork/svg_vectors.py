"""SVG artwork as a PDF page of vectors, given only where it looks like the drawing's pixels.

svg2pdf shares its reading of SVG with the renderer of the pixels (usvg), but a PDF cannot say everything
that SVG can: repeated gradients come out wrong, blurs as coarse pixels. So every page is drawn by PDFium and
held against the renderer's pixels, on white and on black, which tells colour and alpha alike.
"""

import re
from importlib import import_module

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planner.artwork import source
from planner.artwork.opencv import opencv
from planner.artwork.svg import describe_svg, draw_svg, safe_drawing
from planner.artwork.vectors import rasterise_on

COMPARED_PX = 1200
"""Longer side at which both are compared: 150 ppi of a print of 8 in."""
DRAWN_TIMES = 2
"""How much larger both are drawn before, so that the way an edge is softened counts for less."""
LEVELS_APART = 24
"""Of 255; a pixel this far outside what the pixels around it hold shows another picture."""
MOST_APART = 12
"""Pixels: a shape left out has more, and a gradient's rounding has none."""
_EFFECT = re.compile(r"\bfilter\s*[=:]|<(?:\w+:)?filter\b")

Pixels = NDArray[np.uint8]


def svg_page(data: bytes, name: str) -> bytes | None:
    """A PDF of one page that shows the drawing as vectors; None where it would look different.

    Raises:
        UnreadableArtwork: the drawing cannot be read at all.
    """
    drawing = describe_svg(data, name)
    width_pt, height_pt = drawing.width_pt, drawing.height_pt
    text, has_text = safe_drawing(data, width_pt, height_pt, name)
    if _EFFECT.search(text):  # Whatever has an effect on it becomes pixels of 72 ppi.
        return None
    try:
        converter = import_module("svg2pdf_py")
    except ImportError:
        return None
    fonts = converter.FontDatabase()
    if has_text:
        fonts.load_system_fonts()
    with source.reading(name):
        # Letters as outlines: a printer needs no fonts, and nothing is set anew.
        page: bytes = converter.svg_to_pdf(text, fonts, converter.ConversionOptions(embed_text=False))
    return page if _looks_alike(data, page, name) else None


def _looks_alike(data: bytes, page: bytes, name: str) -> bool:
    stated = describe_svg(data, name)
    scale = DRAWN_TIMES * COMPARED_PX / max(stated.width_pt, stated.height_pt)
    size = (max(1, round(stated.width_pt * scale)), max(1, round(stated.height_pt * scale)))
    drawing = draw_svg(data, *size, name)
    for ground in ("white", "black"):
        under = Image.new("RGBA", size, ground)
        under.alpha_composite(drawing)
        vectors = rasterise_on(page, size, ground, name=name)
        if pixels_apart(_reduced(under), _reduced(vectors)) > MOST_APART:
            return False
    return True


def _reduced(picture: Image.Image) -> Pixels:
    return np.asarray(picture.convert("RGB").reduce(DRAWN_TIMES))


def pixels_apart(wanted: Pixels, seen: Pixels) -> int:
    """How many pixels of `seen` differ from all that `wanted` holds there and next to it.

    Both (height, width, 3). An edge may be softened in another way, or lie a fraction of a pixel off.
    """
    cv2 = opencv()
    around = np.ones((3, 3), np.uint8)
    low, high = cv2.erode(wanted, around), cv2.dilate(wanted, around)
    apart = cv2.max(cv2.subtract(low, seen), cv2.subtract(seen, high))
    return int((apart.max(axis=2) > LEVELS_APART).sum())
