"""The one type family of all papers: embedded, with Latin, Greek and Cyrillic letters."""

import functools
import unicodedata
from pathlib import Path

from font_source_sans_pro import font_directory
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "Papers-Regular"
STRONG = "Papers-Semibold"
_FILES = {REGULAR: "SourceSansPro-Regular.ttf", STRONG: "SourceSansPro-Semibold.ttf"}

UNKNOWN_LETTER = "\N{BALLOT BOX}"
"""Stands for a letter the family does not hold, so that a gap in a name is seen and filled in by hand."""

CAP_HEIGHT_EM = 0.66
"""Height of a capital or a figure, of the type size."""


def file_of(font: str) -> Path:
    """The file of one of the family's weights."""
    return Path(font_directory) / _FILES[font]


@functools.cache
def register() -> frozenset[int]:
    """Make the family known to reportlab; gives the letters it holds."""
    fonts = [TTFont(name, str(file_of(name))) for name in _FILES]
    for font in fonts:
        pdfmetrics.registerFont(font)
    return frozenset.intersection(*(frozenset(font.face.charToGlyph) for font in fonts))


def printable(text: str) -> str:
    """The text with every letter that the family lacks made visible as an empty box."""
    held = register()
    composed = unicodedata.normalize("NFC", text).replace("\t", " ")
    return "".join(
        letter if letter == "\n" or ord(letter) in held else UNKNOWN_LETTER
        for letter in composed
        # Marks that cannot be composed and characters without a shape would print as boxes of their own.
        if unicodedata.category(letter) not in ("Mn", "Cf", "Cc") or letter == "\n"
    )


def all_letters_print(text: str) -> bool:
    """Whether no letter of the text is missing from the family."""
    return UNKNOWN_LETTER not in printable(text.replace(UNKNOWN_LETTER, ""))


def width_of(text: str, size: float, font: str = REGULAR) -> float:
    """Width of a line of text in points."""
    register()
    return pdfmetrics.stringWidth(printable(text), font, size)


def fitted(text: str, width: float, size: float, font: str = REGULAR) -> str:
    """The text, shortened with an ellipsis where it is wider than `width` points."""
    if width_of(text, size, font) <= width:
        return text
    while text and width_of(f"{text}…", size, font) > width:
        text = text[:-1]
    return f"{text.rstrip()}…"


def largest_size(text: str, width: float, size: float, least: float, font: str = STRONG) -> float:
    """The largest type size up to `size` at which the text is no wider than `width`, `least` at least."""
    natural = width_of(text, size, font)
    return size if natural <= width else max(least, size * width / natural)
