"""One type scale, one grid and one set of greys for all papers. Lengths are points."""

from dataclasses import dataclass
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle

from planner.paper import fonts
from planner.shop.book import PaperSize

BLACK = HexColor("#000000")
# Darker than a screen's greys: a tired office printer turns light ones into dust.
GREY = HexColor("#505050")
HAIRLINE = HexColor("#8c8c8c")
MIDDLE = HexColor("#b0b0b0")
WHITE = HexColor("#ffffff")

SMALL = 8.0
BODY = 9.5
LEAD = 12.0
HEADING = 16.0
TITLE = 26.0
FIGURE = 54.0
"""Figures of 12.6 mm: 21 minutes of arc at two metres (ISO 9241-303 asks for 20 to 22, from memory)."""

STEP = 4.0
SIDE_MARGIN = 54.0
TOP_MARGIN = 48.0
BOTTOM_MARGIN = 58.0
FOOTER_LINE = 42.0
GUTTER = 16.0


@dataclass(frozen=True, slots=True)
class PageSize:
    """A page and the part of it that papers fill."""

    width: float
    height: float

    @property
    def content_width(self) -> float:
        return self.width - 2 * SIDE_MARGIN

    @property
    def content_height(self) -> float:
        return self.height - TOP_MARGIN - BOTTOM_MARGIN


def page_size(paper: PaperSize) -> PageSize:
    return PageSize(*(A4 if paper is PaperSize.A4 else LETTER))


def _style(name: str, size: float, leading: float, *, strong: bool = False, **more: Any) -> ParagraphStyle:
    font = fonts.STRONG if strong else fonts.REGULAR
    return ParagraphStyle(name, fontName=font, fontSize=size, leading=leading, **more)


TEXT = _style("text", BODY, 13)
TEXT_RIGHT = _style("text right", BODY, 13, alignment=TA_RIGHT)
STRONG_TEXT = _style("strong", BODY, 13, strong=True)
STRONG_RIGHT = _style("strong right", BODY, 13, strong=True, alignment=TA_RIGHT)
FINE = _style("fine", SMALL, 11, textColor=GREY)
FINE_BLACK = _style("fine black", SMALL, 10.5)
FINE_RIGHT = _style("fine right", SMALL, 11, textColor=GREY, alignment=TA_RIGHT)
STEP_TEXT = _style("step", 10.75, 14)
LEAD_TEXT = _style("lead", LEAD, 16)
LEAD_STRONG = _style("lead strong", LEAD, 16, strong=True)
HEADING_TEXT = _style("heading", HEADING, 20, strong=True)
TITLE_TEXT = _style("title", TITLE, 30, strong=True)


def shade(colour: Color, towards: Color, share: float) -> Color:
    """A colour mixed with another, `share` of the second."""
    return Color(*(a + (b - a) * share for a, b in zip(colour.rgb(), towards.rgb(), strict=True)))


def right_of(text_style: ParagraphStyle) -> ParagraphStyle:
    """The same style, standing right."""
    return ParagraphStyle(f"{text_style.name} right", parent=text_style, alignment=TA_RIGHT)
