"""SVG artwork drawn as pixels; nothing that it refers to outside itself is ever fetched.

The drawing is read, what leads outside or runs is left out, and only then the renderer sees it.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from io import BytesIO
from typing import Any
from xml.etree import ElementTree

from PIL import Image

from planner.artwork import source
from planner.artwork.framing import WHOLE, Window
from planner.artwork.source import UnreadableArtwork
from planner.artwork.svg_effects import are_too_heavy
from planner.artwork.svg_outlines import (
    LEAST_ROWS,
    MOST_EDGE_ROWS,
    MOST_POINTS,
    STROKED_EDGES,
    crossings,
    points_of,
)

_SVG = "{http://www.w3.org/2000/svg}"
_HREFS = ("href", "{http://www.w3.org/1999/xlink}href")
_LEFT_OUT = {f"{_SVG}script", f"{_SVG}foreignObject", f"{_SVG}iframe"}
_SAFE_HREF = re.compile(r"^\s*(#|data:image/(png|jpe?g|gif|webp)[;,])", re.IGNORECASE)
_PT_PER_UNIT = {
    "": 0.75,
    "px": 0.75,
    "pt": 1.0,
    "pc": 12.0,
    "in": 72.0,
    "cm": 72 / 2.54,
    "mm": 72 / 25.4,
    "q": 72 / 101.6,
}
"""CSS Values and Units 3, 5.2: 96 px to the inch."""
_LENGTH = re.compile(r"^\s*([+]?[\d.]+(?:e[+-]?\d+)?)\s*([a-z]*)\s*$", re.IGNORECASE)
_MOST_ELEMENTS = 300_000
"""Copies by `use` counted: enough for any drawing, too few for a bomb."""
_MOST_MARKED = 400_000
"""Elements of the largest marker times points: drawn in ten seconds."""
_MOST_DEPTH = 200
_STROKE = re.compile(r"stroke\s*:\s*(?!none|\s)")
_MOST_SVG_BYTES = 60_000_000
_FONT_FAMILY = re.compile(r"font-family\s*:\s*([^;}]+)")
_MOST_FONTS, _MOST_NAME = 3, 80
_STAND_IN = "Source Sans Pro"


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a drawing states of itself."""

    width_pt: float
    height_pt: float
    has_text: bool
    fonts: tuple[str, ...]
    """Names of the fonts that its text asks for, the first few."""


def describe_svg(data: bytes, name: str) -> Drawing:
    """Stated size, and whether the drawing holds text.

    Raises:
        UnreadableArtwork: damaged, of no size, or made to keep a reader busy.
    """
    root = _read(data, name)
    width, height = _size_pt(root, name)
    has_text = any(element.tag == f"{_SVG}text" for element in root.iter())
    return Drawing(width, height, has_text, _fonts(root) if has_text else ())


def _fonts(root: ElementTree.Element) -> tuple[str, ...]:
    """The first name of each list of fonts (CSS Fonts 3, 3.1), wherever it is set."""
    said = [element.get("font-family", "") for element in root.iter()]
    said += _FONT_FAMILY.findall(_styles(root))
    first = (names.partition(",")[0].strip(" \t\r\n\"'")[:_MOST_NAME] for names in said)
    return tuple(dict.fromkeys(name for name in first if name))[:_MOST_FONTS]


def draw_svg(data: bytes, width: int, height: int, name: str, *, window: Window = WHOLE) -> Image.Image:
    """What a window on the drawing shows at this size in pixels, "RGBA", ground transparent.

    Raises:
        UnreadableArtwork: as `describe_svg`, or the renderer could not make anything of it.
    """
    text, has_text = safe_drawing(data, width / window[2], height / window[3], name, window=window)
    try:
        renderer = import_module("resvg_py")
    except ImportError as error:
        raise _refused(name, "is an SVG drawing, which this copy of the planner cannot draw") from error
    with source.reading(name):
        drawn = renderer.svg_to_bytes(
            svg_string=text,
            width=width,
            height=height,
            skip_system_fonts=not has_text,
            **(_stand_in_fonts() if has_text else {}),
        )
        picture = source.open_picture(bytes(drawn), source.PNG, name).convert("RGBA")
    if picture.size != (width, height):
        exact = Image.new("RGBA", (width, height))
        exact.paste(picture, (0, 0))
        return exact
    return picture


def _stand_in_fonts() -> dict[str, Any]:
    """What text is drawn in whose font is not here: without it the renderer would leave the text out."""
    from font_source_sans_pro import font_directory

    family = {f"{kind}_family": _STAND_IN for kind in ("font", "serif", "sans_serif", "cursive", "fantasy")}
    return {"font_dirs": [str(font_directory)], **family}


def safe_drawing(
    data: bytes, width: float, height: float, name: str, *, window: Window = WHOLE
) -> tuple[str, bool]:
    """The drawing at this size in pixels, nothing in it that runs or leads outside; whether it has text.

    With a window only what is seen there, in as many pixels as the window has of the whole.

    Raises:
        UnreadableArtwork: as `describe_svg`, or its effects are more work than can be done.
    """
    root = _read(data, name)
    if are_too_heavy(root, round(width * height)):
        raise _refused(name, "has more blurs, shadows or textures than can be drawn at its size")
    rows = max(width, height, LEAST_ROWS) * (STROKED_EDGES if _STROKE.search(_styles(root)) else 1)
    if _unfolded(root, crossings, MOST_EDGE_ROWS / rows) > MOST_EDGE_ROWS / rows:
        raise _too_many_points(name)
    width_pt, height_pt = _size_pt(root, name)
    if "viewBox" not in root.attrib:
        root.set("viewBox", f"0 0 {width_pt / 0.75:g} {height_pt / 0.75:g}")
    root.set("width", f"{width:.10g}")
    root.set("height", f"{height:.10g}")
    has_text = any(element.tag == f"{_SVG}text" for element in root.iter())
    if window != WHOLE:
        root = _seen_through(root, width, height, window)
    return ElementTree.tostring(root, encoding="unicode"), has_text


