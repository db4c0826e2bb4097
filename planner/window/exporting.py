"""From the wish to export to the packet: what stands in its way is told first."""

from collections.abc import Callable

from PySide6.QtWidgets import QMainWindow

from planner.plan import wording as sentences
from planner.plan.model import Missing, Plan
from planner.window import wording
from planner.window.cabinet import Cabinet
from planner.window.desk import Desk
from planner.window.firstrun import FirstNeeds
from planner.window.foot import Foot
from planner.window.gallery import Gallery
from planner.window.guide import Guide

_NOTHING_TO_QUOTE = (Missing.GARMENTS, Missing.COUNTS)


class Exporting:
    """Has the packet written, unless artwork cannot be read or a person goes to what is missing."""

    def __init__(
        self,
        window: QMainWindow,
        desk: Desk,
        *,
        gallery: Gallery,
        foot: Foot,
        guide: Guide,
        first: FirstNeeds,
        cabinet: Cabinet,
        plan: Callable[[], Plan],
    ) -> None:
        self._window, self._desk, self._gallery, self._foot = window, desk, gallery, foot
        self._guide, self._first, self._cabinet, self._plan = guide, first, cabinet, plan

    def start(self) -> None:
        if names := self._gallery.unreadable(self._desk.job):
            self._foot.warn(wording.not_exported(names))
            return
        lacking = next((one for one in self._plan().missing if one in _NOTHING_TO_QUOTE), None)
        if lacking is None:
            self._write()
            return
        there = (sentences.missing(lacking), lambda: self._guide.to_missing(lacking))
        self._foot.ask(wording.NOTHING_TO_QUOTE, (there, (wording.EXPORT_AS_IT_IS, self._write)))

    def _write(self) -> None:
        self._first.before_export(lambda: self._cabinet.export(self._window, self._plan()))
