"""One benchmark instance arranged, validated and held against a library."""

import time
from collections import Counter
from dataclasses import dataclass, replace
from typing import Any

from planner.measures.geometry import Size
from planner.measures.layout import Placement, Way
from planner.sheets.arrange import arrange
from planner.sheets.problem import Arrangement, FixedSheet, Piece, Request, Roll
from planner.sheets.validate import faults, placed_outline
from tests.bench.sheets_library import rectpack_height, rectpack_sheets, spyrrow_width


@dataclass(frozen=True)
class Outcome:
    """What one instance gave: the value, what was published, what the library made of it."""

    name: str
    figure: str
    value: float
    published: float | None
    bound: float | None
    """What no arrangement can be below; for outlines on fixed sheets the area in sheets, not rounded up."""
    library: str
    by_library: float | None
    seconds: float
    library_seconds: float
    pieces: int = 0
    first_seconds: float = 0.0
    """Until there was a first valid answer."""


def run_instance(
    instance: dict[str, Any], way: Way, seconds: float, seed: int, shapes: list[Any] | None = None
) -> Outcome:
    if "strip_height" in instance:
        return _outline_strip(instance, seconds, seed)
    if "H_opt" in instance:
        return _strip(instance, way, seconds, seed)
    if way is Way.OUTLINE:
        return _outline_sheets(instance, seconds, seed, shapes or [])
    return _sheets(instance, way, seconds, seed)


def rectangles(items: list[list[float]]) -> tuple[Piece, ...]:
    """Equal rectangles as one piece each; a unit of the file is taken as a millimetre."""
    counts = Counter((width, height) for width, height in items)
    return tuple(Piece(f"{w} × {h}", w, h, count) for (w, h), count in counts.items())


def _sheets(instance: dict[str, Any], way: Way, seconds: float, seed: int) -> Outcome:
    size = Size(instance["W"], instance["H"])
    request = Request(
        rectangles(instance["items"]), (FixedSheet(size),), 0, 0, way, seed=seed, budget_s=seconds
    )
    answer, spent_s, first_s = _timed(request)
    began = time.perf_counter()
    by_library = rectpack_sheets(instance["items"], instance["W"], instance["H"], way)
    published = instance.get("bk_RG3" if way is Way.STRAIGHT else "bk_RF")
    return Outcome(
        instance.get("id") or f"job {instance.get('seed')}",
        "sheets",
        answer.sheets,
        published,
        instance.get("area_lb"),
        "best of rectpack",
        by_library,
        spent_s,
        time.perf_counter() - began,
        sum(piece.count for piece in request.pieces),
        first_s,
    )


def _outline_sheets(instance: dict[str, Any], seconds: float, seed: int, shapes: list[Any]) -> Outcome:
    """Each size of the set takes the next of some published outlines, stretched to its box; against boxes."""
    pieces = tuple(
        replace(piece, outline=_stretched(shapes[number % len(shapes)], piece))
        for number, piece in enumerate(rectangles(instance["items"]))
    )
    media = (FixedSheet(Size(instance["W"], instance["H"])),)
    request = Request(pieces, media, 0, 0, Way.OUTLINE, seed=seed, budget_s=seconds)
    answer, spent_s, first_s = _timed(request)
    boxes, boxes_s, _ = _timed(replace(request, way=Way.LOOSE))
    return Outcome(
        instance.get("id") or f"job {instance.get('seed')}",
        "sheets",
        answer.sheets,
        None,
        outline_area(request, media[0].size),
        "boxes",
        boxes.sheets,
        spent_s,
        boxes_s,
        sum(piece.count for piece in pieces),
        first_s,
    )


def outline_area(request: Request, size: Size) -> float:
    """Sheets that the outlines cover, each grown by half the gap: rounded up, no arrangement needs fewer."""
    lost = 2 * request.margin_mm - request.gap_mm
    room = (size.width_mm - lost) * (size.height_mm - lost)
    covered = 0.0
    for piece in request.pieces:
        placement = Placement(piece.key, 0, 0, piece.width_mm, piece.height_mm)
        covered += piece.count * placed_outline(placement, piece.outline).buffer(request.gap_mm / 2).area
    return covered / room


