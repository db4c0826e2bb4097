"""The cut list beside the canvas: what to set the trimmer's stop to, and the cuts made at that setting."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from planner.measures.lengths import LengthUnit, format_length, format_size
from planner.plan.wording import count
from planner.sheets.cuts import Cut, Direction, set_ups
from planner.window.look import GRID, RELATED, Type, type_font
from planner.window.widgets import column, label

_WIDE_PX = 208
_EDGE = {Direction.DOWN: "left", Direction.ACROSS: "top"}


def setting_words(cut: Cut, unit: LengthUnit) -> str:
    """What to set for a cut."""
    return f"Set {format_length(cut.measure_mm, unit)} from the {_EDGE[cut.direction]}"


def cut_words(cut: Cut, unit: LengthUnit) -> str:
    """One cut as a sentence."""
    part = format_size(cut.part.width_mm, cut.part.height_mm, unit)
    measure = format_length(cut.measure_mm, unit)
    edge = _EDGE[cut.direction]
    return f"Cut {cut.step}: {cut.direction.value}, {measure} from the {edge} edge of the part {part}"


class CutList(QWidget):
    """Cuts in working order under the setting they are made at; choosing one shows it on the sheet."""

    cut_chosen = Signal(object)
    """A `Cut`, or None."""

    def __init__(self) -> None:
        super().__init__()
        self._cuts: tuple[Cut, ...] = ()
        self._unit = LengthUnit.INCH
        self.words = label("", Type.SMALL, quiet=True, wrap=True)
        self.rows = QListWidget()
        self.rows.setAccessibleName("Cut list")
        self.rows.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.rows.setProperty("type", Type.SMALL.value)
        self.rows.currentItemChanged.connect(self._tell)
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
        self.words.setText(f"{count(len(cuts), 'cut')}, stop set {count(set_ups(cuts), 'time')}")
        self.rows.blockSignals(True)
        self.rows.clear()
        for cut in cuts:
            if cut.is_new_setting:
                self.rows.addItem(self._setting(cut))
            self.rows.addItem(self._row(cut))
        self.rows.blockSignals(False)
        self.cut_chosen.emit(None)

    def _setting(self, cut: Cut) -> QListWidgetItem:
        item = QListWidgetItem(setting_words(cut, self._unit))
        # Read and passed over: only cuts can be chosen.
        item.setFlags(Qt.ItemFlag.ItemIsEnabled)
        item.setFont(type_font(self.font(), Type.SMALL, strong=True))
        return item

    def _row(self, cut: Cut) -> QListWidgetItem:
        part = format_size(cut.part.width_mm, cut.part.height_mm, self._unit)
        item = QListWidgetItem(f"{cut.step:>3}   of {part}")
        item.setFont(type_font(self.font(), Type.SMALL))
        item.setToolTip(cut_words(cut, self._unit))
        item.setData(Qt.ItemDataRole.AccessibleTextRole, cut_words(cut, self._unit))
        item.setData(Qt.ItemDataRole.UserRole, cut.step)
        return item

    def _tell(self, item: QListWidgetItem | None, before: QListWidgetItem | None) -> None:
        step = item.data(Qt.ItemDataRole.UserRole) if item is not None else None
        if item is not None and step is None and before is not None:
            # Keys go on past a setting to the next cut; the first setting turns them round.
            at, was = self.rows.row(item), self.rows.row(before)
            self.rows.setCurrentRow(at + 1 if at > was or at == 0 else at - 1)
            return
        self.cut_chosen.emit(self._cuts[step - 1] if isinstance(step, int) else None)
