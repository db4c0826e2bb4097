"""An extra of an artwork: a piece no garment needs, to use room on sheets that is paid for anyway."""

from PySide6.QtCore import QPoint, Signal
from PySide6.QtWidgets import QMenu, QWidget

from planner.job.document import Artwork, Extra
from planner.measures.lengths import LengthUnit
from planner.window.artwork import words
from planner.window.artwork.print_row import WidthRow, fill_turning
from planner.window.fields import CountField
from planner.window.look import GRID, Type
from planner.window.widgets import button, column, label, row


class ExtraRow(QWidget):
    """The controls of one extra."""

    changed = Signal(str, object, str)
    """Extra key, the fields that change, the gesture."""
    removed = Signal(str)

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self._extra: Extra | None = None
        self.width_row = WidthRow(words.EXTRA_WIDTH)
        self.most = CountField(words.EXTRA_MOST, none_told=words.EXTRA_NONE)
        more = button("⋯", lambda: None, role="link", hint=words.EXTRA_MORE)
        more.setAccessibleName(words.EXTRA_MORE)
        more.setFixedWidth(7 * GRID)
        more.clicked.connect(lambda: self._menu(more.mapToGlobal(QPoint(0, more.height()))))
        named = label(words.EXTRA, Type.SMALL, quiet=True)
        named.setToolTip(words.EXTRA_HINT)
        self.width_row.across.addWidget(label(words.AT_MOST, Type.SMALL, quiet=True))
        self.width_row.across.addWidget(self.most)
        self.width_row.across.addWidget(more)
        whole = column(space=0)
        whole.addWidget(named)
        inner = row()
        inner.addWidget(self.width_row)
        whole.addLayout(inner)
        self.setLayout(whole)
        self.width_row.field.edited.connect(
            lambda width_mm, gesture: self.changed.emit(key, {"width_mm": width_mm}, gesture)
        )
        self.most.edited.connect(lambda most, gesture: self.changed.emit(key, {"most": most}, gesture))

    def show_extra(self, extra: Extra, artwork: Artwork, unit: LengthUnit) -> None:
        """Show one extra as the job has it."""
        self._extra = extra
        self.width_row.show_width(extra.width_mm, artwork, unit)
        self.most.show_value(extra.most)

    def fill_menu(self, menu: QMenu) -> None:
        """What else can be done with the extra."""
        if self._extra is not None:
            fill_turning(menu, self._extra, lambda fields: self.changed.emit(self.key, fields, ""))
            menu.addSeparator()
        menu.addAction(words.REMOVE_EXTRA, lambda: self.removed.emit(self.key))

    def _menu(self, at: QPoint) -> None:
        menu = QMenu(self)
        self.fill_menu(menu)
        menu.popup(at)
