"""Pieces arranged on sheets, rolls or groups: the one door to all arrangers."""

import time
from collections.abc import Callable

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.sheets.filling import Sheet
from planner.sheets.problem import Arrangement, FixedSheet, LeftOver, LeftOverReason, Piece, Request, Roll
from planner.sheets.search import first_answers
from planner.sheets.shapes import Shapes, layout_of, shapes_of
from planner.work.ticket import Ticket


def arrange(
    request: Request,
    ticket: Ticket | None = None,
    improved: Callable[[Arrangement], None] | None = None,
) -> Arrangement:
    """The best arrangement found within the request's budget, or until the ticket is stopped.

    `improved` is called with the first answer and with every better one, from the thread that searches.
    """
    began = time.monotonic()
    medium = request.media[0]
    size = (
        medium.size
        if isinstance(medium, FixedSheet)
        else Size(medium.width_mm, medium.longest_mm)
        if isinstance(medium, Roll)
        else medium.most
    )
    shapes = shapes_of(request.pieces, gap_mm=request.gap_mm, margin_mm=request.margin_mm)
    room = shapes.room(size)
    left_over = []
    items = []
    for kind, piece in enumerate(request.pieces):
        if shapes.fits(kind, *room):
            items += [kind] * piece.count
        elif piece.count:
            left_over.append(_too_large(shapes, kind, size))
    sheets = first_answers(
        shapes, items, [], room, request.way, lambda: time.monotonic() - began > min(0.05, request.budget_s)
    )
    answer = Arrangement(tuple(_layout(shapes, sheet, size) for sheet in sheets), tuple(left_over))
    if improved is not None:
        improved(answer)
    return answer


def _layout(shapes: Shapes, sheet: Sheet, size: Size) -> Layout:
    return layout_of(shapes, sheet.placed, size)


def _too_large(shapes: Shapes, kind: int, size: Size) -> LeftOver:
    piece: Piece = shapes.pieces[kind]
    lost = 2 * shapes.margin / 1000
    return LeftOver(
        piece.key,
        piece.count,
        LeftOverReason.TOO_LARGE,
        Size(piece.width_mm, piece.height_mm),
        Size(size.width_mm - lost, size.height_mm - lost),
    )


def pack_one(
    pieces: tuple[Piece, ...],
    sheet: Size,
    *,
    gap_mm: float,
    margin_mm: float,
    way: Way,
    budget_s: float,
    seed: int = 0,
    rounds: int | None = None,
) -> Layout | None:
    """All the pieces on one sheet, or None where no way to do that was found in time."""
    request = Request(
        tuple(pieces),
        (FixedSheet(sheet, most=1),),
        gap_mm,
        margin_mm,
        way,
        seed=seed,
        budget_s=budget_s,
        rounds=rounds,
    )
    answer = arrange(request)
    return answer.layouts[0] if len(answer.layouts) == 1 and not answer.left_over else None
