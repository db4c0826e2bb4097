"""The free room of a sheet as the list of its largest free rectangles.

Rectangles are tuples (left, top, right, bottom) of whole micrometres. The method is "maximal
rectangles": every free rectangle that cannot be made larger is kept, so they overlap each other
(J. Jylänki, "A Thousand Ways to Pack the Bin", 2010, section 4). These functions are the inner loop
of the search, hence tuples and early exits rather than objects.
"""

from enum import IntEnum

Box = tuple[int, int, int, int]


class Rule(IntEnum):
    """Which of the free rectangles that a piece fits in is taken."""

    SHORT_SIDE = 0
    """Least left beside the piece on the tighter side."""
    AREA = 1
    """The smallest free rectangle."""
    TOP = 2
    """As far up as possible, then as far left."""
    LEFT = 3
    """As far left as possible, then as far up."""
    LONG_SIDE = 4
    """Least left beside the piece on the wider side."""


_NOWHERE = 1 << 62


def best_spot(
    free: list[Box], width: int, height: int, may_turn: bool, rule: Rule
) -> tuple[int, int, int, int, bool] | None:
    """The best place by `rule`: (score, second score, x, y, turned), or None where the piece fits nowhere.

    Lower scores are better; they compare between sheets for the same piece and rule.
    """
    best, second = _NOWHERE, _NOWHERE
    x = y = 0
    is_turned = False
    for turned in (False, True):
        if turned:
            if not may_turn or width == height:
                break
            width, height = height, width
        for left, top, right, bottom in free:
            beside = right - left - width
            if beside < 0:
                continue
            below = bottom - top - height
            if below < 0:
                continue
            if rule == 0:
                score, tie = (beside, below) if beside < below else (below, beside)
            elif rule == 1:
                score = (right - left) * (bottom - top)
                tie = beside if beside < below else below
            elif rule == 2:
                score, tie = top + height, left
            elif rule == 3:
                score, tie = left + width, top
            else:
                score, tie = (below, beside) if beside < below else (beside, below)
            if score < best or (score == best and tie < second):
                best, second, x, y, is_turned = score, tie, left, top, turned
    if best == _NOWHERE:
        return None
    return best, second, x, y, is_turned


def take(free: list[Box], x1: int, y1: int, x2: int, y2: int, least: int) -> list[Box]:
    """The free rectangles once the box from (x1, y1) to (x2, y2) is used.

    Free rectangles with a side under `least` are dropped: no piece is that small.
    """
    kept: list[Box] = []
    new: list[Box] = []
    for box in free:
        left, top, right, bottom = box
        if x1 >= right or x2 <= left or y1 >= bottom or y2 <= top:
            kept.append(box)
            continue
        if x1 - left >= least:
            new.append((left, top, x1, bottom))
        if right - x2 >= least:
            new.append((x2, top, right, bottom))
        if y1 - top >= least:
            new.append((left, top, right, y1))
        if bottom - y2 >= least:
            new.append((left, y2, right, bottom))
    # A remainder can only lie inside another remainder or an untouched rectangle, never around one.
    for at, (left, top, right, bottom) in enumerate(new):
        for a, b, c, d in kept:
            if a <= left and b <= top and c >= right and d >= bottom:
                break
        else:
            for a, b, c, d in new[at + 1 :]:
                if a <= left and b <= top and c >= right and d >= bottom:
                    break
            else:
                kept.append((left, top, right, bottom))
    return kept
