"""Which room of slicing trees a piece is put in: the inner loop of the search for straight cuts."""

from collections.abc import Sequence
from enum import IntEnum

from planner.sheets.slicing import Slot

Ways = tuple[tuple[int, int, bool], ...]
"""Width, height and "turned" of every way that a piece may lie."""

Choice = tuple[int, Slot, bool]
"""Score (lower is better), slot, turned."""


class Fit(IntEnum):
    """Which of the slots that a piece fits in is taken."""

    TIGHTER_SIDE = 0
    """Least left on the tighter side, of the room that is free anyway where the piece fits in that."""
    WIDER_SIDE = 1
    """The same on the wider side."""
    MOST_ROOM = 2
    """Least left on the tighter side of all the room there could be."""
    GROWTH = 3
    """Least room taken from other slots."""
    AREA = 4
    """The slot with the least room."""


def best_slot(slots: Sequence[Slot], ways: Ways, fit: Fit) -> Choice | None:
    """The best slot for the piece by `fit`, or None where it fits in none."""
    best: Slot | None = None
    least = 0
    is_turned = False
    rule = int(fit)
    for width, height, turned in ways:
        for slot in slots:
            if width > slot[0] or height > slot[1]:
                continue
            most_width, most_height, free_width, free_height, _, _, _ = slot
            if rule < 2:
                beside = free_width - width if width <= free_width else most_width - width
                below = free_height - height if height <= free_height else most_height - height
                if rule == 0:
                    score = beside if beside < below else below
                else:
                    score = beside if beside > below else below
            elif rule == 2:
                beside, below = most_width - width, most_height - height
                score = beside if beside < below else below
            elif rule == 3:
                score = width - free_width if width > free_width else 0
                if height > free_height:
                    score += height - free_height
            else:
                score = most_width * most_height
            if best is None or score < least:
                best, least, is_turned = slot, score, turned
    return None if best is None else (least, best, is_turned)
