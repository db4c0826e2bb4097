"""How many pixels a real inch takes on a screen: as the screen says, or as somebody measured on it."""

from PySide6.QtCore import QObject, QSettings
from PySide6.QtGui import QGuiApplication, QScreen
from PySide6.QtWidgets import QWidget

from planner.measures.lengths import MM_PER_INCH

_MEASURED = "measured ppi"
_LIKELY_PPI = (50.0, 400.0)
"""Screens report nonsense when they do not know their size; outside this the logical figure is used."""


def screen_ppi(widget: QWidget) -> float:
    """Logical pixels to the inch of the screen a widget is on; what was measured there counts first."""
    screen = widget.screen()
    measured = _measured(screen)
    if measured is not None:
        return measured / screen.devicePixelRatio()
    physical = screen.physicalDotsPerInch()
    return float(physical if is_likely(physical) else screen.logicalDotsPerInch())


def real_size_scale(widget: QWidget) -> float:
    """Logical pixels to the millimetre at real size."""
    return screen_ppi(widget) / MM_PER_INCH


def is_likely(ppi: float) -> bool:
    """Whether any screen has so many logical pixels to the inch."""
    return _LIKELY_PPI[0] <= ppi <= _LIKELY_PPI[1]


class Screens(QObject):
    """What was measured on this computer's screens, kept from one sitting to the next.

    A measurement is noted at the screen itself, where `screen_ppi` finds it, and in device pixels, so that
    it stays true when the system's scale changes.
    """

    def __init__(self, settings: QSettings, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._settings = settings
        for screen in QGuiApplication.screens():
            self._restore(screen)
        app = QGuiApplication.instance()
        if isinstance(app, QGuiApplication):
            app.screenAdded.connect(self._restore)

    def keep(self, screen: QScreen, ppi: float | None) -> None:
        """Logical pixels to the inch as measured; None forgets, and the screen's own word counts again."""
        if ppi is None:
            self._settings.remove(_key(screen))
        else:
            self._settings.setValue(_key(screen), str(ppi * screen.devicePixelRatio()))
        self._restore(screen)

    def _restore(self, screen: QScreen) -> None:
        try:
            kept = float(str(self._settings.value(_key(screen), "")))
        except ValueError:
            kept = 0.0
        screen.setProperty(_MEASURED, kept if is_likely(kept / screen.devicePixelRatio()) else None)


def _measured(screen: QScreen) -> float | None:
    value = screen.property(_MEASURED)
    return value if isinstance(value, float) else None


def _key(screen: QScreen) -> str:
    words = (screen.manufacturer(), screen.model(), screen.serialNumber(), screen.name())
    return "screens/" + " ".join(filter(None, words)).replace("/", "-").replace("\\", "-")
