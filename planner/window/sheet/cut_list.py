"""The cut list beside the canvas: numbered cuts in working order, and what to set the trimmer's stop to."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.plan.kind_words import kind_name
from planner.plan.wording import count
from planner.sheets.cuts import Cut, Direction, set_ups
from planner.window.look import GRID, RELATED, Type, type_font
from planner.window.sheet import words
from planner.window.widgets import column, label

_WIDE_PX = 192
_EDGE = {Direction.DOWN: words.LEFT_EDGE, Direction.ACROSS: words.TOP_EDGE}


def cut_words(cut: Cut, unit: LengthUnit) -> str:
    """One cut as a sentence."""
    part = format_size(cut.part.width_mm, cut.part.height_mm, unit)
    measure = format_length(cut.measure_mm, unit)
    edge = _EDGE[cut.direction]
    return words.cut(cut.step, kind_name(cut.direction), measure, edge, part)


class CutList(QWidget):
    """Cuts in working order, each with what to set; choosing one shows it and its part on the sheet."""

    cut_chosen = Signal(object)
    """A `Cut`, or None."""

    def __init__(self) -> None:
        super().__init__()
        self._cuts: tuple[Cut, ...] = ()
        self._unit = LengthUnit.INCH
        self.words = label("", Type.SMALL, quiet=True, wrap=True)
        self.rows = QListWidget()
        self.rows.setAccessibleName(words.CUT_LIST)
        self.rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rows.setProperty("type", Type.SMALL.value)
        self.rows.currentRowChanged.connect(self._tell)
        inside = column(space=GRID)
        inside.setContentsMargins(0, GRID, 0, 0)
        self.words.setContentsMargins(RELATED, 0, RELATED, 0)
        inside.addWidget(self.words)
        inside.addWidget(self.rows, 1)
        self.setLayout(inside)
        self.setFixedWidth(_WIDE_PX)
        self.hide()

    def show_cuts(self, cuts: tuple[Cut, ...], unit: LengthUnit) -> None:
        """Show these; without any the list is away. The same cuts again keep the one that is chosen."""
        self.setVisible(bool(cuts))
        if (cuts, unit) == (self._cuts, self._unit):
            return
        self._cuts, self._unit = cuts, unit
        self.words.setText(words.cuts_in_all(count(len(cuts), "cut"), count(set_ups(cuts), "time")))
        self.rows.blockSignals(True)
        self.rows.clear()
        for cut in cuts:
            self.rows.addItem(self._row(cut))
        self.rows.blockSignals(False)
        self.cut_chosen.emit(None)

    def _row(self, cut: Cut) -> QListWidgetItem:
        """The number and what to set; a cut made at the same setting says so."""
        measure = format_length(cut.measure_mm, self._unit)
        told = words.cut_from(measure if cut.is_new_setting else words.AS_IT_IS_SET, _EDGE[cut.direction])
        item = QListWidgetItem(f"{cut.step:\u2007>2}   {told}")
        item.setFont(type_font(self.font(), Type.SMALL, strong=cut.is_new_setting))
        item.setToolTip(cut_words(cut, self._unit))
        item.setData(Qt.ItemDataRole.AccessibleTextRole, cut_words(cut, self._unit))
        return item

    def _tell(self, row: int) -> None:
        self.cut_chosen.emit(self._cuts[row] if 0 <= row < len(self._cuts) else None)
