"""What would save a late job, as a menu: worked out in the background, taken as one undo step."""

from collections.abc import Callable
from datetime import date
from functools import partial

from PySide6.QtCore import QPoint
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QAbstractButton, QApplication, QMenu, QWidget

from planner.job.document import Job
from planner.plan.in_time import WayInTime, ways_in_time
from planner.plan.ordering import Facts
from planner.window import steps, wording
from planner.window.background import Background
from planner.window.desk import Desk
from planner.window.foot import Foot

LANE = "in time"


class Lateness:
    """Opens the menu of ways to be in time."""

    def __init__(
        self, window: QWidget, desk: Desk, background: Background, foot: Foot, today: Callable[[], date]
    ) -> None:
        self._desk, self._background, self._foot, self._today = desk, background, foot, today
        self.menu = QMenu(window)

    def open(self, facts: Facts) -> None:
        """Look for ways, and show them where the press was."""
        job, shop, today, at = self._desk.job, self._desk.shop, self._today(), _here()
        self._foot.show_work(LANE, wording.LOOKING_FOR_TIME)
        self._background.start(
            LANE,
            lambda ticket: ways_in_time(job, shop, facts=facts, today=today, ticket=ticket),
            done=lambda ways: self._found(job, ways, at),
            failed=self._failed,
        )

    def _found(self, asked: Job, ways: tuple[WayInTime, ...], at: QPoint) -> None:
        self._foot.show_work(LANE, "")
        if self._desk.job is asked:
            self._show(ways, at)

    def _failed(self, error: Exception) -> None:
        self._foot.show_work(LANE, "")
        self._foot.warn(wording.trouble(error))

    def _show(self, ways: tuple[WayInTime, ...], at: QPoint) -> None:
        self.menu.clear()
        if not ways:
            self.menu.addAction(wording.NO_WAY_IN_TIME).setEnabled(False)
        for way in ways:
            self.menu.addAction(wording.way_in_time(way, self._desk.shop), partial(self._take, way))
        self.menu.popup(at)
        self.menu.setActiveAction(self.menu.actions()[0])

    def _take(self, way: WayInTime) -> None:
        self._desk.apply(steps.IN_TIME, way.job)


def _here() -> QPoint:
    """Below the button that was pressed, or where the pointer is."""
    pressed = QApplication.focusWidget()
    if isinstance(pressed, QAbstractButton):
        return pressed.mapToGlobal(QPoint(0, pressed.height()))
    return QCursor.pos()