def _stretched(item: dict[str, Any], piece: Piece) -> tuple[tuple[float, float], ...]:
    shape = outline_piece(item)
    assert shape.outline is not None
    across, down = piece.width_mm / shape.width_mm, piece.height_mm / shape.height_mm
    return tuple((x * across, y * down) for x, y in shape.outline)


def _strip(instance: dict[str, Any], way: Way, seconds: float, seed: int) -> Outcome:
    width, longest = instance["W"], 20 * instance["H_opt"]
    request = Request(
        rectangles(instance["items"]), (Roll(width, longest, 0.001),), 0, 0, way, seed=seed, budget_s=seconds
    )
    answer, spent_s, first_s = _timed(request)
    began = time.perf_counter()
    by_library = rectpack_height(instance["items"], width, longest)
    return Outcome(
        instance["id"],
        "height",
        sum(layout.sheet.height_mm for layout in answer.layouts),
        instance["H_opt"],
        None,
        "best of rectpack",
        by_library,
        spent_s,
        time.perf_counter() - began,
        sum(piece.count for piece in request.pieces),
        first_s,
    )


def _outline_strip(instance: dict[str, Any], seconds: float, seed: int) -> Outcome:
    pieces = tuple(outline_piece(item) for item in instance["items"])
    longest = 4 * instance["total_area"] / instance["strip_height"]
    longest = max(longest, 4 * max(max(p.width_mm, p.height_mm) for p in pieces))
    media = (Roll(instance["strip_height"], longest, 0.001),)
    request = Request(pieces, media, 0, 0, Way.OUTLINE, seed=seed, budget_s=seconds)
    answer, spent_s, first_s = _timed(request)
    length = sum(layout.sheet.height_mm for layout in answer.layouts)
    began = time.perf_counter()
    library = spyrrow_width(instance, seconds, seed)
    full = 100 * instance["total_area"] / instance["strip_height"]
    return Outcome(
        instance["name"],
        "density",
        full / length,
        instance.get("published", {}).get("avg_density"),
        None,
        "plain spyrrow",
        full / library,
        spent_s,
        time.perf_counter() - began,
        sum(piece.count for piece in request.pieces),
        first_s,
    )


def outline_piece(item: dict[str, Any]) -> Piece:
    """An outline of a nesting set as a piece; x and y swapped, as the roll runs downwards here.

    Swapping mirrors every outline, so a layout mirrors to one of the original set.
    """
    corners = [(y, x) for x, y in item["shape"]]
    if corners[0] == corners[-1]:
        corners.pop()
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    width, height = max(x for x, _ in corners) - left, max(y for _, y in corners) - top
    outline = tuple((x - left, y - top) for x, y in corners)
    angles = item.get("allowed_orientations")
    return Piece(
        str(item["id"]),
        width,
        height,
        item["demand"],
        may_turn=angles is None or 90 in angles,
        outline=outline,
        any_angle=angles is None,
        angles_deg=None if angles is None else tuple(angles),
    )


def _timed(request: Request) -> tuple[Arrangement, float, float]:
    """The checked answer, its seconds, those to the first one; raises where it is faulty or incomplete."""
    heard: list[float] = []
    began = time.perf_counter()
    answer = arrange(request, improved=lambda _: heard.append(time.perf_counter()))
    spent_s = time.perf_counter() - began
    outlines = {piece.key: piece.outline for piece in request.pieces}
    have: Counter[str] = Counter()
    for layout in answer.layouts:
        wrong = faults(
            layout, gap_mm=request.gap_mm, margin_mm=request.margin_mm, way=request.way, outlines=outlines
        )
        if wrong:
            raise SystemExit(f"The validator refuses a layout: {wrong[0]}")
        for placement in layout.placements:
            have[placement.print] += 1
    if have != Counter({piece.key: piece.count for piece in request.pieces}):
        raise SystemExit("Pieces are missing from the answer.")
    return answer, spent_s, heard[0] - began
