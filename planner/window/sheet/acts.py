"""What each command does to the layouts of one offer, and the undo step's title."""

from collections.abc import Collection
from dataclasses import dataclass

from planner.plan.wording import count
from planner.window.sheet import moves
from planner.window.sheet.moves import Layouts, Ref, Room, Side


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
        done = Act(moves.turned(layouts, refs), refs, f"Turn {pieces}")
    elif key == "duplicate":
        after, copies = moves.duplicated(layouts, refs, room)
        done = Act(after, copies, f"Duplicate {pieces}")
    elif key == "remove":
        done = Act(moves.removed(layouts, refs), (), f"Remove {pieces}")
    elif key == "pin":
        pin = not all(moves.placement_at(layouts, ref).pinned for ref in refs)
        done = Act(moves.pinned(layouts, refs, pin=pin), refs, f"{'Pin' if pin else 'Unpin'} {pieces}")
    elif key in ("distribute across", "distribute down"):
        across = key == "distribute across"
        done = Act(moves.distributed(layouts, refs, across=across), refs, f"Space {pieces} equally")
    elif key == "settle":
        settled = moves.settled(layouts, refs, room)
        done = Act(settled or layouts, refs, f"Move {pieces}")
    else:
        done = Act(moves.lined_up(layouts, refs, Side(key), room), refs, f"Align {pieces}")
    return done if done.layouts != layouts else None


def to_sheet(layouts: Layouts, refs: Collection[Ref], sheet: int | None, room: Room) -> Act | None:
    """Pieces on another sheet; None for a new one."""
    after, now = moves.carried(layouts, refs, sheet, room)
    where = "a new sheet" if sheet is None else f"sheet {sheet + 1}"
    done = Act(after, now, f"Move {count(len(now), 'piece')} to {where}")
    return done if after != layouts else None
