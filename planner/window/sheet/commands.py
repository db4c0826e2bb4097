"""The canvas's commands as actions: one list for the row of buttons, the menu and the keys."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from planner.window.sheet import words
from planner.window.sheet.moves import Side


@dataclass(frozen=True, slots=True)
class _Command:
    key: str
    name: str
    keys: tuple[str, ...]
    hint: str
    least: int
    """How many pieces must be chosen."""


_COMMANDS = (
    _Command("turn", words.TURN, ("R",), words.TURN_HINT, 1),
    _Command("duplicate", words.DUPLICATE, ("Ctrl+D",), words.DUPLICATE_HINT, 1),
    _Command("remove", words.REMOVE, ("Del", "Backspace"), words.REMOVE_HINT, 1),
    _Command("pin", words.PIN, ("P",), words.PIN_HINT, 1),
    _Command("distribute across", words.SPACE_ACROSS, ("Ctrl+Shift+H",), words.SPACE_ACROSS_HINT, 3),
    _Command("distribute down", words.SPACE_DOWN, ("Ctrl+Shift+V",), words.SPACE_DOWN_HINT, 3),
    _Command("settle", words.SETTLE, ("Return", "Enter"), words.SETTLE_HINT, 1),
    _Command("all", words.ALL, ("Ctrl+A",), words.ALL_HINT, 0),
    _Command("same", words.SAME, ("Ctrl+Shift+A",), words.SAME_HINT, 1),
    _Command("next too", words.NEXT_TOO, ("N",), words.NEXT_TOO_HINT, 0),
    _Command("fit", words.FIT, ("F",), words.FIT_HINT, 0),
    _Command("fit chosen", words.FIT_CHOSEN, ("Z",), words.FIT_CHOSEN_HINT, 0),
    _Command("real size", words.REAL_SIZE, ("1",), words.REAL_SIZE_HINT, 0),
    _Command("measure screen", words.MEASURE, (), words.MEASURE_HINT, 0),
    _Command("cuts", words.CUTS, ("K",), words.CUTS_HINT, 0),
    _Command("in", words.LARGER, ("+", "="), words.LARGER_HINT, 0),
    _Command("out", words.SMALLER, ("-",), words.SMALLER_HINT, 0),
    _Command("cloth", words.CLOTH, ("C",), words.CLOTH_HINT, 0),
    *(_Command(side.value, words.align(side.value), (), words.align_hint(side.value), 1) for side in Side),
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
            action = QAction(command.name, canvas)
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

    def allow(
        self, chosen: int, *, locked: bool, may_turn: bool, pins: bool, faulty: bool, cuts: bool | None
    ) -> None:
        """Which commands make sense now; `pins` tells whether Pin would pin or let go.

        `cuts` tells whether the list of cuts is wanted; None where the sheet is not cut straight.
        """
        for key, action in self._by_key.items():
            enough = chosen >= self._least[key]
            action.setEnabled(enough and not (locked and key in EDITING))
        turn = self["turn"]
        turn.setEnabled(turn.isEnabled() and may_turn)
        turn.setStatusTip(words.TURN_HINT if may_turn else words.MAY_NOT_TURN)
        self["pin"].setText(words.PIN if pins else words.UNPIN)
        self["pin"].setStatusTip(words.PIN_HINT if pins else words.UNPIN_HINT)
        self["settle"].setEnabled(self["settle"].isEnabled() and faulty)
        self["cuts"].setEnabled(cuts is not None)
        self["cuts"].setChecked(bool(cuts))
        self["cuts"].setStatusTip(words.CUTS_HINT if cuts is not None else words.NO_CUTS_HINT)
