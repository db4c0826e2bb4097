"""Pieces marked to share one sheet, where an order is one arrangement: a roll's lengths, a group."""

from dataclasses import replace

from planner.buying.ask import Ask, Found
from planner.measures.layout import sheets_with
from planner.sheets.arrange import arrange
from planner.sheets.problem import Arrangement, Request
from planner.work.ticket import Ticket

_WORD = "marked"


def marked_keys(ask: Ask) -> frozenset[str]:
    """Keys of the wants that must share one sheet."""
    return frozenset(want.key for want in ask.wants if want.one_sheet)


def is_apart(ask: Ask, found: Found) -> bool:
    """Whether pieces that must share one sheet are on several, or some are bought singly beside it."""
    marked = marked_keys(ask)
    singly = sum(count for key, count in found.singles if key in marked)
    return sheets_with(marked, found.layouts) + singly > 1


def arranged_together(ask: Ask, request: Request, ticket: Ticket | None) -> Arrangement:
    """The request arranged with all marked pieces on one sheet, or as it comes where they fit none."""
    marked = marked_keys(ask)
    # One sheet for all holds them together of itself, and is arranged more tightly when nothing is seated.
    if marked and len(arrange(replace(request, budget_s=0.0, rounds=0)).layouts) > 1:
        worded = tuple(
            replace(piece, together=_WORD) if piece.key in marked else piece for piece in request.pieces
        )
        answer = arrange(replace(request, pieces=worded), ticket)
        if not answer.left_over:
            return answer
    return arrange(request, ticket)
