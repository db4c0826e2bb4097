"""How much a PDF page unfolds to: forms that draw forms are the PDF's way to keep a reader busy for ever."""

import re
import zlib
from io import BytesIO
from typing import Any

import numpy as np

from planner.artwork.source import UnreadableArtwork

MOST_DRAWN = 300_000
"""Forms and patterns drawn on one page, counted each time; real artwork stays far below."""
MOST_INFLATED_BYTES = 250_000_000
"""Of the drawing operators of one page. The largest drawings come to a few tens of megabytes."""
MOST_CROSSINGS = 60_000
"""Edges of one page's outlines that a line across them meets: drawn within some ten seconds."""
_MANY_POINTS = 1000
"""Outlines of fewer are not looked into."""
_MOST_DEPTH = 60
_FIGURE = rb"[-+]?(?:\d+\.?\d*|\.\d+)"
_POINT = re.compile(rb"(%s)\s+(%s)\s+[mlcvy](?=\s|$)" % (_FIGURE, _FIGURE))
_PAINTED = re.compile(rb"\s(?:[fFsSbBn]\*?)(?=\s|$)")
"""The operators that end a path (ISO 32000-1, 8.5.3)."""
_NAME = re.compile(rb"/([^\s()<>\[\]{}/%]+)")


class _Endless(Exception):
    """The page draws itself, or so much that drawing it would not end."""


def refuse_endless(data: bytes, page: int, name: str) -> None:
    """Let only such a page pass whose drawing comes to an end.

    Raises:
        UnreadableArtwork: it unfolds to more than `MOST_DRAWN` parts, inflates to more than
            `MOST_INFLATED_BYTES`, draws itself, or its outlines make more than `MOST_CROSSINGS`.
    """
    import pikepdf

    try:
        with pikepdf.open(BytesIO(data)) as document:
            shown = document.pages[page].obj
            _Unfolding().parts(shown, _contents(shown), _resources(shown), 0)
    except _Endless as error:
        raise UnreadableArtwork(
            f"“{name}” repeats its parts so often, or has outlines of so many points, that drawing it "
            "would not end. Simplify its paths in a drawing program, or ask the customer for a PNG with a "
            "transparent ground at print size."
        ) from error
    except (
        Exception
    ):  # A second reader's trouble is none of the user's: PDFium may read the file all the same.
        return


class _Unfolding:
    """Counts what one page draws, every form as often as it is drawn."""

    def __init__(self) -> None:
        self._known: dict[tuple[int, int], int] = {}
        self._open: set[tuple[int, int]] = set()
        self._left_bytes = MOST_INFLATED_BYTES

    def parts(self, drawn: Any, streams: list[Any], resources: Any, depth: int) -> int:
        key = drawn.objgen
        if key in self._known:
            return self._known[key]
        if key in self._open or depth > _MOST_DEPTH:
            raise _Endless
        self._open.add(key)
        total = 1
        callees = _callees(resources)
        for stream in streams:
            text = self._inflated(stream)
            # Counted as parts, so that forms multiply them.
            total += round(_crossings(text) * MOST_DRAWN / MOST_CROSSINGS)
            if total > MOST_DRAWN:
                raise _Endless
            for called in _NAME.findall(text) if callees else ():
                callee = callees.get(called)
                if callee is not None:
                    own = callee.get("/Resources")
                    inner = resources if own is None else own
                    total += self.parts(callee, [callee], inner, depth + 1)
                    if total > MOST_DRAWN:
                        raise _Endless
        self._open.discard(key)
        if key != (0, 0):
            self._known[key] = total
        return total

    def _inflated(self, stream: Any) -> bytes:
        """The operators of one stream; of a simple one never more is inflated than is left to be."""
        filters = stream.get("/Filter")
        if str(filters) == "/FlateDecode" and "/DecodeParms" not in stream:
            text = zlib.decompressobj().decompress(stream.read_raw_bytes(), self._left_bytes)
        else:
            text = bytes(stream.read_bytes())
        self._left_bytes -= len(text)
        if self._left_bytes <= 0:
            raise _Endless
        return text


def _crossings(operators: bytes) -> float:
    """Edges that a line across them meets on the average, of all outlines of many points."""
    total = 0.0
    for path in _PAINTED.split(operators) if len(operators) > _MANY_POINTS else ():
        stated = _POINT.findall(path) if len(path) > 4 * _MANY_POINTS else ()
        if len(stated) > _MANY_POINTS:
            points = np.array(stated).astype(np.float64)
            travelled, extent = np.abs(np.diff(points, axis=0)).sum(axis=0), np.ptp(points, axis=0)
            total += float(np.divide(travelled, extent, out=np.zeros(2), where=extent > 0).max())
    return total


def _contents(page: Any) -> list[Any]:
    import pikepdf

    found = page.get("/Contents")
    if found is None:
        return []
    return list(found) if isinstance(found, pikepdf.Array) else [found]


def _resources(page: Any) -> Any:
    """ISO 32000-1, 7.7.3.4: a page without resources inherits its parents'."""
    holder, steps = page, 0
    while holder is not None and steps < _MOST_DEPTH:
        found = holder.get("/Resources")
        if found is not None:
            return found
        holder, steps = holder.get("/Parent"), steps + 1
    return None


def _callees(resources: Any) -> dict[bytes, Any]:
    """Forms and tiling patterns by the names that operators call them."""
    found: dict[bytes, Any] = {}
    if resources is None:
        return found
    for name, part in dict(resources.get("/XObject", {})).items():
        if part.get("/Subtype") == "/Form":
            found[name[1:].encode()] = part
    for name, part in dict(resources.get("/Pattern", {})).items():
        if part.get("/PatternType") == 1:
            found[name[1:].encode()] = part
    return found
