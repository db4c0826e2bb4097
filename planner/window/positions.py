"""A field for places: unlike lengths they may be zero or negative, and are shown to a thousandth."""

import re

from planner.measures.figures import written
from planner.measures.lengths import MM_PER_INCH, LengthUnit, parse_length
from planner.window import field_words
from planner.window.fields import Field

_ZERO = re.compile(r"^-?0+([.,]0*)?\s*(mm|cm|in|\")?$")


def say_position(position_mm: float, unit: LengthUnit) -> str:
    """A place to a thousandth of an inch or a hundredth of a millimetre."""
    inches = unit is LengthUnit.INCH
    figure = f"{position_mm / MM_PER_INCH:.3f}" if inches else f"{position_mm:.2f}"
    figure = figure.rstrip("0").rstrip(".")
    return f"{written('0' if figure == '-0' else figure)} {unit.value}"


def read_position(typed: str, unit: LengthUnit) -> float:
    """Millimetres from what was typed: "0", "-1/4", "62.5 mm".

    Raises:
        UnreadableLength: it is no length.
    """
    text = typed.strip().replace("−", "-")
    if _ZERO.match(text):
        return 0.0
    if text.startswith("-"):
        return -parse_length(text[1:], unit)
    return parse_length(text, unit)


class PositionField(Field[float]):
    """A place in millimetres, shown in the shop's unit, typed in either."""

    def __init__(self, name: str) -> None:
        self._unit = LengthUnit.INCH
        super().__init__(
            name,
            lambda typed: read_position(typed, self._unit),
            lambda position_mm: say_position(position_mm, self._unit),
            0.0,
        )
        self.setToolTip(field_words.position_hint())
        self.align_figures("88.888 in")

    def show_position(self, position_mm: float, unit: LengthUnit) -> None:
        self._unit = unit
        self.setToolTip(field_words.position_hint())
        self.show_value(position_mm)

    def commit(self) -> None:
        # What is shown is rounded: typing the same figure again must not nudge anything.
        if self.isModified() and self.text().strip() == say_position(self._value, self._unit):
            self.revert()
        super().commit()
