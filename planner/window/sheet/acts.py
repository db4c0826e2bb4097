"""What each command does to the layouts of one offer, and the undo step's title."""

from collections.abc import Collection
from dataclasses import dataclass

from planner.measures.geometry import Size
from planner.plan.wording import count
from planner.window.sheet import moves, words
from planner.window.sheet.moves import Layouts, Ref, Room, Side
from planner.window.sheet.ways_out import nearest_way_out


@dataclass(frozen=True, slots=True)
class Act:
    """The layouts after an edit, where the pieces concerned are in them, and the edit's name."""

    layouts: Layouts
    refs: tuple[Ref, ...]
    title: str


def act(key: str, layouts: Layouts, refs: Collection[Ref], room: Room) -> Act | None:
    """A command of `planner.window.sheet.commands` carried out; None where it changes nothing."""
    refs = tuple(sorted(refs))
    pieces = count(len(refs), "piece")
    if key == "turn":
        done = Act(moves.turned(layouts, refs), refs, words.turned(pieces))
    elif key == "duplicate":
        after, copies = moves.duplicated(layouts, refs, room)
        done = Act(after, copies, words.duplicated(pieces))
    elif key == "remove":
        done = Act(moves.removed(layouts, refs), (), words.removed(pieces))
    elif key == "pin":
        pin = not all(moves.placement_at(layouts, ref).pinned for ref in refs)
        done = Act(moves.pinned(layouts, refs, pin=pin), refs, words.pinned(pieces, pin=pin))
    elif key in ("distribute across", "distribute down"):
        across = key == "distribute across"
        done = Act(moves.distributed(layouts, refs, across=across), refs, words.spaced(pieces))
    elif key == "settle":
        done = _settled(layouts, refs, room)
    else:
        done = Act(moves.lined_up(layouts, refs, Side(key), room), refs, words.aligned(pieces))
    return done if done.layouts != layouts else None


def _settled(layouts: Layouts, refs: tuple[Ref, ...], room: Room) -> Act:
    out = nearest_way_out(layouts, refs, room)
    pieces = count(len(refs), "piece")
    if out is None or out.sheet is None:
        return Act(out.taken(layouts)[0] if out else layouts, refs, words.moved(pieces))
    return Act(*out.taken(layouts), words.moved_to(pieces, None if out.is_new else out.sheet + 1))


def to_sheet(layouts: Layouts, refs: Collection[Ref], sheet: int | Size, room: Room) -> Act | None:
    """Pieces on another sheet by its number, or on a new one of a size."""
    after, now = moves.carried(layouts, refs, sheet, room)
    number = None if isinstance(sheet, Size) else sheet + 1
    done = Act(after, now, words.moved_to(count(len(now), "piece"), number))
    return done if after != layouts else None
