"""A sheet for straight cuts as its slicing tree: a row of parts, each a column of parts, and so on.

Slicing trees are R. H. J. M. Otten's ("Automatic floorplan design", 1982). A tree knows how much room its
parts need but not where they lie: what is left of a sheet belongs to no part until a piece is put there, so
no cut is fixed before it must be.

Rows hold no rows and columns no columns, so a tree on a sheet of W × H is at most (W + H) ÷ s deep if no
piece has a side shorter than s: in each row or column the part that goes deeper has a neighbour. The
functions here call themselves as deep; whoever makes trees sees to it that this is not too deep.
"""

from collections.abc import Collection, Sequence
from itertools import pairwise

from planner.sheets.maxrects import Box
from planner.sheets.shapes import Placed


class Part:
    """A piece (`kind`, `turned`; no `parts`), or parts in a row or a column and the room they need."""

    __slots__ = ("height", "is_row", "kind", "parent", "parts", "turned", "width")

    def __init__(
        self,
        width: int,
        height: int,
        kind: int = -1,
        turned: bool = False,
        *,
        is_row: bool = False,
        parts: "list[Part] | None" = None,
    ) -> None:
        self.width = width
        self.height = height
        self.kind = kind
        self.turned = turned
        self.is_row = is_row
        self.parts = parts
        self.parent: Part | None = None
        """What a row or column is in; of no meaning for pieces, which several trees share."""


Tree = Part | None
"""A sheet's whole part; None where it is empty."""

Slot = tuple[int, int, int, int, Part | None, Part | None, bool]
"""Room for one more piece.

The width and height it may have at most; those up to which the row or column it joins does not grow, except
along itself at its end; that row or column (None where there is none yet); the part it is to lie beside or
below (None at the end of the row or column); whether it lies beside.
"""


def joined(parts: list[Part], *, is_row: bool) -> Part:
    """The parts in a row or a column."""
    widths, heights = [part.width for part in parts], [part.height for part in parts]
    width, height = (sum(widths), max(heights)) if is_row else (max(widths), sum(heights))
    whole = Part(width, height, is_row=is_row, parts=parts)
    for part in parts:
        part.parent = whole
    return whole


def sliced(boxes: Sequence[Box], pieces: Sequence[tuple[int, bool]]) -> Tree:
    """The tree of pieces (kind, turned) in these boxes; None where no cuts part them all, or none are."""
    return _sliced(list(zip(boxes, pieces, strict=True))) if boxes else None


def _sliced(pieces: list[tuple[Box, tuple[int, bool]]]) -> Tree:
    if len(pieces) == 1:
        ((left, top, right, bottom), (kind, turned)) = pieces[0]
        return Part(right - left, bottom - top, kind, turned)
    for axis in (0, 1):
        pieces.sort(key=lambda piece: piece[0][axis])
        ends = [0]
        reach = pieces[0][0][axis + 2]
        for at, (box, _) in enumerate(pieces):
            if box[axis] >= reach:
                ends.append(at)
            reach = max(reach, box[axis + 2])
        if len(ends) > 1:
            parts = []
            for start, end in pairwise((*ends, len(pieces))):
                part = _sliced(pieces[start:end])
                if part is None:
                    return None
                parts.append(part)
            return joined(parts, is_row=axis == 0)
    return None


def put_down(part: Part, left: int, top: int, placed: list[Placed]) -> None:
    """Add the part's pieces to `placed`, everything pushed to the left and to the top."""
    if part.parts is None:
        placed.append((part.kind, left, top, part.turned))
        return
    for inner in part.parts:
        put_down(inner, left, top, placed)
        if part.is_row:
            left += inner.width
        else:
            top += inner.height


def add_parts(part: Part, found: list[Part]) -> None:
    """Add the part and all that it is divided into to `found`."""
    found.append(part)
    if part.parts is not None:
        for inner in part.parts:
            add_parts(inner, found)


def add_kinds(part: Part, kinds: list[int]) -> None:
    """Add the kinds of the part's pieces to `kinds`."""
    if part.parts is None:
        kinds.append(part.kind)
        return
    for inner in part.parts:
        add_kinds(inner, kinds)


def pruned(root: Part, doomed: Collection[Part], kinds: list[int]) -> Tree:
    """A copy without the doomed parts, pushed together; their pieces' kinds are added to `kinds`.

    Pieces are shared with the original, rows and columns are not.
    """
    if root in doomed:
        add_kinds(root, kinds)
        return None
    if root.parts is None:
        return root
    return _pruned(root, root.parts, doomed, kinds)


