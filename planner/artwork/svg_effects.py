"""How much work the effects of an SVG drawing are: blurs and shadows cost by the pixel, each anew."""

import re
from xml.etree import ElementTree

MOST_EFFECT_PIXELS = 400_000_000
"""Pixels times effects laid over them: some forty shadows across a full front at 300 ppi."""
_MOST_OCTAVES = 12
"""Of turbulence: each halves the grain, and the twelfth is finer than any pixel."""
_MOST_REGION = 10.0
"""Of a filter's region, in sizes of what it is laid on; 1.2 is what the standard starts from."""
_SVG = "{http://www.w3.org/2000/svg}"
_FIGURE = re.compile(r"^\s*([-+]?[\d.]+(?:e[-+]?\d+)?)\s*(%?)", re.IGNORECASE)


def are_too_heavy(root: ElementTree.Element, pixels: int) -> bool:
    """Whether drawing the effects at so many pixels is out of proportion.

    Filter Effects Module 1: `filter` (9.1) with its region, `feTurbulence` (9.20), each primitive a pass.
    """
    primitives = {}
    for element in root.iter(f"{_SVG}filter"):
        if element.get("filterUnits") != "userSpaceOnUse" and _is_wide(element):
            return True
        primitives[element.get("id")] = max(1, sum(1 for _ in element.iter()) - 1)
    if any(
        _figure(element.get("numOctaves")) > _MOST_OCTAVES for element in root.iter(f"{_SVG}feTurbulence")
    ):
        return True
    most = max(primitives.values(), default=1)
    laid = sum(_lays_effect(element) for element in root.iter())
    return laid * most * pixels > MOST_EFFECT_PIXELS


def _is_wide(element: ElementTree.Element) -> bool:
    return any(abs(_figure(element.get(side))) > _MOST_REGION for side in ("x", "y", "width", "height"))


def _lays_effect(element: ElementTree.Element) -> bool:
    return "filter" in element.attrib or "filter:" in element.get("style", "").replace(" ", "")


def _figure(text: str | None) -> float:
    match = _FIGURE.match(text or "")
    if match is None:
        return 0.0
    try:
        return float(match[1]) / (100 if match[2] else 1)
    except ValueError:
        return 0.0
