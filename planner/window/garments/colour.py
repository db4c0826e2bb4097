"""A garment's colour: a swatch to pick from, its name, and how it looks on screen."""

from functools import partial

from PySide6.QtCore import QPoint, Signal
from PySide6.QtWidgets import QMenu, QWidget, QWidgetAction

from planner.shop.cloth import Swatch
from planner.shop.swatches import USUAL, swatch_named
from planner.window.artwork.picture import SwatchDot, swatch_icon
from planner.window.fields import Field, TextField
from planner.window.garments import words
from planner.window.look import GRID, TARGET
from planner.window.readings import read_colour
from planner.window.widgets import button, row


class ColourField(QWidget):
    """Edits a swatch; `edited` carries the swatch and a gesture."""

    edited = Signal(object, str)

    def __init__(self) -> None:
        super().__init__()
        self._swatch = USUAL[0]
        self._own: tuple[Swatch, ...] = ()
        self.dot = SwatchDot(side=TARGET)
        self.pick = button("▾", self._open_menu, hint=words.PICK_COLOUR)
        self.pick.setAccessibleName(words.PICK_COLOUR)
        self.pick.setFixedWidth(TARGET)
        self.pick.setStyleSheet("padding: 0")
        self.name = TextField(words.COLOUR_NAME, most=60)
        self.name.setMinimumWidth(20 * GRID)
        across = row(space=GRID)
        across.addWidget(self.dot)
        across.addWidget(self.pick)
        across.addWidget(self.name, 1)
        self.setLayout(across)
        self.name.edited.connect(self._name_edited)

    def show_swatch(self, swatch: Swatch, own: tuple[Swatch, ...]) -> None:
        """Show a colour; `own` are those that the blank comes in, offered first."""
        self._swatch, self._own = swatch, own
        self.dot.show_colour(swatch.hex)
        self.name.show_value(swatch.name)

    def _name(self) -> str:
        return self._swatch.name

    def _name_edited(self, name: str, gesture: str) -> None:
        if name.strip():
            known = swatch_named(name, self._own)
            self._tell(Swatch(name=name, hex=known.hex if known else self._swatch.hex), gesture)

    def _tell(self, swatch: Swatch, gesture: str = "") -> None:
        self._swatch = swatch
        self.edited.emit(swatch, gesture)

    def _open_menu(self) -> None:
        menu = QMenu(self)
        named = {swatch.name.lower() for swatch in self._own}
        groups = [self._own, tuple(usual for usual in USUAL if usual.name not in named)]
        for group in groups:
            for swatch in group:
                menu.addAction(swatch_icon(swatch.hex), swatch.name, partial(self._tell, swatch, ""))
            if group:
                menu.addSeparator()
        code: Field[str] = Field(words.COLOUR_CODE, read_colour, str, self._swatch.hex)
        code.setToolTip(words.COLOUR_CODE_HINT)
        code.edited.connect(lambda hex_code, gesture: self._tell(Swatch(name=self._name(), hex=hex_code)))
        code.returnPressed.connect(menu.close)
        holder = QWidgetAction(menu)
        holder.setDefaultWidget(code)
        menu.addAction(holder)
        menu.popup(self.pick.mapToGlobal(QPoint(0, self.pick.height())))
