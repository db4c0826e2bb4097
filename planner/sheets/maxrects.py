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


Spot = tuple[int, int, int, int, bool]
"""Score, second score, x, y, turned. Lower scores are better; they compare between sheets."""


def best_spot(free: list[Box], width: int, height: int, may_turn: bool, rule: Rule) -> Spot | None:
    """The best place for the piece by `rule`, or None where it fits nowhere."""
    best: Spot | None = None
    for left, top, right, bottom in free:
        across, down = right - left, bottom - top
        if across >= width and down >= height:
            spot = _spot(left, top, across, down, width, height, False, rule)
            if best is None or spot < best:
                best = spot
        if may_turn and across >= height and down >= width:
            spot = _spot(left, top, across, down, height, width, True, rule)
            if best is None or spot < best:
                best = spot
    return best


def _spot(
    left: int, top: int, across: int, down: int, width: int, height: int, turned: bool, rule: Rule
) -> Spot:
    """The top left corner of a free rectangle as a place for a piece, scored by `rule`."""
    if rule == 2:
        return top + height, left, left, top, turned
    if rule == 3:
        return left + width, top, left, top, turned
    tighter, wider = across - width, down - height
    if tighter > wider:
        tighter, wider = wider, tighter
    if rule == 0:
        return tighter, wider, left, top, turned
    if rule == 1:
        return across * down, tighter, left, top, turned
    return wider, tighter, left, top, turned


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
    if len(free) == 1:
        # The remainders of one rectangle reach into each other but never hold each other.
        return kept or new
    # A remainder can only lie inside another remainder or an untouched rectangle, never around one.
    for at, box in enumerate(new, start=1):
        left, top, right, bottom = box
        for a, b, c, d in kept:
            if a <= left and b <= top and c >= right and d >= bottom:
                break
        else:
            for a, b, c, d in new[at:]:
                if a <= left and b <= top and c >= right and d >= bottom:
                    break
            else:
                kept.append(box)
    return kept
