"""How the window looks: colours, type, space and status shapes, for light and dark.

Widgets ask `tokens_of(widget)`, which reads the palette they are shown with, so that a change of the
system's scheme reaches them without a registry. Contrast follows WCAG 2.2, 1.4.3 and 1.4.11.
"""

from dataclasses import dataclass
from enum import StrEnum

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPalette, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QWidget

from planner.job.seriousness import Seriousness

GRID = 4
"""All distances are multiples of this many pixels."""
RELATED = 2 * GRID
"""Between things that belong together."""
APART = 4 * GRID
"""Between groups."""
TARGET = 28
"""Least height of what can be clicked (WCAG 2.2, 2.5.8 asks for 24)."""
SETTLE_MS = 120
"""How long a placed piece takes to settle."""


@dataclass(frozen=True, slots=True)
class Tokens:
    """One scheme's colours by what they are for, as "#rrggbb"."""

    dark: bool
    ground: str
    """Panels: neutral with a trace of warmth, so that white and black garments both read on it."""
    canvas: str
    """Behind sheets and garments, a step darker than panels."""
    field: str
    """Where something can be typed."""
    text: str
    quiet: str
    """Units, captions, hints: smaller, never fainter than can be read."""
    line: str
    """Between groups, where space will not do."""
    edge: str
    """Around fields and buttons."""
    accent: str
    """What can be acted on; never a status."""
    on_accent: str
    chosen: str
    """Ground of what is selected."""
    stop: str
    look: str
    note: str
    paper: str
    """A sheet on the canvas."""

    def of(self, serious: Seriousness) -> str:
        """The colour that accompanies a status shape."""
        by_seriousness = {Seriousness.STOP: self.stop, Seriousness.LOOK: self.look}
        return by_seriousness.get(serious, self.note)


# Status: vermillion, orange and blue after Okabe & Ito, "Color Universal Design" (2008), darkened or
# lightened until they reach 3:1 on their ground.
LIGHT = Tokens(
    dark=False,
    ground="#f2f0ec",
    canvas="#d9d6cf",
    field="#fdfcfa",
    text="#23221f",
    quiet="#5c5952",
    line="#cfcbc3",
    edge="#87827a",
    accent="#0a6464",
    on_accent="#ffffff",
    chosen="#cde3e0",
    stop="#c04a00",
    look="#a06a00",
    note="#0072b2",
    paper="#ffffff",
)
DARK = Tokens(
    dark=True,
    ground="#302f2c",
    canvas="#232220",
    field="#3a3936",
    text="#eeece7",
    quiet="#b9b5ac",
    line="#4a4844",
    edge="#8f8a81",
    accent="#63c2b8",
    on_accent="#0f2422",
    chosen="#27504d",
    stop="#ff8c55",
    look="#f0b63c",
    note="#6dbdf0",
    paper="#f7f6f3",
)


def tokens_for(dark: bool) -> Tokens:
    return DARK if dark else LIGHT


def tokens_of(widget: QWidget) -> Tokens:
    """The colours of the scheme a widget is shown in."""
    return tokens_for(widget.palette().color(QPalette.ColorRole.Window).lightness() < 128)


def luminance(colour: str) -> float:
    """Relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance)."""

    def linear(channel: int) -> float:
        share = channel / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21 (WCAG 2.2, definition of contrast ratio)."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def palette(tokens: Tokens) -> QPalette:
    """The palette from which Qt's own drawing takes its colours."""
    role, result = QPalette.ColorRole, QPalette()
    colours = {
        role.Window: tokens.ground,
        role.WindowText: tokens.text,
        role.Base: tokens.field,
        role.AlternateBase: tokens.ground,
        role.Text: tokens.text,
        role.PlaceholderText: tokens.quiet,
        role.Button: tokens.ground,
        role.ButtonText: tokens.text,
        role.BrightText: tokens.on_accent,
        role.ToolTipBase: tokens.field,
        role.ToolTipText: tokens.text,
        role.Highlight: tokens.accent,
        role.HighlightedText: tokens.on_accent,
        role.Accent: tokens.accent,
        role.Link: tokens.accent,
        role.LinkVisited: tokens.accent,
        role.Light: tokens.field,
        role.Midlight: tokens.ground,
        role.Mid: tokens.line,
        role.Dark: tokens.edge,
        role.Shadow: tokens.canvas,
    }
    for which, colour in colours.items():
        result.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        result.setColor(QPalette.ColorGroup.Disabled, which, QColor(tokens.edge))
    return result


class Type(StrEnum):
    """The three sizes of type; set as the property "type" of a label."""

    SMALL = "small"
    BODY = "body"
    LARGE = "large"


_SCALE = {Type.SMALL: 0.87, Type.BODY: 1.0, Type.LARGE: 1.4}
LEAST_PX = 11


def pixels_of(font: QFont) -> float:
    """Height of a font in pixels, whichever way it was set."""
    return float(font.pixelSize()) if font.pixelSize() > 0 else font.pointSizeF() * 96 / 72


def type_px(base: QFont, size: Type) -> int:
    """One size of the scale in pixels, over the system's own size."""
    return max(LEAST_PX, round(pixels_of(base) * _SCALE[size]))


def type_font(base: QFont, size: Type, *, strong: bool = False) -> QFont:
    """A font of the scale for own drawing, figures of equal width."""
    font = QFont(base)
    font.setPixelSize(type_px(base, size))
    font.setWeight(QFont.Weight.DemiBold if strong else QFont.Weight.Normal)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font


def draw_status(painter: QPainter, box: QRectF, serious: Seriousness, colour: str, ground: str) -> None:
    """A status shape: stop is a filled square with a bar, look a diamond outline, note a small ring."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    side = min(box.width(), box.height())
    centre, half, stroke = box.center(), side / 2, max(1.5, side / 8)
    pen = QPen(QColor(colour), stroke)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if serious is Seriousness.STOP:
        painter.fillRect(QRectF(centre.x() - half, centre.y() - half, side, side), QColor(colour))
        bar = QRectF(centre.x() - half * 0.6, centre.y() - stroke * 0.7, half * 1.2, stroke * 1.4)
        painter.fillRect(bar, QColor(ground))
    elif serious is Seriousness.LOOK:
        reach = half - stroke * 0.7
        points = ((0, -reach), (reach, 0), (0, reach), (-reach, 0))
        painter.setPen(pen)
        painter.drawPolygon(QPolygonF([QPointF(centre.x() + x, centre.y() + y) for x, y in points]))
    else:
        painter.setPen(pen)
        painter.drawEllipse(centre, half * 0.55, half * 0.55)
    painter.restore()


def status_picture(serious: Seriousness, tokens: Tokens, side: int = 14, ratio: float = 1.0) -> QPixmap:
    """A status shape as a picture on a clear ground."""
    picture = QPixmap(QSize(round(side * ratio), round(side * ratio)))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    draw_status(painter, QRectF(0.5, 0.5, side - 1, side - 1), serious, tokens.of(serious), tokens.ground)
    painter.end()
    return picture


def wide_enough(font: QFont, text: str) -> int:
    """Pixels that a text takes, rounded up to the grid."""
    return GRID * (1 + int(QFontMetricsF(font).horizontalAdvance(text)) // GRID)
