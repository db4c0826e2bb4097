"""Pieces arranged on sheets, rolls or groups: the one door to all arrangers."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from itertools import permutations
from math import isfinite

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way
from planner.sheets.copies import most_copies as most_copies
from planner.sheets.effort import Effort
from planner.sheets.extras import with_extras
from planner.sheets.filling import Sheet
from planner.sheets.fixed import FixedSheets
from planner.sheets.groups import Blocks
from planner.sheets.outlines import bettered, nested_on_one
from planner.sheets.problem import (
    Arrangement,
    FixedSheet,
    Group,
    LeftOver,
    LeftOverReason,
    Media,
    Piece,
    Request,
    Roll,
)
from planner.sheets.rolls import RollLengths
from planner.sheets.shapes import Shapes, shapes_of
from planner.sheets.task import Filled, Task, kept_sheet
from planner.sheets.together import seated
from planner.work.ticket import Ticket

_ORDERS = 6
"""Orders of the media that are tried where a request allows several."""
_BOXES = 0.3
"""Share of the effort for boxes on fixed sheets where outlines may do better,"""
_BOXES_S = 3.0
"""and the longest that they take there: what they have not found by then outlines will better anyway."""
_BOXES_IN_LENGTH = 0.05
"""The same on rolls and in groups, where outlines nearly always do."""
_WORTH_NESTING_S = 0.5
"""With less time than this the child process that nests would hardly have started."""

Improved = Callable[[Arrangement], None]


def arrange(request: Request, ticket: Ticket | None = None, improved: Improved | None = None) -> Arrangement:
    """The best arrangement found within the request's budget, or until the ticket is stopped.

    `improved` is called with the first answer and with every better one, from the thread that searches.
    Pieces that find no place come back as left over, with the reason; nothing is ever dropped silently.

    Raises:
        ValueError: a side, a gap or a count that is no length or number at all.
    """
    _refuse_nonsense(request)
    effort = Effort(request.budget_s, request.rounds, ticket)
    tell = improved or (lambda _: None)
    is_nested = request.way is Way.OUTLINE and any(piece.outline for piece in request.pieces)
    is_fixed = any(isinstance(medium, FixedSheet) for medium in request.media)
    boxes_effort = effort
    if is_nested and is_fixed:
        most = 1.0 if effort.is_counted else _BOXES_S / max(_BOXES_S, effort.left_s)
        boxes_effort = effort.share(min(_BOXES, most))
    elif is_nested:
        boxes_effort = effort.share(_BOXES_IN_LENGTH)
    arrangement = _Session(request, boxes_effort, tell).run()
    if is_nested:
        arrangement = bettered(request, arrangement, effort, tell)
    if request.extras:
        arrangement = with_extras(request, arrangement)
        tell(arrangement)
    return arrangement


def pack_one(
    pieces: Sequence[Piece],
    sheet: Size,
    *,
    gap_mm: float,
    margin_mm: float,
    way: Way,
    budget_s: float,
    seed: int = 0,
    rounds: int | None = None,
) -> Layout | None:
    """All the pieces on one sheet, or None where no way to do that was found in time.

    Too much area is refused at once; what fits easily is accepted by the first filling.
    """
    shapes = shapes_of([piece for piece in pieces if piece.count], gap_mm=gap_mm, margin_mm=margin_mm)
    width, height = shapes.room(sheet)
    if way is not Way.OUTLINE:
        area = sum(area * p.count for area, p in zip(shapes.areas, shapes.pieces, strict=True))
        if area > width * height:
            return None
        if not all(shapes.fits(kind, width, height) for kind in range(len(shapes.pieces))):
            return None
    media = (FixedSheet(sheet, most=1),)
    request = Request(
        shapes.pieces, media, gap_mm, margin_mm, way, seed=seed, budget_s=budget_s, rounds=rounds
    )
    if not shapes.pieces:
        return Layout(sheet, ())
    is_nested = way is Way.OUTLINE and any(piece.outline for piece in shapes.pieces)
    answer = arrange(replace(request, budget_s=_BOXES * budget_s) if is_nested else request)
    if len(answer.layouts) == 1 and not answer.left_over:
        return answer.layouts[0]
    if is_nested and budget_s >= _WORTH_NESTING_S:
        return nested_on_one(request, sheet, Effort((1 - _BOXES) * budget_s))
    return None


def _refuse_nonsense(request: Request) -> None:
    lengths = [request.gap_mm, request.margin_mm]
    for piece in (*request.pieces, *request.extras):
        lengths += [piece.width_mm, piece.height_mm]
        if piece.count < 0 or min(piece.width_mm, piece.height_mm) < 0.001:
            raise ValueError(f"{piece.key}: a piece needs two sides and a count of zero or more")
    if not all(isfinite(length) and length >= 0 for length in lengths):
        raise ValueError("a side, gap or margin is not a length")
    if not request.media:
        raise ValueError("there is no sheet to arrange the pieces on")


class _Session:
    """One request on its way to an answer."""

    def __init__(self, request: Request, effort: Effort, improved: Improved) -> None:
        self._request = request
        self._improved = improved
        self._effort = effort
        kept = tuple(
            Layout(layout.sheet, tuple(p for p in layout.placements if p.pinned))
            for layout in request.pinned
            for _ in range(layout.runs)
        )
        pinned = Counter(placement.print for layout in kept for placement in layout.placements)
        pieces = []
        for piece in request.pieces:
            done = min(piece.count, pinned[piece.key])
            pinned[piece.key] -= done
            pieces.append(replace(piece, count=piece.count - done))
        self._shapes = shapes_of(pieces, gap_mm=request.gap_mm, margin_mm=request.margin_mm)
        self._task = Task(self._shapes, request.way, request.seed, effort, kept)

    def run(self) -> Arrangement:
        items = self._shapes.items()
        orders = list(permutations(self._request.media))[:_ORDERS]
        starts = [self._started(order, items) for order in orders]
        chain, answer = min(starts, key=lambda start: self._cost(start[1]))
        self._improved(self._arrangement(answer))
        waiting = [*chain]
        while waiting:
            # Least first: what it leaves of its share, the others have.
            waiting.sort(key=lambda step: step.solver.may_gain)
            part = self._effort.share(_first_share([step.solver.may_gain for step in waiting]))
            self._improve(chain, waiting.pop(0), part)
            self._effort.spend(part)
        parts = [part.filled for part in chain]
        return self._arrangement(Filled(_all_layouts(parts), self._unplaced(chain, parts)))

    def _improve(self, chain: Sequence["_Step"], step: "_Step", effort: Effort) -> None:
        """One medium filled better, the others as they are."""

        def heard(filled: Filled) -> None:
            parts = [filled if other is step else other.filled for other in chain]
            self._improved(self._arrangement(Filled(_all_layouts(parts), self._unplaced(chain, parts))))

        step.filled = step.solver.improve(effort, heard)

    def _started(self, media: tuple[Media, ...], items: list[int]) -> tuple[list["_Step"], Filled]:
        """Each medium in turn filled with what fits it and the ones before had no room for."""
        chain: list[_Step] = []
        rest = items
        for number, medium in enumerate(media):
            step = _Step(self._task, medium, is_first=number == 0)
            rest = step.start(rest)
            chain.append(step)
            if not rest:
                break
            if number + 1 < len(media):
                step.solver.hand_on()
        return chain, Filled(_all_layouts([step.filled for step in chain]), tuple(rest))

    def _unplaced(self, chain: Sequence["_Step"], parts: Sequence[Filled]) -> tuple[int, ...]:
        """What no part of the chain holds."""
        return (*chain[-1].apart, *parts[-1].unplaced)

    def _cost(self, filled: Filled) -> tuple[int, float]:
        left = sum(self._shapes.areas[kind] for kind in filled.unplaced)
        return left, sum(layout.sheet.area_mm2 for layout in filled.layouts)

    def _arrangement(self, filled: Filled) -> Arrangement:
        left_over = []
        for kind, count in sorted(Counter(filled.unplaced).items()):
            piece = self._shapes.pieces[kind]
            left_over.append(_left_over(self._shapes, kind, piece, count, self._request.media))
        return Arrangement(filled.layouts, tuple(left_over))


class _Step:
    """One medium of a chain, and what it is filled with."""

    def __init__(self, task: Task, medium: Media, *, is_first: bool) -> None:
        self._task = task
        self._medium = medium
        self._is_first = is_first
        self.filled = Filled()
        self.apart: tuple[int, ...] = ()
        """Items that are too large for this medium, or must be together and are not."""

    def start(self, items: Sequence[int]) -> list[int]:
        """Fill the medium; returns what is not on it."""
        task, medium = self._task, self._medium
        shapes = task.shapes
        room = shapes.room(_largest(medium))
        kept = self._kept() if self._is_first else []
        wide = [room, *((sheet.width, sheet.height) for sheet in kept)]
        apart = [kind for kind in items if not any(shapes.fits(kind, *size) for size in wide)]
        too_large = set(apart)
        loose = [kind for kind in items if kind not in too_large]
        most = medium.most if isinstance(medium, FixedSheet) else None
        sets: dict[str, list[int]] = {}
        for kind in loose:
            word = shapes.pieces[kind].together
            if word is not None:
                sets.setdefault(word, []).append(kind)
        if sets:
            kept, failed = seated(task, list(sets.values()), kept, room, most)
            apart += [kind for items in failed for kind in items]
            loose = [kind for kind in loose if shapes.pieces[kind].together is None]
            if most is not None:
                most -= sum(1 for sheet in kept if sheet.number < 0)
        if isinstance(medium, Roll):
            self.solver: FixedSheets | RollLengths | Blocks = RollLengths(task, medium, kept)
        elif isinstance(medium, Group):
            self.solver = Blocks(task, medium, kept)
        else:
            self.solver = FixedSheets(task, medium.size, most, kept)
        self.apart = tuple(apart)
        self.filled = self.solver.start(loose)
        return [*apart, *self.filled.unplaced]

    def _kept(self) -> list[Sheet]:
        shapes, medium = self._task.shapes, self._medium
        longest = None if isinstance(medium, FixedSheet) else shapes.room(_largest(medium))[1]
        return [kept_sheet(shapes, layout, number, longest) for number, layout in enumerate(self._task.kept)]


def _first_share(gains: Sequence[float]) -> float:
    """How much of the effort the first of some media gets, by what better answers on each might save."""
    return gains[0] / sum(gains) if any(gains) else 1.0


def _largest(medium: Media) -> Size:
    if isinstance(medium, FixedSheet):
        return medium.size
    if isinstance(medium, Roll):
        return Size(medium.width_mm, medium.longest_mm)
    return medium.most


def _all_layouts(parts: Iterable[Filled]) -> tuple[Layout, ...]:
    return tuple(layout for part in parts for layout in part.layouts)


def _left_over(shapes: Shapes, kind: int, piece: Piece, count: int, media: Sequence[Media]) -> LeftOver:
    sizes = [_largest(medium) for medium in media]
    if any(shapes.fits(kind, *shapes.room(size)) for size in sizes):
        if piece.together is not None:
            return LeftOver(piece.key, count, LeftOverReason.NOT_TOGETHER)
        return LeftOver(piece.key, count, LeftOverReason.NO_ROOM)
    largest = max(sizes, key=lambda size: size.area_mm2)
    lost = 2 * shapes.margin / 1000
    room = Size(max(0.0, largest.width_mm - lost), max(0.0, largest.height_mm - lost))
    return LeftOver(piece.key, count, LeftOverReason.TOO_LARGE, Size(piece.width_mm, piece.height_mm), room)
