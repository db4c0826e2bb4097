"""Wrapped text."""

from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph

from planner.paper import fonts, style


def paragraph(text: str, text_style: ParagraphStyle = style.TEXT, *, markup: bool = False) -> Paragraph:
    """A paragraph of plain text; line breaks stay. With `markup`, reportlab's tags are obeyed."""
    fonts.register()
    shown = fonts.printable(text)
    return Paragraph(shown if markup else escape(shown).replace("\n", "<br/>"), text_style)


def height_of(text: str, text_style: ParagraphStyle, width: float) -> float:
    """Height of a paragraph in points when wrapped to a width."""
    _, height = paragraph(text, text_style).wrap(width, 100_000)
    return float(height)
