"""Where a dragged box catches: margin, gap, neighbours' edges and centre lines, with the guides to show."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum

from planner.measures.geometry import Rect, Size


class GuideKind(IntEnum):
    """What a box caught on; of two equally near ones the first wins."""

    MARGIN = 0
    GAP = 1
    EDGE = 2
    CENTRE = 3


@dataclass(frozen=True, slots=True)
class Guide:
    """A line to show: upright at x or level at y, from one end to the other, in mm on the sheet."""

    kind: GuideKind
    upright: bool
    at_mm: float
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True)
class Snap:
    """How far to shift the box, and the lines it then lies on."""

    dx_mm: float
    dy_mm: float
    guides: tuple[Guide, ...]


@dataclass(frozen=True, slots=True)
class _Catch:
    """One axis: a line at `at`, caught by the point of the box that lies `offset` from its start."""

    kind: GuideKind
    at: float
    offset: float
    low: float
    high: float


def snap(
    box: Rect,
    neighbours: Sequence[Rect],
    sheet: Size,
    *,
    gap_mm: float,
    margin_mm: float,
    reach_mm: float,
) -> Snap:
    """The nearest lines within reach on both axes; a box near nothing stays where it is."""
    across = _catches(
        (box.x_mm, box.width_mm, box.y_mm, box.bottom_mm),
        [(other.x_mm, other.right_mm, other.y_mm, other.bottom_mm) for other in neighbours],
        (sheet.width_mm, sheet.height_mm),
        gap_mm,
        margin_mm,
    )
    down = _catches(
        (box.y_mm, box.height_mm, box.x_mm, box.right_mm),
        [(other.y_mm, other.bottom_mm, other.x_mm, other.right_mm) for other in neighbours],
        (sheet.height_mm, sheet.width_mm),
        gap_mm,
        margin_mm,
    )
    dx_mm, on_x = _nearest(across, box.x_mm, reach_mm)
    dy_mm, on_y = _nearest(down, box.y_mm, reach_mm)
    guides = [
        Guide(c.kind, True, c.at, min(c.low, box.y_mm + dy_mm), max(c.high, box.bottom_mm + dy_mm))
        for c in on_x
    ] + [
        Guide(c.kind, False, c.at, min(c.low, box.x_mm + dx_mm), max(c.high, box.right_mm + dx_mm))
        for c in on_y
    ]
    return Snap(dx_mm, dy_mm, tuple(guides))


def _catches(
    box: tuple[float, float, float, float],
    others: Iterable[tuple[float, float, float, float]],
    sheet: tuple[float, float],
    gap: float,
    margin: float,
) -> Iterable[_Catch]:
    """All lines along one axis. Boxes are (start, length or end, low, high), the last two across it."""
    _, length, low, high = box
    size, across = sheet
    yield _Catch(GuideKind.MARGIN, margin, 0, 0, across)
    yield _Catch(GuideKind.MARGIN, size - margin, length, 0, across)
    yield _Catch(GuideKind.CENTRE, size / 2, length / 2, 0, across)
    for start, end, other_low, other_high in others:
        if other_low < high + gap and low < other_high + gap:
            yield _Catch(GuideKind.GAP, end + gap, 0, other_low, other_high)
            yield _Catch(GuideKind.GAP, start - gap, length, other_low, other_high)
        yield _Catch(GuideKind.EDGE, start, 0, other_low, other_high)
        yield _Catch(GuideKind.EDGE, end, length, other_low, other_high)
        yield _Catch(GuideKind.CENTRE, (start + end) / 2, length / 2, other_low, other_high)


def _nearest(catches: Iterable[_Catch], start: float, reach: float) -> tuple[float, tuple[_Catch, ...]]:
    within = [
        (abs(c.at - c.offset - start), c.kind, c) for c in catches if abs(c.at - c.offset - start) <= reach
    ]
    if not within:
        return 0.0, ()
    _, _, best = min(within, key=lambda found: (round(found[0], 4), found[1]))
    shift = best.at - best.offset - start
    same = {
        (c.kind, round(c.at, 3)): c
        for distance, _, c in within
        if abs(c.at - c.offset - start - shift) < 0.001 and distance <= reach
    }
    return shift, tuple(same.values())
