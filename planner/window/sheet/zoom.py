"""Scales of the view: wheel steps, and how much of a long roll is shown at first."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QInputDevice, QWheelEvent

_STEP = 1.2
_TOO_TALL, _ROLL_SHARE = 5.0, 1.6
"""How many times taller than the view a box may be to be shown whole, and how much wider than a roll the
view is where only its upper end is shown."""


def stepped(scale: float, steps: float) -> float:
    """The scale after so many notches of a wheel."""
    return float(scale * _STEP**steps)


def readable(box: QRectF, view: QSize) -> QRectF:
    """A box, or its upper end where it is so tall (a roll) that nothing could be made out in it."""
    shape = max(1, view.height()) / max(1, view.width())
    if box.height() <= _TOO_TALL * shape * box.width():
        return box
    wide = box.width() * _ROLL_SHARE
    return QRectF(box.x() - (wide - box.width()) / 2, box.y(), wide, wide * shape)


def is_by_fingers(event: QWheelEvent) -> bool:
    """Whether two fingers on a touchpad did it: they push the bench, while a wheel zooms.

    Pixels alone do not tell: under X11 a plain wheel reports them too.
    """
    touchpad = event.device().type() is QInputDevice.DeviceType.TouchPad
    return touchpad or event.phase() is not Qt.ScrollPhase.NoScrollPhase
