"""The menu bar: standard menus by the platform's names and keys, ours in our own words."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QMainWindow, QMenu

from planner.job.state import JobState
from planner.measures.lengths import LengthUnit
from planner.plan.kind_words import kind_name
from planner.window import wording
from planner.window.jobbar import GO_NEXT_KEY

_Key = QKeySequence.StandardKey


@dataclass(frozen=True, slots=True)
class Doings:
    """What the menus can ask for."""

    new: Callable[[], object]
    open: Callable[[], object]
    open_demo: Callable[[], object]
    jobs: Callable[[], object]
    order_again: Callable[[], object]
    set_state: Callable[[JobState], object]
    use_todays_prices: Callable[[], object]
    after_job: Callable[[], object]
    left_over: Callable[[], object]
    save: Callable[[], object]
    save_as: Callable[[], object]
    preview: Callable[[], object]
    export: Callable[[], object]
    choose_artwork: Callable[[], object]
    paste: Callable[[], object]
    add_line: Callable[[], object]
    import_counts: Callable[[], object]
    go_next: Callable[[], object]
    arrange: Callable[[], object]
    set_unit: Callable[[LengthUnit], object]
    shop_book: Callable[[], object]
    find_command: Callable[[], object]
    go_to: Callable[[int], object]
    pages: tuple[str, ...]
    """Names of the pages, by the place that `go_to` takes."""
    guide: Callable[[], object]
    about: Callable[[], object]


class Menus:
    """Builds the menus of a window and keeps the actions whose state changes."""

    def __init__(self, window: QMainWindow, undo_stack: QUndoStack, doings: Doings) -> None:
        self._window = window
        self.units: dict[LengthUnit, QAction] = {}
        self.states: dict[JobState, QAction] = {}
        self._file(doings)
        self._edit(doings, undo_stack)
        self._job(doings)
        self.view = self._view(doings)
        self._help(doings)

    def actions(self) -> list[QAction]:
        """All actions that can be run, in menu order, those of the job's state with them."""
        found: list[QAction] = []
        for top in self._window.menuBar().actions():
            menu = top.menu()
            if isinstance(menu, QMenu):
                found += [
                    action for action in menu.actions() if not action.isSeparator() and action.menu() is None
                ]
        return [*found, *self.states.values()]

    def show_state(self, state: JobState, *, keeps_prices: bool) -> None:
        self.states[state].setChecked(True)
        self._todays_prices.setEnabled(keeps_prices)

    def show_unit(self, unit: LengthUnit) -> None:
        self.units[unit].setChecked(True)

    def _file(self, doings: Doings) -> None:
        menu = self._window.menuBar().addMenu(wording.FILE)
        _add(menu, wording.NEW_JOB, doings.new, _Key.New)
        _add(menu, wording.OPEN_JOB, doings.open, _Key.Open)
        _add(menu, wording.JOBS_MENU, doings.jobs, "Ctrl+Shift+O")
        _add(menu, wording.ORDER_AGAIN, doings.order_again)
        _add(menu, wording.OPEN_DEMO, doings.open_demo)
        menu.addSeparator()
        _add(menu, wording.SAVE, doings.save, _Key.Save)
        _add(menu, wording.SAVE_AS, doings.save_as, _Key.SaveAs)
        _add(menu, wording.PREVIEW_MENU, doings.preview, _Key.Print)
        _add(menu, wording.EXPORT_MENU, doings.export, "Ctrl+Shift+E")
        menu.addSeparator()
        _add(menu, wording.QUIT, self._window.close, _Key.Quit)

    def _edit(self, doings: Doings, undo_stack: QUndoStack) -> None:
        menu = self._window.menuBar().addMenu(wording.EDIT)
        undo = undo_stack.createUndoAction(menu)
        undo.setShortcut(_Key.Undo)
        redo = undo_stack.createRedoAction(menu)
        redo.setShortcuts(_Key.Redo)
        menu.addAction(undo)
        menu.addAction(redo)
        history = menu.addMenu(wording.HISTORY)
        history.aboutToShow.connect(partial(fill_history, history, undo_stack))
        menu.addSeparator()
        _add(menu, wording.PASTE_ARTWORK, doings.paste, _Key.Paste)
        menu.addSeparator()
        _add(menu, wording.FIND_COMMAND, doings.find_command, "Ctrl+K")

    def _job(self, doings: Doings) -> None:
        menu = self._window.menuBar().addMenu(wording.JOB_MENU)
        _add(menu, wording.ADD_LINE, doings.add_line, "Ctrl+L")
        _add(menu, wording.ADD_ARTWORK, doings.choose_artwork, "Ctrl+I")
        _add(menu, wording.IMPORT_COUNTS, doings.import_counts)
        _add(menu, wording.GO_NEXT, doings.go_next, GO_NEXT_KEY)
        menu.addSeparator()
        _add(menu, wording.ARRANGE, doings.arrange, "F5")
        self._states(menu, doings)
        self._todays_prices = _add(menu, wording.TODAYS_PRICES, doings.use_todays_prices)
        _add(menu, wording.LEFT_OVER_MENU, doings.left_over)
        _add(menu, wording.AFTER_JOB, doings.after_job)
        menu.addSeparator()
        _add(menu, wording.SHOP_BOOK, doings.shop_book, "Ctrl+B")

    def _states(self, menu: QMenu, doings: Doings) -> None:
        states = menu.addMenu(wording.STATE_MENU)
        group = QActionGroup(states)
        for state in JobState:
            action = _add(states, kind_name(state).capitalize(), partial(doings.set_state, state))
            action.setCheckable(True)
            # Out of its menu it needs to say what it is.
            action.setData(wording.set_state(kind_name(state)))
            group.addAction(action)
            self.states[state] = action

    def _view(self, doings: Doings) -> QMenu:
        menu = self._window.menuBar().addMenu(wording.VIEW)
        for at, page in enumerate(doings.pages):
            _add(menu, page, partial(doings.go_to, at), f"Ctrl+{at + 1}")
        menu.addSeparator()
        group = QActionGroup(menu)
        for unit, name in ((LengthUnit.INCH, wording.INCHES), (LengthUnit.MILLIMETRE, wording.MILLIMETRES)):
            action = _add(menu, name, partial(doings.set_unit, unit))
            action.setCheckable(True)
            group.addAction(action)
            self.units[unit] = action
        return menu

    def _help(self, doings: Doings) -> None:
        menu = self._window.menuBar().addMenu(wording.HELP)
        _add(menu, wording.GUIDE, doings.guide, "F1")
        _add(menu, wording.ABOUT, doings.about)


def fill_history(menu: QMenu, undo_stack: QUndoStack) -> None:
    """All steps by their names, newest first; choosing one goes back (or forward) to right after it."""
    menu.clear()
    for at in range(undo_stack.count(), -1, -1):
        name = undo_stack.text(at - 1) if at else wording.AS_OPENED
        action = menu.addAction(name, partial(undo_stack.setIndex, at))
        action.setCheckable(True)
        action.setChecked(at == undo_stack.index())
    menu.setTitle(wording.HISTORY)


def _add(
    menu: QMenu, name: str, doing: Callable[[], object], key: QKeySequence.StandardKey | str | None = None
) -> QAction:
    action = QAction(name, menu)
    action.triggered.connect(lambda checked=False: doing())
    if isinstance(key, str):
        action.setShortcut(QKeySequence(key))
    elif key is not None:
        action.setShortcuts(key)
    menu.addAction(action)
    return action
