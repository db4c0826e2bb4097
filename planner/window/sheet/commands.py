"""The canvas's commands as actions: one list for the row of buttons, the menu and the keys."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from planner.window.sheet.moves import Side


@dataclass(frozen=True, slots=True)
class _Command:
    key: str
    words: str
    keys: tuple[str, ...]
    hint: str
    least: int
    """How many pieces must be chosen."""


_COMMANDS = (
    _Command("turn", "Turn", ("R",), "Turn a quarter clockwise", 1),
    _Command("duplicate", "Duplicate", ("Ctrl+D",), "One more copy, beside this one", 1),
    _Command("remove", "Remove", ("Del", "Backspace"), "Take off the sheet", 1),
    _Command("pin", "Pin", ("P",), "Hold it here when the rest is arranged again", 1),
    _Command(
        "distribute across", "Equal space across", ("Ctrl+Shift+H",), "Equal space from left to right", 3
    ),
    _Command("distribute down", "Equal space down", ("Ctrl+Shift+V",), "Equal space from top to bottom", 3),
    _Command(
        "settle", "Move to the nearest good spot", ("Return", "Enter"), "Where nothing is in its way", 1
    ),
    _Command("all", "Select all on this sheet", ("Ctrl+A",), "All pieces of this sheet", 0),
    _Command("same", "Select all copies of this print", ("Ctrl+Shift+A",), "On all sheets of the offer", 1),
    _Command("next too", "Also select the next piece", ("N",), "The next piece in reading order", 0),
    _Command("fit", "Fit all sheets", ("F",), "All sheets in view", 0),
    _Command("fit chosen", "Fit selection", ("Z",), "The chosen pieces, or the sheet, in view", 0),
    _Command("real size", "Real size", ("1",), "A printed inch is an inch on this screen", 0),
    _Command("measure screen", "Measure this screen…", (), "So that real size is real on this screen", 0),
    _Command("cuts", "Show cut list", ("K",), "Numbered cuts for sheets that are cut straight", 0),
    _Command("in", "Larger", ("+", "="), "Zoom in", 0),
    _Command("out", "Smaller", ("-",), "Zoom out", 0),
    _Command("cloth", "Show garment colours", ("C",), "Each print on the colour it will be pressed on", 0),
    *(_Command(side.value, f"Align {side.value}", (), f"Bring {side.value} in line", 1) for side in Side),
)
PLACING = frozenset(("distribute across", "distribute down", "settle", *(side.value for side in Side)))
"""Commands that only move pieces on their sheets."""
EDITING = PLACING | {"turn", "duplicate", "remove", "pin"}


class Commands:
    """All actions by key; they answer to their keys while the canvas has the focus."""

    def __init__(self, canvas: QWidget, do: Callable[[str], None]) -> None:
        self._by_key: dict[str, QAction] = {}
        self._least = {command.key: command.least for command in _COMMANDS}
        for command in _COMMANDS:
            action = QAction(command.words, canvas)
            action.setShortcuts([QKeySequence(keys) for keys in command.keys])
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            action.setStatusTip(command.hint)
            action.triggered.connect(lambda _on=False, key=command.key: do(key))
            canvas.addAction(action)
            self._by_key[command.key] = action
        for key in ("cloth", "cuts"):
            self[key].setCheckable(True)
            self[key].setChecked(True)

    def __getitem__(self, key: str) -> QAction:
        return self._by_key[key]

    def allow(self, chosen: int, *, locked: bool, may_turn: bool, pins: bool, faulty: bool) -> None:
        """Which commands make sense now; `pins` tells whether Pin would pin or let go."""
        for key, action in self._by_key.items():
            enough = chosen >= self._least[key]
            action.setEnabled(enough and not (locked and key in EDITING))
        turn = self["turn"]
        turn.setEnabled(turn.isEnabled() and may_turn)
        turn.setStatusTip(
            "Turn a quarter clockwise" if may_turn else "This print must not lie turned: its own setting"
        )
        self["pin"].setText("Pin" if pins else "Unpin")
        self["pin"].setStatusTip(
            "Hold it here when the rest is arranged again" if pins else "Let Arrange move it again"
        )
        self["settle"].setEnabled(self["settle"].isEnabled() and faulty)
