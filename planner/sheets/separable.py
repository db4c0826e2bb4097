"""Whether boxes can be parted by cuts from edge to edge, fast: the arranger asks before every placing.

The validator has code of its own for the same question.
"""

from operator import itemgetter

from planner.sheets.maxrects import Box

_TOP = itemgetter(1)


def is_separable(boxes: list[Box]) -> bool:
    """Whether edge-to-edge cuts part all boxes, which must not overlap, from each other."""
    count = len(boxes)
    if count < 4:
        # Three boxes that do not overlap always come apart; the smallest pinwheel has four.
        return True
    boxes = sorted(boxes)
    reach = boxes[0][2]
    for at in range(1, count):
        box = boxes[at]
        if box[0] >= reach:
            return is_separable(boxes[:at]) and is_separable(boxes[at:])
        if box[2] > reach:
            reach = box[2]
    boxes.sort(key=_TOP)
    reach = boxes[0][3]
    for at in range(1, count):
        box = boxes[at]
        if box[1] >= reach:
            return is_separable(boxes[:at]) and is_separable(boxes[at:])
        if box[3] > reach:
            reach = box[3]
    return False


def cells_around(boxes: list[Box], room: Box) -> list[Box]:
    """Free rectangles that do not overlap, left by edge-to-edge cuts around the boxes.

    Where no cut goes through, the block is left without free room.
    """
    left, top, right, bottom = room
    if right <= left or bottom <= top:
        return []
    if not boxes:
        return [room]
    best: tuple[int, int, int] | None = None
    for axis in (0, 1):
        for box in boxes:
            for at in (box[axis], box[axis + 2]):
                if not room[axis] < at < room[axis + 2]:
                    continue
                if any(other[axis] < at < other[axis + 2] for other in boxes):
                    continue
                free = _freed(boxes, room, axis, at)
                if best is None or free > best[0]:
                    best = free, axis, at
    if best is None:
        return []
    _, axis, at = best
    near = [box for box in boxes if box[axis] < at]
    far = [box for box in boxes if box[axis] >= at]
    if axis == 0:
        halves: tuple[Box, Box] = (left, top, at, bottom), (at, top, right, bottom)
    else:
        halves = (left, top, right, at), (left, at, right, bottom)
    return cells_around(near, halves[0]) + cells_around(far, halves[1])


def _freed(boxes: list[Box], room: Box, axis: int, at: int) -> int:
    """The empty area a cut sets free at once, 0 where both sides hold boxes."""
    across = room[3 - axis] - room[1 - axis]
    if not any(box[axis] < at for box in boxes):
        return (at - room[axis]) * across
    if not any(box[axis] >= at for box in boxes):
        return (room[axis + 2] - at) * across
    return 0