def _seen_through(
    root: ElementTree.Element, width: float, height: float, window: Window
) -> ElementTree.Element:
    """The drawing inside another one that shows a part of it (SVG 1.1, 7.9)."""
    left, top, across, down = window
    places = (left * width, top * height, across * width, down * height)
    outer = ElementTree.Element(
        f"{_SVG}svg",
        width=f"{across * width:.10g}",
        height=f"{down * height:.10g}",
        viewBox=" ".join(f"{place:.10g}" for place in places),
    )
    root.set("x", "0")
    root.set("y", "0")
    outer.append(root)
    return outer


def _read(data: bytes, name: str) -> ElementTree.Element:
    """The drawing without scripts and without references that lead outside."""
    if len(data) > _MOST_SVG_BYTES:
        raise _refused(name, "is too large for a drawing")
    try:
        root = ElementTree.parse(BytesIO(data)).getroot()
    except (ElementTree.ParseError, ValueError, LookupError, RecursionError) as error:
        raise _refused(name, "is damaged or cut short: it is no complete SVG drawing") from error
    if root.tag != f"{_SVG}svg":
        raise _refused(name, "is no SVG drawing")
    if _unfolded(root, lambda _: 1, _MOST_ELEMENTS) > _MOST_ELEMENTS:
        raise _refused(name, "repeats its parts so often that drawing it would not end")
    if (points := _unfolded(root, points_of, MOST_POINTS)) > MOST_POINTS:
        raise _too_many_points(name)
    # A marker may be drawn at every point.
    marker = max((sum(1 for _ in element.iter()) for element in root.iter(f"{_SVG}marker")), default=0)
    if marker * points > _MOST_MARKED:
        raise _refused(name, "repeats its markers so often that drawing it would not end")
    for parent in root.iter():
        for child in list(parent):
            if child.tag in _LEFT_OUT or not isinstance(child.tag, str):
                parent.remove(child)
        for href in _HREFS:
            if href in parent.attrib and not _SAFE_HREF.match(parent.attrib[href]):
                del parent.attrib[href]
    return root


def _refused(name: str, why: str) -> UnreadableArtwork:
    return UnreadableArtwork(f"“{name}” {why}. Ask the customer for a PDF of it, or a PNG at print size.")


def _too_many_points(name: str) -> UnreadableArtwork:
    return UnreadableArtwork(
        f"“{name}” has outlines of so many points that drawing it would take minutes. Simplify its paths "
        "in a drawing program, or ask the customer for a PNG with a transparent ground at print size."
    )


def _styles(root: ElementTree.Element) -> str:
    """All that the drawing says of strokes, wherever it is said."""
    said = (
        f"{element.get('style', '')};stroke:{element.get('stroke', 'none')};"
        + (element.text or "" if element.tag == f"{_SVG}style" else "")
        for element in root.iter()
    )
    return " ".join(said)


def _unfolded(root: ElementTree.Element, own: Callable[[ElementTree.Element], float], most: float) -> float:
    """The sum of `own` with every `use` unfolded, as far as `most`; loops count as too many."""
    by_id = {element.get("id"): element for element in root.iter() if element.get("id")}
    known: dict[ElementTree.Element, float] = {}
    open_: set[ElementTree.Element] = set()

    def weigh(element: ElementTree.Element, depth: int) -> float:
        if element in known:
            return known[element]
        if element in open_ or depth > _MOST_DEPTH:
            return most + 1
        open_.add(element)
        total = own(element)
        parts = list(element)
        if element.tag == f"{_SVG}use":
            target = next((element.get(href) for href in _HREFS if element.get(href)), None) or ""
            used = by_id.get(target.removeprefix("#"))
            parts += [used] if used is not None else []
        for part in parts:
            total = min(most + 1, total + weigh(part, depth + 1))
        open_.discard(element)
        known[element] = total
        return total

    return weigh(root, 0)


def _size_pt(root: ElementTree.Element, name: str) -> tuple[float, float]:
    width, height = _points(root.get("width")), _points(root.get("height"))
    box = [part for part in re.split(r"[\s,]+", (root.get("viewBox") or "").strip()) if part]
    try:
        box_width, box_height = (float(box[2]), float(box[3])) if len(box) == 4 else (0.0, 0.0)
    except ValueError:
        box_width = box_height = 0.0
    if box_width > 0 and box_height > 0:
        if width and not height:
            height = width * box_height / box_width
        elif height and not width:
            width = height * box_width / box_height
        elif not width:
            width, height = box_width * 0.75, box_height * 0.75
    if not (width and height and 0.1 <= width <= 1e6 and 0.1 <= height <= 1e6):
        raise _refused(name, "states no size")
    return width, height


def _points(length: str | None) -> float | None:
    match = _LENGTH.match(length or "")
    if match is None or match[2].lower() not in _PT_PER_UNIT:
        return None
    try:
        return float(match[1]) * _PT_PER_UNIT[match[2].lower()] or None
    except ValueError:
        return None