def _pruned(part: Part, parts: list[Part], doomed: Collection[Part], kinds: list[int]) -> Tree:
    is_row = part.is_row
    kept: list[Part] = []
    width = height = 0
    for inner in parts:
        if inner in doomed:
            add_kinds(inner, kinds)
            continue
        if inner.parts is None:
            kept.append(inner)
        else:
            copy = _pruned(inner, inner.parts, doomed, kinds)
            if copy is None:
                continue
            inner = copy
            if inner.parts is not None and inner.is_row == is_row:
                # All but one row of a column are gone: what is in it goes on with the row around.
                kept += inner.parts
            else:
                kept.append(inner)
        if is_row:
            width += inner.width
            if inner.height > height:
                height = inner.height
        else:
            height += inner.height
            if inner.width > width:
                width = inner.width
    if not kept:
        return None
    if len(kept) == 1:
        return kept[0]
    copy = Part(width, height, is_row=is_row, parts=kept)
    for inner in kept:
        inner.parent = copy
    return copy


def slots_of(root: Tree, width: int, height: int, least: int) -> list[Slot]:
    """All room on a sheet of this size for pieces with no side under `least`."""
    if root is None:
        return [(width, height, width, height, None, None, False)]
    slots: list[Slot] = []
    beside, below = width - root.width, height - root.height
    if beside >= least and (root.parts is None or not root.is_row):
        slots.append((beside, height, beside, root.height, None, root, True))
    if below >= least and (root.parts is None or root.is_row):
        slots.append((width, below, root.width, below, None, root, False))
    if root.parts is not None:
        _add_slots(root, root.parts, width, height, least, slots)
    return slots


def _add_slots(part: Part, parts: list[Part], width: int, height: int, least: int, slots: list[Slot]) -> None:
    """The slots inside a part that may grow to so much width and height."""
    if part.is_row:
        tight = part.height
        slack = width - part.width
        if slack >= least:
            slots.append((slack, height, slack, tight, part, None, True))
        for inner in parts:
            if inner.parts is not None:
                _add_slots(inner, inner.parts, inner.width + slack, height, least, slots)
            elif height - inner.height >= least:
                across, down = inner.width, inner.height
                slots.append((across + slack, height - down, across, tight - down, part, inner, False))
    else:
        tight = part.width
        slack = height - part.height
        if slack >= least:
            slots.append((width, slack, tight, slack, part, None, False))
        for inner in parts:
            if inner.parts is not None:
                _add_slots(inner, inner.parts, width, inner.height + slack, least, slots)
            elif width - inner.width >= least:
                across, down = inner.width, inner.height
                slots.append((width - across, down + slack, tight - across, down, part, inner, True))


def with_piece(root: Tree, slot: Slot, piece: Part) -> Part:
    """The tree with the piece in one of its slots; the tree given is changed."""
    _, _, _, _, home, mate, is_beside = slot
    width, height = piece.width, piece.height
    if mate is not None:
        wider, higher = mate.width, mate.height
        if is_beside:
            width += wider
            height = height if height > higher else higher
        else:
            width = width if width > wider else wider
            height += higher
        pair = Part(width, height, is_row=is_beside, parts=[mate, piece])
        mate.parent = pair
        if home is None:
            return pair
        assert home.parts is not None
        pair.parent = home
        home.parts[home.parts.index(mate)] = pair
        _grow_around(pair, width - wider, height - higher)
    elif home is not None:
        assert home.parts is not None
        home.parts.append(piece)
        if is_beside:
            height = height - home.height if height > home.height else 0
        else:
            width = width - home.width if width > home.width else 0
        home.width += width
        home.height += height
        _grow_around(home, width, height)
    else:
        return piece
    assert root is not None
    return root


def _grow_around(grown: Part, wider: int, higher: int) -> None:
    """Let what is around a part that has grown by so much grow with it, as far as it must."""
    around = grown.parent
    while around is not None and (wider or higher):
        if around.is_row:
            around.width += wider
            higher = grown.height - around.height
            if higher > 0:
                around.height = grown.height
            else:
                higher = 0
        else:
            around.height += higher
            wider = grown.width - around.width
            if wider > 0:
                around.width = grown.width
            else:
                wider = 0
        grown, around = around, around.parent
