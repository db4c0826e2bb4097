"""How much work the outlines of an SVG drawing are: each row of pixels that an edge crosses costs."""

import re
from collections.abc import Iterator
from xml.etree import ElementTree

MOST_EDGE_ROWS = 40_000_000
"""Edges met, summed over the rows of pixels: the renderer passes some six million a second."""
MOST_POINTS = 2_000_000
FEW_CROSSINGS = 50
"""Up to so many cost no more than the element itself: a dot of a halftone has two."""
LEAST_ROWS = 2400
"""Rows reckoned with at least, so that what was taken in is never refused when it is drawn again."""
STROKED_EDGES = 4
"""Edges that a stroke makes of one: two sides, and a join at each end."""
_SVG = "{http://www.w3.org/2000/svg}"
_TOKEN = re.compile(r"[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_TAKES = {"M": 2, "L": 2, "T": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "A": 7}
"""Figures that a command takes (SVG 2, 9.3)."""

Point = tuple[float, float]


def points_of(element: ElementTree.Element) -> int:
    """About how many points the element states."""
    return sum(len(_TOKEN.findall(text)) for text in _outlines(element)) // 2


def crossings(element: ElementTree.Element) -> float:
    """How many of the element's edges a line across it meets on the average, in the worse direction.

    0 where they are few.
    """
    travelled_x = travelled_y = 0.0
    left = low = float("inf")
    right = high = float("-inf")
    for text in _outlines(element):
        for start, end in _edges(text if element.tag == f"{_SVG}path" else f"M{text}"):
            travelled_x += abs(end[0] - start[0])
            travelled_y += abs(end[1] - start[1])
            left, right = min(left, start[0], end[0]), max(right, start[0], end[0])
            low, high = min(low, start[1], end[1]), max(high, start[1], end[1])
    met = max(
        travelled_x / (right - left) if right > left else 0.0,
        travelled_y / (high - low) if high > low else 0.0,
    )
    return met if met > FEW_CROSSINGS else 0.0


def _outlines(element: ElementTree.Element) -> tuple[str, ...]:
    return tuple(text for text in (element.get("d"), element.get("points")) if text)


def _edges(text: str) -> Iterator[tuple[Point, Point]]:
    """Straight ones; a curve counts as the way along its control points, an arc as its chord."""
    command, at = "", (0.0, 0.0)
    figures: list[float] = []
    for token in _TOKEN.findall(text):
        if token.isalpha():
            command, figures = token, []
            continue
        figures.append(float(token))
        if len(figures) < _TAKES.get(command.upper(), 1):
            continue
        for to in _stations(command, figures, at):
            if command.upper() != "M":
                yield at, to
            at = to
        figures = []
        command = {"M": "L", "m": "l"}.get(command, command)


def _stations(command: str, figures: list[float], at: Point) -> list[Point]:
    """Where one command leads, in order; relative ones counted from where it starts."""
    from_x, from_y = at if command.islower() else (0.0, 0.0)
    match command.upper():
        case "H":
            return [(from_x + figures[0], at[1])]
        case "V":
            return [(at[0], from_y + figures[0])]
        case "A":
            return [(from_x + figures[5], from_y + figures[6])]
        case known if known in _TAKES:
            return [(from_x + x, from_y + y) for x, y in zip(figures[::2], figures[1::2], strict=True)]
    return []
