"""What an arranger is asked, and what it answers."""

from dataclasses import dataclass
from enum import StrEnum

from planner.measures.geometry import Size
from planner.measures.layout import Layout, Way


@dataclass(frozen=True, slots=True)
class Piece:
    """Copies of one print (or extra) as they must appear on sheets."""

    key: str
    width_mm: float
    height_mm: float
    count: int
    may_turn: bool = True
    """Whether a quarter turn is allowed."""
    outline: tuple[tuple[float, float], ...] | None = None
    """Corners in mm, measured from the unturned piece's top left; None is the whole rectangle."""
    value: float = 1.0
    """What one copy is worth when only some extras fit."""
    together: str | None = None
    """All copies of all pieces with the same word here go on one sheet."""
    any_angle: bool = False
    """Whether it may stand at any angle where outlines are cut and turning is allowed at all."""
    angles_deg: tuple[float, ...] | None = None
    """The angles allowed where outlines are cut; None leaves it to `may_turn` and `any_angle`."""


@dataclass(frozen=True, slots=True)
class FixedSheet:
    """Sheets of one size; `most` is how many there may be, None for any number."""

    size: Size
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Roll:
    """A roll cut to length: lengths are sold in steps and no length may exceed the longest."""

    width_mm: float
    longest_mm: float
    step_mm: float


@dataclass(frozen=True, slots=True)
class Group:
    """One block of pieces paid by its area, at most so large; more blocks only where one is too small."""

    most: Size


Media = FixedSheet | Roll | Group


@dataclass(frozen=True, slots=True)
class Request:
    """Pieces, what they go on, and how hard to look.

    A piece's count is all copies wanted, those pinned included. Of the layouts in `pinned` only the
    placements marked as pinned are kept; each such layout becomes one sheet of the answer, in order.
    `rounds` limits the search by its number of attempts, so that the answer is the same on every
    machine; `budget_s` caps it by the clock.
    """

    pieces: tuple[Piece, ...]
    media: tuple[Media, ...]
    gap_mm: float
    margin_mm: float
    way: Way
    seed: int = 0
    budget_s: float = 2.0
    rounds: int | None = None
    pinned: tuple[Layout, ...] = ()
    extras: tuple[Piece, ...] = ()
    """Pieces that nobody needs; their counts are the most that may be added."""


class LeftOverReason(StrEnum):
    """Why copies are on no sheet."""

    TOO_LARGE = "too_large"
    """The piece is larger than the room inside the margins of every sheet."""
    NO_ROOM = "no_room"
    """No more sheets may be used, or a pinned layout is in the way."""
    NOT_TOGETHER = "not_together"
    """The pieces that must be on one sheet do not fit on one."""


@dataclass(frozen=True, slots=True)
class LeftOver:
    """Copies of one piece that are on no sheet.

    `piece_mm` and `room_mm` are the piece and the largest room inside the margins (None unless too large).
    """

    key: str
    count: int
    reason: LeftOverReason
    piece_mm: Size | None = None
    room_mm: Size | None = None


@dataclass(frozen=True, slots=True)
class Arrangement:
    """Layouts, each to be printed `runs` times, and what is on none of them."""

    layouts: tuple[Layout, ...]
    left_over: tuple[LeftOver, ...] = ()

    @property
    def sheets(self) -> int:
        """Sheets printed, runs counted."""
        return sum(layout.runs for layout in self.layouts)

    @property
    def area_mm2(self) -> float:
        """Sheet area used up, runs counted."""
        return sum(layout.runs * layout.sheet.area_mm2 for layout in self.layouts)


def grouped(layouts: tuple[Layout, ...]) -> tuple[Layout, ...]:
    """The same sheets with identical layouts merged into runs of the first of them.

    Layouts with the same pieces in the same places are identical, whatever their order. Sheets that
    carry pinned pieces are merged like others.
    """
    runs: dict[tuple[object, ...], int] = {}
    first: dict[tuple[object, ...], Layout] = {}
    for layout in layouts:
        same = (layout.sheet, tuple(sorted(layout.placements, key=repr)))
        first.setdefault(same, layout)
        runs[same] = runs.get(same, 0) + layout.runs
    return tuple(Layout(layout.sheet, layout.placements, runs[same]) for same, layout in first.items())
