"""Scales of the view: wheel steps, and the size at which a printed inch is an inch on the screen."""

from PySide6.QtWidgets import QWidget

from planner.measures.lengths import MM_PER_INCH

_STEP = 1.2
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
