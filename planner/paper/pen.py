"""Drawing on a page: reportlab's canvas with the papers' type, greys and top-down boxes."""

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.lib.colors import Color
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph

from planner.paper import fonts, style
from planner.paper.text import paragraph


@dataclass(frozen=True, slots=True)
class Area:
    """A rectangle of a page in points: its top left corner, y upwards as in PDF."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top - self.height

    def below(self, used: float) -> "Area":
        """What is left when `used` points from the top are taken."""
        return Area(self.left, self.top - used, self.width, self.height - used)

    def column(self, first: int, count: int, of: int, gutter: float = style.GUTTER) -> "Area":
        """Columns `first` to `first + count` of `of` equal ones, gutters between."""
        each = (self.width - gutter * (of - 1)) / of
        left = self.left + first * (each + gutter)
        return Area(left, self.top, count * each + (count - 1) * gutter, self.height)


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws on one canvas."""

    canvas: Canvas

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = style.BODY,
        *,
        strong: bool = False,
        colour: Color = style.BLACK,
        align: str = "left",
    ) -> float:
        """Write one line with its baseline at y; gives its width."""
        fonts.register()
        font = fonts.STRONG if strong else fonts.REGULAR
        text = fonts.printable(text)
        self.canvas.setFillColor(colour)
        self.canvas.setFont(font, size)
        draw = {
            "left": self.canvas.drawString,
            "right": self.canvas.drawRightString,
            "centre": self.canvas.drawCentredString,
        }[align]
        draw(x, y, text)
        return fonts.width_of(text, size, font)

    def paragraph(
        self, area: Area, text: str, text_style: ParagraphStyle = style.TEXT, *, markup: bool = False
    ) -> float:
        """Write wrapped text from the area's top; gives the height it took."""
        block: Paragraph = paragraph(text, text_style, markup=markup)
        _, height = block.wrapOn(self.canvas, area.width, 10_000)
        block.drawOn(self.canvas, area.left, area.top - height)
        return float(height)

    def line(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        *,
        width: float = 0.5,
        colour: Color = style.BLACK,
        dash: Sequence[float] = (),
    ) -> None:
        self.canvas.setStrokeColor(colour)
        self.canvas.setLineWidth(width)
        self.canvas.setDash(list(dash))
        self.canvas.line(x1, y1, x2, y2)
        self.canvas.setDash([])

    def box(
        self,
        area: Area,
        *,
        stroke: Color | None = style.BLACK,
        fill: Color | None = None,
        width: float = 0.5,
        radius: float = 0,
        dash: Sequence[float] = (),
    ) -> None:
        canvas = self.canvas
        if stroke is not None:
            canvas.setStrokeColor(stroke)
            canvas.setLineWidth(width)
        if fill is not None:
            canvas.setFillColor(fill)
        canvas.setDash(list(dash))
        at = (area.left, area.bottom, area.width, area.height)
        paint = {"stroke": int(stroke is not None), "fill": int(fill is not None)}
        if radius:
            canvas.roundRect(*at, radius, **paint)
        else:
            canvas.rect(*at, **paint)
        canvas.setDash([])

    def tick_box(self, x: float, baseline: float, side: float = 9) -> None:
        """An empty box to tick, standing on a line of text."""
        self.box(Area(x, baseline + side - 1, side, side), width=0.8)

    def picture(self, picture: ImageReader, area: Area, *, turned_deg: float = 0) -> None:
        """Fill the area with a picture; turned clockwise about the middle, the area holds it upright."""
        canvas = self.canvas
        canvas.saveState()
        canvas.translate(area.left + area.width / 2, area.bottom + area.height / 2)
        canvas.rotate(-turned_deg)
        canvas.drawImage(picture, -area.width / 2, -area.height / 2, area.width, area.height, mask="auto")
        canvas.restoreState()

    def arrow(self, x1: float, y1: float, x2: float, y2: float, *, colour: Color = style.BLACK) -> None:
        """A dimension line between two points on one level or one plumb line, with end strokes."""
        self.line(x1, y1, x2, y2, width=0.6, colour=colour)
        end = 2.5
        for x, y in ((x1, y1), (x2, y2)):
            if abs(y1 - y2) < 0.01:
                self.line(x, y - end, x, y + end, width=0.6, colour=colour)
            else:
                self.line(x - end, y, x + end, y, width=0.6, colour=colour)
