"""Pieces nested into each other's hollows by their true outlines, on a strip of given width.

spyrrow does the search; here its input is made safe and its output is brought back and checked.
"""

import multiprocessing
import os
from collections.abc import Generator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from shapely import affinity
from shapely.geometry import Point, Polygon

from planner.measures.geometry import Size
from planner.measures.layout import Layout, placed_about
from planner.sheets.effort import Effort
from planner.sheets.nest_child import search
from planner.sheets.outline import corners_of, rectangle, sound_outline
from planner.sheets.problem import Piece
from planner.sheets.validate import is_sound, placed_outline

_MOST_CORNERS = 40
_FINEST_MM = 0.05
WORKERS = max(1, min(4, os.cpu_count() or 1))
"""Threads that search at once."""
_ROOM_MM = 0.001
"""An outline exactly as high as the strip makes spyrrow panic."""

_Placing = tuple[str, float, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Nesting:
    """Pieces to be nested and the rules for it."""

    pieces: tuple[Piece, ...]
    gap_mm: float
    margin_mm: float
    seed: int


def nested(nesting: Nesting, sheet: Size, effort: Effort) -> Generator[Layout, None, None]:
    """Ever shorter layouts on a sheet of this width, each checked; its height is what is used of it.

    Nothing comes where the search fails. The child process is gone when the iteration ends, however it
    ends. Pieces that are too large must have been taken out.
    """
    items = [
        (str(number), _swapped(grown_outline(piece, nesting.gap_mm)), piece.count, angles_of(piece))
        for number, piece in enumerate(nesting.pieces)
        if piece.count
    ]
    if not items or effort.left_s <= 0:
        return
    width = sheet.width_mm - 2 * nesting.margin_mm + nesting.gap_mm + _ROOM_MM
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    seconds = max(1, ceil(effort.left_s))
    child = context.Process(
        target=search, args=(theirs, width, items, seconds, nesting.seed, WORKERS), daemon=True
    )
    child.start()
    theirs.close()
    try:
        while not effort.is_over():
            if not ours.poll(min(0.05, effort.left_s)):
                continue
            answers = _received(ours)
            for answer in reversed(answers):
                layout = None if answer is None else _layout(nesting, sheet.width_mm, answer[1])
                if layout is not None:
                    yield layout
                    break
            if None in answers:
                return
    finally:
        child.terminate()
        child.join()
        child.close()
        ours.close()


def _received(connection: Any) -> list[tuple[float, list[_Placing]] | None]:
    """All that has come so far, shortest last; None last once no more will come."""
    answers: list[tuple[float, list[_Placing]] | None] = []
    while not answers or (answers[-1] is not None and connection.poll(0)):
        try:
            answers.append(connection.recv())
        except EOFError:
            answers.append(None)
    return answers


def angles_of(piece: Piece) -> list[float] | None:
    """Angles that the piece may stand at, None for any."""
    if piece.angles_deg is not None:
        return [float(angle) for angle in piece.angles_deg]
    if not piece.may_turn:
        return [0.0]
    is_free = piece.any_angle and sound_outline(piece.outline) is not None
    return None if is_free else [0.0, 90.0, 180.0, 270.0]


def grown_outline(piece: Piece, gap_mm: float) -> list[tuple[float, float]]:
    """Corners of an outline at least half the gap outside the piece's, with few corners."""
    shape = _polygon(piece)
    if gap_mm == 0 and len(shape.exterior.coords) <= _MOST_CORNERS + 1:
        return list(corners_of(shape))
    tolerance = _FINEST_MM
    while True:
        # Simplifying moves the outline by the tolerance at most, so it is grown by that much first.
        grown = shape.buffer(gap_mm / 2 + tolerance, join_style="mitre", mitre_limit=2).simplify(tolerance)
        assert isinstance(grown, Polygon)
        corners = list(corners_of(grown))
        if len(corners) <= _MOST_CORNERS or tolerance > 0.02 * max(piece.width_mm, piece.height_mm):
            return corners
        tolerance *= 1.5


def _polygon(piece: Piece) -> Polygon:
    outline = sound_outline(piece.outline)
    return rectangle(piece.width_mm, piece.height_mm) if outline is None else Polygon(outline)


def _swapped(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """x and y exchanged: spyrrow's strip has a fixed height and grows to the right, ours grows downwards.

    With y running down here and up there this turns the picture by a quarter, it does not mirror it.
    """
    return [(y, x) for x, y in corners]


def _layout(nesting: Nesting, width_mm: float, placings: Sequence[_Placing]) -> Layout | None:
    """A layout from what spyrrow placed, or None where it does not stand the check."""
    shift = nesting.margin_mm - nesting.gap_mm / 2
    placements = []
    lowest = 0.0
    for name, rotation, (along, across) in placings:
        piece = nesting.pieces[int(name)]
        # Counter-clockwise there is counter-clockwise here, and placements are turned clockwise.
        turned = -rotation % 360
        size = Size(piece.width_mm, piece.height_mm)
        # The search turns about the piece's top left corner; a placement tells where the middle comes to lie.
        middle = affinity.rotate(Point(size.width_mm / 2, size.height_mm / 2), turned, origin=(0, 0))
        centre = middle.x + across + shift, middle.y + along + shift
        placement = placed_about(piece.key, size, centre, round(turned, 9) % 360)
        placements.append(placement)
        lowest = max(lowest, placed_outline(placement, piece.outline).bounds[3])
    placements.sort(key=lambda placement: (placement.y_mm, placement.x_mm))
    layout = Layout(Size(width_mm, lowest + nesting.margin_mm), tuple(placements))
    sound = is_sound(layout, nesting.pieces, gap_mm=nesting.gap_mm, margin_mm=nesting.margin_mm)
    return layout if sound else None
