"""Scales of the view: wheel steps, and the size at which a printed inch is an inch on the screen."""

from PySide6.QtCore import QRectF, QSize
from PySide6.QtWidgets import QWidget

from planner.measures.lengths import MM_PER_INCH

_STEP = 1.2
_TOO_TALL, _ROLL_SHARE = 5.0, 1.6
"""How many times taller than the view a box may be to be shown whole, and how much wider than a roll the
view is where only its upper end is shown."""
_LIKELY_PPI = (50.0, 400.0)
"""Screens report nonsense when they do not know their size; outside this the logical figure is used."""


def stepped(scale: float, steps: float) -> float:
    """The scale after so many notches of a wheel."""
    return float(scale * _STEP**steps)


def screen_ppi(widget: QWidget) -> float:
    """Logical pixels to the inch of the screen a widget is on."""
    screen = widget.screen()
    physical = screen.physicalDotsPerInch()
    likely = _LIKELY_PPI[0] <= physical <= _LIKELY_PPI[1]
    return float(physical if likely else screen.logicalDotsPerInch())


def real_size_scale(widget: QWidget) -> float:
    """Pixels to the millimetre at real size."""
    return screen_ppi(widget) / MM_PER_INCH


def readable(box: QRectF, view: QSize) -> QRectF:
    """A box, or its upper end where it is so tall (a roll) that nothing could be made out in it."""
    shape = max(1, view.height()) / max(1, view.width())
    if box.height() <= _TOO_TALL * shape * box.width():
        return box
    wide = box.width() * _ROLL_SHARE
    return QRectF(box.x() - (wide - box.width()) / 2, box.y(), wide, wide * shape)
