"""Imports counts from a customer's table into the job on the desk, as one undo step."""

from pathlib import Path

from PySide6.QtWidgets import QWidget

from planner.window import steps
from planner.window.asks import Asks
from planner.window.desk import Desk
from planner.window.garments.count_csv import CountTable
from planner.window.garments.counted import Ordered, with_counts
from planner.window.tables.dialog import ImportDialog


class CountImport:
    """Asks for a file, shows what it would bring, and takes it."""

    def __init__(self, window: QWidget, desk: Desk, asks: Asks) -> None:
        self._window, self._desk, self._asks = window, desk, asks

    def choose(self) -> None:
        if path := self._asks.counts_file(self._window):
            self.open(path)

    def open(self, path: Path) -> None:
        dialog = ImportDialog(path, CountTable(self._desk.job, self._desk.shop), self._window)
        dialog.taken.connect(self._take)
        dialog.open()

    def _take(self, ordered: tuple[Ordered, ...]) -> None:
        self._desk.apply(steps.IMPORT_COUNTS, with_counts(self._desk.job, self._desk.shop, ordered))
